package profile

import (
	"fmt"
	"math"
	"slices"
	"strings"
	"testing"

	"foreply/fetch/pgn"
	"foreply/profile/board"
)

// annotated reads games in which "Them" has either colour.
func annotated(t *testing.T, text string) *Profile {
	t.Helper()
	r := pgn.NewReader(strings.NewReader(text), pgn.Options{File: "notes.pgn"})
	p := Build(r.All(), Options{Them: func(g *pgn.Game) (board.Color, bool) {
		if g.Tags().Get("White") == "Them" {
			return board.White, true
		}
		return board.Black, true
	}})
	if err := r.Err(); err != nil {
		t.Fatal(err)
	}
	return p
}

func TestEvaluationsAreKept(t *testing.T) {
	p := annotated(t, `[White "Them"]
[Black "Other"]

1. f3 {[%eval -0.6]} e5 2. g4 {[%eval #-1]} Qh4# *
`)
	g := &p.Games[0]
	for _, c := range []struct {
		plies int
		side  board.Color
		want  int
		ok    bool
	}{
		{0, board.White, 0, false}, {1, board.White, -60, true}, {1, board.Black, 60, true}, {2, board.White, 0, false},
		{3, board.White, -MostEval, true}, {3, board.Black, MostEval, true}, {4, board.White, 0, false},
	} {
		if got, ok := g.Eval(c.plies, c.side); got != c.want || ok != c.ok {
			t.Errorf("after %d plies for %v: %d %v, want %d %v", c.plies, c.side, got, ok, c.want, c.ok)
		}
	}
	if g.Timed() || !g.Evaluated() {
		t.Errorf("timed %v, evaluated %v", g.Timed(), g.Evaluated())
	}
}

// Times come from the clock and its increment, or from [%emt]; a clock that was
// set anew between two periods tells nothing.
func TestTimesPerMove(t *testing.T) {
	for name, c := range map[string]struct {
		text string
		want []float64 // -1 unknown
	}{
		"increment": {`[White "Them"]
[TimeControl "300+2"]

1. e4 {[%clk 0:05:00]} e5 {[%clk 0:04:00]} 2. Nf3 {[%clk 0:05:01]} Nc6 3. Bc4 {[%clk 0:04:33.5]} *
`, []float64{0, 1, 29.5}},
		"black": {`[White "Other"]
[TimeControl "300"]

1. e4 {[%clk 0:05:00]} e5 {[%clk 0:04:58]} 2. Nf3 {[%clk 0:05:00]} Nc6 {[%clk 0:04:50]} *
`, []float64{2, 8}},
		"black, with an increment, which the first clock may not have": {`[White "Other"]
[TimeControl "300+2"]

1. e4 {[%clk 0:05:00]} e5 {[%clk 0:04:58]} 2. Nf3 {[%clk 0:05:00]} Nc6 {[%clk 0:04:50]} *
`, []float64{2, 10}},
		"time of the move": {`[White "Them"]

1. e4 {[%emt 0:00:03]} e5 2. Nf3 {[%emt 0:01:00.5]} *
`, []float64{3, 60.5}},
		"second period": {`[White "Them"]
[TimeControl "300"]

1. e4 {[%clk 0:00:10]} e5 2. Nf3 {[%clk 0:30:00]} Nc6 3. Bc4 {[%clk 0:29:50]} *
`, []float64{290, -1, 10}},
		"first of two periods": {`[White "Them"]
[TimeControl "40/5400+30:1800+30"]

1. e4 {[%clk 1:30:00]} e5 2. Nf3 {[%clk 1:30:20]} Nc6 3. Bc4 {[%clk 1:25:50]} *
`, []float64{0, 10, 300}},
		"both: the time of the move itself": {`[White "Them"]
[TimeControl "300"]

1. e4 {[%clk 0:04:50][%emt 0:00:09]} e5 2. Nf3 {[%emt 0:00:07][%clk 0:04:40]} Nc6 3. Bc4 {[%clk 0:04:36]} *
`, []float64{9, 7, 4}},
		"clocks without the time at the start": {`[White "Them"]

1. e4 {[%clk 0:04:50]} e5 2. Nf3 {[%clk 0:04:40]} *
`, nil},
		"an increment alone": {`[White "Them"]
[TimeControl "0+30"]

1. e4 {[%clk 0:00:30]} e5 2. Nf3 {[%clk 0:00:50]} *
`, []float64{0, 10}},
		"no clock": {`[White "Them"]
[TimeControl "300"]

1. e4 e5 2. Nf3 *
`, nil},
		"a gap": {`[White "Them"]
[TimeControl "300"]

1. e4 {[%clk 0:04:59]} e5 2. Nf3 Nc6 3. Bc4 {[%clk 0:04:50]} Nf6 4. d3 {[%clk 0:04:45]} *
`, []float64{1, -1, -1, 5}},
	} {
		t.Run(name, func(t *testing.T) {
			g := &annotated(t, c.text).Games[0]
			var got []float64
			for n := 1; n <= len(g.spent); n++ {
				s, ok := g.Spent(n)
				if !ok {
					s = -1
				}
				got = append(got, s)
			}
			if !slices.Equal(got, c.want) {
				t.Errorf("%v, want %v", got, c.want)
			}
			if _, ok := g.Spent(0); ok {
				t.Error("a time for move 0")
			}
		})
	}
}

// A time is kept in tenths; a clock set anew by a second or more tells nothing, but at the
// first move, where it has its increment already.
func TestTenths(t *testing.T) {
	for _, c := range []struct {
		seconds float64
		first   bool
		want    uint16
	}{{0, false, 0}, {1.24, false, 12}, {1.26, false, 13}, {-0.9, false, 0}, {-1, false, NoTime}, {-1, true, 0}, {-30, true, 0}, {math.NaN(), false, NoTime}, {math.NaN(), true, NoTime}, {9999, false, NoTime - 1}} {
		if got := tenths(c.seconds, c.first); got != c.want {
			t.Errorf("%v, first %v: %d, want %d", c.seconds, c.first, got, c.want)
		}
	}
}

// An evaluation is cut at ten pawns on either side, as a mate is.
func TestEvaluationsAreCut(t *testing.T) {
	for e, want := range map[pgn.Eval]int{
		{Centipawns: 999}: 999, {Centipawns: 1001}: 1000, {Centipawns: -1001}: -1000, {Centipawns: -30}: -30,
		{IsMate: true, Mate: 3}: 1000, {IsMate: true, Mate: -3}: -1000, {IsMate: true}: 1000,
	} {
		if got := evalOf(e); got != want {
			t.Errorf("%+v: %d, want %d", e, got, want)
		}
	}
}

// Evaluations and times are kept for 60 plies.
func TestHowFarNotesAreKept(t *testing.T) {
	var text strings.Builder
	for i := range 16 {
		fmt.Fprintf(&text, "%d. Nf3 {[%%eval 0.%02d][%%emt 0:00:01]} Nf6 {[%%eval 0.01]} %d. Ng1 {[%%eval 0.02][%%emt 0:00:02]} Ng8 {[%%eval 0.03]} ", 2*i+1, i+10, 2*i+2)
	}
	g := &annotated(t, "[White \"Them\"]\n\n"+text.String()+"*\n").Games[0]
	if len(g.Moves) != 64 || len(g.evals) != 60 || len(g.spent) != 30 {
		t.Errorf("%d moves, %d evaluations, %d times", len(g.Moves), len(g.evals), len(g.spent))
	}
	if e, ok := g.Eval(60, board.White); e != 3 || !ok {
		t.Errorf("after ply 60: %d, %v", e, ok)
	}
	if _, ok := g.Eval(61, board.White); ok {
		t.Error("an evaluation after ply 61")
	}
}
