package fact

import (
	"reflect"
	"strings"
	"testing"
)

// What a user needs is read in any case; the lines of a game told are as far as it is told, with
// what the book has where it was left; an answer of others goes on as most did.
func TestNeedsAndLines(t *testing.T) {
	for text, want := range map[string]Need{"": AnyResult, "Any": AnyResult, "WIN": NeedWin, "Draw": NeedDraw} {
		if got, ok := ParseNeed(text); !ok || got != want {
			t.Errorf("%q: %v", text, got)
		}
	}
	if _, ok := ParseNeed("loss"); ok || NeedWin.String() != "win" || NeedDraw.String() != "draw" || AnyResult.String() != "any" {
		t.Error("a loss is no need")
	}
	lines := func(rows ...string) (out [][]string) {
		for _, row := range rows {
			out = append(out, strings.Fields(row))
		}
		return out
	}
	moves := strings.Fields("e4 e5 d4 exd4")
	if got := (PlayedGame{Moves: moves, LeftPly: 2, Answer: "Nf3"}).lines(); !reflect.DeepEqual(got, lines("e4 e5 d4 exd4", "e4 e5 Nf3")) {
		t.Errorf("%q", got)
	}
	if got := (PlayedGame{Moves: moves, LeftPly: 9}).lines(); !reflect.DeepEqual(got, lines("e4 e5 d4 exd4")) {
		t.Errorf("%q", got)
	}
	met := Met{Move: "Nf3", Then: []GoesOn{{Move: "Nc6"}, {Move: "Bb5"}}}
	stem := strings.Fields("e4 e5 x x")[:2]
	if got := met.On(stem); !reflect.DeepEqual(got, strings.Fields("e4 e5 Nf3 Nc6 Bb5")) || stem[:3][2] != "x" {
		t.Errorf("%q", got)
	}
}
