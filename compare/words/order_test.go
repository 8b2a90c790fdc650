package words

import (
	"testing"

	"foreply/compare/fact"
)

// Every number of the fact differs, so that none can stand for another; the score
// is said from the user's side.
func TestOrder(t *testing.T) {
	ours := fact.Order{
		Kind: fact.YourOrder, Line: []string{"d4", "Nf6"}, Move: "c4", Other: "Nf3", Pet: "e5", Share: fact.Share{P: 0.7, TenLo: 5, TenHi: 8, Seen: 13, Of: 18}, Back: 0.6, Games: 13, Met: 9,
		Score: fact.Score{Wins: 7, Draws: 1, Losses: 4}, Expected: 5.5,
	}
	for name, c := range map[string]struct {
		change func(*fact.Order)
		want   string
	}{
		"yours":          {func(*fact.Order) {}, "after 1.d4 Nf6: 2.c4 allows their 2...e5 (7 in 10 (5–8), 13 of 18 games, your side made 4½ of 12, 6.5 expected); 2.Nf3 goes round it (they met it in 9 games), and 3.c4 is back in your book 6 in 10"},
		"at the start":   {func(o *fact.Order) { o.Line = nil }, "1.c4 allows their 1...e5 (7 in 10 (5–8), 13 of 18 games, your side made 4½ of 12, 6.5 expected); 1.Nf3 goes round it (they met it in 9 games), and 2.c4 is back in your book 6 in 10"},
		"without result": {func(o *fact.Order) { o.Score = fact.Score{Unknown: 3} }, "after 1.d4 Nf6: 2.c4 allows their 2...e5 (7 in 10 (5–8), 13 of 18 games); 2.Nf3 goes round it (they met it in 9 games), and 3.c4 is back in your book 6 in 10"},
		"hardly known": {func(o *fact.Order) { o.Share, o.Score = fact.Share{P: 0.7, Seen: 4, Of: 6, Hardly: true}, fact.Score{} },
			"after 1.d4 Nf6: 2.c4 allows their 2...e5 (4 of 6 games); 2.Nf3 goes round it (they met it in 9 games), and 3.c4 is back in your book 6 in 10"},
		"theirs": {
			func(o *fact.Order) {
				*o = fact.Order{Kind: fact.TheirOrder, Line: []string{"e4", "d6", "d4"}, Move: "g6", Other: "N8f6", Waits: "Nf6", Pet: "Nc3", Share: fact.Share{P: 0.31, TenLo: 1, TenHi: 5, Seen: 3, Of: 10}, Games: 12, Met: 8}
			},
			"after 1.e4 d6 2.d4: 2...g6 at once (12 games) goes round 2...Nf6 3.Nc3: after 3.Nc3 (8 games) 3...N8f6 comes 3 in 10 (1–5)",
		},
	} {
		o := ours
		c.change(&o)
		if got := Order(&o).String(); got != c.want {
			t.Errorf("%s: %q, want %q", name, got, c.want)
		}
	}
}
