package words

import (
	"testing"

	"foreply/compare/fact"
	"foreply/fetch/pgn"
)

// Every number of the fact differs, so that none can stand for another; scores are
// said from the user's side.
func TestTrap(t *testing.T) {
	theirs := fact.Trap{
		Kind: fact.TheirSlip, Line: []string{"e4", "e5", "Nf3", "f6"}, Before: -20, After: -390, Games: 2, Of: 7, Last: pgn.ParseDate("2026.02.03"),
		Speeds: []string{"slow", "blitz"}, Score: fact.Score{Wins: 4, Draws: 1}, Expected: 1.5,
	}
	best := &fact.Evaluated{Moves: []string{"Nxe5", "Qe7"}, Centipawns: 210}
	for name, c := range map[string]struct {
		change func(*fact.Trap)
		want   string
	}{
		"theirs": {func(*fact.Trap) {}, "wrong in 2 of 7 games here (slow, blitz; for you from +0.2 to +3.9 by the games' comments), last 3 Feb 2026; not here again since"},
		"speed unknown": {func(tr *fact.Trap) { tr.Speeds = []string{"unknown", "blitz"} },
			"wrong in 2 of 7 games here (speed unknown, blitz; for you from +0.2 to +3.9 by the games' comments), last 3 Feb 2026; not here again since"},
		"without date": {func(tr *fact.Trap) { tr.Last = pgn.Date{} }, "wrong in 2 of 7 games here (slow, blitz; for you from +0.2 to +3.9 by the games' comments); not here again since"},
		"repaired": {func(tr *fact.Trap) { tr.Since, tr.Then, tr.ThenPly, tr.Repaired = 5, "Nc6", 3, true },
			"wrong in 2 of 7 games here (slow, blitz; for you from +0.2 to +3.9 by the games' comments), last 3 Feb 2026; 2...Nc6 since (5 games): may have repaired it"},
		"by an engine": {func(tr *fact.Trap) { tr.Engine, tr.Best = true, best },
			"wrong in 2 of 7 games here (slow, blitz; for you from +0.2 to +3.9 by the engine), last 3 Feb 2026; not here again since; best then 3.Nxe5 Qe7 (+2.1)"},
		"prepared": {func(tr *fact.Trap) { tr.Best, tr.Prepared = best, true },
			"wrong in 2 of 7 games here (slow, blitz; for you from +0.2 to +3.9 by the games' comments), last 3 Feb 2026; not here again since; your 3.Nxe5 is best (+2.1)"},
		"others": {func(tr *fact.Trap) { tr.Kind = fact.OthersSlip },
			"others went wrong in 2 of 7 games here (slow, blitz; for you from -0.2 to -3.9 by the games' comments), your side made ½ of 5, 3.5 expected, last 3 Feb 2026"},
		"others, by an engine": {func(tr *fact.Trap) { tr.Kind, tr.Engine = fact.OthersSlip, true },
			"others went wrong in 2 of 7 games here (slow, blitz; for you from -0.2 to -3.9 by the engine), your side made ½ of 5, 3.5 expected, last 3 Feb 2026"},
		"your book too": {func(tr *fact.Trap) { tr.Kind, tr.Yours = fact.OthersSlip, true },
			"others went wrong in 2 of 7 games here (slow, blitz; for you from -0.2 to -3.9 by the games' comments), your side made ½ of 5, 3.5 expected, last 3 Feb 2026; it is your book's move"},
		"without results": {func(tr *fact.Trap) { tr.Kind, tr.Score = fact.OthersSlip, fact.Score{Unknown: 2} },
			"others went wrong in 2 of 7 games here (slow, blitz; for you from -0.2 to -3.9 by the games' comments), last 3 Feb 2026"},
	} {
		tr := theirs
		c.change(&tr)
		if got := Trap(&tr).String(); got != c.want {
			t.Errorf("%s: %q, want %q", name, got, c.want)
		}
	}
}
