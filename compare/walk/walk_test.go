package walk

import (
	"fmt"
	"math"
	"slices"
	"strings"
	"testing"

	"foreply/compare/book"
	"foreply/compare/fact"
	"foreply/profile/board"
)

// What comes of a walk: each end with its reach, its line, why, and by how many orders.
func TestEnds(t *testing.T) {
	w := walked(whiteBook(orders), twoOrders, Options{MaxPly: 10, Threshold: 0.1})
	var got []string
	for _, e := range w.Sorted() {
		leave := ""
		if e.Leave != board.NoMove {
			leave = " by " + e.At.Pos.SAN(e.Leave)
		}
		got = append(got, fmt.Sprintf("%s %s%s %.2f at %d, unseen %v, %d orders, seen %d", e.Kind, told(e.At.Path()), leave, e.Mass, e.Ply, e.Unseen, e.Orders, e.Likely.N))
	}
	want := []string{"book_ends d4 d5 c4 Nf6 Nc3 0.72 at 5, unseen false, 2 orders, seen 0", "they_leave d4 d5 c4 0.18 at 3, unseen true, 1 orders, seen 0", "they_leave d4 by f5 0.10 at 2, unseen false, 1 orders, seen 1"}
	if !slices.Equal(got, want) || w.Other != 0 {
		t.Errorf("got\n%s\nother %v", strings.Join(got, "\n"), w.Other)
	}
	if w := walked(whiteBook(orders), twoOrders, Options{MaxPly: 10, Threshold: 0.11, BackFrom: 0.01}); len(w.Ends) != 2 || math.Abs(w.Other-0.1) > near {
		t.Errorf("%d ends, other %v", len(w.Ends), w.Other)
	}
	// 0.72 at move 3, 0.18 at 2, 0.1 at 2.
	if got := w.Depth(); math.Abs(got-(0.72*3+0.28*2)) > near {
		t.Errorf("depth %v", got)
	}
	if got := NotSeen(w.Sorted()[0].At); !slices.Equal(got, []int{4}) {
		t.Errorf("not seen: %v", got)
	}
	// Behind the first move, of d5, Nf6 and f5 the book answers the first two.
	if got := w.From(Resolved([]string{"d4"}).End, 1).AnsweredNext(); math.Abs(got-0.9) > near {
		t.Errorf("answered next %v", got)
	}
}

// A walk ends where the game is over, at the limit, and where the book has no answer; a line
// as likely as the threshold is followed.
func TestKindsOfEnds(t *testing.T) {
	black := func(text string) *book.Book {
		b := book.New(board.Black)
		for g := range games(text + " *") {
			b.Add(g)
		}
		return b
	}
	for name, c := range map[string]struct {
		b    *book.Book
		look chances
		opt  Options
		want string
	}{
		"mate":           {black("1. f3 e5 2. g4 Qh4#"), chances{"": "f3 100 1", "f3 e5": "g4 100 1"}, Options{MaxPly: 10, Threshold: 0.01}, "game_is_over f3 e5 g4 Qh4# 1.00"},
		"the limit":      {whiteBook("1. d4 d5 2. c4 e6 3. Nc3"), chances{"d4": "d5 100 1", "d4 d5 c4": "e6 100 1"}, Options{MaxPly: 3, Threshold: 0.01}, "limit d4 d5 c4 1.00"},
		"no answer":      {whiteBook("1. d4 d5"), chances{"d4": "d5 100 1"}, Options{MaxPly: 10, Threshold: 0.01}, "book_ends d4 d5 1.00"},
		"the threshold":  {whiteBook("1. d4 d5 2. c4"), chances{"d4": "d5 25 1 e6 75 1"}, Options{MaxPly: 10, Threshold: 0.25}, "they_leave d4 0.75, book_ends d4 d5 c4 0.25"},
		"by another way": {whiteBook("1. d4 d5 2. c4 e6 3. Nc3 *\n\n1. c4 e6 2. d4"), chances{"d4": "e6 100 1"}, Options{MaxPly: 10, Threshold: 0.01}, "book_ends d4 1.00"},
	} {
		w := walked(c.b, c.look, c.opt)
		var got []string
		for _, e := range w.Sorted() {
			kind := e.Kind
			if kind == fact.LimitInBook {
				kind = "limit"
			}
			got = append(got, fmt.Sprintf("%s %s %.2f", kind, told(e.At.Path()), e.Mass))
		}
		if text := strings.Join(got, ", "); text != c.want {
			t.Errorf("%s: %s, want %s", name, text, c.want)
		}
	}
}
