package words

import (
	"testing"

	"foreply/compare/fact"
)

// Every number of the fact differs, so that none can stand for another; the score
// is said from the user's side.
func TestOrder(t *testing.T) {
	ours := fact.Order{
		Kind: fact.YourOrder, Line: []string{"d4", "Nf6"}, Move: "c4", Other: "Nf3", Pet: "e5", P: 0.7, Back: 0.6, Games: 13, Met: 9,
		Score: fact.Score{Wins: 7, Draws: 1, Losses: 4}, Expected: 5.5,
	}
	for name, c := range map[string]struct {
		change func(*fact.Order)
		want   string
	}{
		"yours":          {func(*fact.Order) {}, "after 1.d4 Nf6: 2.c4 allows their 2...e5 (7 in 10, 13 games, your side made 4½ of 12, 6.5 expected); 2.Nf3 goes round it (they met it in 9 games), and 6 in 10 of their moves then come back to your book by 3.c4"},
		"at the start":   {func(o *fact.Order) { o.Line = nil }, "1.c4 allows their 1...e5 (7 in 10, 13 games, your side made 4½ of 12, 6.5 expected); 1.Nf3 goes round it (they met it in 9 games), and 6 in 10 of their moves then come back to your book by 2.c4"},
		"without result": {func(o *fact.Order) { o.Score = fact.Score{Unknown: 3} }, "after 1.d4 Nf6: 2.c4 allows their 2...e5 (7 in 10, 13 games); 2.Nf3 goes round it (they met it in 9 games), and 6 in 10 of their moves then come back to your book by 3.c4"},
		"theirs": {
			func(o *fact.Order) {
				*o = fact.Order{Kind: fact.TheirOrder, Line: []string{"e4", "d6", "d4"}, Move: "g6", Other: "N8f6", Waits: "Nf6", Pet: "Nc3", P: 0.31, Games: 12, Met: 8}
			},
			"after 1.e4 d6 2.d4: with 2...g6 at once (12 games) they keep back 2...Nf6: after your 3.Nc3 (8 games), 3...N8f6 comes 3 in 10",
		},
	} {
		o := ours
		c.change(&o)
		if got := Order(&o).String(); got != c.want {
			t.Errorf("%s: %q, want %q", name, got, c.want)
		}
	}
}
