package words

import (
	"testing"

	"foreply/compare/fact"
)

// What is said of results is said of the side that you will have: its points are
// theirs turned around, and so is what was expected and whether it was more.
func TestAbout(t *testing.T) {
	record := fact.About{Kind: fact.PlainRecord, Color: "black", N: 10, Score: fact.Score{Wins: 5, Draws: 2, Losses: 3}}
	with := func(r fact.Rated) *fact.About { a := record; a.Rated = &r; return &a }
	for name, c := range map[string]struct {
		about *fact.About
		want  string
	}{
		"a record":       {&record, "against their Black your side made 4 of 10"},
		"as rated":       {with(fact.Rated{List: "club", Games: 10, Points: 6, Expected: 5.5, All: true}), "against their Black your side made 4 of 10, about as rated"},
		"they did worse": {with(fact.Rated{List: "club", Games: 10, Points: 6, Expected: 8.5, Beside: -1, All: true}), "against their Black your side made 4 of 10, more than rated (1.5 expected)"},
		"in one list":    {with(fact.Rated{List: "club", Games: 8, Points: 5, Expected: 3, Beside: 1}), "against their Black your side made 4 of 10; at club 3 of 8, less than rated (5.0 expected)"},
		"a habit": {
			&fact.About{Kind: fact.LongCastling, Above: true, K: 12, N: 40, Speed: "slow", Usual: 0.12},
			"castles long: in 12 of 40 slow games (usual: 1 in 8)",
		},
		"against peers": {
			&fact.About{Kind: fact.EarlyQueens, K: 1, N: 40, Usual: 0.3, Peers: true},
			"keeps the queens on: off by move 20 in 1 of 40 games (players like them: 3 in 10)",
		},
		"results": {
			&fact.About{Kind: fact.AgainstLower, Above: true, N: 16, Limit: 200, Score: fact.Score{Wins: 6, Draws: 4, Losses: 6}, Expected: 3.1},
			"did well against players 200 or more below them: the other side made 8 of 16, expected about 13",
		},
		"results, some unknown": {
			&fact.About{Kind: fact.AgainstLower, N: 20, Limit: 200, Score: fact.Score{Wins: 6, Draws: 4, Losses: 6, Unknown: 4}, Expected: 3.1},
			"did badly against players 200 or more below them: the other side made 8 of 16, expected about 13",
		},
		"instant": {&fact.About{Kind: fact.AtOnce, Above: true, N: 9, Move: 12, UsualMove: 6}, "usually instant to move 12 (9 fast games with clocks; others to move 6)"},
		"slow":    {&fact.About{Kind: fact.AtOnce, N: 9, Move: 2, UsualMove: 6}, "thinks early, usually from move 3 on (9 fast games with clocks; others from move 7)"},
	} {
		if got := About(c.about).String(); got != c.want {
			t.Errorf("%s: %q, want %q", name, got, c.want)
		}
	}
}
