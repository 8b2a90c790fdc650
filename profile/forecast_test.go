package profile

import (
	"fmt"
	"iter"
	"math"
	"math/rand/v2"
	"slices"
	"strings"
	"testing"

	"foreply/fetch/pgn"
	"foreply/profile/board"
)

// builtFrom makes a profile of games given as 'date result timecontrol: moves',
// the opponent always with White.
func builtFrom(rows ...string) *Profile {
	return Build(gamesOf(rows...), Options{Them: func(*pgn.Game) (board.Color, bool) { return board.White, true }})
}

func gamesOf(rows ...string) iter.Seq[*pgn.Game] {
	return func(yield func(*pgn.Game) bool) {
		for i, row := range rows {
			head, moves, _ := strings.Cut(row, ":")
			f := strings.Fields(head)
			g := &pgn.Game{File: "test.pgn", Index: i + 1}
			g.SetTags(pgn.Tags{
				{Name: "White", Value: "Them"}, {Name: "Black", Value: "Other"},
				{Name: "Date", Value: f[0]}, {Name: "Result", Value: f[1]}, {Name: "TimeControl", Value: f[2]},
			})
			for san := range strings.FieldsSeq(moves) {
				g.Moves = append(g.Moves, pgn.Move{SAN: []byte(san)})
			}
			if !yield(g) {
				return
			}
		}
	}
}

func on(date string) Span {
	s := pgn.ParseDate(date).Span()
	if !s.Known() {
		panic(date)
	}
	return s
}

func probability(t *testing.T, e Expected, pos board.Position, san string) Likely {
	t.Helper()
	for _, l := range e.Moves {
		if pos.SAN(l.Move) == san {
			return l
		}
	}
	t.Fatalf("%s is not legal", san)
	return Likely{}
}

// Two games at the first move, worked by hand from the formulas. Games on 1
// and 11 May, the forecast for 21 May; 20 legal moves.
//
//	w(e4) = 2^(-10/2200) = 0.996854        (newest: g = 0)
//	w(d4) = 2^(-20/2200) * 2^(-1/600) = 0.993718 * 0.998845 = 0.992570
//	C = 1.989424, theta = 0.05, D(e4) = 0.3*0.996854, D(d4) = 0.3*0.992570
//	base = (0.05 + 0.596827)/20 = 0.032341
//	P3(e4) = (0.697798 + 0.032341)/2.039424 = 0.358012
//	v(e4) = 1, v(d4) = 2^(-1/4) = 0.840896, V = 1.840896
//	P4(e4) = (1 + 8*0.358012)/9.840896 = 0.392659
func TestForecastByHand(t *testing.T) {
	p := builtFrom("2026.05.01 1-0 5400: d4 d5", "2026.05.11 0-1 5400: e4 e5")
	start := board.Start()
	// Untuned: the middle setting without the last step.
	f := NewForecast(p, board.White, ForecastOptions{Model: handModel(), Untuned: true})
	e := f.At(&start, on("2026.05.21"))
	e4 := probability(t, e, start, "e4")
	if math.Abs(e4.P-0.392659) > 2e-6 {
		t.Errorf("P(e4) = %.6f, want 0.392659", e4.P)
	}
	if e4.N != 1 || e4.Last.Date.String() != "2026-05-11" || e.Visits != 2 {
		t.Errorf("e4 seen %d times, last %v; %d visits", e4.N, e4.Last, e.Visits)
	}
	nf3 := probability(t, e, start, "Nf3")
	// P3 = 0.032341/2.039424 = 0.015858; P4 = 8*0.015858/9.840896 = 0.012892
	if math.Abs(nf3.P-0.012892) > 2e-6 || nf3.N != 0 {
		t.Errorf("P(Nf3) = %.6f (n %d), want 0.012892", nf3.P, nf3.N)
	}
	// Weights in the mixture, e4's 0.101617*1 + 0.398610*0.996854 = 0.498973, d4's 0.101617*0.840896 +
	// 0.398610*0.992570 = 0.481097, are 0.980070^2/0.480428 = 1.999336 visits: 0.9 times the root, and 0.25.
	if want := Between(e4.P, e.Strength); math.Abs(e.Strength-1.522581) > 1e-5 || e4.Range != want || e.Unseen != Between(e.Unseen.P, e.Strength) {
		t.Errorf("strength %v, e4 %+v, want %+v, unseen %+v", e.Strength, e4.Range, want, e.Unseen)
	}
	if math.Abs(e.Unseen.P-18*0.012892) > 2e-5 {
		t.Errorf("unseen %.6f, want %.6f", e.Unseen.P, 18*0.012892)
	}
}

// A game of another class than the one to come weighs 0.4; of one day with it,
// nothing: it is not certainly earlier.
func TestForecastKnowsOnlyWhatIsEarlier(t *testing.T) {
	p := builtFrom(
		"2026.05.01 1-0 5400: d4 d5", "2026.05.11 0-1 180: e4 e5", "2026.05.21 0-1 5400: c4 e5", "2026.??.?? 1-0 5400: b3 e5",
		"2026.05.?? 1-0 5400: g3 e5", "2026.05.18 1-0 5400: d4 d5", // in the middle of a month is before the 18th, and perhaps not
	)
	start := board.Start()
	f := NewForecast(p, board.White, ForecastOptions{Class: Classical})
	e := f.At(&start, on("2026.05.21"))
	if e.Visits != 3 {
		t.Fatalf("%d visits known, want the three that are certainly earlier", e.Visits)
	}
	look := f.On(on("2026.05.21"))
	if c, r := look.Record(start.Key()), look.Results([]uint64{start.Key()}); c != (Count{Games: 3, Wins: 2, Losses: 1}) || r.Games != 3 || look.Known() != 3 || look.Record(1) != (Count{}) {
		t.Errorf("record %+v, results %+v of %d", c, r, look.Known())
	}
	for san, n := range map[string]int{"d4": 2, "e4": 1, "c4": 0, "b3": 0, "g3": 0} {
		if got := probability(t, e, start, san).N; got != n {
			t.Errorf("%s seen %d times, want %d", san, got, n)
		}
	}
	if d4, e4 := probability(t, e, start, "d4"), probability(t, e, start, "e4"); d4.P <= e4.P {
		t.Errorf("the slow game's move has %.3f, the fast one's %.3f", d4.P, e4.P)
	}
	if e := f.At(&start, on("2027.01.01")); e.Visits != 6 {
		t.Errorf("next year %d visits are known, want all 6", e.Visits)
	}
}

// Later games never change an earlier forecast.
func TestForecastIgnoresTheFuture(t *testing.T) {
	past := []string{"2025.01.01 1-0 5400: d4 d5 c4", "2025.02.01 0-1 300: e4 e5 Nf3", "2025.??.?? 1-0 5400: d4 Nf6"}
	future := []string{"2026.05.01 1-0 300: b3 e5", "2026.05.02 1-0 300: e4 c5", "2026.06.?? 0-1 300: d4 d5"}
	start := board.Start()
	at := func(rows []string) Expected {
		return NewForecast(builtFrom(rows...), board.White, ForecastOptions{}).At(&start, on("2026.05.01"))
	}
	want := at(past)
	rand.New(rand.NewPCG(1, 2)).Shuffle(len(future), func(i, j int) { future[i], future[j] = future[j], future[i] })
	got := at(append(slices.Clone(past), future...))
	for i := range want.Moves {
		if got.Moves[i].P != want.Moves[i].P || got.Moves[i].Move != want.Moves[i].Move {
			t.Fatalf("with later games: %+v, without: %+v", got.Moves[i], want.Moves[i])
		}
	}
}

func TestForecastIsAlwaysADistribution(t *testing.T) {
	dates := map[string]func(*rand.Rand) string{
		"no dates":       func(*rand.Rand) string { return "????.??.??" },
		"all one day":    func(*rand.Rand) string { return "2026.05.01" },
		"years only":     func(r *rand.Rand) string { return fmt.Sprintf("20%02d.??.??", r.IntN(26)) },
		"very far apart": func(r *rand.Rand) string { return fmt.Sprintf("%d.01.01", 1100+r.IntN(900)) },
	}
	for name, date := range dates {
		sizes := []int{0, 1, 2, 40, 2000}
		if name == "very far apart" && !testing.Short() { // its time goes by the square
			sizes = append(sizes, 5000)
		}
		for _, n := range sizes {
			t.Run(fmt.Sprint(name, " ", n), func(t *testing.T) {
				r := rand.New(rand.NewPCG(uint64(n), 9))
				rows := make([]string, n)
				first := []string{"e4 e5 Nf3", "d4 d5 c4", "d4 Nf6 c4", "c4 e5 d4", "e4 c5"}
				for i := range rows {
					rows[i] = fmt.Sprintf("%s * %s: %s", date(r), []string{"60", "5400", "-"}[r.IntN(3)], first[r.IntN(len(first))])
				}
				p := builtFrom(rows...)
				peers := NewPeers(gamesOf("2020.01.01 1-0 -: e4 e5 Nf3 Nc6 Bb5 a6", "2020.??.?? * -: b3 e5 Bb2 d6 g3 g6"), p, nil)
				for _, with := range []*Peers{nil, peers} {
					f := NewForecast(p, board.White, ForecastOptions{Class: Blitz, Peers: with}).On(on("2026.11.25"))
					for pos := range p.Tree(board.White).All() {
						if pos.Turn() == board.White {
							checkDistribution(t, f.At(&pos))
						}
					}
					start := board.Start()
					checkDistribution(t, f.At(&start))
				}
			})
		}
	}
}

func checkDistribution(t *testing.T, e Expected) {
	t.Helper()
	sum := 0.0
	for _, l := range e.Moves {
		sum += l.P
		if !(0 <= l.Lo && l.Lo <= l.Hi && l.Hi <= 1 && 0 <= l.P && l.P <= 1) {
			t.Errorf("%v: %v (%v to %v)", l.Move, l.P, l.Lo, l.Hi)
		}
	}
	if math.Abs(sum-1) > 1e-9 || !(e.Unseen.P >= 0 && e.Unseen.P <= 1+1e-9) || !(e.Strength > 0) {
		t.Errorf("sum %v, unseen %v, strength %v", sum, e.Unseen.P, e.Strength)
	}
}

// Four wins of four after 1.e4, one draw and one loss after 1.d4, all of one
// day before: the record of the colour is 4.5 of 6 = 0.75; after 1.e4 the
// shrunk score is (4 + 250*0.75)/254 = 0.753937.
func TestResultsShrink(t *testing.T) {
	p := builtFrom(
		"2026.05.01 1-0 60: e4 e5", "2026.05.01 1-0 60: e4 c5", "2026.05.01 1-0 60: e4 e6", "2026.05.01 1-0 60: e4 c6",
		"2026.05.01 1/2-1/2 60: d4 d5", "2026.05.01 0-1 60: d4 d5", "2026.05.01 * 60: d4 d5",
	)
	pos := board.Start()
	keys := []uint64{pos.Key()}
	m, err := pos.Resolve([]byte("e4"))
	if err != nil {
		t.Fatal(err)
	}
	pos.Play(m)
	keys = append(keys, pos.Key())
	r := NewForecast(p, board.White, ForecastOptions{Model: ageless()}).On(on("2026.05.02")).Results(keys)
	if math.Abs(r.Score()-0.753937) > 1e-6 || math.Abs(r.Strength()-254) > 1e-6 || r.Games != 4 || r.All != 6 {
		t.Errorf("%+v, score %.6f", r, r.Score())
	}
}

// A game that comes back to a position counts once there: a win in which the first moves
// were taken back, and a loss, are two games.
func TestResultsCountAGameOnce(t *testing.T) {
	p := builtFrom("2026.05.01 1-0 60: Nf3 Nf6 Ng1 Ng8 Nf3 Nf6 Ng1 Ng8 e4", "2026.05.01 0-1 60: Nf3 d5")
	start := board.Start()
	look := NewForecast(p, board.White, ForecastOptions{Model: ageless()}).On(on("2026.05.02"))
	if r := look.Results([]uint64{start.Key()}); r.Games != 2 || r.Win != 0.5 || r.Loss != 0.5 {
		t.Errorf("%+v", r)
	}
	if c := look.Record(start.Key()); c.Games != 2 || c.Wins != 1 || c.Losses != 1 {
		t.Errorf("%+v", c)
	}
}

// ageless is the default model without fading by age.
func ageless() *Model {
	m := DefaultModel()
	m.HalfLifeDays = 0
	return &m
}

// handModel has round numbers to work with: all natural moves alike, half-life of
// the middle setting 600 games, of the short memory 4 visits, 8 visits' worth
// beside the own set-up.
func handModel() *Model {
	m := DefaultModel()
	m.NaturalPower, m.SetUpPrior, m.ShortVisits = 0, 8, 4
	m.HalfLifeGames = [3]float64{150, 600, 0}
	return &m
}

// With the same moves a game of peers is the opponent's own whatever its names,
// unless it was played in another year.
func TestOwnGamesByTheirMoves(t *testing.T) {
	const moves = ": e4 e5 Nf3 Nc6 Bb5 a6"
	for day, want := range map[string]int{"2026.05.01": 1, "2026.05.??": 1, "2026.??.??": 1, "2026.09.01": 1, "2025.05.01": 0, "2025.??.??": 0} {
		peers := NewPeers(gamesOf(day+" 1-0 -"+moves), builtFrom("2026.05.01 1-0 -"+moves), nil)
		if peers.Own != want || peers.Games != 1-want {
			t.Errorf("%s: %d of their own and %d others, want %d of their own", day, peers.Own, peers.Games, want)
		}
	}
	if peers := NewPeers(gamesOf("2025.05.01 1-0 -"+moves), builtFrom("????.??.?? 1-0 -"+moves), nil); peers.Own != 1 {
		t.Error("an undated game of theirs is not found among the peers")
	}
}

// Of half and half, held as two games, nothing is likelier than anything else; far from one
// half the interval still holds the mean.
func TestBetween(t *testing.T) {
	if r := Between(0.5, 2); math.Abs(r.Lo-0.1) > 1e-9 || math.Abs(r.Hi-0.9) > 1e-9 || r.P != 0.5 {
		t.Errorf("%+v", r)
	}
	if low, high := Between(0.01, 0.5), Between(0.99, 0.5); low.Hi != 0.01 || low.Lo >= 0.01 || high.Lo != 0.99 || high.Hi <= 0.99 {
		t.Errorf("%+v, %+v", low, high)
	}
}

// Of many games to come more is new than of the next: the logit of the share, shifted and
// stretched; the moves that were played share the rest as before, and those that weren't.
func TestSharesByHand(t *testing.T) {
	p := builtFrom("2026.05.01 1-0 5400: d4 d5", "2026.05.11 0-1 5400: e4 e5", "2026.05.12 0-1 5400: e4 e5")
	m := handModel()
	m.Loose, m.Plain.Terms, m.Plain.AheadShift, m.Plain.AheadSlope = Terms{}, Terms{}, 0.5, 0.9
	start := board.Start()
	o := NewForecast(p, board.White, ForecastOptions{Model: m}).On(on("2026.05.21"))
	next, ahead := o.Chances(&start), o.Shares(&start)
	fresh := next.Unseen.P
	want := 1 / (1 + math.Exp(-0.5-0.9*math.Log(fresh/(1-fresh))))
	if math.Abs(ahead.Unseen.P-want) > 1e-12 || want < fresh+0.05 {
		t.Errorf("new %v of the next, %v of many, want %v", fresh, ahead.Unseen.P, want)
	}
	m.Plain.Terms[termNew] = 0.7 // the last step: so much readier for something new
	last := NewForecast(p, board.White, ForecastOptions{Model: m}).On(on("2026.05.21")).Chances(&start).Unseen.P
	if want := 1 / (1 + (1-fresh)/fresh*math.Exp(-0.7)); math.Abs(last-want) > 1e-12 {
		t.Errorf("new %v by the last step, want %v", last, want)
	}
	for san, by := range map[string]float64{"e4": (1 - want) / (1 - fresh), "d4": (1 - want) / (1 - fresh), "Nf3": want / fresh} {
		if a, b := probability(t, next, start, san), probability(t, ahead, start, san); math.Abs(b.P-a.P*by) > 1e-12 || b.N != a.N {
			t.Errorf("%s: %v of the next, %v of many, want %v times", san, a.P, b.P, by)
		}
	}
	var order []string
	for _, l := range ahead.Moves[:4] {
		order = append(order, start.SAN(l.Move))
	}
	if got := strings.Join(order, " "); got != "e4 d4 Na3 a3" || ahead.Moves[0].N != 2 || ahead.Moves[1].N != 1 || ahead.Visits != 3 { // as likely: in the order of moves
		t.Errorf("the likeliest: %s, %+v", got, ahead.Moves[:2])
	}
}

// The own set-up and peers, worked by hand. The opponent played 1.e4 e5 2.Nf3 and
// 1.e4 c5 2.Nc3 (twice), no fading; asked for is 1.e4 e5 2.?, 29 legal moves.
// Peers played 2.Nf3 three times and 2.f4 once; one peer game is not yet known,
// one is the opponent's own.
//
//	S(Nc3) = 2, B1(Nc3) = (2 + 8/29)/10 = 0.2275862, B1(others) = 0.0275862
//	R(Nf3) = sqrt(3), all by one player, R(f4) = 1, N = 2.7320508: left = 0.5 + 0.6 = 1.1
//	B2(Nf3) = (1.4320508 + 1.1*0.0275862)/3.2320508 = 0.4524668
//	theta = 0.05 + 1*N/(N + 10) = 0.2645806, D(Nf3) = 0.3, C = 1
//	P3(Nf3) = (0.7 + 0.5645806*0.4524668)/1.2645806 = 0.7555501
//	P4(Nf3) = (1 + 8*0.7555501)/9 = 0.7827112
//	B2(Nc3) = 1.1*0.2275862/3.2320508 = 0.0774569, P4 = 8/9*0.5645806*0.0774569/1.2645806 = 0.0307388
func TestSetUpAndPeersByHand(t *testing.T) {
	rows := []string{
		"2026.05.01 1-0 -: e4 e5 Nf3 Nc6 Bb5 a6", "2026.05.02 0-1 -: e4 c5 Nc3 Nc6 g3 g6", "2026.05.03 0-1 -: e4 c5 Nc3 d6 g3 g6",
		"2026.05.04 0-1 -: e4 d5 exd5 Qxd5 Nc3 Qa5", // a set-up of theirs, too, with a move that can't be played here
	}
	p := builtFrom(rows...)
	peers := NewPeers(gamesOf(
		"2026.04.01 1-0 -: e4 e5 Nf3 d6 d4 exd4", "2026.04.02 1-0 -: e4 e5 Nf3 Nf6 d4 d5", "2026.04.03 1-0 -: e4 e5 Nf3 Nc6 Bc4 d6",
		"2026.04.04 1-0 -: e4 e5 f4 d6 d4 exd4", "2026.05.10 1-0 -: e4 e5 Bc4 d6 d4 exd4", rows[0], "????.??.?? 1-0 -: e4 e5 Bc4 d6 d4 exd4",
	), p, nil)
	if peers.Games != 5 || peers.Own != 1 || peers.Undated != 1 {
		t.Fatalf("%d peer games, %d of their own, %d undated", peers.Games, peers.Own, peers.Undated)
	}
	m := handModel()
	m.HalfLifeDays, m.HalfLifeGames = 0, [3]float64{}
	pos := board.Start()
	for _, san := range []string{"e4", "e5"} {
		move, err := pos.Resolve([]byte(san))
		if err != nil {
			t.Fatal(err)
		}
		pos.Play(move)
	}
	f := NewForecast(p, board.White, ForecastOptions{Model: m, Untuned: true, Peers: peers})
	e := f.At(&pos, on("2026.05.10"))
	for san, want := range map[string]float64{"Nf3": 0.7827112, "Nc3": 0.0307388} {
		if got := probability(t, e, pos, san).P; math.Abs(got-want) > 1e-6 {
			t.Errorf("P(%s) = %.7f, want %.7f", san, got, want)
		}
	}
	checkDistribution(t, e)
	// In a slow game peers pull twice as much: theta = 0.05 + 2*N/(N + 10).
	if got := probability(t, f.For(on("2026.05.10"), Classical).At(&pos), pos, "Nf3").P; math.Abs(got-0.7436285) > 1e-6 {
		t.Errorf("in a slow game P(Nf3) = %.7f, want 0.7436285", got)
	}
}

// The other players in the opponent's own games count as peers, by hand. The
// opponent opened 1.e4 once; against them 1.d4 was played before the day, and
// 1.c4 on it, which isn't known.
//
//	B1 = 1/20, N = R(d4) = 1: B2(d4) = (0.7 + 0.8*0.05)/1.5 = 0.4933333
//	theta = 0.05 + 1/11 = 0.1409091, C = 1, D(e4) = 0.3
//	P4(d4) = 8/9 * 0.4409091*0.4933333/1.1409091 = 0.1694673
func TestRivalsCountAsPeers(t *testing.T) {
	rows := []string{"2026.05.01 1-0 -: e4 e5", "2026.05.02 1-0 -: d4 d5", "2026.05.10 1-0 -: c4 e5"}
	n := 0
	p := Build(gamesOf(rows...), Options{Them: func(*pgn.Game) (board.Color, bool) {
		n++
		return []board.Color{board.White, board.Black, board.Black}[n-1], true
	}})
	m := handModel()
	m.HalfLifeDays, m.HalfLifeGames = 0, [3]float64{}
	start := board.Start()
	e := NewForecast(p, board.White, ForecastOptions{Model: m, Untuned: true}).At(&start, on("2026.05.10"))
	for san, want := range map[string]float64{"d4": 0.1694673, "c4": 0.0091604} {
		if got := probability(t, e, start, san); math.Abs(got.P-want) > 1e-6 || got.N != 0 {
			t.Errorf("P(%s) = %.7f, want %.7f", san, got.P, want)
		}
	}
	checkDistribution(t, e)
}

// What a forecast has learned of its player is what each move of theirs taught, forecast as
// it then was and for its own ply.
func TestLessonsAreOfTheirPlies(t *testing.T) {
	p := builtFrom("2026.01.01 1-0 -: e4 e5 Nf3 Nc6 Bb5 a6", "2026.01.02 1-0 -: e4 e5 Nf3 Nc6 Bb5 Nf6", "2026.01.03 1-0 -: d4 d5 c4 e6",
		"2026.01.04 1-0 -: e4 c5 Nf3 d6", "2026.01.05 1-0 -: e4 e5 Nf3 Nc6 Bc4 Bc5 c3 Nf6")
	f := NewForecast(p, board.White, ForecastOptions{})
	own, o, pos := f.tuning.before.own, f.On(on("2026.01.05")), board.Start()
	o.class, o.classes = p.Games[4].Class, f.model.classWeights(p.Games[4].Class)
	lessons := 0
	logs := make([]float64, len(f.settings))
	for _, m := range p.Games[4].Moves[:5] { // with 3.Bc4 something new came
		if pos.Turn() == board.White {
			e := o.gather(&pos)
			came := e.moves[e.index[m]-1]
			if came.n == 0 {
				came = e.unseen()
			}
			for i, part := range e.partsOf(f.settings) {
				logs[i] += math.Log(part.of(&came, &f.settings[i]))
			}
			if l := o.Lesson(&pos, m); l != nil {
				own.learn(l)
				lessons++
			}
		}
		pos.Play(m)
	}
	after := f.tuning.at(on("2026.01.06"))
	for i := range logs {
		if after.moves != 3 || math.Abs(after.days[i]-logs[i]) > 1e-9 || logs[0] == logs[1] {
			t.Errorf("setting %d: ln P %v of %d moves, want %v of 3", i, after.days[i], after.moves, logs[i])
		}
	}
	got := after.own.mean
	for k := range got {
		if lessons < 3 || math.Abs(got[k]-own.mean[k]) > 1e-12 {
			t.Errorf("term %d: %v after %d lessons, want %v", k, got[k], lessons, own.mean[k])
		}
	}
}

// The last step by hand: of 0.2 for new moves at ply 3, with numbers of -0.5, of
// -0.25 for the logit and of -0.15 for five plies: -0.5 - 0.75*ln 4 + 0.21 =
// -1.3297208, so p = 0.2092055; the played moves share the rest as before. A player
// half a logit readier for something new: -0.8297208, p = 0.3037041.
func TestLastStepByHand(t *testing.T) {
	o := &Outlook{f: &Forecast{model: Model{Plain: Refinement{Terms: Terms{termNew: -0.5, termLogit: -0.25, termPly: -0.15}}}}}
	e := &evidence{moves: []tally{{n: 3}, {n: 1}, {}, {}}, passes: make([]pass, 4)}
	for readier, fresh := range map[float64]float64{0: 0.2092055, 0.5: 0.3037041} {
		p := []float64{0.6, 0.2, 0.15, 0.05}
		o.own.mean[termNew] = readier
		o.settle(e, p, 3)
		for i, want := range []float64{(1 - fresh) * 0.75, (1 - fresh) * 0.25, fresh * 0.75, fresh * 0.25} {
			if math.Abs(p[i]-want) > 1e-6 {
				t.Errorf("readier by %.1f, move %d: %.7f, want %.7f", readier, i, p[i], want)
			}
		}
	}
}

// What is known of an outcome: of five visits the last but one saw the move that was
// played once.
func TestTermsByHand(t *testing.T) {
	o := &Outlook{f: &Forecast{}}
	e := &evidence{passes: make([]pass, 5), short: 2, peers: 10, long: [halfLives]float64{4}, moves: []tally{
		{n: 4, short: 1.5, peers: 1, long: [halfLives]float64{3}, base: [2][halfLives]float64{{0, 0.3}}},
		{n: 1, short: 0.5, peers: 9, long: [halfLives]float64{1}}, {},
	}}
	got := o.outcomes(e, []float64{0.5, 0.3, 0.2}, 15)
	for i, want := range []Terms{
		{termShare: math.Log(0.625), termShort: math.Log(0.77), termRecent: math.Log(0.77), termPeers: math.Log(0.12), termSetUp: math.Log(0.32)},
		{termShare: math.Log(0.375), termShort: math.Log(0.27), termRecent: math.Log(0.27), termPeers: math.Log(0.92), termSetUp: math.Log(0.02)},
		{termNew: 1, termLogit: -math.Log(4), termPly: 1, termVisits: math.Log(5), termOnce: 0.2},
	} {
		for k := range want {
			if math.Abs(got[i].X[k]-want[k]) > 1e-12 {
				t.Errorf("outcome %d, term %d: %v, want %v", i, k, got[i].X[k], want[k])
			}
		}
	}
}

// A player's own difference by hand, of deviation 0.5 before: something new was given
// 0.2 and came. Of its number p(1-p) = 0.16 is learned: the variance becomes
// 0.25/(1 + 0.25*0.16) = 0.2403846, the mean 0.8 times that, 0.1923077, and the next
// chance 0.25*exp(0.1923077) to 1, 0.2325474.
func TestLearnByHand(t *testing.T) {
	s := newOwnStep(&Model{Loose: Terms{termNew: 0.5}})
	l := &Lesson{Outcomes: []Outcome{{}, {Score: -math.Log(4), X: Terms{termNew: 1}}}, Came: 1}
	s.learn(l)
	p := make([]float64, 2)
	s.chances(l.Outcomes, p)
	if math.Abs(s.mean[termNew]-0.1923077) > 1e-6 || math.Abs(s.cov[termNew][termNew]-0.2403846) > 1e-6 || math.Abs(p[1]-0.2325474) > 1e-6 {
		t.Errorf("mean %v, variance %v, chance %v", s.mean[termNew], s.cov[termNew][termNew], p[1])
	}
}

// A covariance that is narrowed by two moves at once has the inverse that they add to.
func TestNarrowAddsToTheInverse(t *testing.T) {
	s := newOwnStep(&Model{Loose: Terms{0: 2, 1: 1}})
	s.narrow(&Terms{0: 1, 1: 1}, 0.5)
	s.narrow(&Terms{0: 1, 1: -2}, 0.25)
	// (1/4 + 0.5 + 0.25, 0.5 - 0.5; 0.5 - 0.5, 1 + 0.5 + 1): 1 and 2.5 on the diagonal.
	if math.Abs(s.cov[0][0]-1) > 1e-12 || math.Abs(s.cov[1][1]-0.4) > 1e-12 || math.Abs(s.cov[0][1]) > 1e-12 {
		t.Errorf("%v", s.cov)
	}
}

// The opponent's own numbers are learned from earlier games alone, each once: a
// repetitive player is given less that is new than one who always varies.
func TestRepetitivePlayerIsKnown(t *testing.T) {
	var same, other []string
	for i := range 30 {
		same = append(same, fmt.Sprintf("2026.05.%02d 1-0 -: e4 e5 Nf3 Nc6 Bb5 a6", i+1))
		other = append(other, fmt.Sprintf("2026.05.%02d 1-0 -: e4 e5 %s", i+1, []string{"Nf3", "Nc3", "Bc4", "f4", "d4", "c3", "a3", "h3", "Qh5", "Qf3", "b3", "g3"}[i%12]))
	}
	f := NewForecast(builtFrom(same...), board.White, ForecastOptions{})
	if l, m := f.On(on("2026.06.01")).own.mean[termNew], NewForecast(builtFrom(other...), board.White, ForecastOptions{}).On(on("2026.06.01")).own.mean[termNew]; !(l < 0 && m > 0) {
		t.Errorf("the one leans by %v, the other by %v", l, m)
	}
	if first := f.On(on("2026.05.01")).own; first != newOwnStep(&f.model) {
		t.Errorf("before the first game: %+v", first)
	}
}

// The tuning by hand, of two settings. 60 moves were judged by day, which of 300
// leaves the replays by rank 1 - 60/300 = 0.8: the first setting is ahead by 4 nats by
// day and 6 by rank, 0.2*4 + 0.8*6 = 5.6, at a heat of 0.4/sqrt(1 + 60/100) =
// 0.3162278: exp(1.7708756) = 5.875995 times the other's weight.
func TestTuningByHand(t *testing.T) {
	m := DefaultModel()
	m.Heat, m.HeatMoves, m.RankMoves = 0.4, 100, 300
	f := &Forecast{settings: make([]setting, 2), model: m}
	w := f.weights(&replayed{days: []float64{-3, -7}, ranks: []float64{-3, -9}, moves: 60})
	if math.Abs(w[0]/w[1]-5.875995) > 1e-5 || math.Abs(w[0]+w[1]-1) > 1e-12 {
		t.Errorf("weights %v, %v", w, w[0]/w[1])
	}
	f.model.HeatMoves = 0 // no cooling: exp(0.4*5.6)
	if w := f.weights(&replayed{days: []float64{-3, -7}, ranks: []float64{-3, -9}, moves: 60}); math.Abs(w[0]/w[1]-math.Exp(0.4*5.6)) > 1e-9 {
		t.Errorf("without cooling: %v", w)
	}
	if w := f.weights(&replayed{}); w[0] != w[1] {
		t.Errorf("before the first game: %v", w)
	}
}

// Games count once they are certainly earlier, in order of their latest day.
func TestReplaysInOrderOfTheirLastDay(t *testing.T) {
	f := NewForecast(builtFrom("2026.05.01 1-0 -: e4 e5 Nf3 Nc6"), board.White, ForecastOptions{})
	r := tuner{f: f, pending: []tuned{{last: 3, moves: 1}, {last: 7, moves: 10}, {last: 7, moves: 100}, {last: 20, moves: 1000}}}
	for day, want := range map[pgn.Day]int{3: 0, 4: 1, 7: 1, 8: 111, 20: 111, 21: 1111} {
		again := r
		again.until(day)
		if again.sum.moves != want || again.at(pgn.OneDay(day)).moves != want {
			t.Errorf("day %d: %d and %d, want %d", day, again.sum.moves, again.at(pgn.OneDay(day)).moves, want)
		}
	}
}

// What was played on some day of a month counts when the month is over, later days before it
// when they are.
func TestReplaysOfAMonth(t *testing.T) {
	f := NewForecast(builtFrom("2026.05.?? 1-0 -: e4 e5 Nf3 Nc6", "2026.05.20 1-0 -: e4 e5 Nf3 Nc6", "2026.05.10 1-0 -: e4 e5 Nf3 Nc6", "2026.06.01 1-0 -: e4 e5", "????.??.?? 1-0 -: e4 e5"), board.White, ForecastOptions{})
	var got []string
	for _, day := range f.tuning.lasts {
		got = append(got, day.String())
	}
	if want := "2026-05-10 2026-05-20 2026-05-31 2026-06-01"; strings.Join(got, " ") != want {
		t.Errorf("%v, want %s", got, want)
	}
}

// A replay that judged nothing by day leaves what was judged before.
func TestReplaysAddUp(t *testing.T) {
	var r replayed
	for _, row := range []tuned{{ranks: []float64{-9, -8}}, {days: []float64{-1, -2}, ranks: []float64{-3, -5}, moves: 4}, {}, {days: []float64{-1, -1}, moves: 2}} {
		r = r.and(&row)
	}
	if fmt.Sprint(r.days, r.ranks, r.moves) != "[-2 -3] [-12 -13] 6" {
		t.Errorf("%v %v of %d", r.days, r.ranks, r.moves)
	}
}

// Games of one day know those before them by rank, and only there: four games of
// a day, of which the replays by day know none and those by rank two and three.
func TestDayKnowsItselfByRank(t *testing.T) {
	day := []string{"2026.05.01 1-0 -: e4 e5 Nf3 Nc6", "2026.05.01 1-0 -: e4 c5 Nf3 d6", "2026.05.01 1-0 -: e4 e6 d4 d5", "2026.05.01 1-0 -: e4 e5 Nf3 Nc6"}
	sum := NewForecast(builtFrom(day...), board.White, ForecastOptions{}).tuning.at(on("2026.05.02"))
	if sum.moves != 0 || sum.days != nil || sum.ranks == nil || sum.own.mean == (Terms{}) {
		t.Errorf("%+v", sum)
	}
	for n, judged := range map[int]bool{2: false, 3: true} { // two that are known are enough
		if sum := NewForecast(builtFrom(day[:n]...), board.White, ForecastOptions{}).tuning.at(on("2026.05.02")); (sum.ranks != nil) != judged {
			t.Errorf("%d games of a day: %+v", n, sum)
		}
	}
	month := []string{"2026.05.?? 1-0 -: e4 e5 Nf3 Nc6", "2026.05.?? 1-0 -: e4 c5 Nf3 d6", "2026.05.?? 1-0 -: e4 e6 d4 d5"}
	if sum := NewForecast(builtFrom(month...), board.White, ForecastOptions{}).tuning.at(on("2026.06.02")); sum.ranks != nil {
		t.Errorf("games of a month know each other: %+v", sum)
	}
}

// The usual gap is how much higher the opponent was rated, shrunk by twenty games of equals.
func TestGap(t *testing.T) {
	p := builtFrom("2026.05.01 1-0 -: e4 e5", "2026.05.02 1-0 -: e4 e5", "2026.05.03 1-0 -: e4 e5", "2026.06.01 1-0 -: e4 e5")
	for i, ratings := range [][2]int{{2000, 1900}, {2000, 1790}, {2000, 0}, {2000, 1000}} {
		p.Games[i].Elo, p.Games[i].RivalElo = ratings[0], ratings[1]
	}
	if mean, games := NewForecast(p, board.White, ForecastOptions{}).On(on("2026.05.10")).Gap(); games != 2 || math.Abs(mean-310./22) > 1e-12 {
		t.Errorf("%v of %d games, want %v of 2", mean, games, 310./22)
	}
}

// A tilt by hand: 40, 30 and 30 in 100, 100 points better than usual:
// exp(1.5*100/400) = 1.4549914; 0.4*1.4549914, 0.3, 0.3/1.4549914 over their sum
// 1.0881834.
func TestResultsTiltWithTheRatings(t *testing.T) {
	o := NewForecast(builtFrom(), board.White, ForecastOptions{}).On(on("2026.05.10"))
	r := o.Against(Results{Win: 0.4, Draw: 0.3, Loss: 0.3}, 100)
	for i, d := range []float64{r.Win - 0.5348332, r.Draw - 0.2756888, r.Loss - 0.1894779} {
		if math.Abs(d) > 1e-6 {
			t.Errorf("outcome %d is off by %.7f: %+v", i, d, r)
		}
	}
}

// A forecast for games of a class leans on the games of it, whatever the class of the options.
func TestForecastOfAClass(t *testing.T) {
	var rows []string
	for i := range 10 {
		rows = append(rows, fmt.Sprintf("2026.05.%02d 1-0 5400: e4 e5", i+1), fmt.Sprintf("2026.05.%02d 1-0 180: d4 d5", i+1))
	}
	f := NewForecast(builtFrom(rows...), board.White, ForecastOptions{Class: Classical, Untuned: true})
	start := board.Start()
	share := map[Class]float64{}
	for _, class := range []Class{Classical, Blitz} {
		share[class] = probability(t, f.For(on("2026.05.20"), class).At(&start), start, "e4").P
	}
	if share[Classical] <= share[Blitz]+0.01 {
		t.Errorf("e4, which is played in slow games: %v", share)
	}
}

// Before any replay peers are of use or not with even chances; a replay that was foretold
// better without them by ln 9 makes that 9 to 1, whatever the heat between settings.
func TestPeersLeanInAsFarAsReplaysBearOut(t *testing.T) {
	m := DefaultModel()
	f := &Forecast{model: m, settings: m.settings(true), peers: &Peers{}}
	without := func(r *replayed) float64 {
		sum := 0.0
		for i, w := range f.weights(r) {
			if !f.settings[i].peers {
				sum += w
			}
		}
		return sum
	}
	if got := without(&replayed{}); math.Abs(got-0.5) > 1e-12 {
		t.Errorf("before any replay %v", got)
	}
	logs := make([]float64, len(f.settings))
	for i := range logs {
		if logs[i] = -5; f.settings[i].peers {
			logs[i] -= math.Log(9)
		}
	}
	if got := without(&replayed{ranks: logs}); math.Abs(got-0.9) > 1e-12 {
		t.Errorf("after it %v", got)
	}
	f.peers = nil // rivals alone are trusted as ever
	if got := without(&replayed{}); math.Abs(got-0.25) > 1e-12 {
		t.Errorf("rivals alone: %v", got)
	}
}
