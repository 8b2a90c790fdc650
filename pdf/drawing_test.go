package pdf

import (
	"slices"
	"strings"
	"testing"

	"foreply/compare/fact"
	"foreply/compare/words"
	"foreply/pdf/sheet"
)

// A board is dark squares, a grid, an edge and men: each in the middle of its square with a
// white ground, a white one as an outline.
func TestBoardParts(t *testing.T) {
	f := testFaces(t)
	for _, view := range []string{"white", "black"} {
		b := Board{X: 100, Y: 300, Side: 80, View: view, EPD: "8/8/8/8/8/8/8/QB2k3 w - -", f: f}
		parts := b.Parts()
		if len(parts) != 32+14+1+6 {
			t.Fatalf("%d parts", len(parts))
		}
		dark := map[[2]float64]bool{}
		for _, it := range parts[:32] {
			r := it.(sheet.Rect)
			if r.W != 10 || r.H != 10 || !r.Filled || r.Fill != darkSquare || r.Width != 0 {
				t.Errorf("%+v", r)
			}
			dark[[2]float64{r.X, r.Y}] = true
		}
		for row := range 8 {
			for col := range 8 { // the square at the upper left is light from both sides
				if at := [2]float64{100 + 10*float64(col), 300 + 10*float64(row)}; dark[at] != ((row+col)%2 == 1) {
					t.Errorf("%s: dark at %v: %v", view, at, dark[at])
				}
			}
		}
		var want []sheet.Item
		for i := 1; i < 8; i++ {
			at := 10 * float64(i)
			want = append(want, stroke(100+at, 300, 100+at, 380, gridLine), stroke(100, 300+at, 180, 300+at, gridLine))
		}
		sameDrawn(t, "grid", parts[32:47], append(want, sheet.Rect{Box: sheet.Box{X: 100, Y: 300, W: 80, H: 80}, Width: edgeLine}))
		squares := map[string][3][2]float64{"white": {{0, 7}, {1, 7}, {4, 7}}, "black": {{7, 0}, {6, 0}, {3, 0}}}[view]
		for i, man := range []struct{ body, shown string }{{"♛", "♕"}, {"♝", "♗"}, {"♚", "♚"}} {
			l, bottom, r, top := f.Regular.Extent([]rune(man.body)[0], 11.2)
			ground := sheet.Run{W: f.Regular.Width(man.body, 11.2), Size: 11.2, S: man.body, Gray: sheet.White, Edge: 1.3}
			ground.X, ground.Y = 105+10*squares[i][0]-(l+r)/2, 305+10*squares[i][1]+(top+bottom)/2
			shown := ground
			shown.S, shown.Gray, shown.Edge = man.shown, sheet.Black, 0.22
			for k, w := range []sheet.Run{ground, shown} {
				got := parts[47+2*i+k].(sheet.Run)
				if !about(got.X, w.X) || !about(got.Y, w.Y) || !about(got.Edge, w.Edge) || !about(got.Size, w.Size) || got.S != w.S || got.Gray != w.Gray || !about(got.W, w.W) {
					t.Errorf("%s, man %d: %+v, want %+v", view, i, got, w)
				}
			}
		}
	}
}

// A board is moved and made larger as a whole, and told by its position.
func TestBoardAsAWhole(t *testing.T) {
	b := Board{X: 1, Y: 2, Side: 10, View: "black", EPD: "8/8/8/8/8/8/8/QB2k3 w - -"}
	if got := b.Bounds(); got != (sheet.Box{X: 1, Y: 2, W: 10, H: 10}) {
		t.Errorf("covers %+v", got)
	}
	if got := b.Moved(3, 5).(Board); got.X != 4 || got.Y != 7 || got.Side != 10 {
		t.Errorf("moved %+v", got)
	}
	if got := b.Scaled(3).(Board); got.X != 3 || got.Y != 6 || got.Side != 30 {
		t.Errorf("larger %+v", got)
	}
	if got := b.Dump(); got != "board 1.0 2.0 side 10.0 view black 8/8/8/8/8/8/8/QB2k3" || b.Alt() != "position 8/8/8/8/8/8/8/QB2k3" {
		t.Errorf("%s, %s", got, b.Alt())
	}
}

// threeBoards is a column of 250 points with three boards, of which two are of the moves
// without an answer, as cards may be.
func threeBoards(t *testing.T) *column {
	diagram := func(move, epd, view string, why string, reach float64) fact.Diagram {
		return fact.Diagram{Line: san(move), EPD: epd, View: view, Why: why, Reach: reach, Of: 30}
	}
	s := fact.Side{MyColor: "white", Unanswered: []fact.Unanswered{{EPD: "one"}, {EPD: "two"}}, Boards: []fact.Diagram{
		diagram("e4", "one", "white", fact.BoardNoAnswer, 0.4), diagram("d4 d5", "two", "black", fact.BoardBookEnds, 0.3), diagram("c4", "three", "white", fact.BoardUnseen, 0.2),
	}}
	_, c := layoutOf(t, &fact.Report{Sides: []fact.Side{s}})
	c.W = 250
	return c
}

// boardsDrawn are the boards of a column beside so many cards, and the words of their captions;
// each ends where the part does.
func boardsDrawn(t *testing.T, c *column, cards int) (boards []Board, captions []string) {
	t.Helper()
	p := c.boards(cards)
	if p.Title != words.Boards || p.Least != p.Want || p.At == nil {
		t.Fatalf("%+v", p)
	}
	b := p.At(0)
	if b.H != p.Least {
		t.Errorf("%g high, told %g", b.H, p.Least)
	}
	caption, rules := "", 0
	for _, it := range b.Items {
		switch it := it.(type) {
		case Board:
			boards = append(boards, it)
			if !about(it.Y+it.Side, b.H) {
				t.Errorf("a board ends at %g of %g", it.Y+it.Side, b.H)
			}
		case sheet.Run:
			caption += it.S + " "
		case sheet.Line:
			rules++
			if it != stroke(0, 0, c.W, 0, 0.6) {
				t.Errorf("%+v", it)
			}
		}
	}
	if rules != 1 {
		t.Errorf("%d rules over them", rules)
	}
	return boards, strings.Fields(caption)
}

// Boards stand beside each other under captions of one height, those of cards not among them.
func TestBoardsOfAColumn(t *testing.T) {
	c := threeBoards(t)
	side := min(mostBoard, (250-boardGap)/2)
	boards, captions := boardsDrawn(t, c, 0)
	if len(boards) != 2 || boards[0].EPD != "one" || boards[1].EPD != "two" || boards[0].View != "white" || boards[1].View != "black" {
		t.Fatalf("%+v", boards)
	}
	lines := (boards[0].Y - 1 - 1*sheet.MM) / leading
	if boards[0].X != 0 || !about(boards[1].X, (250-boardGap)/2+boardGap) || boards[0].Side != side || boards[0].Y != boards[1].Y || !about(lines, float64(int(lines+0.5))) {
		t.Errorf("%+v", boards)
	}
	if got, want := strings.Join(captions, " "), "A after 1.e4 no answer yet, 4 in 10 games B after 1...d5 your book ends, 3 in 10 games"; strings.ReplaceAll(got, " ,", ",") != want {
		t.Errorf("%q, want %q", got, want)
	}
	if boards, _ := boardsDrawn(t, c, 1); len(boards) != 2 || boards[0].EPD != "two" || boards[1].EPD != "three" {
		t.Errorf("beside a card: %+v", boards)
	}
	if boards, _ := boardsDrawn(t, c, 2); len(boards) != 1 || boards[0].EPD != "three" || boards[0].Side != side {
		t.Errorf("beside two: %+v", boards)
	}
	slices.Reverse(c.side.Unanswered) // a board has the letter of its own gap, whichever stands first
	if _, captions := boardsDrawn(t, c, 0); captions[0] != "B" || !slices.Contains(captions, "A") {
		t.Errorf("%q", captions)
	}
}

// A column too narrow for two boards has none, nor has a form without them.
func TestNoBoards(t *testing.T) {
	c := threeBoards(t)
	for w, want := range map[float64]bool{2*leastBoard + boardGap - 0.1: false, 2*leastBoard + boardGap + 0.1: true} {
		c.W = w
		if p := c.boards(0); (p.Least > 0) != want {
			t.Errorf("%g wide: %+v", w, p)
		}
	}
	c.W, c.l.form.boards = 250, 0
	if p := c.boards(0); p.Least > 0 {
		t.Error("a form without boards has some")
	}
}

// Of few games each has its board after move eight, two abreast where both have room; the
// points are told to be the user's.
func TestGameBoards(t *testing.T) {
	c := threeBoards(t)
	long := san("e4 e5 Nf3 Nc6 Bb5 a6 Ba4 Nf6 O-O Be7 Re1 b5 Bb3 d6 c3 O-O")
	for range 7 {
		c.side.FewGames = append(c.side.FewGames, fact.PlayedGame{Moves: long, Plies: 16, EPD: "8/8/8/8/8/8/8/K6k w - -", Yours: "1"})
	}
	c.W = 2*leastBoard + boardGap + 0.1
	if p := c.gameBoards(); len(p.Rows) != 4 || p.Short != 1 || p.Plenty != 1 || p.Title != words.AfterEight || !slices.Equal(p.Asides, []string{words.PointsAreYours}) {
		t.Errorf("two abreast: %+v", p)
	} else if b := p.Rows[3].Set(1); len(runsOf(b.Items, func(sheet.Run) bool { return true })) == 0 || !about(b.H, b.Bottom()+1.5*sheet.MM) {
		t.Errorf("the last row is %g high, its board ends at %g", b.H, b.Bottom())
	}
	if c.W = leastBoard - 0.1; len(c.gameBoards().Rows) > 0 {
		t.Error("boards in less than their least width")
	}
}

// The form of a page follows its colours and its width.
func TestForms(t *testing.T) {
	one, both := &fact.Report{Sides: make([]fact.Side, 1)}, &fact.Report{Sides: make([]fact.Side, 2)}
	margin, gap := 540*60.0/186, 5*sheet.MM
	for _, c := range []struct {
		got, want form
	}{
		{formOf(one, Options{}, 540), form{lines: 540 - margin - gap, margin: margin, gap: gap, under: 1, or: 2, most: 1, boards: 2, gaps: 99}},
		{formOf(one, Options{Half: true}, 370), form{lines: 370, under: 2, most: 0.64, gaps: 2}},
		{formOf(both, Options{}, 540), form{lines: (540 - gutter) / 2, under: 1, most: 0.6, narrow: true, boards: 2, gaps: 2}},
		{formOf(both, Options{Half: true}, 370), form{lines: (370 - gutter) / 2, under: 1, most: 0.6, narrow: true, boards: 2, gaps: 2}},
	} {
		if c.got != c.want {
			t.Errorf("%+v, want %+v", c.got, c.want)
		}
	}
	wide, narrow := formOf(one, Options{}, 540).tree(), formOf(both, Options{}, 540).tree()
	if !wide.Main || narrow.Main || wide.Lines != 4 || narrow.Lines != 3 || !about(wide.Box, 19*sheet.MM) || !about(narrow.Box, 17.5*sheet.MM) || !about(wide.MostTree, 44*sheet.MM) || !about(narrow.MostTree, 33*sheet.MM) || wide.W != 540-margin-gap {
		t.Errorf("%+v\n%+v", wide, narrow)
	}
	st := styleOf(9)
	if st != (sheet.Style{Usual: ink(9, false), Strong: ink(9, true), Noted: sheet.Ink{Size: 9, Slant: true}, Faint: ink(9, false), OnDisc: sheet.Ink{Size: discSize, Bold: true, Shape: sheet.Disc}, ToTick: sheet.Ink{Size: tickSize, Shape: sheet.Tick}}) {
		t.Errorf("%+v", st)
	}
}
