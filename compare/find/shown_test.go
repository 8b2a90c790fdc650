package find

import (
	"reflect"
	"testing"

	"foreply/compare/fact"
	"foreply/fetch/pgn"
	"foreply/profile/board"
)

// What they find in the user's games: how many, what was mostly played where lines pass often,
// the newest day of it, how often the book's move if that is another, and what was never shown.
func TestShownWhole(t *testing.T) {
	w, _ := small(t)
	own := gamesAs(t, board.White, "2026.01.01 1-0 300: e4 e5 Nf3 Nc6", "2026.01.02 1-0 300: e4 e5 Bc4 Nc6", "2026.01.03 1-0 300: e4 e5 Bc4 Nc6", "2026.01.04 1-0 300: d4 d5")
	want := &fact.Shown{Games: 4, Choices: 3, Known: 2, Hidden: [][]string{fields("e4 e5 Nf3 Nc6 Bb5")}, Habits: []fact.Habit{
		{Line: []string{}, Move: "e4", N: 3, Of: 4, Last: pgn.ParseDate("2026.01.03")}, {Line: fields("e4 e5"), Move: "Bc4", N: 2, Of: 3, Last: pgn.ParseDate("2026.01.03"), Book: "Nf3", BookN: 1},
	}}
	if got := Shown(w, own.Tree(board.White)); !reflect.DeepEqual(got, want) {
		t.Errorf("got\n  %+v\nwant\n  %+v", got, want)
	}
	other := gamesAs(t, board.White, "2026.01.01 1-0 300: d4 d5")
	if got := Shown(w, other.Tree(board.White)).Habits; len(got) != 1 || got[0].Book != "e4" || got[0].BookN != 0 {
		t.Errorf("%+v", got)
	}
	if got := Shown(w, gamesAs(t, board.White).Tree(board.White)); got.Games != 0 || got.Habits == nil || len(got.Hidden) != 2 {
		t.Errorf("no game: %+v", got)
	}
}
