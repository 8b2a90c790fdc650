package sheet

import (
	"strings"
	"testing"
)

// A letter on a disc stands white in the middle of a black disc that takes its room in the
// line; a square to tick takes its own; neither is joined to the words beside it.
func TestShapes(t *testing.T) {
	f := testFaces(t)
	st := style
	st.OnDisc = Ink{Size: 7.5, Bold: true, Shape: Disc}
	st.ToTick = Ink{Size: 7.5, Shape: Tick}
	words := f.Spans([]Piece{{Look: ToTick, S: "x"}, usual(" see "), {Look: OnDisc, S: "B"}, usual(" and more")}, st)
	lines, _ := f.Break(words, 300, 0)
	items := SetLines(lines).Items
	var disc Dot
	var letter Run
	var tick Rect
	var others []Run
	for _, it := range items {
		switch v := it.(type) {
		case Dot:
			disc = v
		case Rect:
			tick = v
		case Run:
			if v.S == "B" {
				letter = v
			} else {
				others = append(others, v)
			}
		}
	}
	if disc.Gray != Black || letter.Gray != White || !letter.Bold {
		t.Fatalf("disc %+v, letter %+v", disc, letter)
	}
	if in := letter.Bounds(); !near(in.X+in.W/2, disc.X) || letter.X < disc.X-disc.R || letter.X+letter.W > disc.X+disc.R {
		t.Errorf("the letter from %g to %g is not in the middle of a disc around %g", letter.X, letter.X+letter.W, disc.X)
	}
	if len(others) != 2 || others[0].S != "see" || others[1].S != "and more" {
		t.Fatalf("beside them: %+v", others)
	}
	if tick.Filled || tick.X+tick.W >= others[0].X || others[0].X+others[0].W >= disc.X-disc.R || disc.X+disc.R >= others[1].X {
		t.Errorf("not beside each other: %v", items)
	}
}

func near(a, b float64) bool { return a-b < 0.01 && b-a < 0.01 }

// Words drawn as shapes keep to the width, alone too, and never carry an ellipsis.
func TestShapesBreak(t *testing.T) {
	f := testFaces(t)
	st := style
	st.OnDisc = Ink{Size: 7.5, Bold: true, Shape: Disc}
	words := f.Spans([]Piece{{Look: OnDisc, S: "A"}, usual(" one or two "), {Look: OnDisc, S: "B"}, usual(" three")}, st)
	for w := 12.0; w < 120; w++ {
		for most := range 4 {
			lines, _ := f.Break(words, w, most)
			for _, l := range lines {
				if l.W > w+0.01 {
					t.Fatalf("width %g: a line of %g", w, l.W)
				}
				for _, r := range l.Items {
					if r.Shape == Disc && strings.Contains(r.S, "…") {
						t.Fatalf("width %g: %q on a disc", w, r.S)
					}
				}
			}
		}
	}
}

// The ruler counts the squares without ink, from margin to margin.
func TestBlank(t *testing.T) {
	page := func(items ...Item) *Page { return &Page{Margin: Box{10, 10, 10*cell + 1, 10*cell + 1}, Items: items} }
	at := func(x, y float64) (float64, float64) { return 10 + (x+0.5)*cell, 10 + (y+0.5)*cell }
	x, y := at(3, 4)
	x2, y2 := at(6, 4)
	for _, c := range []struct {
		name  string
		page  *Page
		inked int
	}{
		{"nothing", page(), 0},
		{"a dot", page(Dot{x, y, 1, Black}), 1},
		{"a line over four", page(Line{X1: x, Y1: y, X2: x2, Y2: y2, Width: 1}), 4},
		{"a line to write on", page(Line{X1: x, Y1: y, X2: x2, Y2: y2, Width: 1, ToWrite: true}), 0},
		{"the edge of a box, not its inside", page(Rect{Box: Box{x, y, 3 * cell, 3 * cell}, Width: 1}), 12},
		{"a filled box", page(Rect{Box: Box{x, y, 3 * cell, 3 * cell}, Filled: true}), 16},
		{"twice the same", page(Dot{x, y, 1, Black}, Dot{x, y, 2, Black}), 1},
		{"outside", page(Dot{1, 1, 1, Black}), 0},
		{"no text", page(Run{X: x, Y: y, Size: 9}), 0},
	} {
		if got, want := Blank(c.page), 1-float64(c.inked)/100; !near(got, want) {
			t.Errorf("%s: %g blank, want %g", c.name, got, want)
		}
	}
}

// A page may be wider than high, and the other way; what lies at its edges counts, what lies
// beyond does not.
func TestBlankOfAnyPage(t *testing.T) {
	for name, c := range map[string]struct {
		margin Box
		item   Item
		blank  float64
	}{
		"wide":           {Box{10, 20, 8*cell + 1, 4*cell + 1}, Rect{Box: Box{10 + 5.5*cell, 20 + 2.5*cell, 0.1 * cell, 0.1 * cell}, Filled: true}, 31. / 32},
		"high":           {Box{10, 20, 4*cell + 1, 8*cell + 1}, Rect{Box: Box{10 + 2.5*cell, 20 + 5.5*cell, 0.1 * cell, 1.1 * cell}, Filled: true}, 30. / 32},
		"over the edges": {Box{10, 20, 4*cell + 1, 8*cell + 1}, Rect{Box: Box{-50, -50, 999, 999}, Filled: true}, 0},
		"beyond":         {Box{10, 20, 4*cell + 1, 8*cell + 1}, Dot{10 + 9*cell, 20 + 3*cell, 1, Black}, 1},
		"text":           {Box{10, 20, 4*cell + 1, 8*cell + 1}, Run{X: 10 + 1.5*cell, Y: 20 + 3.5*cell, W: cell, Size: 1, S: "x"}, 30. / 32},
		"nothing at all": {Box{10, 20, 1, 1}, Dot{10, 20, 1, Black}, 0},
	} {
		if got := Blank(&Page{Margin: c.margin, Items: []Item{c.item}}); !near(got, c.blank) {
			t.Errorf("%s: %g blank, want %g", name, got, c.blank)
		}
	}
}

// Black is no light, white all of it.
func TestTone(t *testing.T) {
	for g, want := range map[Gray]int{Black: 0, 0.5: 128, White: 255} {
		if got := tone(g); got != want {
			t.Errorf("%v is drawn as %d, want %d", g, got, want)
		}
	}
}
