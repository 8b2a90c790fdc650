package hindsight

import (
	"fmt"
	"math"
	"os"
	"path/filepath"
	"slices"
	"strings"
	"testing"

	"foreply/fetch/pgn"
	"foreply/profile"
	"foreply/profile/board"
)

func kestrel(g *pgn.Game) (board.Color, bool) {
	if g.Tags().Get("White") == "Kestrel, Ada" {
		return board.White, true
	}
	return board.Black, g.Tags().Get("Black") == "Kestrel, Ada"
}

func read(t testing.TB, file string) []*pgn.Game {
	t.Helper()
	f, err := os.Open(file)
	if err != nil {
		t.Fatal(err)
	}
	defer f.Close()
	var games []*pgn.Game
	r := pgn.NewReader(f, pgn.Options{File: filepath.Base(file)})
	for g := range r.All() {
		games = append(games, g.Clone())
	}
	if err := r.Err(); err != nil {
		t.Fatal(err)
	}
	return games
}

func run(t testing.TB, p *profile.Profile, opt Options) Result {
	t.Helper()
	r, err := Test(t.Context(), p, opt)
	if err != nil {
		t.Fatal(err)
	}
	return r
}

func build(games []*pgn.Game) *profile.Profile {
	return profile.Build(slices.Values(games), profile.Options{Them: kestrel})
}

// handModel has one setting, no fading and a last step that does nothing, so that every
// figure can be worked out on paper.
func handModel() *profile.Model {
	m := profile.DefaultModel()
	m.HalfLifeDays, m.HalfLifeGames = 0, [3]float64{}
	m.Scales, m.ShortPriors = [3]float64{1, 1, 1}, [3]float64{8, 8, 8}
	m.ShortVisits, m.SetUpPrior, m.NaturalPower = 4, 8, 0
	m.RankMoves = 0
	m.Loose, m.Plain = profile.Terms{}, profile.Refinement{AheadSlope: 1, PerRoot: 0.3, Bonus: 0.5}
	return &m
}

// The protocol worked by hand over five games (a sixth is too short, a seventh
// has no date), judged from two known games on. All with White; L is the number
// of legal moves.
//
//	Game 3 knows 1 and 2 (e4, e4), L = 20: c = 2, P3(e4) = (1.7 + 0.35/20)/2.05 =
//	  0.837805, V = 1 + 2^(-1/4) = 1.840896, P4(e4) = (1.840896 + 8*0.837805)/9.840896
//	  = 0.868146. d4 is new: 0.131854, as the very move 1/19 of it = 0.006940; raw
//	  0.19/2.2 = 0.086364. The game is left.
//	Game 4, of the same day, knows 1 and 2 as well. e4: 0.868146, raw 2.01/2.2 =
//	  0.913636. After 1...e5, L = 29, known Nf3 (game 1), the set-up e4 elsewhere
//	  with Nf3 (game 2): B1 = (1 + 8/29)/9 = 0.141762, P3 = (0.7 + 0.35*0.141762)/1.05
//	  = 0.713921, P4 = (1 + 8*0.713921)/9 = 0.745708; raw 1.01/1.29 = 0.782946. After
//	  2...Nc6, L = 27, known Bb5 (game 1), set-up elsewhere with d4 (game 2):
//	  B1(Bb5) = (8/27)/9 = 0.032922, P3 = 0.677641, P4 = 0.713459. Bc4 is new:
//	  0.286541, as the very move 8/9*0.35/1.05*0.032922 = 0.009755; raw 0.26/1.27 =
//	  0.204724.
//	Game 5, some day of February, knows all four (e4 d4 e4 e4 from the newest is
//	  game 4 e4, 3 d4, 2 e4, 1 e4): d4, the second guess. P3(e4) = (2.7 + 0.65/20)/4.05
//	  = 0.674691, v(e4) = 1 + 2^(-1/2) + 2^(-3/4) = 2.301711, V = 3.142607, P4(e4) =
//	  0.690973; P3(d4) = (0.7 + 0.65/20)/4.05 = 0.180864, v(d4) = 2^(-1/4), P4(d4) =
//	  0.205322; raw 1.01/4.2 = 0.240476. After 1...d5, L = 27, known c4 (game 3): P3 =
//	  (0.7 + 0.35/27)/1.05 = 0.679012, P4 = 0.714678. Nf3 is new: 0.285322, as the very
//	  move 8/9*0.35/1.05/27 = 0.010974; raw 0.26/1.27 = 0.204724.
func TestProtocolByHand(t *testing.T) {
	want := []struct {
		game, ply        int
		given, full, raw float64
	}{
		{3, 1, 0.131854, 0.0069397, 0.086364},
		{4, 1, 0.868146, 0.868146, 0.913636},
		{4, 3, 0.745708, 0.745708, 0.782946},
		{4, 5, 0.286541, 0.0097547, 0.204724},
		{5, 1, 0.205322, 0.205322, 0.240476},
		{5, 3, 0.285322, 0.0109739, 0.204724},
	}
	at := 0
	r := run(t, build(read(t, "../../testdata/hindsight/five-games.pgn")), Options{Known: 2, Model: handModel(), Each: func(p *Prediction) {
		w := want[at]
		at++
		if p.Game.Index != w.game || p.Ply != w.ply || off(p.Given, w.given) || off(p.Full, w.full) || off(p.Raw, w.raw) {
			t.Errorf("game %d ply %d: given %.6f full %.6f raw %.6f, want %+v", p.Game.Index, p.Ply, p.Given, p.Full, p.Raw, w)
		}
	}})
	var one, full, raw float64
	for _, w := range want {
		one -= math.Log2(w.given) / 6
		full -= math.Log2(w.full) / 6
		raw -= math.Log2(w.raw) / 6
	}
	f := r.White
	if f.Predictions != r.Pooled.Predictions || f.Predictions != 6 || f.Games != 3 {
		t.Errorf("%+v", f)
	}
	if offBits(f.OneEvent, one) || offBits(f.FullBits, full) || offBits(f.RawBits, raw) || off(f.Top1, 2./6) || off(f.Top3, 3./6) {
		t.Errorf("%+v, want bits %.6f %.6f %.6f", f, raw, one, full)
	}
	if off(f.ECE, handECE) || off(f.ECENew, handECENew) {
		t.Errorf("ece %.6f, of new %.6f; want %.6f and %.6f", f.ECE, f.ECENew, handECE, handECENew)
	}
	if off(f.Brier, handBrier) {
		t.Errorf("mean squared error %.6f, want %.6f", f.Brier, handBrier)
	}
	if len(f.Reliability) != len(handBins) {
		t.Fatalf("reliability %v", f.Reliability)
	}
	for i, w := range handBins {
		if got := f.Reliability[i]; off(got.P, w.P) || off(got.Observed, w.Observed) || got.N != w.N {
			t.Errorf("reliability %+v, want %+v", got, w)
		}
	}
	if n := r.Pooled.New; off(n.P, 1.193568/6) || off(n.Observed, 3./6) || n.N != 6 || r.Pooled.fit != 5 {
		t.Errorf("something new %+v, %d games fit", n, r.Pooled.fit)
	}
	if r.Black.Predictions != 0 || f.Intervals != 0 || f.Coverage != 0 {
		t.Errorf("black %+v, coverage %v of %d", r.Black, f.Coverage, f.Intervals)
	}
}

// The thirteen probabilities by tenths, sum against hits:
//
//	0.1: new 0.131854 (came), 0.131854, 0.103705: |0.367413 - 1| = 0.632587
//	0.2: new 0.254292, 0.286541 (came), 0.285322 (came), d4 0.205322 (came): |1.031477 - 3| = 1.968523
//	0.6: e4 0.690973
//	0.7: Nf3 0.745708 (came), Bb5 0.713459, c4 0.714678: |2.173845 - 1| = 1.173845
//	0.8: e4 0.868146, 0.868146 (came): |1.736292 - 1| = 0.736292
//
// Together 5.202220 / 13; of new alone (0.632587 + |0.826155 - 2|) / 6.
//
// Their squared errors, 0.868146^2 each for new at 0.131854 that came and e4 at 0.868146 that
// didn't, and so on, sum to 4.830743.
const (
	handBrier  = 4.830743 / 13
	handECE    = 5.202220 / 13
	handECENew = 1.806432 / 6
)

var handBins = []Bin{
	{P: 0.367413 / 3, Observed: 1. / 3, N: 3}, {P: 1.031477 / 4, Observed: 3. / 4, N: 4}, {P: 0.690973, Observed: 0, N: 1},
	{P: 2.173845 / 3, Observed: 1. / 3, N: 3}, {P: 0.868146, Observed: 1. / 2, N: 2},
}

// Coverage by hand: five games in which the first position comes twelve times,
// no other more than seven times. It is judged after its first visit and its
// second; k of ten is the chance of k hits under the beta-binomial.
//
//	After game 1 (e4; n_eff = 1, s = 0.8): P(e4) = (1 + 8*(0.7 + 0.35/20)/1.05)/9 =
//	  0.718519. e4 comes twice in the next ten. 0, 1 and 2 of ten: 0.0765, 0.0476,
//	  0.0410, so the integral lies within 0.1241 and 0.1651 whatever u: covered.
//	  Something new, 0.281481, came eight times: within 0.8349 and 0.8759, covered.
//	After game 2 (e4 twice; n_eff = 1.9995, s = 0.3*1.41402 + 0.5 = 0.924206): P(e4) = 0.868146 as above. e4
//	  comes once in ten. 0 and 1 of ten: 0.0162, 0.0169, so within 0.0162 and
//	  0.0331: not covered. Something new came nine times: 0.9669 at least, not covered.
func TestCoverageByHand(t *testing.T) {
	r := run(t, build(read(t, "../../testdata/hindsight/twelve-visits.pgn")), Options{Known: 1, Model: handModel()})
	f := r.White
	if f.Intervals != 4 || f.Coverage != 0.5 || r.Pooled.Coverage != 0.5 || r.Black.Intervals != 0 {
		t.Errorf("%v of %d", f.Coverage, f.Intervals)
	}
	want := []Interval{
		{P: 0.718519, Fresh: 0.281481, Strength: 0.8, Visits: 1, Hits: 2}, {P: 0.281481, Fresh: 0.281481, Strength: 0.8, Visits: 1, Hits: 8, New: true},
		{P: 0.868146, Fresh: 0.131854, Strength: 0.924206, Visits: 2, Hits: 1}, {P: 0.131854, Fresh: 0.131854, Strength: 0.924206, Visits: 2, Hits: 9, New: true},
	}
	for i, got := range r.Intervals() {
		w := want[i]
		if off(got.P, w.P) || off(got.Strength, w.Strength) || off(got.Fresh, w.Fresh) || got.Visits != w.Visits || got.Hits != w.Hits || got.New != w.New {
			t.Errorf("interval %d: %+v, want %+v", i, got, w)
		}
	}
}

// played makes games of Kestrel's with White, a day after each other.
func played(lines ...string) []*pgn.Game {
	var games []*pgn.Game
	for i, line := range lines {
		g := &pgn.Game{File: "hand.pgn", Index: i + 1}
		g.SetTags(pgn.Tags{
			{Name: "White", Value: "Kestrel, Ada"}, {Name: "Black", Value: "Plover, Ivo"}, {Name: "Date", Value: fmt.Sprintf("2020.01.%02d", i+1)},
		})
		for san := range strings.FieldsSeq(line) {
			g.Moves = append(g.Moves, pgn.Move{SAN: []byte(san)})
		}
		games = append(games, g)
	}
	return games
}

const shuffle = "Nf3 Nf6 Ng1 Ng8 " // back at the first position

// Which moves are judged: in the last game, knowing the others.
func TestWhatIsJudged(t *testing.T) {
	for _, c := range []struct {
		name  string
		games []string
		plies []int
	}{
		{"the first 24 plies", []string{strings.Repeat(shuffle, 8), strings.Repeat(shuffle, 8)}, []int{1, 3, 5, 7, 9, 11, 13, 15, 17, 19, 21, 23}},
		{"a new move ends it, though a known position follows", []string{"e3 e6 e4 e5 Nf3 Nc6", "e4 e5 Nf3 Nc6 Bb5 a6"}, []int{1}},
		{"an unknown position ends it, though known ones follow", []string{"e3 e6 e4 e5 Nf3 Nc6", "e3 e5 e4 Nc6 Nf3 Nf6"}, []int{1}},
		{"a known position of another order", []string{"d4 Nf6 c4 e6 Nc3 d5", "c4 Nf6 d4 e6 Nf3 d5", "d4 Nf6 c4 e6 Nf3 Bb4"}, []int{1, 3, 5}},
		{"a game under six plies is not known", []string{"e4 e5 Nf3 Nc6 Bb5", "e4 e5 Nf3 Nc6 Bb5 a6"}, nil},
	} {
		t.Run(c.name, func(t *testing.T) {
			var plies []int
			run(t, build(played(c.games...)), Options{Known: 1, Each: func(p *Prediction) {
				if p.Game.Index == len(c.games) {
					plies = append(plies, p.Ply)
				}
			}})
			if !slices.Equal(plies, c.plies) {
				t.Errorf("plies %v, want %v", plies, c.plies)
			}
		})
	}
}

// With UpTo, the test ends with that game.
func TestUpTo(t *testing.T) {
	line := "e4 e5 Nf3 Nc6 Bb5 a6"
	r := run(t, build(played(line, line, line, line)), Options{Known: 1, UpTo: 3})
	if f := r.White; f.Games != 2 || f.Predictions != 6 {
		t.Errorf("%d predictions in %d games", f.Predictions, f.Games)
	}
}

// Which positions intervals are judged at: 24 plies deep at most, where enough
// games are known, in whole careers.
func TestWhereIntervalsAreJudged(t *testing.T) {
	// The first position comes as 1st and 2nd visit, seven times in the third game,
	// where the 9th visit is at ply 24, and then ten times.
	plain := "e4 e5 Nf3 Nc6 Bb5 a6"
	games := played(plain, plain, strings.Repeat(shuffle, 6)+plain, strings.Repeat(shuffle, 5)+plain, strings.Repeat(shuffle, 3)+plain)
	for _, c := range []struct {
		name string
		opt  Options
		want int
	}{
		{"after the 1st, 2nd, 3rd and 5th visit, not the 8th", Options{Known: 1}, 8},
		{"two games known: not after the 1st", Options{Known: 2}, 6},
		{"a small history", Options{Known: 1, Last: 12}, 0},
		{"a part of the career", Options{Known: 1, UpTo: 60}, 0},
	} {
		if r := run(t, build(games), c.opt); r.White.Intervals != c.want {
			t.Errorf("%s: %d intervals, want %d", c.name, r.White.Intervals, c.want)
		}
	}
}

func off(got, want float64) bool { return !(math.Abs(got-want) < 2e-6) }

// offBits allows for what six digits of small probabilities lose.
func offBits(got, want float64) bool { return !(math.Abs(got-want) < 2e-5) }
