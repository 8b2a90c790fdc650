package find

import (
	"reflect"
	"testing"

	"foreply/compare/fact"
	"foreply/fetch/pgn"
	"foreply/profile/board"
)

// Where the games left the book in all: by whom, at which move on average, how many came back
// to it, and the commonest ways out with their newest day, five at most.
func TestLeftWhole(t *testing.T) {
	const book = "1. e4 e5 2. Nf3 Nc6 3. Bb5 *\n\n1. d4 d5 2. c4 e6 3. Nc3 *"
	p := gamesOf(t, "2026.01.01 1-0 300: e4 c5 d4", "2026.01.02 1-0 300: e4 c5 c3", "2026.01.03 1-0 300: e4 e6 d4", "2026.01.04 1-0 300: e4 e5 Bc4", "2026.01.05 1-0 300: e4 e5 Nf3", "2026.01.06 1-0 300: c4 d5 d4 e6 Nc3",
		"2026.01.07 1-0 300: e4 g6", "2026.01.08 1-0 300: e4 h6", "2026.01.09 1-0 300: e4 c5 d4")
	games := Games{All: p.Games, Tree: p.Tree(board.Black)}
	out := func(way, by string, n int, last string) fact.WayOut {
		return fact.WayOut{Line: fields(way), By: by, Games: n, Last: pgn.ParseDate(last)}
	}
	// Moves 1 (c5 three times, e6, g6, h6), 2 (Bc4, end of 2.Nf3) and 1 (c4): 11 in 9 games.
	want := fact.Left{Games: 9, Them: 6, You: 2, Never: 1, Back: 1, Move: 11.0 / 9, Usual: []fact.WayOut{
		out("e4 c5", fact.LeftByThem, 3, "2026.01.09"), out("c4", fact.LeftByYou, 1, "2026.01.06"), out("e4 e5 Bc4", fact.LeftByYou, 1, "2026.01.04"), out("e4 e6", fact.LeftByThem, 1, "2026.01.03"), out("e4 g6", fact.LeftByThem, 1, "2026.01.07"),
	}}
	if got := Left(bookOf(t, book), nil, games); !reflect.DeepEqual(got, want) {
		t.Errorf("got\n  %+v\nwant\n  %+v", got, want)
	}
	none := gamesAs(t, board.White, "2026.01.01 1-0 300: e4")
	if got := Left(bookOf(t, book), nil, Games{All: none.Games, Tree: none.Tree(board.Black)}); !reflect.DeepEqual(got, fact.Left{Usual: []fact.WayOut{}}) {
		t.Errorf("no game: %+v", got)
	}
}
