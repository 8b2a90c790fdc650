package profile

import (
	"math"

	"foreply/fetch/pgn"
	"foreply/profile/board"
)

// What hangs on a game's moves is kept this far, in plies: as deep as the tree.
const notePlies = DefaultMaxPly

const (
	// NoEval stands for an evaluation that is not given.
	NoEval = math.MinInt16
	// MostEval is where evaluations are cut, in centipawns; mate counts as much.
	// Beyond ten pawns the number tells nothing more about the game.
	MostEval = 1000
	// NoTime stands for a time that is not known.
	NoTime = math.MaxUint16
)

// evalsOf reads the evaluations after each of the first plies, in centipawns
// from White's side; nil when the game has none.
func evalsOf(g *pgn.Game, plies int) []int16 {
	var out []int16
	for i := range min(plies, notePlies) {
		e, ok := g.Moves[i].Eval()
		if !ok {
			continue
		}
		for len(out) < i {
			out = append(out, NoEval)
		}
		out = append(out, int16(evalOf(e)))
	}
	return out
}

func evalOf(e pgn.Eval) int {
	switch {
	case !e.IsMate:
		return max(-MostEval, min(e.Centipawns, MostEval))
	case e.Mate < 0:
		return -MostEval
	}
	return MostEval
}

// Eval is the evaluation after so many plies from the side of c, in centipawns.
func (g *Game) Eval(plies int, c board.Color) (int, bool) {
	if plies < 1 || plies > len(g.evals) || g.evals[plies-1] == NoEval {
		return 0, false
	}
	e := int(g.evals[plies-1])
	if c == board.Black {
		e = -e
	}
	return e, true
}

// Evaluated reports whether the game's comments hold evaluations.
func (g *Game) Evaluated() bool { return len(g.evals) > 0 }

// timesOf reads how long the opponent took for each of their own moves, in
// tenths of a second, from [%emt] or from the fall of [%clk] with the increment
// added; nil when the game tells none. What a change of periods hides is NoTime.
func timesOf(g *pgn.Game, theirs board.Color, plies int) []uint16 {
	control := &g.Header().Control
	inc, ok := control.Inc, control.Base > 0 || control.Inc > 0
	left, known := float64(control.Base), ok
	var out []uint16
	told := false
	for i := int(theirs); i < min(plies, notePlies); i += 2 {
		m := &g.Moves[i]
		spent := math.NaN()
		clk, hasClk := m.Clk()
		if emt, hasEmt := m.Emt(); hasEmt {
			spent = emt
		} else if hasClk && known {
			spent = left - clk
			if i > 1 { // the increment is added after each move, the first clock may come before it
				spent += float64(inc)
			}
		}
		left, known = clk, hasClk && ok
		t := tenths(spent, i < 2)
		told = told || t != NoTime
		out = append(out, t)
	}
	if !told {
		return nil
	}
	withoutIncrement(out, 10*inc)
	return out
}

// withoutIncrement corrects times reckoned with an increment, in tenths, that the
// clock never got: none of the moves took less than it. Some sites give none to
// who starts with half the time.
func withoutIncrement(times []uint16, inc int) {
	const least = 5 // moves that must agree
	known := 0
	for _, t := range times[min(1, len(times)):] {
		switch {
		case int(t) < inc:
			return
		case t != NoTime:
			known++
		}
	}
	if known < least {
		return
	}
	for i := range times {
		if i > 0 && times[i] != NoTime {
			times[i] -= uint16(inc)
		}
	}
}

// tenths is a time in tenths of a second. Less than nothing is a clock that was
// set anew, or, at the first move, one that already has its increment.
func tenths(seconds float64, first bool) uint16 {
	switch {
	case first && seconds < 0:
		return 0
	case !(seconds > -1):
		return NoTime
	}
	return uint16(min(max(math.Round(seconds*10), 0), NoTime-1))
}

// Spent is how long the opponent took for their n-th move, n from 1, in
// seconds.
func (g *Game) Spent(n int) (seconds float64, ok bool) {
	if n < 1 || n > len(g.spent) || g.spent[n-1] == NoTime {
		return 0, false
	}
	return float64(g.spent[n-1]) / 10, true
}

// Timed reports whether the game tells how long the opponent took for moves.
func (g *Game) Timed() bool { return len(g.spent) > 0 }
