package find

import (
	"reflect"
	"testing"

	"foreply/compare/fact"
	"foreply/fetch/pgn"
	"foreply/profile/board"
)

// A row says who played whom, with whose result: as in the game, and theirs.
func TestRow(t *testing.T) {
	g := gamesOf(t, "2026.06.02 0-1 5400 2110: e4 c5 Nf3 d6 d4 cxd4 Nxd4 Nf6 Nc3 a6 Be2 e5 Nb3 Be7").Games[0]
	g.ECO = "A00" // a tag of the game yields to its moves
	want := fact.GameRow{
		Date: pgn.ParseDate("2026.06.02"), White: "Elm", Black: "Them", Theirs: "black", Elo: 2110, Result: "0-1", Score: "1", Class: "classical",
		Moves: fields("e4 c5 Nf3 d6 d4 cxd4 Nxd4 Nf6 Nc3 a6 Be2 e5"), File: "games.pgn", Game: 1,
	}
	got := Row(&g)
	if got.ECO[0] != 'B' || got.Opening == "" {
		t.Errorf("%s %s", got.ECO, got.Opening)
	}
	got.ECO, got.Opening = "", ""
	if !reflect.DeepEqual(got, want) {
		t.Errorf("got\n  %+v\nwant\n  %+v", got, want)
	}
	g.Moves = nil
	if got := Row(&g); got.ECO != "A00" || got.Opening != "" {
		t.Errorf("without moves %s %q", got.ECO, got.Opening)
	}
	for row, want := range map[string]string{"1-0": "0 1-0", "0-1": "1 0-1", "1/2-1/2": "½ 1/2-1/2", "*": "* *"} {
		black, white := Row(&gamesOf(t, "2026.06.02 "+row+" 300: e4").Games[0]), Row(&gamesAs(t, board.White, "2026.06.02 "+row+" 300: e4").Games[0])
		if got := black.Score + " " + black.Result; got != want {
			t.Errorf("%s with Black: %s", row, got)
		}
		if white.Result != row || white.Score != otherPoints(black.Score) || white.Theirs != "white" {
			t.Errorf("%s with White: %s %s", row, white.Score, white.Result)
		}
	}
}

// A game beside the book is told up to the move with which it left, one that never did for
// twelve plies. Who left it: they by a move that it doesn't have, the user by another than its
// answers, and nobody where it had ended; a position that it knows by another order is no end.
func TestWhoLeftTheBook(t *testing.T) {
	b := bookOf(t, "1. e4 e5 (1... c5) 2. Nf3 (2. Nc3) Nc6 3. Bb5 a6 4. Ba4 *", "1. Nf3 Nc6 2. d4 *", "1. d4 Nc6 2. Nf3 d5 3. c4 *")
	for moves, c := range map[string]struct {
		by    string
		ply   int
		shown string
	}{
		"e4 e5 Nf3 d6 d4":       {fact.LeftByThem, 3, "e4 e5 Nf3 d6"},
		"e4 e5 Nc3 Nf6":         {fact.BookOver, 3, "e4 e5 Nc3 Nf6"},
		"e4 e5 d4 exd4":         {fact.LeftByYou, 2, "e4 e5 d4"},
		"e4 c5 Nf3":             {fact.BookOver, 2, "e4 c5 Nf3"},
		"e4 e5 Nf3":             {fact.GameEnded, 3, "e4 e5 Nf3"},
		"d4 d5":                 {fact.LeftByThem, 1, "d4 d5"},
		"e4 e5 Nf3 Nc6 Bb5 Nf6": {fact.LeftByThem, 5, "e4 e5 Nf3 Nc6 Bb5 Nf6"},
		"d4 Nc6 Nf3 d5 c4 e6":   {fact.BookOver, 5, "d4 Nc6 Nf3 d5 c4 e6"},
		"c4 e5":                 {fact.LeftByYou, 0, "c4"},
	} {
		row := rowOf(b, nil, &gamesOf(t, "2026.06.02 1-0 300: "+moves).Games[0])
		if row.LeftBy != c.by || row.LeftPly != c.ply || line(row.Moves) != c.shown {
			t.Errorf("%s: %s after %d, %q", moves, row.LeftBy, row.LeftPly, row.Moves)
		}
	}
	const spanish = "e4 e5 Nf3 Nc6 Bb5 a6 Ba4 Nf6 O-O Be7 Re1 b5 Bb3"
	if row := rowOf(bookOf(t, "1. "+spanish+" d6 *"), nil, &gamesOf(t, "2026.06.02 1-0 300: "+spanish).Games[0]); len(row.Moves) != 12 || row.LeftPly != 13 {
		t.Errorf("%+v", row)
	}
}

// With the other colour: of Black what they meet the two commonest first moves with, of
// White what they begin with; two moves each, most games first.
func TestHints(t *testing.T) {
	black := gamesOf(t, "2026.01.01 1-0 300: e4 e5", "2026.01.02 1-0 300: e4 e5", "2026.01.03 1-0 300: e4 e5", "2026.01.04 1-0 300: e4 c5", "2026.01.05 1-0 300: e4 c5", "2026.01.06 1-0 300: e4 g6",
		"2026.01.07 1-0 300: d4 d5", "2026.01.08 1-0 300: d4 Nf6", "2026.01.09 1-0 300: d4 d5", "2026.01.10 1-0 300: c4 e5", "2026.01.10 1-0 300: c4 e6", "2026.01.11 1-0 300: b3")
	want := []fact.Hint{
		{Color: "black", Line: fields("e4"), Games: 6, Moves: []fact.Played{{Move: "e5", Games: 3}, {Move: "c5", Games: 2}}},
		{Color: "black", Line: fields("d4"), Games: 3, Moves: []fact.Played{{Move: "d5", Games: 2}, {Move: "Nf6", Games: 1}}},
	}
	if got := Hints(black.Tree(board.Black)); !reflect.DeepEqual(got, want) {
		t.Errorf("%+v", got)
	}
	white := gamesAs(t, board.White, "2026.01.01 1-0 300: d4 d5", "2026.01.02 1-0 300: d4 d5", "2026.01.03 1-0 300: e4 e5")
	want = []fact.Hint{{Color: "white", Line: []string{}, Games: 3, Moves: []fact.Played{{Move: "d4", Games: 2}, {Move: "e4", Games: 1}}}}
	if got := Hints(white.Tree(board.White)); !reflect.DeepEqual(got, want) {
		t.Errorf("%+v", got)
	}
	if got := Hints(white.Tree(board.Black)); got != nil {
		t.Errorf("no game: %+v", got)
	}
}
