package sheet

import (
	"math"
	"reflect"
	"slices"
	"strings"
	"testing"
)

// sameItems wants items one by one, floating point aside.
func sameItems(t *testing.T, name string, got, want []Item) {
	t.Helper()
	if len(got) != len(want) {
		t.Errorf("%s: %d items, want %d", name, len(got), len(want))
	}
	for i := range min(len(got), len(want)) {
		if g, w := round(got[i]), round(want[i]); !reflect.DeepEqual(g, w) {
			t.Errorf("%s, item %d: %+v, want %+v", name, i, g, w)
		}
	}
}

var smallForm = TreeForm{
	W: 300, Step: 10, LeastStep: 4, MostTree: 120, LeastTree: 10, Box: 40, Pitch: 12, MostPitch: 15, EmptyMore: 5, Leading: 10, Lines: 3,
	Label: Ink{Size: 10, Bold: true}, Style: style, Thick: 4,
}

// smallTree is how a game begins, a row, two that hang on it: one to be filled in with two
// lines of text, one with a long label and without a box.
func smallTree() []TreeRow {
	text := func(s string) func(TreeView) [][]Piece {
		return func(TreeView) [][]Piece { return [][]Piece{{usual(s)}} }
	}
	return []TreeRow{
		{Parent: -1, Label: "begin", Box: "b"}, {Parent: -1, Label: "a", Box: "x", Weight: 0.5, Share: 0.5, Text: text("one")},
		{Parent: 1, Label: "n", Empty: true, Weight: 0.3, Share: 0.6, Text: text("a first line that is too long for the room it has and so a second one")},
		{Parent: 1, Label: "a long label", Bare: true, Weight: 0.2, Share: 0.4},
	}
}

// A tree is drawn to the point: labels behind their branches, leaders to the boxes, the text
// behind them; what the height leaves over stands between the rows.
func TestTreeDrawn(t *testing.T) {
	f := testFaces(t)
	rows := smallTree()
	wide := func(s string, k Ink) float64 { return f.face(k).Width(s, k.Size) }
	label := smallForm.Label
	at0, at1 := 2+tineWide+1, 12+tineWide+1 // half the thickest line, a level more, the tine
	box := at1 + wide("a long label", label) + treeGap
	textAt := box + 40 + treeGap
	if got := f.TreeBoxes(rows, smallForm); !near(got, box) {
		t.Fatalf("boxes stand at %g, want %g", got, box)
	}
	for h, pitch := range map[float64]float64{12 + 12 + 22 + 12: 12, 58 + 8: 14, 58 + 12: 15, 300: 15} {
		two := max(pitch+5, pitch+10) // the empty row has two lines
		mid := []float64{pitch / 2, 1.5 * pitch, 2.5 * pitch, 2*pitch + two + pitch/2}
		base := func(i int) float64 { return mid[i] + 0.73*10/2 }
		want := []Item{
			// the spine behind the second row, thinner below; the tines at its left edge
			Line{X1: 12, Y1: mid[1] + 5, X2: 12, Y2: mid[2], Width: 2}, Line{X1: 11, Y1: mid[2], X2: 12 + tineWide, Y2: mid[2], Width: 1.2},
			Line{X1: 12, Y1: mid[2], X2: 12, Y2: mid[3], Width: 0.8}, Line{X1: 11.6, Y1: mid[3], X2: 12 + tineWide, Y2: mid[3], Width: 0.8},
			Line{X1: 1, Y1: mid[1], X2: 2 + tineWide, Y2: mid[1], Width: 2},
			Run{X: 0, Y: base(0), W: wide("begin", style.Usual), Size: 9, S: "begin"}, // no branch, no leader
			Rect{Box: Box{box, 0, 40, pitch}, Width: thinBox}, Run{X: box + boxPad, Y: base(0), W: wide("b", label), Size: 10, Bold: true, S: "b"},
			Run{X: at0, Y: base(1), W: wide("a", label), Size: 10, Bold: true, S: "a"},
			Line{X1: at0 + wide("a", label) + 2, Y1: base(1), X2: box - 2, Y2: base(1), Width: 0.5, Dotted: true},
			Rect{Box: Box{box, pitch, 40, pitch}, Width: thinBox}, Run{X: box + boxPad, Y: base(1), W: wide("x", label), Size: 10, Bold: true, S: "x"},
			Run{X: textAt, Y: base(1), W: wide("one", style.Usual), Size: 9, S: "one"},
			Run{X: at1, Y: base(2), W: wide("n", label), Size: 10, Bold: true, S: "n"},
			Line{X1: at1 + wide("n", label) + 2, Y1: base(2), X2: box - 2, Y2: base(2), Width: 0.5, Dotted: true},
			Rect{Box: Box{box, 2 * pitch, 40, pitch + 5}, Width: thickBox},
			Run{X: textAt, Y: base(2), Size: 9}, Run{X: textAt, Y: base(2) + 10, Size: 9},
			Run{X: at1, Y: base(3), W: wide("a long label", label), Size: 10, Bold: true, S: "a long label"}, // so near that it needs no leader
		}
		b := f.Tree(rows, smallForm).At(h)
		for i, it := range b.Items { // where the text breaks is told elsewhere
			if r, ok := it.(Run); ok && r.X > box+40 && r.S != "one" {
				r.S, r.W = "", 0
				b.Items[i] = r
			}
		}
		sameItems(t, "tree", b.Items, want)
		if !near(b.H, 3*pitch+two) || len(b.Lost) > 0 {
			t.Errorf("in %g: %g high, lost %v", h, b.H, b.Lost)
		}
	}
	form := smallForm
	form.Keep = []bool{true, true, true, false} // the room of the row that doesn't stand is for the others
	b := f.Tree(rows, form).At(12 + 12 + 22 + 6)
	spines := 0
	for _, it := range b.Items {
		switch it := it.(type) {
		case Rect:
			if !near(it.H, 14) && !near(it.H, 19) {
				t.Errorf("a box is %g high", it.H)
			}
		case Line:
			if spines++; it.Y1 == 0 || it.Y2 == 0 {
				t.Errorf("a branch to where no row stands: %s", it.Dump())
			}
		}
	}
	if spines != 3+1 { // a spine, two tines, the leader of the first
		t.Errorf("%d lines", spines)
	}
	bare := []TreeRow{{Parent: -1, Label: "a label that is far too long for the tree", Weight: 0.5, Share: 0.5}}
	b = f.Tree(bare, smallForm).At(12)
	if r := b.Items[1].(Run); r.X+r.W > 120-1 || !strings.HasSuffix(r.S, "…") {
		t.Errorf("%s", r.Dump())
	}
	if box, ok := b.Items[2].(Rect); !ok || len(b.Items) != 3 || box.X != 120 || box.Width != thinBox {
		t.Errorf("of an answer that isn't told: %+v", b.Items)
	}
	if p := f.Tree(rows, smallForm); !near(p.Want, 58) || p.Least != 0 {
		t.Errorf("wants %g, at least %g", p.Want, p.Least)
	}
}

// The branches take their width from the longest label that stands, between the least and
// the most; a deep row makes the steps smaller, down to the least.
func TestTreeWidth(t *testing.T) {
	f := testFaces(t)
	deep := func(n int, label string) []TreeRow {
		var rows []TreeRow
		for i := range n {
			rows = append(rows, TreeRow{Parent: i - 1, Label: "a", Weight: 1, Share: 1})
		}
		rows[n-1].Label = label
		return rows
	}
	w := f.Bold.Width("label", 10)
	own := 2 + tineWide + 1 + w + treeGap
	for _, c := range []struct {
		rows  []TreeRow
		least float64
		keep  []bool
		boxes float64
	}{
		{deep(1, "label"), 10, nil, own}, {deep(1, "label"), 100, nil, 100}, {deep(2, "label"), 10, nil, own + 10}, {deep(2, "label"), 10, []bool{true, false}, own - w + f.Bold.Width("a", 10)},
		{deep(11, "label"), 10, nil, 120}, {deep(5, "a very long label indeed, too long"), 10, nil, 120}, {deep(1, "label"), 130, nil, 130},
	} {
		form := smallForm
		form.LeastTree, form.Keep = c.least, c.keep
		if got := f.TreeBoxes(c.rows, form); !near(got, c.boxes) {
			t.Errorf("%d rows, at least %g: boxes at %g, want %g", len(c.rows), c.least, got, c.boxes)
		}
	}
	steps := func(rows []TreeRow) float64 { return newTree(f, rows, smallForm).step() }
	room := 120 - treeGap - (2 + tineWide + 1 + w)
	if got := []float64{steps(deep(1, "label")), steps(deep(3, "label")), steps(deep(11, "label")), steps(deep(40, "label"))}; got[0] != 10 || got[1] != 10 || !near(got[2], room/10) || got[3] != 4 {
		t.Errorf("steps %v, want 10, 10, %g, 4", got, room/10)
	}
	kept := smallForm
	kept.Keep = append([]bool{true, true}, make([]bool, 38)...)
	if got := newTree(f, deep(40, "label"), kept).step(); got != 10 {
		t.Errorf("a step of %g where no deep row stands, want 10", got)
	}
	if got := steps(append(deep(11, "label"), TreeRow{Parent: 0, Label: "b", Weight: 1, Share: 1})); !near(got, room/10) {
		t.Errorf("a step of %g where the last row is near, want %g", got, room/10)
	}
}

// An aside stands behind the text where it costs no line, and never where a clause went.
func TestAsides(t *testing.T) {
	f := testFaces(t)
	said := func(text string, lines int) ([]string, int) {
		form := smallForm
		form.W, form.Lines = 10+40+treeGap+tineWide+60+20, lines
		row := TreeRow{Parent: -1, Label: "l", Weight: 1, Share: 1, Text: func(TreeView) [][]Piece { return [][]Piece{{usual(text)}, {usual(" and then some more")}} },
			Aside: func(TreeView) []Piece { return []Piece{usual(" aside")} }}
		tr := newTree(f, []TreeRow{row}, form)
		tr.measure()
		lines_, lost := tr.lines(0)
		var got []string
		for _, l := range lines_ {
			got = append(got, lineText(f, l))
		}
		return got, lost
	}
	for _, c := range []struct {
		text  string
		lines int
		want  []string
		lost  int
	}{
		{"x", 3, []string{"x and then some", "more aside"}, 0}, {"xxx xxx", 3, []string{"xxx xxx and then", "some more aside"}, 0},
		{"xxx xx", 2, []string{"xxx xx and then", "some more aside"}, 0}, {"xxx xxx xxx xx", 2, []string{"xxx xxx xxx xx and", "then some more"}, 0}, {"x", 1, []string{"x"}, 1},
	} {
		if got, lost := said(c.text, c.lines); !slices.Equal(got, c.want) || lost != c.lost {
			t.Errorf("%q in %d lines: %q with %d lost", c.text, c.lines, got, lost)
		}
	}
}

// What a tree loses is counted: rows with what only they tell, clauses of those that stand.
func TestTreeLoses(t *testing.T) {
	f := testFaces(t)
	rows := []TreeRow{
		{Parent: -1, Label: "a", Weight: 0.5, Share: 0.5, Worth: 0.4, Text: func(TreeView) [][]Piece { return [][]Piece{{usual("one")}, {usual(" two")}, {usual(" thirty-three")}} }},
		{Parent: -1, Label: "b", Weight: 0.3, Share: 0.3, Worth: 0.25}, {Parent: -1, Label: "c", Weight: 0.1, Share: 0.1, Worth: 0.125},
	}
	form := smallForm
	form.W, form.Lines = 10+10+40+2*treeGap+25, 1
	for _, c := range []struct {
		h    float64
		lost []Loss
	}{
		{36, []Loss{{Clauses: 2}}}, {35.9, []Loss{{Count: 1, Weight: 0.125}, {Clauses: 2}}}, {24, []Loss{{Count: 1, Weight: 0.125}, {Clauses: 2}}},
		{12, []Loss{{Count: 2, Weight: 0.375}, {Clauses: 2}}}, {11, []Loss{{Count: 3, Weight: 0.775}}},
	} {
		got := f.Tree(rows, form).At(c.h).Lost
		for i := range got {
			got[i].Weight = math.Round(got[i].Weight*1e6) / 1e6
		}
		if !slices.Equal(got, c.lost) {
			t.Errorf("%g high: lost %v, want %v", c.h, got, c.lost)
		}
	}
	stands := f.TreeStands(rows, form, 24)
	if !slices.Equal(stands, []bool{true, true, false}) {
		t.Errorf("%v stand", stands)
	}
	form.Keep = []bool{true, false, false}
	b := f.Tree(rows, form).At(99)
	if got := b.Lost; len(got) != 2 || got[0].Count != 2 || b.H != 15 {
		t.Errorf("kept one: %g high, lost %v", b.H, got)
	}
}

// The last of sisters that stand knows the share of all others, and no other row does; a leaf
// is one on which nothing hangs that stands.
func TestTreeViews(t *testing.T) {
	rows := []TreeRow{
		{Parent: -1, Weight: 0.5, Share: 0.5}, {Parent: 0, Weight: 0.3, Share: 0.6}, {Parent: 0, Weight: 0.1, Share: 0.25}, {Parent: -1, Weight: 0.2, Share: 0.3}, {Parent: -1, Share: 0},
	}
	for _, c := range []struct {
		stands []bool
		others []float64
		leaf   []bool
	}{
		{[]bool{true, true, true, true, true}, []float64{0, 0, 0.15, 0, 0}, []bool{false, true, true, true, true}},
		{[]bool{true, true, false, true, false}, []float64{0, 0.4, 0, 0.2, 0}, []bool{false, true, true, true, true}},
		{[]bool{true, false, false, false, false}, []float64{0.5, 0, 0, 0, 0}, []bool{true, true, true, true, true}},
	} {
		form := smallForm
		form.Keep = c.stands
		tr := newTree(testFaces(t), rows, form)
		for i, stands := range c.stands {
			if !stands {
				continue
			}
			v := tr.view(i)
			if !near(v.Others, c.others[i]) || v.Leaf != c.leaf[i] || v.Stands(i) != true || v.Stands(-1) || v.Stands(5) || v.Stands(2) != c.stands[2] {
				t.Errorf("%v: row %d sees %+v, want others %g, leaf %v", c.stands, i, v, c.others[i], c.leaf[i])
			}
		}
	}
	begins := newTree(testFaces(t), []TreeRow{{Parent: -1}, {Parent: 0, Weight: 0.5}, {Parent: 0}}, smallForm)
	if got := [3]float64{begins.labelAt(0, 10), begins.labelAt(1, 10), begins.labelAt(2, 10)}; got != [3]float64{0, 12 + tineWide + 1, 12 + tineWide + 1} {
		t.Errorf("how it begins, and what hangs on that, stand at %v", got)
	}
	over := []TreeRow{{Parent: -1, Weight: 1, Share: 0.7}, {Parent: -1, Weight: 1, Share: 0.5}}
	if v := newTree(testFaces(t), over, smallForm).view(1); v.Others != 0 {
		t.Errorf("others are %g of what is more than all", v.Others)
	}
}

// The height of a row is its lines', and at least the pitch, more where it is to be filled in.
func TestTreeHeights(t *testing.T) {
	tr := newTree(testFaces(t), []TreeRow{{Parent: -1}, {Parent: -1, Empty: true}}, smallForm)
	for lines, want := range [][2]float64{{12, 17}, {12, 17}, {22, 22}, {32, 32}} {
		if got := [2]float64{tr.heightOf(0, lines, 12), tr.heightOf(1, lines, 12)}; got != want {
			t.Errorf("%d lines: %v, want %v", lines, got, want)
		}
	}
	if got := [3]float64{tr.thickness(0.5), tr.thickness(2), tr.thickness(0.01)}; got != [3]float64{2, 4, thinnest} {
		t.Errorf("lines %v thick", got)
	}
}
