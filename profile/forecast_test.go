package profile

import (
	"fmt"
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
	return Build(func(yield func(*pgn.Game) bool) {
		for i, row := range rows {
			head, moves, _ := strings.Cut(row, ":")
			f := strings.Fields(head)
			g := &pgn.Game{File: "test.pgn", Index: i + 1, Tags: pgn.Tags{
				{Name: "White", Value: "Them"}, {Name: "Black", Value: "Other"},
				{Name: "Date", Value: f[0]}, {Name: "Result", Value: f[1]}, {Name: "TimeControl", Value: f[2]},
			}}
			for san := range strings.FieldsSeq(moves) {
				g.Moves = append(g.Moves, pgn.Move{SAN: []byte(san)})
			}
			if !yield(g) {
				return
			}
		}
	}, Options{Them: func(*pgn.Game) (board.Color, bool) { return board.White, true }})
}

func on(date string) Span {
	s, ok := ParseDate(date)
	if !ok {
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
	m := DefaultModel()
	m.NaturalPower = 0 // all unseen moves alike
	// Untuned: the middle setting without the step for new moves.
	f := NewForecast(p, board.White, ForecastOptions{Model: &m, Untuned: true})
	e := f.At(&start, on("2026.05.21"))
	e4 := probability(t, e, start, "e4")
	if math.Abs(e4.P-0.392659) > 2e-6 {
		t.Errorf("P(e4) = %.6f, want 0.392659", e4.P)
	}
	if e4.N != 1 || e4.Last.Date != "2026.05.11" || e.Visits != 2 {
		t.Errorf("e4 seen %d times, last %v; %d visits", e4.N, e4.Last, e.Visits)
	}
	nf3 := probability(t, e, start, "Nf3")
	// P3 = 0.032341/2.039424 = 0.015858; P4 = 8*0.015858/9.840896 = 0.012892
	if math.Abs(nf3.P-0.012892) > 2e-6 || nf3.N != 0 {
		t.Errorf("P(Nf3) = %.6f (n %d), want 0.012892", nf3.P, nf3.N)
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
	)
	start := board.Start()
	f := NewForecast(p, board.White, ForecastOptions{Class: Classical})
	e := f.At(&start, on("2026.05.21"))
	if e.Visits != 2 {
		t.Fatalf("%d visits known, want the two that are certainly earlier", e.Visits)
	}
	for san, n := range map[string]int{"d4": 1, "e4": 1, "c4": 0, "b3": 0} {
		if got := probability(t, e, start, san).N; got != n {
			t.Errorf("%s seen %d times, want %d", san, got, n)
		}
	}
	if d4, e4 := probability(t, e, start, "d4"), probability(t, e, start, "e4"); d4.P <= e4.P {
		t.Errorf("the slow game's move has %.3f, the fast one's %.3f", d4.P, e4.P)
	}
	if e := f.At(&start, on("2027.01.01")); e.Visits != 4 {
		t.Errorf("next year %d visits are known, want all 4", e.Visits)
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
		for _, n := range []int{0, 1, 2, 40, 2000} {
			t.Run(fmt.Sprint(name, " ", n), func(t *testing.T) {
				r := rand.New(rand.NewPCG(uint64(n), 9))
				rows := make([]string, n)
				first := []string{"e4 e5 Nf3", "d4 d5 c4", "d4 Nf6 c4", "c4 e5 d4", "e4 c5"}
				for i := range rows {
					rows[i] = fmt.Sprintf("%s * %s: %s", date(r), []string{"60", "5400", "-"}[r.IntN(3)], first[r.IntN(len(first))])
				}
				p := builtFrom(rows...)
				f := NewForecast(p, board.White, ForecastOptions{Class: Blitz}).On(on("2026.11.25"))
				for pos := range p.Tree(board.White).All() {
					if pos.Turn() == board.White {
						checkDistribution(t, f.At(&pos))
					}
				}
				start := board.Start()
				checkDistribution(t, f.At(&start))
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

// ageless is the default model without fading by age.
func ageless() *Model {
	m := DefaultModel()
	m.HalfLifeDays = 0
	return &m
}
