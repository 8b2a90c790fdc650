package sheet

import (
	"fmt"
	"math/rand/v2"
	"slices"
	"strings"
	"testing"
)

// runs are the texts of items, in drawing order.
func runs(items []Item) []string {
	var list []string
	for _, it := range items {
		if r, ok := it.(Run); ok {
			list = append(list, r.S)
		}
	}
	return list
}

// some parts of rows, each row a text of its own.
func someParts(c *Column, m *rand.Rand) []Part {
	var list []Part
	for i := range 1 + m.IntN(6) {
		p := Part{Title: fmt.Sprintf("part%d", i), Rank: m.IntN(9), Share: 1 + 9*m.Float64(), Fair: m.IntN(3), Light: m.IntN(3) == 0,
			Extra: m.IntN(3) == 0, Even: m.IntN(4) == 0, Last: m.IntN(5) == 0}
		for j := range 1 + m.IntN(5) {
			words := c.F.Own(fmt.Sprintf("row%d.%d ", i, j)+strings.Repeat("and so on ", m.IntN(30)), Ink{Size: 9})
			p.Rows = append(p.Rows, Row{Most: 1 + m.IntN(4), Weight: 1, Set: func(lines int) Block { return c.F.Para(words, c.Inner(), lines) }})
		}
		list = append(list, c.Measure(p))
	}
	return list
}

// Whatever the parts and the height: it is not exceeded, nothing leaves the width or meets
// another text, each row stands once or is counted among the losses, and no part goes before
// one of a later rank that could have gone.
func TestStackKeepsItsWord(t *testing.T) {
	f := testFaces(t)
	for seed := range uint64(400) {
		m := rand.New(rand.NewPCG(seed, 1))
		c := &Column{F: f, W: 200 + 200*m.Float64(), Narrow: m.IntN(2) == 0, Note: 9, Small: 7}
		if !c.Narrow {
			c.Rail = 60
		}
		parts := someParts(c, m)
		first := slices.MinFunc(parts, func(a, b Part) int { return a.Rank - b.Rank })
		h := first.Least + 500*m.Float64()
		b := Stack(parts, h, 6)
		if b.H > h+0.1 {
			t.Fatalf("seed %d: %g high in %g", seed, b.H, h)
		}
		checkItems(t, b, c.W, h)
		checkRows(t, seed, parts, b)
	}
}

func checkItems(t *testing.T, b Block, w, h float64) {
	t.Helper()
	var boxes []Box
	for _, it := range b.Items {
		o := it.Bounds()
		if o.X < -0.1 || o.Y < -0.1 || o.X+o.W > w+0.1 || o.Y+o.H > h+0.1 {
			t.Fatalf("outside of %gx%g: %s", w, h, it.Dump())
		}
		if _, ok := it.(Run); ok {
			for _, other := range boxes {
				if o.X+0.2 < other.X+other.W && other.X+0.2 < o.X+o.W && o.Y+0.2 < other.Y+other.H && other.Y+0.2 < o.Y+o.H {
					t.Fatalf("%s meets another text", it.Dump())
				}
			}
			boxes = append(boxes, o)
		}
	}
}

func checkRows(t *testing.T, seed uint64, parts []Part, b Block) {
	t.Helper()
	text := strings.Join(runs(b.Items), " ") + " "
	lost := map[string]Loss{}
	for _, o := range b.Lost {
		if _, twice := lost[o.Title]; twice {
			t.Fatalf("seed %d: %s is lost twice", seed, o.Title)
		}
		lost[o.Title] = o
	}
	for i, p := range parts {
		shown := 0
		for j := range p.Rows {
			n := strings.Count(text, fmt.Sprintf("row%d.%d ", i, j))
			if n > 1 {
				t.Fatalf("seed %d: row%d.%d stands %d times", seed, i, j, n)
			}
			shown += n
		}
		o, some := lost[p.Title]
		left := o.Count
		if some && o.Count == 0 { // all of it
			left = len(p.Rows)
		}
		if shown+left != len(p.Rows) {
			t.Fatalf("seed %d: %s shows %d of %d rows and names %d", seed, p.Title, shown, len(p.Rows), left)
		}
		if some && o.Count > 0 && o.Weight != float64(o.Count) {
			t.Fatalf("seed %d: %d rows of %s weigh %g", seed, o.Count, p.Title, o.Weight)
		}
		for _, q := range parts {
			if gone, ok := lost[q.Title]; ok && gone.Count == 0 && shown > 0 && q.Rank < p.Rank && !p.Extra && !q.Extra {
				t.Fatalf("seed %d: %s of rank %d goes before %s of rank %d", seed, q.Title, q.Rank, p.Title, p.Rank)
			}
		}
	}
}
