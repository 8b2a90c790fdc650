package words

import (
	"testing"

	"foreply/compare/fact"
	"foreply/fetch/pgn"
)

func share(p, lo, hi float64) *fact.Share {
	s := fact.NewShare(fact.Chance{P: p, Lo: lo, Hi: hi}, 13, 53)
	return &s
}

// Every number of the fact differs, so that none can stand for another.
func TestChange(t *testing.T) {
	habit := fact.Change{
		Line: []string{"e4"}, Move: "c5", Up: true, N: 7, Of: 9, PastN: 2, PastOf: 44,
		Now: "c5", NowN: 6, Former: "e5", FormerN: 40, Habit: true, Since: pgn.ParseDate("2026.02"), Speed: "blitz",
	}
	for name, c := range map[string]struct {
		change func(*fact.Change)
		want   string
	}{
		"a habit":          {func(*fact.Change) {}, "against 1.e4, in blitz since Feb 2026: 1...c5 in 6 of the last 9; before that 1...e5 in 40 of 44"},
		"always, and now":  {func(ch *fact.Change) { ch.NowN, ch.FormerN = 9, 44 }, "against 1.e4, in blitz since Feb 2026: 1...c5 in the last 9; before that 1...e5 in all 44"},
		"a first move":     {func(ch *fact.Change) { ch.Line, ch.Now, ch.Former = nil, "d4", "e4" }, "in blitz since Feb 2026: 1.d4 in 6 of the last 9; before that 1.e4 in 40 of 44"},
		"deeper":           {func(ch *fact.Change) { ch.Line = []string{"e4", "e5", "Nf3"} }, "after 1.e4 e5 2.Nf3, in blitz since Feb 2026: 2...c5 in 6 of the last 9; before that 2...e5 in 40 of 44"},
		"one move":         {func(ch *fact.Change) { ch.Habit = false }, "against 1.e4, in blitz since Feb 2026: 1...c5 in 7 of the last 9; before that in 2 of 44"},
		"a move dropped":   {func(ch *fact.Change) { ch.Habit, ch.Up, ch.Move, ch.N = false, false, "e5", 0 }, "against 1.e4, in blitz since Feb 2026: 1...e5 in none of the last 9; before that in 2 of 44; now most often 1...c5 (6)"},
		"at two speeds":    {func(ch *fact.Change) { ch.SameIn = []string{"slow"} }, "against 1.e4, in blitz since Feb 2026: 1...c5 in 6 of the last 9; before that 1...e5 in 40 of 44; the same in slow games"},
		"at three":         {func(ch *fact.Change) { ch.SameIn = []string{"rapid", "slow"} }, "against 1.e4, in blitz since Feb 2026: 1...c5 in 6 of the last 9; before that 1...e5 in 40 of 44; the same in rapid and slow games"},
		"to expect":        {func(ch *fact.Change) { ch.Share = share(0.55, 0.31, 0.74) }, "against 1.e4, in blitz since Feb 2026: 1...c5 in 6 of the last 9; expect 6 in 10 (3–7); before that 1...e5 in 40 of 44"},
		"hardly known":     {func(ch *fact.Change) { ch.Share = share(0.55, 0.11, 0.84) }, "against 1.e4, in blitz since Feb 2026: 1...c5 in 6 of the last 9; what to expect is hardly known; before that 1...e5 in 40 of 44"},
		"many before":      {func(ch *fact.Change) { ch.AllN, ch.AllOf = 51, 312 }, "against 1.e4, in blitz since Feb 2026: 1...c5 in 6 of the last 9; before that 1...e5 in 40 of 44 (51 of all 312 before)"},
		"no more before":   {func(ch *fact.Change) { ch.AllN, ch.AllOf = 40, 44 }, "against 1.e4, in blitz since Feb 2026: 1...c5 in 6 of the last 9; before that 1...e5 in 40 of 44"},
		"at any speed":     {func(ch *fact.Change) { ch.Speed = "" }, "against 1.e4, since Feb 2026: 1...c5 in 6 of the last 9; before that 1...e5 in 40 of 44"},
		"speed not known":  {func(ch *fact.Change) { ch.Speed = "unknown" }, "against 1.e4, in games not known to be fast since Feb 2026: 1...c5 in 6 of the last 9; before that 1...e5 in 40 of 44"},
		"in slow games":    {func(ch *fact.Change) { ch.Speed = "slow" }, "against 1.e4, in slow games since Feb 2026: 1...c5 in 6 of the last 9; before that 1...e5 in 40 of 44"},
		"dropped, no more": {func(ch *fact.Change) { ch.Habit, ch.Up = false, false }, "against 1.e4, in blitz since Feb 2026: 1...c5 in 7 of the last 9; before that in 2 of 44"},
		"never before":     {func(ch *fact.Change) { ch.Habit, ch.PastN = false, 0 }, "against 1.e4, in blitz since Feb 2026: 1...c5 in 7 of the last 9; before that in none of 44"},
	} {
		ch := habit
		c.change(&ch)
		if got := Change(&ch).String(); got != c.want {
			t.Errorf("%s: %q, want %q", name, got, c.want)
		}
	}
	if got := Change(&habit).First(1).String(); got != "against 1.e4, in blitz since Feb 2026: 1...c5 in 6 of the last 9" {
		t.Errorf("its first clause alone is %q", got)
	}
}
