package sheet

import (
	"cmp"
	"slices"
)

// TreeRow is one row of a tree: a label at the end of its branch, a box at the same place
// in every row, and a sentence beside it.
type TreeRow struct {
	Parent int                        // the row that it hangs on, before it in the list; -1: none
	Label  string                     // at its branch; without a branch if Weight is 0
	Box    string                     // in its box
	Bare   bool                       // it has none
	Empty  bool                       // the box is to be filled in: larger, with a strong edge
	Weight float64                    // 0..1: how much of all comes through here; its line is as thick
	Share  float64                    // of what comes through the row it hangs on
	Worth  float64                    // what is told here and nowhere else
	Twice  bool                       // counts for two where a row must go
	Text   func(v TreeView) [][]Piece // clauses, most wanted first
	Aside  func(v TreeView) []Piece   // said behind the text where it costs no line; may be nil
}

// TreeView is what a row's text must know of the rows that stand.
type TreeView struct {
	Leaf   bool               // nothing hangs on it
	Others float64            // at the last of sisters: the share of all that don't stand; else 0
	Stands func(row int) bool // whether another row stands
}

// TreeForm is how a tree is drawn. Lengths are points.
type TreeForm struct {
	W               float64
	Step, LeastStep float64 // indent of a level, and where the deepest row needs more than MostTree
	MostTree        float64 // width of the branches and labels
	LeastTree       float64
	Box             float64 // width of a box
	Pitch           float64 // from row to row at least
	MostPitch       float64 // where there is room
	EmptyMore       float64 // by so much is a row with an empty box higher
	Leading         float64 // of further lines of text
	Lines           int     // of text at most
	Label           Ink     // of labels and boxes
	Style           Style   // of text
	Thick           float64 // of the line of weight 1
	Keep            []bool  // nil for all, else the rows that may stand
	Main            bool    // the likeliest line goes last
}

// Gaps in a tree, in points.
const (
	treeGap    = 2 * MM // behind the longest label, and behind the box
	tineWide   = 2.2 * MM
	leaderFrom = 3 * MM // a shorter way to the box needs no leader
	thinnest   = 0.5
	thinBox    = 0.5
	thickBox   = 1.3
	boxPad     = 1.2 * MM
	manyRows   = 150 // more than any page holds; they want it all
	ownWeight  = 0.3 // of a row's weight beside what only it tells, where one must go
)

// tree is a tree being laid out.
type tree struct {
	f        *Faces
	form     TreeForm
	rows     []TreeRow
	children [][]int // of each row; at the end those that hang on none
	kids     []int   // how many of them stand, the first ones
	stands   []bool
	main     []bool // the likeliest line
	count    int
	heights  []float64 // of the rows as they stand
	depth    []int
	textW    float64
}

// Tree is the part of a page that draws a tree in whatever height there is: as many rows as
// fit. Where not all do, one row goes after the other: of those that nothing hangs on and
// that are the last of their sisters, the one that tells least for its height. A list of rows
// has every row behind the one it hangs on, and sisters in order of their share.
func (f *Faces) Tree(rows []TreeRow, form TreeForm) Part {
	few := newTree(f, rows, form)
	few.prune(0)
	p := Part{Least: few.height(), Want: form.Pitch * float64(len(rows))}
	if len(rows) <= manyRows {
		all := newTree(f, rows, form)
		all.measure()
		p.Want = all.height()
	}
	p.At = func(h float64) Block {
		t := newTree(f, rows, form)
		t.prune(h)
		return t.draw(h)
	}
	return p
}

// TreeStands says which rows stand in a height.
func (f *Faces) TreeStands(rows []TreeRow, form TreeForm, h float64) []bool {
	t := newTree(f, rows, form)
	t.prune(h)
	return t.stands
}

// TreeBoxes is where the boxes of the rows that may stand begin.
func (f *Faces) TreeBoxes(rows []TreeRow, form TreeForm) float64 {
	return newTree(f, rows, form).treeWidth()
}

func newTree(f *Faces, rows []TreeRow, form TreeForm) *tree {
	t := &tree{f: f, form: form, rows: rows, count: len(rows)}
	t.children = make([][]int, len(rows)+1)
	t.kids = make([]int, len(rows)+1)
	t.stands = make([]bool, len(rows))
	t.heights = make([]float64, len(rows))
	t.depth = make([]int, len(rows))
	for i, r := range rows {
		up := t.above(i)
		t.children[up] = append(t.children[up], i)
		if t.stands[i] = form.Keep == nil || form.Keep[i]; t.stands[i] {
			t.kids[up]++
		} else {
			t.count--
		}
		t.heights[i] = t.heightOf(i, 1, form.Pitch)
		if r.Parent >= 0 {
			t.depth[i] = t.depth[r.Parent] + 1
		}
	}
	if t.main = make([]bool, len(rows)); form.Main {
		t.mainLine()
	}
	return t
}

// mainLine marks the likeliest row of those that begin the tree, of those that hang on it,
// and so on: what is looked for first.
func (t *tree) mainLine() {
	for sisters := t.children[len(t.rows)]; len(sisters) > 0; {
		next := slices.MaxFunc(sisters, func(a, b int) int { return cmp.Compare(t.rows[a].Weight, t.rows[b].Weight) })
		t.main[next] = true
		sisters = t.children[next]
	}
}

// above is the place of a row's sisters in children.
func (t *tree) above(i int) int {
	if p := t.rows[i].Parent; p >= 0 && p < i {
		return p
	}
	return len(t.rows)
}

// measure finds the heights of all rows that stand.
func (t *tree) measure() {
	t.textW = t.form.W - t.treeWidth() - t.form.Box - treeGap
	for i := range t.rows {
		if t.stands[i] {
			t.heights[i] = t.rowHeight(i)
		}
	}
}

func (t *tree) height() float64 {
	sum := 0.0
	for i, h := range t.heights {
		if t.stands[i] {
			sum += h
		}
	}
	return sum
}

// labelEnd is where a row's label ends with an indent.
func (t *tree) labelEnd(i int, step float64) float64 {
	return t.labelAt(i, step) + t.f.face(t.form.Label).Width(t.f.face(t.form.Label).Reduce(t.rows[i].Label), t.form.Label.Size)
}

// labelAt is where a row's label begins.
func (t *tree) labelAt(i int, step float64) float64 {
	if t.rows[i].Weight == 0 && t.depth[i] == 0 {
		return 0
	}
	return t.spine(i, step) + tineWide + 1
}

// spine is where the line stands that a row branches off.
func (t *tree) spine(i int, step float64) float64 {
	return t.form.Thick/2 + float64(t.depth[i])*step
}

// treeWidth is where the boxes stand.
func (t *tree) treeWidth() float64 {
	step := t.step()
	w := t.form.LeastTree
	for i := range t.rows {
		if t.stands[i] {
			w = max(w, t.labelEnd(i, step)+treeGap)
		}
	}
	return min(w, max(t.form.MostTree, t.form.LeastTree))
}

// step is the indent in which the deepest row keeps to its width, or the least.
func (t *tree) step() float64 {
	step := t.form.Step
	for i := range t.rows {
		if t.stands[i] && t.depth[i] > 0 {
			room := t.form.MostTree - treeGap - t.labelEnd(i, 0)
			step = min(step, room/float64(t.depth[i]))
		}
	}
	return max(step, t.form.LeastStep)
}

// view is what a row knows of the others.
func (t *tree) view(i int) TreeView {
	v := TreeView{Leaf: t.kids[i] == 0}
	v.Stands = func(row int) bool { return row >= 0 && row < len(t.stands) && t.stands[row] }
	if !t.lastSister(i) || t.rows[i].Share == 0 {
		return v
	}
	up := t.above(i)
	v.Others = 1
	for _, s := range t.children[up][:t.kids[up]] {
		v.Others -= t.rows[s].Share
	}
	v.Others = max(0, v.Others)
	return v
}

// lines are the text of a row.
func (t *tree) lines(i int) (lines []TextLine, lost int) {
	if t.rows[i].Text == nil {
		return nil, 0
	}
	words, lost := t.f.Clauses(t.rows[i].Text(t.view(i)), t.form.Style, t.textW, t.form.Lines)
	lines, _ = t.f.Break(words, t.textW, t.form.Lines)
	if aside := t.rows[i].Aside; aside != nil && lost == 0 {
		more := append(slices.Clip(words), t.f.Spans(aside(t.view(i)), t.form.Style)...)
		if set, whole := t.f.Break(more, t.textW, max(1, len(lines))); whole {
			lines = set
		}
	}
	return lines, lost
}

func (t *tree) rowHeight(i int) float64 {
	lines, _ := t.lines(i)
	return t.heightOf(i, len(lines), t.form.Pitch)
}

// heightOf is the height of a row with so many lines of text.
func (t *tree) heightOf(i, lines int, pitch float64) float64 {
	least := pitch
	if t.rows[i].Empty {
		least += t.form.EmptyMore
	}
	return max(least, pitch+float64(lines-1)*t.form.Leading)
}

// prune takes rows away until the others fit: first as if each had one line of text, which
// is found without setting any.
func (t *tree) prune(h float64) {
	t.pruneTo(h, func(int) {})
	t.measure()
	t.pruneTo(h, func(i int) { t.heights[i] = t.rowHeight(i) })
	t.measure() // shorter labels leave more room for text
}

// pruneTo takes rows away; again is told whose text it changes.
func (t *tree) pruneTo(h float64, again func(row int)) {
	sum := t.height()
	for sum > h && t.count > 0 {
		i := t.least()
		up := t.above(i)
		sum -= t.heights[i]
		t.stands[i] = false
		t.count--
		t.kids[up]--
		changed := []int{t.rows[i].Parent}
		if n := t.kids[up]; n > 0 {
			changed = append(changed, t.children[up][n-1])
		}
		for _, other := range changed {
			if other >= 0 {
				sum -= t.heights[other]
				again(other)
				sum += t.heights[other]
			}
		}
	}
}

// least is the row that goes next: one of the main line only after all others.
func (t *tree) least() int {
	if i := t.leastOf(func(i int) bool { return !t.main[i] }); i >= 0 {
		return i
	}
	return t.leastOf(func(int) bool { return true })
}

func (t *tree) leastOf(may func(row int) bool) int {
	best, worth := -1, 0.0
	for i := range t.rows {
		if !t.stands[i] || t.kids[i] > 0 || !t.lastSister(i) || !may(i) {
			continue
		}
		v := (t.rows[i].Worth + ownWeight*t.rows[i].Weight) / t.heights[i]
		if t.rows[i].Twice {
			v *= 2
		}
		if best < 0 || v < worth {
			best, worth = i, v
		}
	}
	return best
}

// lastSister says whether no sister of a row that stands comes after it.
func (t *tree) lastSister(i int) bool {
	up := t.above(i)
	return t.children[up][t.kids[up]-1] == i
}

// lost is what of the tree does not stand.
func (t *tree) lost() []Loss {
	var o Loss
	for i := range t.rows {
		if !t.stands[i] {
			o.Count++
			o.Weight += t.rows[i].Worth
		}
	}
	if o.Count == 0 {
		return nil
	}
	return []Loss{o}
}
