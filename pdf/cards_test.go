package pdf

import (
	"math"
	"slices"
	"strings"
	"testing"

	"foreply/compare/fact"
	"foreply/compare/words"
	"foreply/pdf/sheet"
)

// twoCards is a page with two moves without an answer, of which the first has a board.
func twoCards(t *testing.T) (*layout, *fact.Side) {
	line := san("e4 c5 Nf3 d6 d4 cxd4 Nxd4 Nf6 Nc3 a6")
	rep := &fact.Report{Sides: []fact.Side{{MyColor: "black", Unanswered: []fact.Unanswered{
		{Line: line, EPD: "8/8/8/8/8/8/8/K6k w - -", Reach: 0.3, Of: 30}, {Line: san("d4"), Reach: 0.2, Of: 30},
	}}}}
	l, _ := layoutOf(t, rep)
	return l, &rep.Sides[0]
}

// A card has its board at the left, beside it the move with its letter and what is known, at
// the bottom a box for the answer and two lines to write on.
func TestCardDrawn(t *testing.T) {
	l, s := twoCards(t)
	const w = 340.0
	for i, x := range []float64{cardText, 0} {
		b := l.card(s, i, w)
		text := b.H
		if i == 0 {
			if b.H != cardTall || b.Items[0] != (Board{Y: 1.5 * sheet.MM, Side: cardBoard, EPD: s.Unanswered[0].EPD, View: "black", f: l.f}) {
				t.Errorf("%g high: %+v", b.H, b.Items[0])
			}
		}
		top := text - cardBoxTall - 0.5*sheet.MM
		tail := b.Items[len(b.Items)-4:]
		sameDrawn(t, "box and lines", tail, []sheet.Item{
			sheet.Rect{Box: sheet.Box{X: x, Y: top, W: cardBox, H: cardBoxTall}, Width: 1.3}, textAt(t, words.YourAnswer, x+1.2*sheet.MM, top+6.5, 6.5, false),
			sheet.Line{X1: x + cardBox + 2*sheet.MM, Y1: top - 1.2*sheet.MM, X2: w, Y2: top - 1.2*sheet.MM, Width: 0.4, ToWrite: true},
			sheet.Line{X1: x + cardBox + 2*sheet.MM, Y1: top + cardBoxTall, X2: w, Y2: top + cardBoxTall, Width: 0.4, ToWrite: true},
		})
		lowest := 0.0
		for _, it := range b.Items[:len(b.Items)-4] {
			if _, ok := it.(Board); !ok {
				lowest = max(lowest, it.Bounds().Y+it.Bounds().H)
			}
		}
		if lowest > top-1.2*sheet.MM {
			t.Errorf("the text ends at %g, the box and the lines begin at %g", lowest, top-1.2*sheet.MM)
		}
		said := strings.Join(runsOf(b.Items[:len(b.Items)-4], func(sheet.Run) bool { return true }), " ")
		said = strings.Join(strings.Fields(strings.ReplaceAll(said, "·", "")), " ") // none where a line ends
		if want := []string{"A 1...c5 2.♞f3 d6 3.d4 cxd4 4.♞xd4 ♞f6 5.♞c3 a6 3 in 10 games", "B 1.d4 2 in 10 games"}[i]; !strings.HasPrefix(said, want) {
			t.Errorf("%q, want %q", said, want)
		}
		first := b.Items[i^1]
		if dot, ok := first.(sheet.Dot); !ok || !about(dot.X, x+dot.R) {
			t.Errorf("the letter stands at %+v", first)
		}
	}
}

// There are as many cards as have room, apart by a line, one alone only of one; none where
// there is no margin or the lines are narrow.
func TestCardsThatFit(t *testing.T) {
	l, s := twoCards(t)
	one, two := l.card(s, 0, l.form.lines).H, l.card(s, 1, l.form.lines).H
	both := l.cards(s, 2)
	over := 1.5 + leading
	if !about(both.H, over+one+cardsApart+two) || !slices.Contains(asDrawn(both.Items), stroke(0, over+one+cardsApart/2, l.form.lines, over+one+cardsApart/2, 0.3).Dump()) {
		t.Errorf("%g high, want %g", both.H, over+one+cardsApart+two)
	}
	need := leading + 2 + one + cardsApart + two + cardsApart
	if got := runsOf(both.Items, func(r sheet.Run) bool { return r.S == words.PointsAreYours }); len(got) != 1 {
		t.Errorf("it is told %d times whose the points are", len(got))
	}
	for h, want := range map[float64]int{need + 0.01: 2, need - 0.01: 0, 9999: 2, 5: 0} {
		if got := l.cardsIn(s, h); got != want {
			t.Errorf("%g high: %d cards, want %d", h, got, want)
		}
	}
	s.Unanswered[1].Line = nil
	if got := l.cardsIn(s, 9999); got != 0 {
		t.Errorf("%d cards: one alone of several", got)
	}
	s.Unanswered = s.Unanswered[:1]
	if got := l.cardsIn(s, 9999); got != 1 {
		t.Errorf("%d cards of one", got)
	}
	for _, spoil := range []func(*form){func(f *form) { f.narrow = true }, func(f *form) { f.margin = 0 }} {
		other := *l
		if spoil(&other.form); other.cardsIn(s, 9999) != 0 {
			t.Errorf("cards in %+v", other.form)
		}
	}
}

// Where the lines leave room the moves without an answer have cards: a board from move 4
// on, a box and lines to write on, each letter once beside its box.
func TestCards(t *testing.T) {
	rep := richReport()
	s := &rep.Sides[0]
	s.Partings = s.Partings[:1]
	for i := range s.Partings[0].Branches {
		s.Partings[0].Branches[i].Next = -1
	}
	s.Unanswered[1].Line = san("e4 d6 d4 g5")
	s.Unanswered[0].EPD, s.Boards = s.Boards[1].EPD, s.Boards[:2]
	p := mustLayout(t, rep, Options{})
	boxes, boards := 0, map[string]int{}
	for _, it := range p.Items {
		if r, ok := it.(sheet.Rect); ok && math.Abs(r.H-cardBoxTall) < 0.01 && r.Width > 1 {
			boxes++
		}
		if b, ok := it.(Board); ok {
			boards[b.EPD]++
		}
	}
	if boxes != 2 {
		t.Errorf("%d cards", boxes)
	}
	if len(boards) != 2 || boards[s.Unanswered[0].EPD] != 1 {
		t.Errorf("boards %v", boards)
	}
}

// A card shows the position of its gap from move 4 on; of an earlier one that to which most
// games went on, if they went on to move 4.
func TestBoardOfACard(t *testing.T) {
	then := []fact.GoesOn{{Move: "Nf6"}, {Move: "d4"}, {Move: "d6"}}
	gap := func(line string, then []fact.GoesOn) *fact.Unanswered {
		return &fact.Unanswered{Line: san(line), EPD: "8/8/8/8/8/8/8/K6k w - -", Others: []fact.Met{{Move: "Nxe5", Then: then, EPD: "8/8/8/8/8/8/K7/7k w - -"}}}
	}
	l, _ := layoutOf(t, richReport())
	s := &fact.Side{MyColor: "white"}
	for name, c := range map[string]struct {
		gap  *fact.Unanswered
		want string
	}{
		"of move 4":       {gap("e4 e5 Nf3 Nc6 Bb5 a6 Ba4", then), "8/8/8/8/8/8/8/K6k w - - "},
		"just before it":  {gap("e4 e5 Nf3 Nc6 Bb5 a6", nil), "8/8/8/8/8/8/K7/7k w - - after 4.♞xe5"},
		"without a board": {&fact.Unanswered{Line: san("e4 e5 Nf3 f5"), EPD: "8/8/8/8/8/8/8/K6k w - -", Others: []fact.Met{{Move: "Nxe5", Then: then}}}, " "},
		"late":            {gap("e4 e5 Nf3 Nc6 Bb5 a6 Ba4 f5", then), "8/8/8/8/8/8/8/K6k w - - "}, "early": {gap("e4 e5 Nf3 f5", then), "8/8/8/8/8/8/K7/7k w - - after 4...d6"},
		"too early": {gap("e4 e5 Nf3 f5", then[:1]), " "}, "nobody went on": {&fact.Unanswered{Line: san("e4 b6"), EPD: "8/8/8/8/8/8/8/K6k w - -"}, " "},
	} {
		epd, said, under := "", "", 0.0
		b := l.cardBoard(s, c.gap)
		for _, it := range b.Items {
			switch it := it.(type) {
			case Board:
				epd += it.EPD
				if want := cardTall + it.Y - 1.5*sheet.MM; !about(b.H, want) || it.Y < under {
					t.Errorf("%s: a board at %g under words that end at %g, %g high", name, it.Y, under, b.H)
				}
			case sheet.Run:
				said += it.S
				under = max(under, it.Bounds().Y+it.Bounds().H)
			}
		}
		if got := epd + " " + strings.ReplaceAll(said, "after", "after "); strings.Join(strings.Fields(got), " ") != strings.TrimSpace(c.want) {
			t.Errorf("%s: %q", name, got)
		}
	}
}

// The board of a card stands as the user sees it.
func TestCardIsSeenByTheUser(t *testing.T) {
	for _, mine := range []string{"white", "black"} {
		s := &fact.Side{MyColor: mine, Unanswered: []fact.Unanswered{{Line: san(stem), EPD: "8/8/8/8/8/8/8/4K3 w", Reach: 0.2}}}
		l, _ := layoutOf(t, richReport())
		var views []string
		for _, it := range l.card(s, 0, l.form.lines).Items {
			if b, ok := it.(Board); ok {
				views = append(views, b.View)
			}
		}
		if !slices.Equal(views, []string{mine}) {
			t.Errorf("with %s boards are seen by %q", mine, views)
		}
	}
}
