package sheet

import "math"

// MM is a millimetre in points.
const MM = 72 / 25.4

// cell is the side of the squares that the ruler counts, in points.
const cell = 6 * MM

// Blank is the share of a page's squares of 6 mm, from margin to margin, that no ink
// touches. Lines to write on are no ink; the inside of a box is blank, its edge is ink.
func Blank(p *Page) float64 {
	r := newRuler(p.Margin)
	for _, it := range p.Items {
		r.item(it)
	}
	return r.blank()
}

// ruler marks the squares that ink touches.
type ruler struct {
	at           Box
	across, down int
	inked        []bool
}

func newRuler(at Box) *ruler {
	r := &ruler{at: at, across: int(at.W / cell), down: int(at.H / cell)}
	r.inked = make([]bool, r.across*r.down)
	return r
}

func (r *ruler) blank() float64 {
	if len(r.inked) == 0 {
		return 0
	}
	n := 0
	for _, ink := range r.inked {
		if !ink {
			n++
		}
	}
	return float64(n) / float64(len(r.inked))
}

// mark is for ink all over a box.
func (r *ruler) mark(b Box) {
	first := func(v, from float64) int { return max(0, int(math.Floor((v-from)/cell))) }
	for y := first(b.Y, r.at.Y); y < r.down && r.at.Y+float64(y)*cell <= b.Y+b.H; y++ {
		for x := first(b.X, r.at.X); x < r.across && r.at.X+float64(x)*cell <= b.X+b.W; x++ {
			r.inked[y*r.across+x] = true
		}
	}
}

func (r *ruler) item(it Item) {
	switch v := it.(type) {
	case Line:
		if !v.ToWrite {
			r.mark(v.Bounds())
		}
	case Run:
		if v.S != "" {
			r.mark(v.Bounds())
		}
	case Rect:
		if v.Filled {
			r.mark(v.Box)
			return
		}
		for _, edge := range []Box{{v.X, v.Y, v.W, 0}, {v.X, v.Y + v.H, v.W, 0}, {v.X, v.Y, 0, v.H}, {v.X + v.W, v.Y, 0, v.H}} {
			r.mark(edge)
		}
	default:
		r.mark(it.Bounds())
	}
}
