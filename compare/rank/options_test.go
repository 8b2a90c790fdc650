package rank

import (
	"strings"
	"testing"

	"foreply/compare/fact"
)

// Each position keeps its own options together: for a win the sharp one first, then
// what is unlabelled, then the solid one; for a draw the other way round; where time
// is short by depth. Of equal labels the style decides: quiet is early exchanges and
// short draws without opposite castling.
func TestOptions(t *testing.T) {
	e4, d4 := []string{"e4", "e5"}, []string{"d4", "d5"}
	list := []fact.Option{
		{Line: e4, Move: "solid", Character: fact.Solid, Depth: 9}, {Line: e4, Move: "plain", Depth: 5}, {Line: e4, Move: "sharp", Character: fact.Sharp, Depth: 7},
		{Line: d4, Move: "lively", Depth: 4, Style: fact.Style{Of: 9, Opposite: 6}}, {Line: d4, Move: "mixed", Depth: 6, Style: fact.Style{Of: 9, QueensOff: 3, Opposite: 3}},
		{Line: d4, Move: "quiet", Depth: 8, Style: fact.Style{Of: 9, QueensOff: 3, ShortDraws: 3}},
	}
	usual := fact.Style{Of: 50, QueensOff: 10, ShortDraws: 5, Opposite: 5}
	for aim, want := range map[string]string{
		"":                "solid plain sharp lively mixed quiet",
		fact.ForWin:       "sharp plain solid lively mixed quiet",
		fact.ForDraw:      "solid plain sharp quiet mixed lively",
		fact.ForTwoRounds: "solid sharp plain quiet mixed lively",
		fact.ForFast:      "solid sharp plain quiet mixed lively",
	} {
		var got []string
		for _, o := range Options(list, aim, usual) {
			got = append(got, o.Move)
		}
		if got := strings.Join(got, " "); got != want {
			t.Errorf("for %q: %s, want %s", aim, got, want)
		}
	}
}

// One game tells less than twenty: what it shows is shrunk to what is usual, here
// mostly quiet.
func TestOptionsOfLittleEvidence(t *testing.T) {
	list := []fact.Option{{Move: "seen", Style: fact.Style{Of: 40, QueensOff: 20}}, {Move: "once", Style: fact.Style{Of: 1, Opposite: 1}}}
	usual := fact.Style{Of: 100, QueensOff: 90}
	if got := Options(list, fact.ForDraw, usual); got[0].Move != "once" {
		t.Errorf("%+v", got)
	}
}

// A style is shrunk to what is usual by twenty games: of (4+1-2) in 5 games, where 10 in 50
// are usual, (3+20*10/50)/25.
func TestQuiet(t *testing.T) {
	usual := fact.Style{Of: 50, QueensOff: 9, ShortDraws: 4, Opposite: 3}
	if got := quiet(&fact.Style{Of: 5, QueensOff: 4, ShortDraws: 1, Opposite: 2}, &usual); got != 7.0/25 {
		t.Errorf("%v", got)
	}
	if got := quiet(&fact.Style{Of: 5, QueensOff: 4}, &fact.Style{}); got != 0 {
		t.Errorf("nothing is usual: %v", got)
	}
}
