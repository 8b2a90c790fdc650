// Package sheet lays out pages. In come words with how they look, and parts of a page
// made of rows; out goes a drawing list (Page), and the PDF of one (Render). It knows no
// chess, nothing of what a page says and no language: its only neighbour is package pdf,
// and only write.go knows the PDF library.
//
// What competes, in order: nothing overlaps or leaves its column; what is most wanted
// stands whole, and what found no room is handed back as losses; looks.
package sheet

import (
	"fmt"
	"math"
	"strings"
)

// Gray is a tone: 0 is black, 1 is white. Nothing on the page has a colour.
type Gray float64

// The tones of the page.
const (
	Black  Gray = 0
	Dark   Gray = 0.15 // text of the second rank
	Middle Gray = 0.30 // labels, and what leads to a row; the lightest that a photocopy of a copy keeps
	Pale   Gray = 0.50 // hairlines
	White  Gray = 1
)

// Page is the drawing list: all that is printed, in points from the upper left
// corner, in the order of drawing. It is a plain value; Dump shows it as text.
type Page struct {
	W, H   float64
	Margin Box     // the rectangle nothing leaves
	Foot   float64 // where the foot begins
	Title  string
	Items  []Item
}

// Box is a rectangle in points, Y downwards.
type Box struct{ X, Y, W, H float64 }

// Item is one thing drawn.
type Item interface {
	// Bounds is the rectangle the item covers.
	Bounds() Box
	Moved(dx, dy float64) Item
	Scaled(by float64) Item // from the origin
	Dump() string
}

// Figure is an item made of others, with words for who hears the page or copies its
// text.
type Figure interface {
	Item
	Parts() []Item
	Alt() string
}

// Run is text of one font, size and tone; Y is the baseline.
type Run struct {
	X, Y   float64
	W      float64 // width as measured
	Size   float64
	Bold   bool
	Slant  bool  // oblique
	Shape  Shape // in a line of words; on a page it is drawn
	Gray   Gray
	S      string
	Edge   float64 // width of a stroke along the outlines, 0 for none
	letter float64 // width of the text on its shape
}

// Line is a straight stroke.
type Line struct {
	X1, Y1, X2, Y2 float64
	Width          float64
	Gray           Gray
	Dotted         bool // a leader for the eye
	ToWrite        bool // room for a pen, no ink of the page
}

// Rect is a rectangle: outlined if Width is positive, filled if Filled.
type Rect struct {
	Box
	Width  float64
	Stroke Gray
	Filled bool
	Fill   Gray
}

// Dot is a filled circle around X, Y.
type Dot struct {
	X, Y, R float64
	Gray    Gray
}

// Poly is a filled polygon.
type Poly struct {
	Points [][2]float64
	Gray   Gray
}

// Ascent and descent of a text's box as shares of its size: capital letters
// with an accent, and the tail of a g.
const (
	Ascent  = 0.78
	Descent = 0.24
)

// Bounds is the rectangle the item covers.
func (t Run) Bounds() Box {
	return Box{t.X, t.Y - Ascent*t.Size, t.W, (Ascent + Descent) * t.Size}
}

// Bounds is the rectangle the item covers.
func (l Line) Bounds() Box {
	return Box{min(l.X1, l.X2), min(l.Y1, l.Y2), math.Abs(l.X2 - l.X1), math.Abs(l.Y2 - l.Y1)}
}

// Bounds is the rectangle the item covers.
func (r Rect) Bounds() Box { return r.Box }

// Bounds is the rectangle the item covers.
func (d Dot) Bounds() Box { return Box{d.X - d.R, d.Y - d.R, 2 * d.R, 2 * d.R} }

// Bounds is the rectangle the item covers.
func (p Poly) Bounds() Box {
	if len(p.Points) == 0 {
		return Box{}
	}
	x1, y1 := p.Points[0][0], p.Points[0][1]
	x2, y2 := x1, y1
	for _, q := range p.Points[1:] {
		x1, x2 = min(x1, q[0]), max(x2, q[0])
		y1, y2 = min(y1, q[1]), max(y2, q[1])
	}
	return Box{x1, y1, x2 - x1, y2 - y1}
}

func (t Run) Moved(dx, dy float64) Item { t.X += dx; t.Y += dy; return t }

func (l Line) Moved(dx, dy float64) Item {
	l.X1 += dx
	l.X2 += dx
	l.Y1 += dy
	l.Y2 += dy
	return l
}

func (r Rect) Moved(dx, dy float64) Item { r.X += dx; r.Y += dy; return r }

func (d Dot) Moved(dx, dy float64) Item { d.X += dx; d.Y += dy; return d }

func (p Poly) Moved(dx, dy float64) Item {
	points := make([][2]float64, len(p.Points))
	for i, q := range p.Points {
		points[i] = [2]float64{q[0] + dx, q[1] + dy}
	}
	p.Points = points
	return p
}

func (t Run) Scaled(by float64) Item {
	t.X, t.Y, t.W, t.Size, t.Edge = t.X*by, t.Y*by, t.W*by, t.Size*by, t.Edge*by
	return t
}

func (l Line) Scaled(by float64) Item {
	l.X1, l.Y1, l.X2, l.Y2, l.Width = l.X1*by, l.Y1*by, l.X2*by, l.Y2*by, l.Width*by
	return l
}

func (r Rect) Scaled(by float64) Item {
	r.Box = Box{r.X * by, r.Y * by, r.W * by, r.H * by}
	r.Width *= by
	return r
}

func (d Dot) Scaled(by float64) Item { return Dot{d.X * by, d.Y * by, d.R * by, d.Gray} }

func (p Poly) Scaled(by float64) Item {
	points := make([][2]float64, len(p.Points))
	for i, q := range p.Points {
		points[i] = [2]float64{q[0] * by, q[1] * by}
	}
	p.Points = points
	return p
}

func (t Run) Dump() string {
	weight := "regular"
	if t.Bold {
		weight = "bold"
	}
	if t.Slant {
		weight = "oblique"
	}
	return fmt.Sprintf("text %.1f %.1f w%.1f %s %.4g grey %.2f %q", t.X, t.Y, t.W, weight, t.Size, t.Gray, t.S)
}

func (l Line) Dump() string {
	kind := "line"
	if l.Dotted {
		kind = "dotted"
	}
	return fmt.Sprintf("%s %.1f %.1f to %.1f %.1f width %.2f grey %.2f", kind, l.X1, l.Y1, l.X2, l.Y2, l.Width, l.Gray)
}

func (r Rect) Dump() string {
	s := fmt.Sprintf("rect %.1f %.1f %.1fx%.1f", r.X, r.Y, r.W, r.H)
	if r.Width > 0 {
		s += fmt.Sprintf(" width %.2f grey %.2f", r.Width, r.Stroke)
	}
	if r.Filled {
		s += fmt.Sprintf(" fill %.2f", r.Fill)
	}
	return s
}

func (d Dot) Dump() string {
	return fmt.Sprintf("dot %.1f %.1f r%.1f grey %.2f", d.X, d.Y, d.R, d.Gray)
}

func (p Poly) Dump() string {
	var b strings.Builder
	b.WriteString("poly")
	for _, q := range p.Points {
		fmt.Fprintf(&b, " %.1f,%.1f", q[0], q[1])
	}
	fmt.Fprintf(&b, " grey %.2f", p.Gray)
	return b.String()
}

// Dump writes the drawing list as text, one item a line.
func (p *Page) Dump() string {
	var b strings.Builder
	fmt.Fprintf(&b, "page %.2f x %.2f %q\n", p.W, p.H, p.Title)
	for _, it := range p.Items {
		b.WriteString(it.Dump())
		b.WriteByte('\n')
	}
	return b.String()
}

// Block is a piece of the page drawn at the origin, to be placed later.
type Block struct {
	H     float64
	Items []Item
	Lost  []Loss // what found no room in it, for the foot to name
}

func (b *Block) Add(items ...Item) { b.Items = append(b.Items, items...) }

// Bottom is where the lowest of its items ends.
func (b Block) Bottom() float64 {
	bottom := 0.0
	for _, it := range b.Items {
		at := it.Bounds()
		bottom = max(bottom, at.Y+at.H)
	}
	return bottom
}

// Put adds another block at x, y.
func (b *Block) Put(o Block, x, y float64) {
	for _, it := range o.Items {
		b.Items = append(b.Items, it.Moved(x, y))
	}
}
