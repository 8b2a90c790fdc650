package rank

import (
	"reflect"
	"strings"
	"testing"

	"foreply/compare/fact"
)

// A board is told with its reach, its interval and its games, for the colour the user has.
func TestBoardsWhole(t *testing.T) {
	line := func(last string) []string { return strings.Fields("e4 e5 Nf3 Nc6 Bb5 a6 Ba4 " + last) }
	for _, few := range []bool{false, true} {
		s := fact.Side{
			Games: 40, MyColor: "black", Aim: "white", Few: few,
			Unanswered: []fact.Unanswered{{Line: line("b5"), EPD: "1", Reach: 0.2, Lo: 0.1, Hi: 0.4, AnyOrder: true, Games: 7, Of: 20, Share: fact.Share{Seen: 5}}},
			Exits: []fact.Exit{{Kind: fact.BookEnds, YourMove: true, Line: line("d6 c3"), EPD: "2", Reach: 0.3, Lo: 0.15, Hi: 0.5, AnyOrder: true, Games: 6, Came: 8, Of: 19},
				{Kind: fact.LimitInBook, YourMove: true, Line: line("Nf6 O-O"), EPD: "3", Games: 1}, {Kind: fact.BookEnds, Line: line("f6 O-O"), EPD: "1", Games: 1}, {Kind: fact.BookEnds, Line: line("d6 d3"), EPD: "4", Games: 1}},
		}
		want := []fact.Diagram{
			{Line: line("b5"), Why: fact.BoardNoAnswer, EPD: "1", View: "black", Reach: 0.2, Lo: 0.1, Hi: 0.4, AnyOrder: true, Games: 7, Came: 7, Of: 20, Counted: few},
			{Line: line("d6 c3"), Why: fact.BoardNoAnswer, EPD: "2", View: "black", Reach: 0.3, Lo: 0.15, Hi: 0.5, AnyOrder: true, Games: 6, Came: 8, Of: 19, Counted: few},
			{Line: line("Nf6 O-O"), Why: fact.BoardInBook, EPD: "3", View: "black", Games: 1, Counted: few},
		}
		if got := Boards(&s); !reflect.DeepEqual(got, want) {
			t.Errorf("got\n  %+v\nwant\n  %+v", got, want)
		}
	}
}

// Boards are of move 4 on, the worst gap first, then ends of the book, then what else
// has no answer; never the same position or two with the same stem, and four at most.
func TestBoards(t *testing.T) {
	line := func(last string) []string {
		return append(strings.Fields("e4 e5 Nf3 Nc6 Bb5 a6 "), strings.Fields(last)...)
	}
	s := fact.Side{
		Games: 40, MyColor: "white",
		Unanswered: []fact.Unanswered{{Line: line("Ba4 b5"), EPD: "1", Reach: 0.2, Games: 7}, {Line: line("Ba4 g6"), EPD: "2"}, {Line: line("Bxc6 bxc6"), EPD: "3"}, {Line: []string{"e4", "a6"}, EPD: "4"}},
		Exits: []fact.Exit{
			{Kind: fact.TheyLeave, Line: line("Ba4 b5"), EPD: "1"}, {Kind: fact.BookEnds, Line: line("Ba4 Nf6 O-O"), EPD: "5", Reach: 0.3},
			{Kind: fact.TheyLeave, Unseen: true, Line: line("O-O"), EPD: "6"}, {Kind: fact.LimitInBook, Line: line("d3 d6 c3"), EPD: "7"},
			{Kind: fact.GameOver, Line: line("d4 d6 c4"), EPD: "8"},
		},
	}
	told := func() string {
		var out []string
		for _, d := range Boards(&s) {
			out = append(out, d.EPD+" "+d.Why)
		}
		return strings.Join(out, ", ")
	}
	if got, want := told(), "1 no_answer, 5 book_ends, 7 in_book, 8 game_over"; got != want {
		t.Errorf("%s, want %s", got, want)
	}
	if d := Boards(&s)[0]; d.View != "white" || d.Reach != 0.2 || d.Games != 7 || d.Counted {
		t.Errorf("%+v", d)
	}
	s.Exits = s.Exits[:3]
	if got, want := told(), "1 no_answer, 5 book_ends, 3 no_answer, 6 unseen"; got != want {
		t.Errorf("%s, want %s", got, want)
	}
	s.Exits[1].Line, s.Exits[1].EPD = line("")[:6], "9" // of the third move: no board
	if got, want := told(), "1 no_answer, 3 no_answer, 6 unseen"; got != want {
		t.Errorf("%s, want %s", got, want)
	}
	s.Few = true // then ends that none of the games came to are no boards
	if got, want := told(), "1 no_answer, 3 no_answer"; got != want {
		t.Errorf("%s, want %s", got, want)
	}
}
