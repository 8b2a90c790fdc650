package sheet

import (
	"math"
	"reflect"
	"testing"
)

// Each kind of item knows the rectangle it covers, moves and grows with all that it has, and
// its dump says all of it. No two numbers of an item are equal.
func TestItems(t *testing.T) {
	run := Run{X: 10, Y: 100, W: 30, Size: 20, Gray: Pale, S: "a b", Edge: 0.5}
	for name, c := range map[string]struct {
		item, moved, grown Item
		covers             Box
		dump               string
	}{
		"text": {
			run, Run{X: 11, Y: 102, W: 30, Size: 20, Gray: Pale, S: "a b", Edge: 0.5},
			Run{X: 30, Y: 300, W: 90, Size: 60, Gray: Pale, S: "a b", Edge: 1.5},
			Box{10, 84.4, 30, 20.4}, // 100 - 0.78 of 20; 1.02 of 20
			`text 10.0 100.0 w30.0 regular 20 grey 0.50 "a b"`,
		},
		"a line up to the left": {
			Line{X1: 10, Y1: 40, X2: 4, Y2: 22, Width: 0.6, Gray: Middle},
			Line{X1: 11, Y1: 42, X2: 5, Y2: 24, Width: 0.6, Gray: Middle},
			Line{X1: 30, Y1: 120, X2: 12, Y2: 66, Width: 1.8, Gray: Middle},
			Box{4, 22, 6, 18}, "line 10.0 40.0 to 4.0 22.0 width 0.60 grey 0.30",
		},
		"a dotted line": {
			Line{X1: 1, Y1: 2, X2: 5, Y2: 9, Width: 0.5, Dotted: true, ToWrite: true},
			Line{X1: 2, Y1: 4, X2: 6, Y2: 11, Width: 0.5, Dotted: true, ToWrite: true},
			Line{X1: 3, Y1: 6, X2: 15, Y2: 27, Width: 1.5, Dotted: true, ToWrite: true},
			Box{1, 2, 4, 7}, "dotted 1.0 2.0 to 5.0 9.0 width 0.50 grey 0.00",
		},
		"an outline": {
			Rect{Box: Box{1, 2, 30, 40}, Width: 0.7, Stroke: Middle}, Rect{Box: Box{2, 4, 30, 40}, Width: 0.7, Stroke: Middle},
			Rect{Box: Box{3, 6, 90, 120}, Width: 2.1, Stroke: Middle}, Box{1, 2, 30, 40}, "rect 1.0 2.0 30.0x40.0 width 0.70 grey 0.30",
		},
		"a filled rectangle": {
			Rect{Box: Box{1, 2, 30, 40}, Stroke: Middle, Filled: true, Fill: Pale}, Rect{Box: Box{2, 4, 30, 40}, Stroke: Middle, Filled: true, Fill: Pale},
			Rect{Box: Box{3, 6, 90, 120}, Stroke: Middle, Filled: true, Fill: Pale}, Box{1, 2, 30, 40}, "rect 1.0 2.0 30.0x40.0 fill 0.50",
		},
		"a dot": {
			Dot{10, 20, 3, Dark}, Dot{11, 22, 3, Dark}, Dot{30, 60, 9, Dark}, Box{7, 17, 6, 6}, "dot 10.0 20.0 r3.0 grey 0.15",
		},
		"a polygon": {
			Poly{[][2]float64{{5, 20}, {1, 30}, {9, 26}}, Pale}, Poly{[][2]float64{{6, 22}, {2, 32}, {10, 28}}, Pale},
			Poly{[][2]float64{{15, 60}, {3, 90}, {27, 78}}, Pale}, Box{1, 20, 8, 10}, "poly 5.0,20.0 1.0,30.0 9.0,26.0 grey 0.50",
		},
		"no polygon": {Poly{}, Poly{Points: [][2]float64{}}, Poly{Points: [][2]float64{}}, Box{}, "poly grey 0.00"},
	} {
		before := c.item.Dump()
		if got := c.item.Moved(1, 2); !reflect.DeepEqual(got, c.moved) {
			t.Errorf("%s moved: %+v, want %+v", name, got, c.moved)
		}
		if got := c.item.Scaled(3); !reflect.DeepEqual(round(got), round(c.grown)) {
			t.Errorf("%s three times as large: %+v, want %+v", name, got, c.grown)
		}
		if got, want := c.item.Bounds(), c.covers; !nearBox(got, want) {
			t.Errorf("%s covers %v, want %v", name, got, want)
		}
		if got := c.item.Dump(); got != c.dump || got != before {
			t.Errorf("%s: %s, want %s", name, got, c.dump)
		}
	}
	for want, r := range map[string]Run{"bold": {Bold: true}, "oblique": {Slant: true}} {
		r.S, r.Size = "x", 9
		if got := r.Dump(); got != "text 0.0 0.0 w0.0 "+want+` 9 grey 0.00 "x"` {
			t.Errorf("%s: %s", want, got)
		}
	}
}

// round takes away what floating point adds.
func round(it Item) Item {
	v := reflect.New(reflect.TypeOf(it)).Elem()
	v.Set(reflect.ValueOf(it))
	for i := range v.NumField() {
		if f := v.Field(i); f.Kind() == reflect.Float64 && f.CanSet() {
			f.SetFloat(math.Round(f.Float()*1e6) / 1e6)
		}
	}
	return v.Interface().(Item)
}

func nearBox(a, b Box) bool {
	return near(a.X, b.X) && near(a.Y, b.Y) && near(a.W, b.W) && near(a.H, b.H)
}

// A block put into another stands where it was put, with what it had; its bottom is that of
// its lowest item, not of its last.
func TestBlocks(t *testing.T) {
	var in, out Block
	in.Add(Dot{1, 2, 3, Black}, Line{X1: 5, Y1: 50, X2: 6, Y2: 70})
	in.Add(Rect{Box: Box{1, 1, 2, 40}})
	out.Add(Dot{9, 9, 1, White})
	out.Put(in, 100, 200)
	want := []Item{Dot{9, 9, 1, White}, Dot{101, 202, 3, Black}, Line{X1: 105, Y1: 250, X2: 106, Y2: 270}, Rect{Box: Box{101, 201, 2, 40}}}
	if !reflect.DeepEqual(out.Items, want) {
		t.Errorf("%+v", out.Items)
	}
	if in.Bottom() != 70 || out.Bottom() != 270 || (Block{}).Bottom() != 0 {
		t.Errorf("bottoms %g and %g", in.Bottom(), out.Bottom())
	}
	p := &Page{W: 595.28, H: 841.9, Title: "A title", Items: out.Items[:2]}
	if got := p.Dump(); got != "page 595.28 x 841.90 \"A title\"\ndot 9.0 9.0 r1.0 grey 1.00\ndot 101.0 202.0 r3.0 grey 0.00\n" {
		t.Errorf("%s", got)
	}
}
