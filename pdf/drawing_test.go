package pdf

import (
	"slices"
	"strings"
	"testing"

	"foreply/compare/fact"
	"foreply/compare/words"
	"foreply/fetch/pgn"
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

// Boards stand beside each other under captions of one height, those of cards not among them;
// a column too narrow for them has none.
func TestBoardsOfAColumn(t *testing.T) {
	diagram := func(move, epd, view string, why string, reach float64) fact.Diagram {
		return fact.Diagram{Line: san(move), EPD: epd, View: view, Why: why, Reach: reach, Of: 30}
	}
	s := fact.Side{MyColor: "white", Unanswered: []fact.Unanswered{{EPD: "one"}, {EPD: "two"}}, Boards: []fact.Diagram{
		diagram("e4", "one", "white", fact.BoardNoAnswer, 0.4), diagram("d4 d5", "two", "black", fact.BoardBookEnds, 0.3), diagram("c4", "three", "white", fact.BoardUnseen, 0.2),
	}}
	rep := &fact.Report{Sides: []fact.Side{s}}
	_, c := layoutOf(t, rep)
	c.W = 250
	side := min(mostBoard, (250-boardGap)/2)
	drawn := func(cards int) (boards []Board, captions []string) {
		p := c.boards(cards)
		if p.Title != words.Boards || p.Least != p.Want || p.At == nil && p.Least > 0 {
			t.Errorf("%+v", p)
		}
		if p.At == nil {
			return nil, nil
		}
		b := p.At(0)
		var tops []float64
		caption := ""
		for _, it := range b.Items {
			switch it := it.(type) {
			case Board:
				boards = append(boards, it)
				tops = append(tops, it.Y+it.Side)
			case sheet.Run:
				caption += it.S + " "
			case sheet.Line:
				if it != stroke(0, 0, 250, 0, 0.6) {
					t.Errorf("%+v", it)
				}
			}
		}
		for _, bottom := range tops {
			if !about(bottom, b.H) || b.H != p.Least {
				t.Errorf("boards end at %v, the part at %g of %g", tops, b.H, p.Least)
			}
		}
		return boards, strings.Fields(caption)
	}
	boards, captions := drawn(0)
	lines := (boards[0].Y - 1 - 1*sheet.MM) / leading
	if len(boards) != 2 || boards[0].EPD != "one" || boards[1].EPD != "two" || boards[0].View != "white" || boards[1].View != "black" || boards[0].X != 0 || !about(boards[1].X, (250-boardGap)/2+boardGap) || boards[0].Side != side || boards[0].Y != boards[1].Y || !about(lines, float64(int(lines+0.5))) {
		t.Errorf("%+v", boards)
	}
	if got, want := strings.Join(captions, " "), "A after 1.e4 no answer yet, 4 in 10 games B after 1...d5 your book ends, 3 in 10 games"; strings.ReplaceAll(got, " ,", ",") != want {
		t.Errorf("%q, want %q", got, want)
	}
	if boards, _ := drawn(1); len(boards) != 2 || boards[0].EPD != "two" || boards[1].EPD != "three" {
		t.Errorf("beside a card: %+v", boards)
	}
	if boards, _ := drawn(2); len(boards) != 1 || boards[0].EPD != "three" || boards[0].Side != side {
		t.Errorf("beside two: %+v", boards)
	}
	for w, want := range map[float64]int{2*leastBoard + boardGap - 0.1: 0, 2*leastBoard + boardGap + 0.1: 2} {
		c.W = w
		if p := c.boards(0); (p.Least > 0) != (want > 0) {
			t.Errorf("%g wide: %+v", w, p)
		}
	}
	c.W, c.l.form.boards = 250, 0
	if p := c.boards(0); p.Least > 0 {
		t.Error("a form without boards has some")
	}
	epd := "8/8/8/8/8/8/8/K6k w - -"
	long := san("e4 e5 Nf3 Nc6 Bb5 a6 Ba4 Nf6 O-O Be7 Re1 b5 Bb3 d6 c3 O-O")
	for range 7 {
		c.side.FewGames = append(c.side.FewGames, fact.PlayedGame{Moves: long, Plies: 16, EPD: epd, Yours: "1"})
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

// A card has its board at the left, beside it the move with its letter and what is known, at
// the bottom a box for the answer and two lines to write on.
func TestCardDrawn(t *testing.T) {
	line := san("e4 c5 Nf3 d6 d4 cxd4 Nxd4 Nf6 Nc3 a6")
	rep := &fact.Report{Sides: []fact.Side{{MyColor: "black", Unanswered: []fact.Unanswered{
		{Line: line, EPD: "8/8/8/8/8/8/8/K6k w - -", Reach: 0.3, Of: 30}, {Line: san("d4"), Reach: 0.2, Of: 30},
	}}}}
	l, _ := layoutOf(t, rep)
	s := &rep.Sides[0]
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
	one, two := l.card(s, 0, l.form.lines).H, l.card(s, 1, l.form.lines).H
	both := l.cards(s, 2)
	over := 1.5 + leading
	if !about(both.H, over+one+cardsApart+two) || !slices.Contains(asDrawn(both.Items), stroke(0, over+one+cardsApart/2, l.form.lines, over+one+cardsApart/2, 0.3).Dump()) {
		t.Errorf("%g high, want %g", both.H, over+one+cardsApart+two)
	}
	need := leading + 2 + one + cardsApart + two + cardsApart
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

// fieldPage sets players on wide pages.
func fieldPage(t *testing.T, rows ...fact.FieldRow) *fieldPages {
	return &fieldPages{f: testFaces(t), field: Field{Title: "The field", Rows: rows}, w: 520, h: 700}
}

// The head of a field's page has its title and the count at the right, its columns a square
// and a name each, its foot the rule and how to read it.
func TestHeadOfAField(t *testing.T) {
	fp := fieldPage(t, make([]fact.FieldRow, 9)...)
	count := textAt(t, "9 players, page 2 of 3", 0, nameBase, 9.5, false)
	count.X = 520 - count.W
	sameDrawn(t, "head", fp.head(1, 3).Items, []sheet.Item{stroke(0, 0, 520, 0, 1.6), textAt(t, "The field", 0, nameBase, 15, true), count})
	fp.field.Title = strings.Repeat("mmmm ", 90)
	if title := fp.head(1, 3).Items[1].(sheet.Run); title.W > 520-count.W-gutter || title.W < 520-count.W-gutter-40 {
		t.Errorf("a long title is %g wide", title.W)
	}
	cell := (520 - playerWide - gutter) / 2
	first, second := playerWide+gutter/2, playerWide+gutter+cell
	base := 3.4 * sheet.MM
	sameDrawn(t, "columns", fp.columns().Items, []sheet.Item{
		textAt(t, words.FieldPlayer, 0, base, 8.5, false), squareAt(sheet.White, first, base), textAt(t, "if you have White", first+squareSize+3, base, 8.5, true),
		squareAt(sheet.Black, second, base), textAt(t, "if you have Black", second+squareSize+3, base, 8.5, true),
	})
	if fp.cellWide() != cell || fp.columns().H != columnsAt {
		t.Errorf("columns of %g, %g high", fp.cellWide(), fp.columns().H)
	}
	foot := fp.foot()
	all, bold := strings.Join(runsOf(foot.Items, func(sheet.Run) bool { return true }), " "), strings.Join(runsOf(foot.Items, func(r sheet.Run) bool { return r.Bold }), " ")
	if all != words.Laws+" "+words.EventRules+" "+words.HowToReadField || bold != words.Laws {
		t.Errorf("%q, bold %q", all, bold)
	}
	pages, err := layoutField(fp.field, Options{}, (*fieldPages).rows)
	if err != nil {
		t.Fatal(err)
	}
	for _, p := range pages {
		last := p.Items[len(p.Items)-1].(sheet.Run)
		if !about(last.Y+(2.75*sheet.MM-1.02*6.5)/2+0.24*6.5, p.Margin.Y+p.Margin.H) || p.Foot >= last.Y || p.Foot < last.Y-40 || p.Title != fp.field.Title {
			t.Errorf("the foot ends at %g and begins at %g of %+v", last.Y, p.Foot, p.Margin)
		}
	}
}

// A player's column has the board, the name with the rating, the games found, who else it may
// be, and a fact; one of whom nothing is known has the name alone.
func TestPlayerOfAField(t *testing.T) {
	rep := &fact.Report{Basis: fact.Basis{Games: 12, Last: pgn.ParseDate("2026.05"), Maybe: []fact.Maybe{{Name: "Ash, T", Games: 3}}}, About: []fact.About{
		{Kind: fact.PlainRecord, Score: fact.Score{Wins: 1}}, {Kind: fact.AtOnce, N: 3, Above: true, Move: 12, UsualMove: 6}, {Kind: fact.AtOnce, N: 4, Above: true, Move: 14},
	}}
	row := fact.FieldRow{Name: "Ash, Tilde", Board: 3, Rating: 1850}
	fp := fieldPage(t, row)
	read := func(r *fact.FieldRow) (string, sheet.Block) {
		b := fp.player(r)
		return strings.Join(runsOf(b.Items, func(sheet.Run) bool { return true }), " "), b
	}
	got, b := read(&row)
	if got != "3 Ash, Tilde 1850" || !about(b.H, leading*1.08) {
		t.Errorf("%q, %g high", got, b.H)
	}
	if bold := runsOf(b.Items, func(r sheet.Run) bool { return r.Bold }); !slices.Equal(bold, []string{"3", "Ash, Tilde"}) {
		t.Errorf("bold %q", bold)
	}
	if name := b.Items[1].(sheet.Run); name.X != boardWide || b.Items[0].(sheet.Run).X != 0 || !about(b.Items[0].(sheet.Run).Y, 0.8*leading) {
		t.Errorf("%v", asDrawn(b.Items))
	}
	row.Board, row.Rating = 0, 0
	if got, b := read(&row); got != "Ash, Tilde" || b.Items[0].(sheet.Run).X != 0 {
		t.Errorf("%q", got)
	}
	row.Fill(rep)
	fp.w = 520
	got, b = read(&row)
	for _, want := range []string{"Ash, Tilde 12 games, last May 2026; not counted, but maybe theirs: Ash, T (3 games)"} {
		if !strings.HasPrefix(got, want) || strings.Contains(got, "your side made") {
			t.Errorf("%q, want %q", got, want)
		}
	}
	rep.Basis.Maybe = nil
	if got, _ := read(&row); got != "Ash, Tilde 12 games, last May 2026; usually instant to move 12" {
		t.Errorf("%q", got)
	}
}

// What to know with a colour: the first choices, the main line, the gaps, what changed or else
// a slip; each at most two lines.
func TestCellOfAField(t *testing.T) {
	s := fact.Side{
		MyColor: "white", Partings: whitePartings()[:1], Exits: []fact.Exit{{Line: san("e4 c5 Nf3"), Reach: 0.4, Of: 30}}, Unanswered: []fact.Unanswered{{Line: san("e4 e6"), Reach: 0.2, Of: 30}, {Line: san("e4 b6"), Reach: 0.1, Of: 30}},
		Changes: []fact.Change{{Line: san("e4"), Move: "c6", N: 8, Of: 8, PastOf: 5, Up: true, Since: pgn.ParseDate("2026")}}, Traps: []fact.Trap{{Kind: fact.TheirSlip, Line: san("d4 d5 c4 e5"), Games: 2, Of: 3, Speeds: []string{"blitz"}}},
	}
	fp := fieldPage(t)
	fp.w = 3000 // so that each stands in one line
	read := func() []string {
		var list []string
		at := 0.0
		for _, it := range fp.cell(&s).Items {
			if r := it.(sheet.Run); len(list) > 0 && about(r.Y, at) {
				list[len(list)-1] += " " + r.S
			} else {
				list = append(list, r.S)
				at = r.Y
			}
		}
		return list
	}
	want := []string{"after 1.e4 c5 2.♞f3", "main 1.e4 c5 2.♞f3 · 4 in 10 games", "no answer 1.e4 e6 2 in 10 games ; 1.e4 b6 1 in 10 games", "changed: against 1.e4 , in"}
	got := read()
	if len(got) != 4 || !strings.HasPrefix(got[0], "after 1.e4 c5") || got[1] != want[1] || strings.ReplaceAll(got[2], " ;", ";") != strings.ReplaceAll(want[2], " ;", ";") || !strings.HasPrefix(got[3], "changed: against 1.e4 , since 2026: 1...c6 in the last 8") {
		t.Errorf("%q", got)
	}
	s.Changes = nil
	if got := read(); len(got) != 4 || !strings.HasPrefix(got[3], "1...d5 2.c4 e5 wrong in 2 of 3 games here (blitz; ") || !strings.HasSuffix(got[3], "; not here again since") {
		t.Errorf("%q", got)
	}
	s.Traps, s.Exits = nil, nil
	if got := read(); len(got) != 2 {
		t.Errorf("%q", got)
	}
	if b := fp.cell(&s); !about(b.H, 2*leading) {
		t.Errorf("%g high", b.H)
	}
}

// Rows of a field are as high as their tallest cell; of whom nothing is known stands why.
func TestRowOfAField(t *testing.T) {
	rep := bothReport()
	told := fact.FieldRow{Name: "Ash", Board: 1}
	told.Fill(rep)
	fp := fieldPage(t, told, fact.FieldRow{Name: "Elm", Missing: "no game of Elm"})
	tall := max(fp.player(&fp.field.Rows[0]).H, fp.cell(&rep.Sides[0]).H, fp.cell(&rep.Sides[1]).H)
	if got := fp.row(0).H; !about(got, tall+2*rowPad) {
		t.Errorf("%g high, want %g", got, tall+2*rowPad)
	}
	b := fp.row(1)
	base := leading - (leading-1.02*8.5)/2 - 0.24*8.5 + rowPad
	name := leading * 1.08
	sameDrawn(t, "missing", b.Items, []sheet.Item{textAt(t, "Elm", 0, rowPad+name-(name-1.02*9.5)/2-0.24*9.5, 9.5, true), textAt(t, "no game of Elm", playerWide+gutter/2, base, 8.5, false)})
	if !about(b.H, name+2*rowPad) {
		t.Errorf("%g high", b.H)
	}
	// As many rows to a page as it has the height for; what it leaves is shared between them.
	one := b.H
	for rows, pages := range map[int][]int{0: {0}, 4: {4}, 5: {4, 1}, 9: {4, 4, 1}} {
		fp := fieldPage(t, slices.Repeat([]fact.FieldRow{{Name: "Elm", Missing: "no game of Elm"}}, rows)...)
		fp.h = columnsAt + 4*one + 8
		var got []int
		for _, p := range fp.rows() {
			var rules []float64
			for _, it := range p.Items {
				if l, ok := it.(sheet.Line); ok {
					rules = append(rules, l.Y1)
				}
			}
			got = append(got, len(rules))
			spread := 2.0 // 8 points for four rows
			if len(rules) == 1 {
				spread = rowSpread
			}
			for i, y := range rules {
				if !about(y, columnsAt+float64(i)*(one+spread)) {
					t.Errorf("%d rows: rules at %v", rows, rules)
				}
			}
			if p.H != fp.h {
				t.Errorf("a page is %g high", p.H)
			}
		}
		if !slices.Equal(got, pages) {
			t.Errorf("%d rows stand on pages of %v", rows, got)
		}
	}
}

// A candidate's band has the name, rating, games and who else it may be; under it both
// colours; where they don't fit, fewer stand on a page.
func TestBandOfACandidate(t *testing.T) {
	rep := bothReport()
	for i := range rep.Sides {
		rep.Sides[i] = fact.Side{MyColor: rep.Sides[i].MyColor, Tonight: rep.Sides[i].Tonight[:1]}
	}
	rep.Basis.Maybe = []fact.Maybe{{Name: "Ash, T", Games: 3}}
	row := fact.FieldRow{Name: "Ash, Tilde", Rating: 1850}
	row.Fill(rep)
	fp := fieldPage(t, row)
	name := textAt(t, "Ash, Tilde", 0, 4.4*sheet.MM, 12, true)
	said := textAt(t, "1850 244 games; not counted, but maybe theirs: Ash, T (3 games)", name.W+8, 4.4*sheet.MM, 8.5, false)
	b := fp.band(&row, 300)
	sameDrawn(t, "band", b.Items[:3], []sheet.Item{stroke(0, 0, 520, 0, 0.6), name, said})
	lines := (520 - gutter) / 2
	at := map[string]float64{}
	for _, it := range b.Items {
		if r, ok := it.(sheet.Run); ok && strings.HasPrefix(r.S, "you have") {
			at[r.S] = r.X
		}
	}
	if b.H != 300 || !about(at["you have White"], squareSize+5) || !about(at["you have Black"], lines+gutter+squareSize+5) {
		t.Errorf("%g high, %v", b.H, at)
	}
	missing := fact.FieldRow{Name: "Elm", Missing: "no game of Elm"}
	elm := textAt(t, "Elm", 0, 4.4*sheet.MM, 12, true)
	sameDrawn(t, "missing", fp.band(&missing, 30).Items, []sheet.Item{stroke(0, 0, 520, 0, 0.6), elm, textAt(t, "no game of Elm", elm.W+8, 4.4*sheet.MM, 8.5, false)})
	if _, fits := fp.bandPage([]fact.FieldRow{row, row}); !fits {
		t.Error("two candidates don't fit")
	}
	if _, fits := fp.bandPage(slices.Repeat([]fact.FieldRow{row}, 30)); fits {
		t.Error("thirty candidates fit on a page")
	}
	for h, want := range map[float64]int{700: 2, 90: 5} {
		fp := fieldPage(t, row, row, row, row, missing)
		if fp.h = h; len(fp.bands()) != want {
			t.Errorf("%g high: %d pages, want %d", h, len(fp.bands()), want)
		}
	}
}
