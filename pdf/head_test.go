package pdf

import (
	"errors"
	"slices"
	"strings"
	"testing"

	"foreply/compare/fact"
	"foreply/compare/words"
	"foreply/fetch/pgn"
	"foreply/pdf/sheet"
)

// The head of a page of one colour: name and ratings at the left, at the right the colour with
// its square and what is needed, under them the blanks, lines to write on where nothing is
// known, and what all rests on.
func TestHead(t *testing.T) {
	rep := &fact.Report{
		Opponent: fact.Opponent{Name: "Ash, Ivo", Ratings: []fact.Rating{{List: pgn.OverTheBoard, Value: 2043, Date: pgn.ParseDate("2026-11")}, {List: pgn.Online, Value: 2187}}},
		Heading:  fact.Heading{Event: "League", Board: "2", Date: pgn.ParseDate("2026-11-05"), Need: "win"},
		Basis:    fact.Basis{Games: 5, NoSpeed: 5},
		Sides:    []fact.Side{{MyColor: "black", Games: 3, Score: fact.Score{Wins: 1, Draws: 1, Losses: 1}}},
	}
	wide := func(s string) float64 { return testFaces(t).Regular.Width(s, 8) + 4 }
	for _, half := range []bool{false, true} {
		l := &layout{f: testFaces(t), rep: rep, w: 540, h: 760}
		if l.form = formOf(rep, Options{Half: half}, l.w); half {
			l.w = 400
		}
		mark := textAt(t, "you have Black; you need a win", 0, nameBase, 12, true)
		mark.X = l.w - mark.W
		name := textAt(t, "Ash, Ivo", 0, nameBase, 15, true)
		want := []sheet.Item{stroke(0, 0, l.w, 0, 1.6), mark, squareAt(sheet.Black, mark.X-14, nameBase), name}
		rated := textAt(t, "2043 over the board, Nov 2026; 2187 online", name.W+8, nameBase, 8.5, false)
		up := 0.0
		if half { // without days both have room; nothing is to be filled in
			rated = textAt(t, "2043 over the board", name.W+8, nameBase, 8.5, false)
			up = basisBase - blankBase
		}
		want = append(want, rated)
		if !half {
			x, known := 0.0, []string{"League", "", "2", "5 Nov 2026", ""}
			least := []float64{0, 0.045 * 540, 0.045 * 540, 0.12 * 540, 0.1 * 540}
			room := 540 - 4*12 - wide("event") - wide("round") - wide("board") - wide("date") - wide("clock")
			least[0] = room - least[1] - least[2] - least[3] - least[4]
			for i, label := range []string{"event", "round", "board", "date", "clock"} {
				want = append(want, textAt(t, label, x, blankBase, 8, false))
				x += wide(label)
				want = append(want, sheet.Line{X1: x, Y1: blankBase + 1.8, X2: x + least[i], Y2: blankBase + 1.8, Width: 0.4, ToWrite: known[i] == ""})
				if known[i] != "" {
					want = append(want, textAt(t, known[i], x+1, blankBase, 8.5, true))
				}
				x += least[i] + 12
			}
		}
		// a line of 8.5 points is 10.88 high, 3.145 of it under its baseline
		want = append(want, textAt(t, "Based on 5 games of unknown speed; with White 3 games, your side made 1½ of 3", 0, basisBase-up-8.5+10.88-3.145, 8.5, false))
		b := l.head()
		sameDrawn(t, "head", b.Items, want)
		if got := headTall - up; b.H != got {
			t.Errorf("%g high, want %g", b.H, got)
		}
	}
}

// A long name is set smaller, and cut only where the smallest type has no room for it; one of
// no letters is the opponent's; White has an empty square; a long value takes room from the
// event, a quarter of it at most.
func TestHeadOfALongName(t *testing.T) {
	head := func(name string, side string) []sheet.Item {
		rep := &fact.Report{Opponent: fact.Opponent{Name: name}, Sides: []fact.Side{{MyColor: side}}}
		l, _ := layoutOf(t, rep)
		return l.head().Items
	}
	mark := textAt(t, "you have White", 0, nameBase, 12, true)
	end := 540 - mark.W - 24
	fit := func(size float64) string {
		n := 1
		for testFaces(t).Bold.Width(strings.Repeat("m", n+1), size) <= end {
			n++
		}
		return strings.Repeat("m", n)
	}
	for name, size := range map[string]float64{"short": 15, fit(15): 15, fit(15) + "m": 14, fit(14): 14, fit(10) + "m": 9.5 + 0.5 - 1 + 0.5, " ": 15} {
		items := head(name, "white")
		left := items[3].(sheet.Run)
		if name == " " {
			name = words.Unnamed
		}
		if name == fit(10)+"m" {
			size = 9
		}
		if left.Size != size || left.S != name && size > 9 || left.W > end {
			t.Errorf("%d letters: size %g, %g wide of %g: %q", len(name), left.Size, left.W, end, left.S)
		}
		if sq := items[2].(sheet.Rect); sq.Fill != sheet.White || !sq.Filled || sq.Width != 0.9 {
			t.Errorf("%+v", sq)
		}
	}
	rep := richReport()
	rep.Heading = fact.Heading{Event: "e", Clock: strings.Repeat("40/6000:", 30), Round: "a long round"}
	l, _ := layoutOf(t, rep)
	var b sheet.Block
	l.blanks(&b)
	var lines []sheet.Line
	for _, it := range b.Items {
		if line, ok := it.(sheet.Line); ok {
			lines = append(lines, line)
		}
	}
	wide := func(i int) float64 { return lines[i].X2 - lines[i].X1 }
	labels := 0.0
	for _, s := range []string{"event", "round", "board", "date", "clock"} {
		labels += testFaces(t).Regular.Width(s, 8) + 4
	}
	room := 540 - 48 - labels
	if round := testFaces(t).Bold.Width("a long round", 8.5) + 2; !about(wide(1), round) || !about(wide(4), room/4) || !about(wide(0), room-round-room/4-0.045*540-0.12*540) || !about(lines[4].X2, 540) {
		t.Errorf("%+v", lines)
	}
}

func about(a, b float64) bool { return a-b < 0.01 && b-a < 0.01 }

// Of the ratings as many stand as fit whole; without their days if more do so.
func TestRatingsOfAHead(t *testing.T) {
	rep := &fact.Report{Opponent: fact.Opponent{Ratings: []fact.Rating{{List: "a", Value: 2000, Date: pgn.ParseDate("2026-11")}, {List: "b", Value: 1900, Date: pgn.ParseDate("2026-10")}, {List: "c", Value: 1800}}}}
	l, _ := layoutOf(t, rep)
	wide := func(s string) float64 { return testFaces(t).Regular.Width(s, 8.5) + 0.01 }
	for _, c := range []struct {
		room float64
		want string
	}{
		{500, "2000 a, Nov 2026; 1900 b, Oct 2026; 1800 c"}, {wide("2000 a, Nov 2026; 1900 b, Oct 2026; 1800 c") - 1, "2000 a; 1900 b; 1800 c"}, {wide("2000 a; 1900 b; 1800 c"), "2000 a; 1900 b; 1800 c"},
		{wide("2000 a; 1900 b; 1800 c") - 1, "2000 a; 1900 b"}, {wide("2000 a, Nov 2026"), "2000 a; 1900 b"}, {wide("2000 a; 1900 b") - 1, "2000 a"}, {5, ""}, {-5, ""},
	} {
		r := l.ratings(30, 9, 30+c.room)
		if r.S != c.want || r.X != 30 || r.Y != 9 || r.Bold || r.Size != 8.5 {
			t.Errorf("%g: %+v, want %q", c.room, r, c.want)
		}
	}
}

// Where two colours stand on a page each is headed by its square and name, at the right what
// the games with it made, where that has room.
func TestColourHeads(t *testing.T) {
	rep := bothReport()
	for i := range rep.Sides {
		rep.Sides[i].Games = 7
	}
	l, _ := layoutOf(t, rep)
	base := 5.5 * sheet.MM
	for i, want := range []struct {
		fill       sheet.Gray
		name, said string
	}{{sheet.White, "you have White", "7 games, your side 59½ of 128"}, {sheet.Black, "you have Black", "7 games, your side 53 of 116"}} {
		said := textAt(t, want.said, 0, base, 8.5, false)
		said.X = l.form.lines - said.W
		b := l.colourHead(&rep.Sides[i])
		sameDrawn(t, want.name, b.Items, []sheet.Item{stroke(0, 0, l.form.lines, 0, 0.6), squareAt(want.fill, 0, base), textAt(t, want.name, squareSize+5, base, 11, true), said})
		if !about(b.H, 7*sheet.MM) {
			t.Errorf("%g high", b.H)
		}
	}
	name := textAt(t, "you have White", squareSize+5, base, 11, true)
	for _, room := range []float64{7.9, 8.1} {
		l.form.lines = name.X + name.W + room + testFaces(t).Regular.Width("7 games, your side 59½ of 128", 8.5)
		if got := len(l.colourHead(&rep.Sides[0]).Items) == 4; got != (room > 8) {
			t.Errorf("%g points between: stands %v", room, got)
		}
	}
	if l, _ := layoutOf(t, richReport()); len(l.colourHead(&rep.Sides[0]).Items) > 0 || l.colourHead(&rep.Sides[0]).H > 0 {
		t.Error("a page of one colour has a head of its own")
	}
}

// Paper is that of ISO 216, or Letter; half of it is as wide as the whole is high in half.
func TestPapers(t *testing.T) {
	for _, c := range []struct {
		opt    Options
		w, h   float64
		margin sheet.Box
	}{
		{Options{}, 595.28, 841.89, sheet.Box{X: sideMargin, Y: topMargin, W: 595.28 - 2*sideMargin, H: 841.89 - topMargin - footMargin}},
		{Options{Paper: "A4", OnePage: true}, 595.28, 841.89, sheet.Box{X: sideMargin, Y: topMargin, W: 595.28 - 2*sideMargin, H: 841.89 - topMargin - footMargin}},
		{Options{Paper: "Letter", Large: true}, 612, 792, sheet.Box{X: sideMargin, Y: topMargin, W: 612 - 2*sideMargin, H: 792 - topMargin - footMargin}},
		{Options{Half: true}, 420.945, 595.28, sheet.Box{X: halfMargin, Y: halfMargin, W: 420.945 - 2*halfMargin, H: 595.28 - 2*halfMargin}},
		{Options{Paper: "letter", Half: true}, 396, 612, sheet.Box{X: halfMargin, Y: halfMargin, W: 396 - 2*halfMargin, H: 612 - 2*halfMargin}},
	} {
		p, err := c.opt.blank("Title")
		if err != nil || !about(p.W, c.w) || !about(p.H, c.h) || !about(p.Margin.W, c.margin.W) || !about(p.Margin.H, c.margin.H) || p.Margin.X != c.margin.X || p.Margin.Y != c.margin.Y || p.Title != "Title" {
			t.Errorf("%+v: %+v, %v", c.opt, p, err)
		}
	}
	if _, err := (Options{Paper: "A3"}).blank(""); !errors.Is(err, ErrPaper) || !strings.Contains(err.Error(), `"A3"`) {
		t.Errorf("%v", err)
	}
}

// Each colour has a page, unless both are to stand on one that is neither half nor large; a
// page of one colour is of that side alone.
func TestPagesOfAReport(t *testing.T) {
	for _, c := range []struct {
		opt   Options
		heads [][]string
	}{
		{Options{}, [][]string{{"you have White"}, {"you have Black"}}}, {Options{OnePage: true}, [][]string{{"you have White", "you have Black"}}},
		{Options{OnePage: true, Half: true}, [][]string{{"you have White"}, {"you have Black"}}}, {Options{OnePage: true, Large: true}, [][]string{{"you have White"}, {"you have Black"}}},
	} {
		pages, drawn, err := Layout(bothReport(), c.opt)
		if err != nil || len(pages) != len(c.heads) || len(drawn) != len(c.heads) {
			t.Fatalf("%+v: %d pages, %d told, %v", c.opt, len(pages), len(drawn), err)
		}
		for i, p := range pages {
			var heads []string
			for _, r := range texts(p) {
				if strings.HasPrefix(r.S, "you have ") && r.Bold {
					heads = append(heads, r.S)
				}
			}
			if !slices.Equal(heads, c.heads[i]) || drawn[i].Rows == 0 || p.Title != "Preparation for Ondřej Dvořák-Ağaoğlu" {
				t.Errorf("%+v, page %d: %q, %d rows, %q", c.opt, i+1, heads, drawn[i].Rows, p.Title)
			}
			rule := 0.0 // over the foot
			for _, it := range p.Items {
				if l, ok := it.(sheet.Line); ok && l.Y1 == l.Y2 && !l.ToWrite && about(l.X2-l.X1, p.Margin.W) {
					rule = max(rule, l.Y1)
				}
			}
			for _, it := range p.Items { // the line between two colours runs from the head to some air over the foot
				if l, ok := it.(sheet.Line); ok && l.X1 == l.X2 && l.Width == 0.3 && (!about(l.Y1, p.Margin.Y+headTall) || !about(l.Y2, p.Foot-air)) {
					t.Errorf("between the colours: %s", l.Dump())
				}
			}
			if !about(p.Foot, rule) {
				t.Errorf("%+v, page %d: the foot begins at %g, its rule stands at %g", c.opt, i+1, p.Foot, rule)
			}
		}
	}
}

// Over two colours stand the blanks, and what all rests on without the games of either.
func TestHeadOfBothColours(t *testing.T) {
	rep := bothReport()
	rep.Basis = fact.Basis{Games: 5, NoSpeed: 5}
	l, _ := layoutOf(t, rep)
	b := l.head()
	said := runsOf(b.Items, func(r sheet.Run) bool { return r.Size == 8 || r.Y > blankBase+1 })
	if want := []string{"event", "round", "board", "date", "clock", "Based on 5 games of unknown speed"}; !slices.Equal(said, want) || b.H != headTall {
		t.Errorf("%g high: %q, want %q", b.H, said, want)
	}
	if marks := runsOf(b.Items, func(r sheet.Run) bool { return strings.Contains(r.S, "you have") }); len(marks) > 0 {
		t.Errorf("one colour is told: %q", marks)
	}
}

// The document is named by the opponent, without what no window could show.
func TestTitleOfAPage(t *testing.T) {
	p := mustLayout(t, &fact.Report{Opponent: fact.Opponent{Name: "Ash,\x07 \t Ivo"}}, Options{})
	if p.Title != "Preparation for Ash, Ivo" {
		t.Errorf("%q", p.Title)
	}
}
