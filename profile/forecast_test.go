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

// after is the position after some moves from the usual one.
func after(t *testing.T, line string) board.Position {
	t.Helper()
	pos := board.Start()
	for san := range strings.FieldsSeq(line) {
		m, err := pos.Resolve([]byte(san))
		if err != nil {
			t.Fatal(line, err)
		}
		pos.Play(m)
	}
	return pos
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
	// They are no peers for the last step, nor for the strength: of one visit, 0.9*1 + 0.25.
	if math.Abs(e.Strength-1.15) > 1e-9 {
		t.Errorf("strength %v", e.Strength)
	}
	m.Rivals = false
	e = NewForecast(p, board.White, ForecastOptions{Model: m, Untuned: true}).At(&start, on("2026.05.10"))
	if d4, c4 := probability(t, e, start, "d4"), probability(t, e, start, "c4"); d4.P != c4.P {
		t.Errorf("without rivals: d4 %v, c4 %v", d4.P, c4.P)
	}
	peers := NewPeers(gamesOf("2020.01.01 1-0 -: b3 e5 Bb2 d6 g3 g6"), p, nil)
	e = NewForecast(p, board.White, ForecastOptions{Model: m, Untuned: true, Peers: peers}).At(&start, on("2026.05.10"))
	if d4, c4, b3 := probability(t, e, start, "d4"), probability(t, e, start, "c4"), probability(t, e, start, "b3"); d4.P != c4.P || b3.P <= c4.P {
		t.Errorf("with other peers in place of rivals: d4 %v, c4 %v, b3 %v", d4.P, c4.P, b3.P)
	}
	// Where they have never been something is known all the same, of half a game's worth.
	far := after(t, "b3 b6")
	if e := NewForecast(p, board.White, ForecastOptions{}).At(&far, on("2026.05.10")); e.Strength != 0.5 || e.Visits != 0 {
		t.Errorf("strength %v of %d visits", e.Strength, e.Visits)
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
	// Of the options' class where none is named, and of the day after the newest game where no day is.
	if got := probability(t, f.At(&start, on("2026.05.20")), start, "e4").P; got != share[Classical] {
		t.Errorf("e4 %v by the options, %v of their class", got, share[Classical])
	}
	tuned := NewForecast(builtFrom(rows...), board.White, ForecastOptions{})
	if a, b := tuned.At(&start, Span{}), tuned.At(&start, on("2026.05.11")); a.Visits != 20 || a.Unseen != b.Unseen || a.Unseen == tuned.At(&start, on("2027.05.11")).Unseen {
		t.Errorf("on no day %+v of %d visits, want %+v", a.Unseen, a.Visits, b.Unseen)
	}
}
