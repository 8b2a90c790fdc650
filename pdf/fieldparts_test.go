package pdf

import (
	"reflect"
	"slices"
	"strings"
	"testing"

	"foreply/compare/fact"
	"foreply/compare/words"
	"foreply/fetch/pgn"
	"foreply/pdf/sheet"
)

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
	long := fact.FieldRow{Name: "Ashgrove-Wetherby, Tilde Marigold"}
	if name := fp.player(&long).Items; len(name) != 2 || name[1].(sheet.Run).S != "Tilde Marigold" {
		t.Errorf("a long name: %v", asDrawn(name))
	}
	row.Board, row.Rating = 0, 0
	if got, b := read(&row); got != "Ash, Tilde" || b.Items[0].(sheet.Run).X != 0 {
		t.Errorf("%q", got)
	}
	row.Fill(rep)
	fp.w = 520
	got, b = read(&row)
	facts := map[float64]bool{}
	for _, it := range b.Items[1:] {
		facts[it.(sheet.Run).Y] = true
	}
	if want := leading*1.08 + float64(len(facts))*leading; !about(b.H, want) || len(facts) < 2 {
		t.Errorf("%g high, want %g with %d lines under the name", b.H, want, len(facts))
	}
	if want := "Ash, Tilde 12 games, last May 2026; not counted, but maybe theirs: Ash, T (3 games)"; !strings.HasPrefix(got, want) || strings.Contains(got, "your side made") {
		t.Errorf("%q, want %q", got, want)
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
	fp.w = playerWide + gutter + 2*60 // so narrow that none goes into two lines whole
	if got := fp.cell(&s).H; !about(got, 8*leading) {
		t.Errorf("in a narrow cell %g high, want four facts of two lines: %g", got, 8*leading)
	}
	fp.w = 3000
	for _, it := range fp.cell(&s).Items {
		if r := it.(sheet.Run); r.Bold && r.Y > leading && r.Y < 2*leading {
			t.Errorf("of the main line %q stands out", r.S)
		}
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
}

// As many rows stand on a page as it has the height for; what it leaves is shared between them.
func TestRowsOnPagesOfAField(t *testing.T) {
	one := fieldPage(t, fact.FieldRow{Name: "Elm", Missing: "no game of Elm"}).row(0).H
	for rows, pages := range map[int][]int{0: {0}, 4: {4}, 5: {4, 1}, 6: {4, 2}, 9: {4, 4, 1}} {
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
			if len(rules) < 4 {
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

// In a field's row what to know with White stands under the head for White, with Black under
// that for Black, whichever comes first in the Report; an open square is White's.
func TestFieldColumns(t *testing.T) {
	rep := bothReport()
	slices.Reverse(rep.Sides)
	row := fact.FieldRow{Name: "Ashgrove, Tilde", ID: "a"}
	row.Fill(rep)
	pages, err := layoutField(Field{Title: "The field", Rows: []fact.FieldRow{row}}, Options{}, (*fieldPages).rows)
	if err != nil {
		t.Fatal(err)
	}
	at := map[string]float64{}
	for _, r := range texts(pages[0]) {
		if _, seen := at[r.S]; !seen {
			at[r.S] = r.X
		}
	}
	white, black := at[words.IfYouHave("white")], at[words.IfYouHave("black")]
	if white == 0 || black <= white {
		t.Fatalf("heads at %g and %g", white, black)
	}
	first := words.FirstChoices(&rep.Sides[1]).String() // the side with White
	start := strings.Fields(strings.ReplaceAll(first, ":", ""))[1]
	for _, r := range texts(pages[0]) {
		if strings.Contains(r.S, figurine(start)) && r.X > black-20 && !strings.Contains(saidIn(sentencePieces(words.FirstChoices(&rep.Sides[0]))), figurine(start)) {
			t.Errorf("%q, of the games with White, stands at %g under Black", r.S, r.X)
		}
	}
	for _, it := range pages[0].Items {
		if r, ok := it.(sheet.Rect); ok && r.W == squareSize && r.Filled {
			if under := r.X > black-20; (r.Fill == sheet.Black) != under {
				t.Errorf("a square of grey %g at %g", r.Fill, r.X)
			}
		}
	}
}

// In a field a strong rule stands where another board begins, and a player's habit stands
// rather than their plain record.
func TestRulesAndHabitsOfAField(t *testing.T) {
	rep := richReport()
	fp := &fieldPages{f: testFaces(t), w: 520, h: 700}
	for _, board := range []int{1, 1, 2, 2, 3} {
		row := fact.FieldRow{Name: "Ashgrove", Board: board}
		row.Fill(rep)
		fp.field.Rows = append(fp.field.Rows, row)
	}
	var widths []float64
	for _, it := range fp.rows()[0].Items {
		if line, ok := it.(sheet.Line); ok && line.X2-line.X1 == fp.w {
			widths = append(widths, line.Width)
		}
	}
	if want := []float64{1.3, 0.3, 1.3, 0.3, 1.3}; !slices.Equal(widths, want) {
		t.Errorf("rules %v, want %v", widths, want)
	}
	var said []string
	for _, it := range fp.player(&fp.field.Rows[0]).Items {
		if r, ok := it.(sheet.Run); ok {
			said = append(said, r.S)
		}
	}
	text := strings.Join(strings.Fields(strings.Join(said, " ")), " ")
	plain, habit := words.About(&rep.About[0])[0].String(), words.About(&rep.About[1])[0].String()
	if strings.Contains(text, plain) || !strings.Contains(text, habit[:20]) {
		t.Errorf("%q: wanted %q, not %q", text, habit, plain)
	}
}

// Of the candidates those of whom something is known share the whole page.
func TestCandidatesShareThePage(t *testing.T) {
	fp := &fieldPages{f: testFaces(t), w: 520, h: 700}
	rows := make([]fact.FieldRow, 3)
	rows[0].Fill(bothReport())
	rows[1].Missing = "no games"
	rows[2].Fill(bothReport())
	page, _ := fp.bandPage(rows)
	var at []float64
	for _, it := range page.Items {
		if line, ok := it.(sheet.Line); ok && line.X2-line.X1 == fp.w {
			at = append(at, line.Y1)
		}
	}
	each := (fp.h - bandHead) / 2
	if len(at) != 3 || at[0] != 0 || !about(at[1], each) || !about(at[2], each+bandHead) {
		t.Errorf("bands begin at %v, want 0, %g, %g", at, each, each+bandHead)
	}
}

// Pages of a field are counted from 1.
func TestPagesOfAField(t *testing.T) {
	fp := &fieldPages{f: testFaces(t), field: Field{Title: "The field", Rows: make([]fact.FieldRow, 9)}, w: 520, h: 700}
	for page, want := range map[int]string{0: words.Players(9, 1, 2), 1: words.Players(9, 2, 2)} {
		var said []string
		for _, it := range fp.head(page, 2).Items {
			if r, ok := it.(sheet.Run); ok {
				said = append(said, r.S)
			}
		}
		if !slices.Contains(said, want) || words.Players(9, 1, 2) == words.Players(9, 2, 2) {
			t.Errorf("page %d: %q, want %q", page, said, want)
		}
	}
}

// Each page of a field has its own head and the names of the columns; a strong rule stands at
// its top, and where another board begins.
func TestFurtherPagesOfAField(t *testing.T) {
	var rows []fact.FieldRow
	for _, board := range []int{1, 2, 2, 2, 2, 3, 4} {
		rows = append(rows, fact.FieldRow{Name: "Elm", Board: board, Missing: "no game of Elm"})
	}
	fp := fieldPage(t, rows...)
	fp.h = columnsAt + 3*fp.row(0).H + 1
	want := [][]float64{{1.3, 1.3, 0.3}, {1.3, 0.3, 1.3}, {1.3}}
	var got [][]float64
	for _, p := range fp.rows() {
		var widths []float64
		for _, it := range p.Items {
			if line, ok := it.(sheet.Line); ok {
				widths = append(widths, line.Width)
			}
		}
		got = append(got, widths)
		if names := runsOf(p.Items, func(r sheet.Run) bool { return r.S == words.FieldPlayer || r.S == words.IfYouHave("black") }); len(names) != 2 {
			t.Errorf("page %d names the columns %q", len(got), names)
		}
	}
	if !reflect.DeepEqual(got, want) {
		t.Errorf("rules %v, want %v", got, want)
	}
	pages, err := layoutField(Field{Title: "The field", Rows: slices.Repeat(rows, 20)}, Options{}, (*fieldPages).rows)
	if err != nil {
		t.Fatal(err)
	}
	for i, p := range pages {
		if head := words.Players(140, i+1, len(pages)); len(pages) < 2 || !slices.Contains(runsOf(p.Items, func(sheet.Run) bool { return true }), head) {
			t.Errorf("page %d lacks %q", i+1, head)
		}
	}
}
