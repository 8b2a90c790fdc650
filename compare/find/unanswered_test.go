package find

import (
	"reflect"
	"testing"

	"foreply/compare/fact"
	"foreply/fetch/pgn"
	"foreply/profile/board"
)

// The moves without an answer, whole: how likely, of how many games, what came of them, the
// note and where the book has the position before.
func TestUnansweredWhole(t *testing.T) {
	w, games := small(t)
	met := func(move string, n int, s fact.Score) fact.Met {
		return fact.Met{Move: move, Games: n, Score: s, Expected: float64(n) / 2}
	}
	want := []fact.Unanswered{
		{Line: fields("e4 c5"), Share: shareOf(0.2, 2, 11), Games: 2, Of: 11, Last: pgn.ParseDate("2026.03.02"), Score: fact.Score{Wins: 1, Losses: 1}, Note: "Head.", FileLine: 2,
			Others: []fact.Met{met("Nf3", 2, fact.Score{Wins: 1, Losses: 1})}, SetUp: fields("Nf3 Bb5"), SetUpPly: 1},
		{Line: fields("e4 e5 Nf3 d6"), Share: shareOf(0.2, 2, 9), Games: 2, Of: 11, Last: pgn.ParseDate("2026.02.02"), Score: fact.Score{Wins: 1, Draws: 1}, Note: "Castle.", NotePly: 3, FileLine: 3,
			Others: []fact.Met{met("Bc4", 1, fact.Score{Draws: 1}), met("d4", 1, fact.Score{Wins: 1})}, SetUp: fields("Bb5"), SetUpPly: 3},
	}
	got := Unanswered(w, NewFine(w), games, false)
	if len(got) != len(want) {
		t.Fatalf("%+v", got)
	}
	for i := range want {
		u, end := want[i], lineOf(line(want[i].Line))
		u.EPD, u.Name, u.File, u.Reach = end.End.EPD(), end.Opening().Name, "book.pgn", got[i].Reach
		u.Lo, u.Hi = w.Sorted()[i+1].Interval() // the likeliest end, the book's, has no move without an answer
		if !near(u.Reach, []float64{0.2, 0.16}[i]) || u.Lo >= u.Reach || u.Hi <= u.Reach {
			t.Errorf("%d: %+v", i, got[i])
		}
		if !reflect.DeepEqual(got[i], u) {
			t.Errorf("%d: got\n  %+v\nwant\n  %+v", i, got[i], u)
		}
	}
	few := Games{All: games.All[:9], Tree: gamesOf(t, repeated(1, "1-0 300: e4 e5 Nf3 Nc6")...).Tree(board.Black)}
	if got := Unanswered(w, NewFine(w), few, true); len(got) != 0 {
		t.Errorf("in no game: %+v", got)
	}
}
