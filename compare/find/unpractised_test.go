package find

import (
	"fmt"
	"slices"
	"testing"

	"foreply/profile/board"
)

// A likely line not met for a year is told with its reach, its games and its place, likeliest
// first; one in twenty is likely enough.
func TestUnpractisedWhole(t *testing.T) {
	const stem = "e4 e5 Nf3 Nc6 Bb5"
	b := bookOf(t, "1. e4 e5 2. Nf3 Nc6 3. Bb5 Nf6 (3... a6\n4. Ba4) (3... d6 4. d4) (3... f5 4. d3) 4. O-O *")
	w := walked(b, chances{"e4": "e5 100 9", "e4 e5 Nf3": "Nc6 100 9", stem: "a6 60 5 Nf6 31 3 d6 5 1 f5 4 0"})
	p := gamesOf(t, slices.Concat(repeated(5, "1-0 300: "+stem+" a6 Ba4"), repeated(3, "1-0 300: "+stem+" Nf6 d3"), repeated(1, "1-0 300: "+stem+" d6 d4"))...)
	own := gamesAs(t, board.White, "2020.01.02 1-0 300: "+stem+" Nf6 O-O", "2026.10.01 1-0 300: "+stem+" d6 d4")
	got := Unpractised(w, own, Games{All: p.Games, Tree: p.Tree(board.Black)}, today)
	var told []string
	for _, u := range got {
		told = append(told, fmt.Sprintf("%s %.2f %.2f %d of %d, last %s, %s:%d", u.Line[len(u.Line)-1], u.Reach, u.Often.P, u.Often.Games, u.Often.Of, u.Last, u.File, u.FileLine))
	}
	if want := []string{"Ba4 0.60 0.60 5 of 9, last , book.pgn:2", "O-O 0.31 0.31 3 of 9, last 2020-01-02, book.pgn:2"}; !slices.Equal(told, want) {
		t.Errorf("%q", told)
	}
	never := Unpractised(w, gamesAs(t, board.White), Games{All: p.Games, Tree: p.Tree(board.Black)}, today)
	if len(never) != 3 || !near(never[2].Reach, 0.05) {
		t.Errorf("never met: %+v", never)
	}
}
