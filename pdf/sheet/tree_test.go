package sheet

import (
	"fmt"
	"math"
	"math/rand/v2"
	"slices"
	"strings"
	"testing"
)

var treeForm = TreeForm{
	W: 121 * MM, Step: 3.2 * MM, LeastStep: 1.5 * MM, MostTree: 44 * MM, LeastTree: 27 * MM, Box: 19 * MM,
	Pitch: 4.35 * MM, MostPitch: 5.2 * MM, EmptyMore: 1.5 * MM, Leading: 3.55 * MM, Lines: 4,
	Label: Ink{Size: 9.5, Bold: true}, Style: style, Thick: 4.6,
}

// someTree has up to n rows; a row's text tells what it knows of the others.
func someTree(m *rand.Rand, n int) []TreeRow {
	var rows []TreeRow
	left := map[int]float64{-1: 1} // share that no sister has yet
	kids := map[int]int{}
	var grow func(parent int, weight float64, depth int)
	grow = func(parent int, weight float64, depth int) {
		for range 1 + m.IntN(4) {
			if len(rows) >= n {
				return
			}
			i := len(rows)
			share := left[parent] * (0.3 + 0.5*m.Float64())
			left[parent] -= share
			left[i] = 1
			kids[parent]++
			text := strings.Repeat("so it goes on ", m.IntN(9))
			rows = append(rows, TreeRow{
				Parent: parent, Label: fmt.Sprintf("L%d", i), Box: fmt.Sprintf("B%d", i), Empty: m.IntN(6) == 0,
				Weight: weight * share, Share: share, Worth: weight * share * m.Float64(),
				Text: func(v TreeView) [][]Piece {
					return [][]Piece{{usual(fmt.Sprintf("T%d leaf=%v others=%.3f ", i, v.Leaf, v.Others))}, {usual(text)}}
				},
			})
			if depth < 9 && m.IntN(3) > 0 {
				grow(i, weight*share, depth+1)
			}
		}
	}
	for len(rows) < n && left[-1] > 0.001 {
		grow(-1, 1, 0)
	}
	return rows
}

// standing are the rows whose label is drawn.
func standing(t *testing.T, rows []TreeRow, b Block) []bool {
	t.Helper()
	stands := make([]bool, len(rows))
	for i := range rows {
		n := 0
		for _, s := range runs(b.Items) {
			if s == rows[i].Label {
				n++
			}
		}
		if n > 1 {
			t.Fatalf("%s stands %d times", rows[i].Label, n)
		}
		stands[i] = n == 1
	}
	return stands
}

// Whatever the tree and the height: it is kept to; a row stands with the one it hangs on and
// its likelier sisters; what went is counted and weighed; the text knows what stands; and no
// text meets another.
func TestTreeKeepsItsWord(t *testing.T) {
	f := testFaces(t)
	for seed := range uint64(150) {
		m := rand.New(rand.NewPCG(seed, 3))
		rows := someTree(m, 1+m.IntN(70))
		p := f.Tree(rows, treeForm)
		h := p.Least + 600*m.Float64()
		b := p.At(h)
		if b.H > h+0.1 {
			t.Fatalf("seed %d: %g high in %g", seed, b.H, h)
		}
		checkItems(t, b, treeForm.W, h)
		checkTree(t, seed, rows, b)
	}
}

func checkTree(t *testing.T, seed uint64, rows []TreeRow, b Block) {
	t.Helper()
	stands := standing(t, rows, b)
	text := strings.Join(runs(b.Items), " ")
	gone, worth := 0, 0.0
	shown := map[int]float64{}
	last, leaf := map[int]int{}, map[int]bool{}
	for i, r := range rows {
		if !stands[i] {
			gone++
			worth += r.Worth
			continue
		}
		leaf[i], leaf[r.Parent] = true, false
		if r.Parent >= 0 && !stands[r.Parent] {
			t.Fatalf("seed %d: %s stands without %s", seed, r.Label, rows[r.Parent].Label)
		}
		if before := slices.IndexFunc(rows[:i], func(o TreeRow) bool { return o.Parent == r.Parent && !slices.Contains(runs(b.Items), o.Label) }); before >= 0 {
			t.Fatalf("seed %d: %s stands without its sister L%d", seed, r.Label, before)
		}
		shown[r.Parent] += r.Share
		last[r.Parent] = i
	}
	for i, r := range rows {
		if !stands[i] {
			continue
		}
		others := 0.0
		if last[r.Parent] == i {
			others = 1 - shown[r.Parent]
		}
		if want := fmt.Sprintf("T%d leaf=%v others=%.3f", i, leaf[i], math.Abs(others)); !strings.Contains(text, want) {
			t.Fatalf("seed %d: %q is not said", seed, want)
		}
	}
	var lost Loss
	for _, o := range b.Lost {
		lost.Count, lost.Weight = lost.Count+o.Count, lost.Weight+o.Weight
	}
	if lost.Count != gone || math.Abs(lost.Weight-worth) > 1e-9 {
		t.Fatalf("seed %d: %d rows of weight %g are gone, named are %d of %g", seed, gone, worth, lost.Count, lost.Weight)
	}
}

// Boxes stand at one place, whatever the rows; those of rows that follow each other without
// further text share an edge, and an empty one is larger with a stronger edge.
func TestTreeBoxes(t *testing.T) {
	rows := []TreeRow{
		{Parent: -1, Label: "a", Box: "x", Weight: 0.6, Share: 0.6},
		{Parent: 0, Label: "a much longer label", Empty: true, Weight: 0.3, Share: 0.5},
		{Parent: -1, Label: "b", Box: "y", Weight: 0.2, Share: 0.2},
	}
	var boxes []Rect
	for _, it := range testFaces(t).Tree(rows, treeForm).At(100).Items {
		if r, ok := it.(Rect); ok {
			boxes = append(boxes, r)
		}
	}
	if len(boxes) != 3 || boxes[0].X != boxes[1].X || boxes[1].X != boxes[2].X {
		t.Fatalf("%+v", boxes)
	}
	for i, want := range []bool{false, true} {
		if empty := boxes[i].Width == thickBox; empty != want || math.Abs(boxes[i].Y+boxes[i].H-boxes[i+1].Y) > 0.01 {
			t.Errorf("box %d: %+v before %+v", i, boxes[i], boxes[i+1])
		}
	}
	if boxes[1].H-boxes[0].H < treeForm.EmptyMore-0.01 {
		t.Errorf("an empty box is %g high, another %g", boxes[1].H, boxes[0].H)
	}
}

// A row's line is as thick as its weight, and a spine at every height as what still branches
// off below.
func TestTreeThickness(t *testing.T) {
	rows := []TreeRow{
		{Parent: -1, Label: "a", Box: "x", Weight: 0.6, Share: 0.6}, {Parent: 0, Label: "a1", Weight: 0.4, Share: 0.7},
		{Parent: 0, Label: "a2", Weight: 0.2, Share: 0.3}, {Parent: -1, Label: "b", Weight: 0.3, Share: 0.3},
		{Parent: -1, Label: "c", Weight: 0.01, Share: 0.01},
	}
	b := testFaces(t).Tree(rows, treeForm).At(200)
	var tines, spines []float64
	for _, it := range b.Items {
		l, ok := it.(Line)
		switch {
		case !ok || l.Dotted:
		case l.X1 == l.X2:
			spines = append(spines, l.Width)
		default:
			tines = append(tines, l.Width)
		}
	}
	near := func(got []float64, want ...float64) bool {
		return slices.EqualFunc(got, want, func(a, b float64) bool { return math.Abs(a-b) < 1e-9 })
	}
	thick := treeForm.Thick
	if !near(tines, 0.4*thick, 0.2*thick, 0.6*thick, 0.3*thick, thinnest) {
		t.Errorf("tines %v", tines)
	}
	if !near(spines, 0.6*thick, 0.2*thick, 0.31*thick, thinnest) {
		t.Errorf("spines %v", spines)
	}
}

// In a height for few rows those stay that tell most for their height.
func TestTreeKeepsTheBest(t *testing.T) {
	var rows []TreeRow
	for i := range 12 {
		rows = append(rows, TreeRow{Parent: -1, Label: fmt.Sprintf("L%d", i), Weight: 0.02, Share: 0.05, Worth: 0.01})
	}
	for i := range 12 { // hanging on the last ones tell more than the first
		rows = append(rows, TreeRow{Parent: i, Label: fmt.Sprintf("K%d", i), Weight: 0.01, Share: 1, Worth: 0.001 * float64(1+i)})
	}
	form := treeForm
	b := testFaces(t).Tree(rows, form).At(18.5 * form.Pitch)
	var gone []string
	for i, here := range standing(t, rows, b) {
		if !here {
			gone = append(gone, rows[i].Label)
		}
	}
	if got := strings.Join(gone, " "); got != "K0 K1 K2 K3 K4 K5" {
		t.Errorf("gone are %s", got)
	}
}

// A row that counts for two stays where one that tells a little more goes.
func TestRowsThatCountTwice(t *testing.T) {
	for twice, want := range map[bool][]bool{false: {true, true, true, false}, true: {true, false, true, true}} {
		rows := []TreeRow{
			{Parent: -1, Label: "a", Weight: 0.5, Share: 0.5, Worth: 0.1}, {Parent: 0, Label: "b", Weight: 0.1, Share: 0.2, Worth: 0.1},
			{Parent: -1, Label: "c", Weight: 0.5, Share: 0.5, Worth: 0.1}, {Parent: 2, Label: "d", Weight: 0.09, Share: 0.2, Worth: 0.09, Twice: twice},
		}
		if got := testFaces(t).TreeStands(rows, treeForm, 3.5*treeForm.Pitch); !slices.Equal(got, want) {
			t.Errorf("twice %v: %v stand, want %v", twice, got, want)
		}
	}
}

// A tree of very many rows is laid out in a height at little cost, and always the same.
func TestTreeOfManyRows(t *testing.T) {
	rows := someTree(rand.New(rand.NewPCG(1, 1)), 1000)
	f := testFaces(t)
	dump := func() string {
		b := f.Tree(rows, treeForm).At(500)
		return (&Page{Items: b.Items}).Dump()
	}
	if a, b := dump(), dump(); a != b {
		t.Error("the same tree is drawn otherwise")
	}
}

func BenchmarkTree(b *testing.B) {
	rows := someTree(rand.New(rand.NewPCG(1, 1)), 1000)
	f := testFaces(b)
	for b.Loop() {
		f.Tree(rows, treeForm).At(500)
	}
}

// Of the rows of a tree that has no room for all those of the likeliest line go last.
func TestMainLineStays(t *testing.T) {
	row := func(parent int, weight float64) TreeRow {
		return TreeRow{Parent: parent, Label: "m", Box: "a", Weight: weight, Share: weight, Worth: weight, Text: func(TreeView) [][]Piece { return [][]Piece{{usual("t")}} }}
	}
	rows := []TreeRow{row(-1, 0.6), row(0, 0.02), row(1, 0.01), row(-1, 0.4), row(3, 0.3)}
	for main, want := range map[bool][]bool{true: {true, true, true, true, false}, false: {true, true, false, true, true}} {
		form := treeForm
		form.Main = main
		f := testFaces(t)
		if got := f.TreeStands(rows, form, 4.5*form.Pitch); !slices.Equal(got, want) {
			t.Errorf("main line first %v: %v", main, got)
		}
		if got := f.TreeStands(rows, form, 0.5*form.Pitch); slices.Contains(got, true) {
			t.Errorf("main line first %v, no room: %v", main, got)
		}
	}
}

// What a row tells is weighed against its height; what comes through it counts three tenths.
func TestWhichRowGoes(t *testing.T) {
	said := func(words int) func(TreeView) [][]Piece {
		return func(TreeView) [][]Piece { return [][]Piece{{usual(strings.TrimSpace(strings.Repeat("word ", words)))}} }
	}
	form := treeForm
	for name, c := range map[string]struct {
		rows  []TreeRow
		short float64 // so much less than all want
		want  []bool
	}{
		"the tall one": {[]TreeRow{
			{Parent: -1, Label: "a", Weight: 0.5, Share: 0.5, Worth: 0.1}, {Parent: 0, Label: "b", Weight: 0.1, Share: 0.2, Worth: 0.3, Text: said(40)},
			{Parent: -1, Label: "c", Weight: 0.5, Share: 0.5, Worth: 0.1}, {Parent: 2, Label: "d", Weight: 0.1, Share: 0.2, Worth: 0.2},
		}, 1, []bool{true, false, true, true}},
		"the one that tells less": {[]TreeRow{
			{Parent: -1, Label: "a", Weight: 0.5, Share: 0.5, Worth: 0.9}, {Parent: 0, Label: "b", Weight: 0.5, Share: 1, Worth: 0.1},
			{Parent: -1, Label: "c", Weight: 0.5, Share: 0.5, Worth: 0.9}, {Parent: 2, Label: "d", Weight: 0.2, Share: 0.4, Worth: 0.2},
		}, 1, []bool{true, false, true, true}},
	} {
		t.Run(name, func(t *testing.T) {
			f := testFaces(t)
			if got := f.TreeStands(c.rows, form, f.Tree(c.rows, form).Want-c.short); !slices.Equal(got, c.want) {
				t.Errorf("%v stand, want %v", got, c.want)
			}
		})
	}
}

// Where a row goes, what the rows about it say is measured anew: the one it hung on may say
// less, its last sister says how often the others come.
func TestTextThatChangesWithTheRows(t *testing.T) {
	f := testFaces(t)
	form := treeForm
	long := [][]Piece{{usual(strings.TrimSpace(strings.Repeat("a word or two ", 20)))}}
	leaf := func(v TreeView) [][]Piece {
		if v.Leaf {
			return nil
		}
		return long
	}
	rows := []TreeRow{{Parent: -1, Label: "a", Weight: 0.5, Share: 0.5, Worth: 0.5, Text: leaf}, {Parent: 0, Label: "b", Weight: 0.01, Share: 0.1, Worth: 0.01}, {Parent: -1, Label: "c", Weight: 0.3, Share: 0.5, Worth: 0.3}}
	if want := f.Tree(rows, form).Want; want < 4*form.Pitch {
		t.Fatalf("wants %g", want)
	}
	if got := f.TreeStands(rows, form, 3.1*form.Pitch); !slices.Equal(got, []bool{true, false, true}) {
		t.Errorf("a row says less without the one that hung on it: %v stand", got)
	}
	others := func(v TreeView) [][]Piece {
		if v.Others == 0 {
			return nil
		}
		return long
	}
	rows = nil
	for _, weight := range []float64{0.5, 0.3, 0.2} {
		rows = append(rows, TreeRow{Parent: -1, Label: "a", Weight: weight, Share: weight, Worth: weight, Text: others})
	}
	rows[0].Text, rows[2].Text = nil, func(TreeView) [][]Piece { return long }
	if got := f.TreeStands(rows, form, 3.1*form.Pitch); !slices.Equal(got, []bool{true, false, false}) {
		t.Errorf("a row says more as the last of its sisters: %v stand", got)
	}
}
