package pdf

import (
	"slices"
	"strings"
	"testing"

	"foreply/compare/fact"
	"foreply/pdf/sheet"
)

// layoutOf is a page's layout for a Report, with a column for its first side.
func layoutOf(t *testing.T, rep *fact.Report) (*layout, *column) {
	t.Helper()
	l := &layout{f: testFaces(t), rep: rep, w: 540, h: 760}
	l.form = formOf(rep, Options{}, l.w)
	side := &fact.Side{}
	if len(rep.Sides) > 0 {
		side = &rep.Sides[0]
	}
	return l, &column{Column: l.columnOf(250), l: l, side: side}
}

// saidIn is the text of pieces as it reads in one line.
func saidIn(clauses [][]sheet.Piece) string {
	var b strings.Builder
	for _, c := range clauses {
		for _, p := range c {
			b.WriteString(p.S)
			if p.Tied {
				b.WriteByte(' ')
			}
		}
	}
	return b.String()
}

// rowsOfPart are the texts of a part's rows, set as wide as they want.
func rowsOfPart(p sheet.Part) []string {
	var out []string
	for _, r := range p.Rows {
		var runs []string
		for _, it := range r.Set(r.Most).Items {
			if run, ok := it.(sheet.Run); ok {
				runs = append(runs, run.S)
			}
		}
		out = append(out, strings.Join(strings.Fields(strings.Join(runs, " ")), " "))
	}
	return out
}

// runsOf are the texts of items that look so.
func runsOf(items []sheet.Item, looks func(sheet.Run) bool) []string {
	var list []string
	for _, it := range items {
		if r, ok := it.(sheet.Run); ok && looks(r) {
			list = append(list, r.S)
		}
	}
	return list
}

// rowsRead are the rows of a part as they read, whatever the looks.
func rowsRead(p sheet.Part) []string {
	list := rowsOfPart(p)
	for i := range list {
		list[i] = strings.NewReplacer(" :", ":", " ,", ",").Replace(list[i])
	}
	return list
}

// partIs wants the rows of a part, its title, and how many of them stand at least.
func partIs(t *testing.T, p sheet.Part, title string, short int, rows ...string) {
	t.Helper()
	if got := rowsRead(p); p.Title != title || p.Short != short || !slices.Equal(got, rows) {
		t.Errorf("%s, %d at least: %q\nwant %s, %d: %q", p.Title, p.Short, got, title, short, rows)
	}
}

// columnFor is a wide column of a side, beside it as many others as told.
func columnFor(t *testing.T, s fact.Side, others ...fact.Side) *column {
	t.Helper()
	rep := &fact.Report{Sides: append([]fact.Side{s}, others...)}
	_, c := layoutOf(t, rep)
	c.W, c.side = 900, &rep.Sides[0]
	return c
}

// asDrawn is what items draw, one a line, to a tenth of a point.
func asDrawn(items []sheet.Item) []string {
	var list []string
	for _, it := range items {
		s := it.Dump()
		if l, ok := it.(sheet.Line); ok && l.ToWrite {
			s += " to write on"
		}
		list = append(list, s)
	}
	return list
}

func sameDrawn(t *testing.T, name string, got, want []sheet.Item) {
	t.Helper()
	g, w := asDrawn(got), asDrawn(want)
	if len(g) != len(w) {
		t.Errorf("%s: %d items, want %d:\n%s", name, len(g), len(w), strings.Join(g, "\n"))
	}
	for i := range min(len(g), len(w)) {
		if g[i] != w[i] {
			t.Errorf("%s, item %d:\n%s, want\n%s", name, i, g[i], w[i])
		}
	}
}

// textAt is a text where it stands, as wide as it is.
func textAt(t *testing.T, s string, x, base, size float64, bold bool) sheet.Run {
	return sheet.Run{X: x, Y: base, W: testFaces(t).Of(bold).Width(s, size), Size: size, Bold: bold, S: s}
}

func squareAt(fill sheet.Gray, x, base float64) sheet.Rect {
	return sheet.Rect{Box: sheet.Box{X: x, Y: base - squareSize, W: squareSize, H: squareSize}, Width: 0.9, Filled: true, Fill: fill}
}

// seen are pieces with their looks: *strong*, _noted_, ~faint~, (on a disc), [to tick].
func seen(clauses [][]sheet.Piece) string {
	var b strings.Builder
	for _, c := range clauses {
		for _, p := range c {
			l, r := "", ""
			switch p.Look {
			case sheet.Strong:
				l, r = "*", "*"
			case sheet.Noted:
				l, r = "_", "_"
			case sheet.Faint:
				l, r = "~", "~"
			case sheet.OnDisc:
				l, r = "<", ">"
			case sheet.ToTick:
				l, r = "[", "]"
			}
			b.WriteString(l + p.S + r)
			if p.Tied {
				b.WriteByte(' ')
			}
		}
	}
	return b.String()
}
