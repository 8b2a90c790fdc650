package find

import (
	"slices"
	"testing"

	"foreply/compare/fact"
)

// Their gambit after 2.c4 is gone round by the knight first. They lost all twelve
// games with it against their equals: half of the points were to be expected.
func TestOrdersOfYours(t *testing.T) {
	const book = "1. d4 Nf6 2. c4 e6 (2... g6 3. Nf3 Bg7 4. Nc3) (2... e5 3. dxe5) 3. Nf3 d5 4. Nc3 *"
	c := compare(t, gamesOf(t, slices.Concat(
		repeated(12, "1-0 5400 2000: d4 Nf6 c4 e5 dxe5 Ng4"), repeated(6, "1-0 5400 2000: d4 Nf6 c4 e6 Nf3 d5"),
		repeated(12, "1-0 5400 2000: d4 Nf6 Nf3 e6 c4 d5"))...), book)
	got := Orders(c.w, c.games)
	if len(got) != 1 {
		t.Fatalf("%+v", got)
	}
	o := got[0]
	if o.Kind != fact.YourOrder || line(o.Line) != "d4 Nf6" || o.Move != "c4" || o.Other != "Nf3" || o.Pet != "e5" || o.Games != 12 {
		t.Errorf("%+v", o)
	}
	if o.Score != (fact.Score{Losses: 12}) || o.Expected != 6 {
		t.Errorf("score %+v, expected %v", o.Score, o.Expected)
	}
}

// Against stronger players less is to be expected, and without ratings what the
// record with the colour says.
func TestExpected(t *testing.T) {
	for name, c := range map[string]struct {
		rows   []string
		lo, hi float64
	}{
		"400 points stronger": {[]string{"2026.01.01 1-0 300 2400: e4 e5", "2026.01.02 0-1 300 2400: e4 e5"}, 0.15, 0.2},
		"400 points weaker":   {[]string{"2026.01.01 1-0 300 1600: e4 e5", "2026.01.02 0-1 300 1600: e4 e5"}, 1.8, 1.85},
		"by the record":       {[]string{"2026.01.01 0-1 300 -: e4 e5", "2026.01.02 0-1 300 -: d4 d5", "2026.01.03 1-0 300 -: d4 d5"}, 0.66, 0.67},
		"without a result":    {[]string{"2026.01.01 * 300 2000: e4 e5"}, 0, 0},
	} {
		games := compare(t, gamesOf(t, c.rows...), "1. e4 e5 2. Nf3 *").games
		after := lineOf("e4")
		if got := games.Expected(games.Visits(after.End.Key())); got < c.lo || got > c.hi {
			t.Errorf("%s: %v, want %v to %v", name, got, c.lo, c.hi)
		}
	}
}

// Of two orders that go round their gambit the one is told from which more of their moves
// come back to the book.
func TestOrderThatComesBackMore(t *testing.T) {
	const book = "1. d4 Nf6 2. c4 e6 (2... g6 3. g3 Bg7 4. Bg2) (2... e5 3. dxe5) 3. Nf3 d5 4. Nc3 *"
	for name, c := range map[string]struct {
		knight, bishop int // games in which 2.Nf3 and 2.g3 came back
		want           string
	}{"the knight first": {13, 11, "Nf3"}, "the bishop first": {11, 13, "g3"}} {
		games := compare(t, gamesOf(t, slices.Concat(
			repeated(12, "1-0 5400 2000: d4 Nf6 c4 e5 dxe5 Ng4"), repeated(6, "1-0 5400 2000: d4 Nf6 c4 e6 Nf3 d5"),
			repeated(c.knight, "1-0 5400 2000: d4 Nf6 Nf3 e6 c4 d5"), repeated(13-c.knight, "1-0 5400 2000: d4 Nf6 Nf3 d6 c4"),
			repeated(c.bishop, "1-0 5400 2000: d4 Nf6 g3 g6 c4 Bg7"), repeated(13-c.bishop, "1-0 5400 2000: d4 Nf6 g3 d5 Bg2"))...), book)
		got := Orders(games.w, games.games)
		if len(got) != 1 || got[0].Other != c.want {
			t.Errorf("%s: %+v", name, got)
		}
	}
}
