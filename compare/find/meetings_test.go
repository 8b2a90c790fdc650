package find

import (
	"reflect"
	"strings"
	"testing"

	"foreply/compare/book"
	"foreply/compare/fact"
	"foreply/fetch/pgn"
	"foreply/profile"
	"foreply/profile/board"
)

// between are games from a file as one of the two reads them, its own side being named so.
func between(t *testing.T, file, own, text string) Between {
	t.Helper()
	p := profile.Build(pgn.NewReader(strings.NewReader(text), pgn.Options{File: file}).All(), profile.Options{Them: func(g *pgn.Game) (board.Color, bool) {
		if g.Header().White.Name == own {
			return board.White, true
		}
		return board.Black, g.Header().Black.Name == own
	}})
	rival := map[string]string{"Them": "Me", "Me": "Them"}[own]
	return Between{p.Games, func(name string) bool { return name == rival }}
}

func heads(white, black, date, result string) string {
	return "[White \"" + white + "\"]\n[Black \"" + black + "\"]\n[WhiteElo \"1800\"]\n[BlackElo \"2100\"]\n[Date \"" + date + "\"]\n[Result \"" + result + "\"]\n[TimeControl \"5400\"]\n\n"
}

// Games between the two come from the files of both, newest first: one that stands in both is
// told once, as theirs; one of the user's own alone is turned round, and others are left out.
// Each stands beside the book for the colour the user had in it.
func TestMeetings(t *testing.T) {
	theirs := between(t, "them.pgn", "Them", heads("Me", "Them", "2025.03.01", "1-0")+"1. e4 e5 2. d4 exd4 3. c3 dxc3 4. Bc4 cxb2 5. Bxb2 d5 6. Bxd5 Nf6 7. Nf3 Be7 1-0\n\n"+
		heads("Elm", "Them", "2025.04.01", "0-1")+"1. d4 d5 0-1\n\n")
	own := between(t, "me.pgn", "Me", heads("Me", "Them", "2025.03.??", "1-0")+"1. e4 e5 2. d4 exd4 1-0\n\n"+
		heads("Them", "Me", "2025.05.01", "1-0")+"1. d4 d5 2. c4 e6 3. Nf3 1-0\n\n"+
		heads("Me", "Them", "2025.02.01", "1/2-1/2")+"1. e4 e5 2. Nf3 d6 1/2-1/2\n\n"+heads("Me", "Oak", "2025.06.01", "1-0")+"1. e4 e5 1-0\n\n")
	books := []*book.Book{bookOf(t, "1. e4 e5 2. Nf3 Nc6 3. Bb5 *"), bookAs(t, board.Black, "1. d4 d5 2. c4 c6 *")}
	want := []fact.GameRow{
		{Date: pgn.ParseDate("2025.05.01"), White: "Them", Black: "Me", Theirs: "white", Elo: 2100, Result: "1-0", Score: "1", Class: "classical", ECO: "D30", Opening: "Queen's Gambit Declined",
			Moves: fields("d4 d5 c4 e6 Nf3"), LeftBy: fact.LeftByYou, LeftPly: 3, Answer: "c6", File: "me.pgn", Game: 2},
		{Date: pgn.ParseDate("2025.03.01"), White: "Me", Black: "Them", Theirs: "black", Elo: 1800, Result: "1-0", Score: "0", Class: "classical", ECO: "C21", Opening: "Danish Gambit Accepted: Schlechter Defense",
			Moves: fields("e4 e5 d4 exd4 c3 dxc3 Bc4 cxb2 Bxb2 d5 Bxd5 Nf6"), LeftBy: fact.LeftByYou, LeftPly: 2, Answer: "Nf3", File: "them.pgn", Game: 1},
		{Date: pgn.ParseDate("2025.02.01"), White: "Me", Black: "Them", Theirs: "black", Elo: 1800, Result: "1/2-1/2", Score: "½", Class: "classical", ECO: "C41", Opening: "Philidor Defense",
			Moves: fields("e4 e5 Nf3 d6"), LeftBy: fact.LeftByThem, LeftPly: 3, File: "me.pgn", Game: 3},
	}
	got := Meetings(theirs, own, books)
	if len(got) != len(want) {
		t.Fatalf("%+v", got)
	}
	for i := range want {
		if !reflect.DeepEqual(got[i], want[i]) {
			t.Errorf("%d: got\n  %+v\nwant\n  %+v", i, got[i], want[i])
		}
	}
	theirs.Rival, own.Rival = nil, nil
	if got := Meetings(theirs, own, books); len(got) > 0 {
		t.Errorf("who the two are is not known: %+v", got)
	}
}

// A game that left the book late is told as far as it left, another for twelve plies; without
// a book for the colour it is told alone.
func TestMeetingsAsFarAsTheyLeft(t *testing.T) {
	const moves = "e4 e5 Nf3 Nc6 Bb5 a6 Ba4 Nf6 O-O Be7 Re1 b5 Bb3 d6 c3 O-O"
	game := heads("Me", "Them", "2025.03.01", "1-0") + moves + " 1-0\n\n"
	for book, plies := range map[string]int{"1. e4 e5 2. Nf3 Nc6 3. Bb5 a6 4. Ba4 Nf6 5. O-O Be7 6. Re1 b5 7. Bb3 d6 8. h3 *": 15, "1. d4 *": 12} {
		if row := Meetings(between(t, "them.pgn", "Them", game), Between{}, bookList(t, book))[0]; len(row.Moves) != plies {
			t.Errorf("%s: %q", book, row.Moves)
		}
	}
	if row := Meetings(between(t, "them.pgn", "Them", game), Between{}, nil)[0]; len(row.Moves) != 12 || row.LeftBy != "" || row.Answer != "" {
		t.Errorf("%+v", row)
	}
}

func bookList(t *testing.T, chapter string) []*book.Book {
	t.Helper()
	return []*book.Book{bookAs(t, board.Black, "1. c4 c5 *"), bookOf(t, chapter)}
}

// The same moves as far as both go are one game, unless their days can't be the same.
func TestSameMeeting(t *testing.T) {
	game := func(date, moves string) *profile.Game {
		g := gamesAs(t, board.Black, date+" 1-0 300: "+moves).Games[0]
		return &g
	}
	a := game("2025.03.01", "e4 e5 Nf3")
	for row, want := range map[string]bool{
		"2025.03.01 e4 e5 Nf3": true, "2025.03.01 e4 e5": true, "2025.??.?? e4 e5 Nf3 d6": true, "2025.03.02 e4 e5 Nf3": false, "2025.03.01 e4 e5 Nc3": false, "2025.03.01 d4": false,
	} {
		date, moves, _ := strings.Cut(row, " ")
		if b := game(date, moves); sameMeeting(a, b) != want || sameMeeting(b, a) != want {
			t.Errorf("%s: want %v", row, want)
		}
	}
}

// Their score counts the games of a colour of theirs, or all.
func TestMetScore(t *testing.T) {
	rows := []fact.GameRow{{Theirs: "white", Score: "1"}, {Theirs: "white", Score: "1"}, {Theirs: "white", Score: "1"}, {Theirs: "black", Score: "½"}, {Theirs: "black", Score: "½"}, {Theirs: "black", Score: "0"}, {Theirs: "white", Score: "*"}, {Theirs: "black", Score: "*"}}
	for theirs, want := range map[string]fact.Score{"": {Wins: 3, Draws: 2, Losses: 1, Unknown: 2}, "white": {Wins: 3, Unknown: 1}, "black": {Draws: 2, Losses: 1, Unknown: 1}} {
		if got := MetScore(rows, theirs); got != want {
			t.Errorf("%q: %+v", theirs, got)
		}
	}
}
