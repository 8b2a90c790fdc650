package pdf

import (
	"math"
	"strings"

	"foreply/compare"
)

// Board is a diagram: Parts draws it with lines and figurines. X and Y are the
// upper left corner of the squares; coordinates stand left of and below them.
type Board struct {
	X, Y, Side float64
	EPD        string // placement field, or more of it
	View       string // colour at the bottom: 'white' or 'black'
	Origin     string // square to dot, or ''
	Arrow      string // 'e2e4', or ''
	f          *faces
}

// Room for the coordinates.
const (
	coordLeft  = 9.0
	coordBelow = 10.0
)

// Bounds is the rectangle the item covers, coordinates included.
func (b Board) Bounds() Box {
	return Box{b.X - coordLeft, b.Y, b.Side + coordLeft, b.Side + coordBelow}
}

func (b Board) moved(dx, dy float64) Item { b.X += dx; b.Y += dy; return b }

func (b Board) dump() string {
	s := "board " + fmtPoint(b.X, b.Y) + " side " + fmtOne(b.Side) + " view " + b.View + " " + b.placement()
	if b.Origin != "" {
		s += " dot " + b.Origin
	}
	if b.Arrow != "" {
		s += " arrow " + b.Arrow
	}
	return s
}

func (b Board) placement() string {
	p, _, _ := strings.Cut(b.EPD, " ")
	return p
}

// Alt is the board in words, for who hears the page or copies its text.
func (b Board) Alt() string { return "position " + b.placement() }

// corner is the upper left corner of a square, given file and rank from 0.
func (b Board) corner(file, rank int) (x, y float64) {
	if b.View == "black" {
		file, rank = 7-file, 7-rank
	}
	sq := b.Side / 8
	return b.X + float64(file)*sq, b.Y + float64(7-rank)*sq
}

func (b Board) centre(name string) (x, y float64, ok bool) {
	if len(name) != 2 || name[0] < 'a' || name[0] > 'h' || name[1] < '1' || name[1] > '8' {
		return 0, 0, false
	}
	x, y = b.corner(int(name[0]-'a'), int(name[1]-'1'))
	return x + b.Side/16, y + b.Side/16, true
}

// Parts are the lines, dots and characters of the board, in drawing order.
func (b Board) Parts() []Item {
	var list []Item
	for rank := range 8 {
		for file := range 8 {
			if (file+rank)%2 == 0 {
				list = append(list, b.hatch(file, rank)...)
			}
		}
	}
	list = append(list, Rect{Box: Box{b.X, b.Y, b.Side, b.Side}, Width: 0.8, Stroke: black})
	if x, y, ok := b.centre(b.Origin); ok {
		list = append(list, Dot{x, y, b.Side / 44, white}, Dot{x, y, b.Side / 58, black})
	}
	list = append(list, b.pieces()...)
	list = append(list, b.arrow()...)
	return append(list, b.coordinates()...)
}

// hatch draws a dark square: fine slanting lines survive a photocopier where a
// grey surface turns to dirt.
func (b Board) hatch(file, rank int) []Item {
	x, y := b.corner(file, rank)
	sq := b.Side / 8
	const n = 6 // lines across a square
	step := sq * 2 / n
	var list []Item
	for i := 1; i < n; i++ {
		d := float64(i) * step
		x1, y1 := x+max(0, d-sq), y+min(d, sq)
		x2, y2 := x+min(d, sq), y+max(0, d-sq)
		list = append(list, Line{x1, y1, x2, y2, 0.35, middle})
	}
	return list
}

var manOf = map[rune]rune{'k': '♚', 'q': '♛', 'r': '♜', 'b': '♝', 'n': '♞', 'p': '♟'}

// pieces puts the men: white ones as an outline on a white body.
func (b Board) pieces() []Item {
	var list []Item
	for i, row := range ranks(b.EPD) {
		for file, r := range row {
			if body, ok := manOf[r|0x20]; ok {
				list = append(list, b.man(body, r < 'a', file, 7-i)...)
			}
		}
	}
	return list
}

func (b Board) man(body rune, isWhite bool, file, rank int) []Item {
	x, y := b.corner(file, rank)
	sq := b.Side / 8
	size := sq * 1.02
	fc := b.f.regular
	l, bottom, r, top := fc.extent(body, size)
	px := x + sq/2 - (l+r)/2
	py := y + sq/2 + (top+bottom)/2
	t := Run{X: px, Y: py, W: fc.width(string(body), size), Size: size, S: string(body)}
	ground := t // keeps the hatching off the man
	ground.Gray, ground.Edge = white, sq*0.1
	if isWhite {
		t.S = string(body - '♚' + '♔')
	}
	return []Item{ground, t}
}

// arrow shows the prepared answer.
func (b Board) arrow() []Item {
	if len(b.Arrow) < 4 {
		return nil
	}
	x1, y1, ok1 := b.centre(b.Arrow[:2])
	x2, y2, ok2 := b.centre(b.Arrow[2:4])
	n := math.Hypot(x2-x1, y2-y1)
	if !ok1 || !ok2 || n == 0 {
		return nil
	}
	sq := b.Side / 8
	dx, dy := (x2-x1)/n, (y2-y1)/n
	x1, y1 = x1+dx*sq*0.3, y1+dy*sq*0.3
	hx, hy := x2-dx*sq*0.42, y2-dy*sq*0.42
	head := func(by float64) Poly {
		w := sq*0.2 + by
		return Poly{Points: [][2]float64{
			{x2 + dx*by, y2 + dy*by},
			{hx - dx*by - dy*w, hy - dy*by + dx*w},
			{hx - dx*by + dy*w, hy - dy*by - dx*w},
		}}
	}
	outer := head(sq * 0.08)
	outer.Gray = white
	return []Item{
		Line{x1, y1, hx, hy, sq * 0.26, white}, outer,
		Line{x1, y1, hx, hy, sq * 0.12, black}, head(0),
	}
}

func (b Board) coordinates() []Item {
	var list []Item
	k := ink{small, false, dark}
	for i := range 8 {
		x, _ := b.corner(i, 0)
		_, y := b.corner(0, i)
		t := b.f.label(string(rune('a'+i)), 0, b.Y+b.Side+coordBelow-2, 9, k)
		t.X = x + b.Side/16 - t.W/2
		n := b.f.label(string(rune('1'+i)), 0, y+b.Side/16+small*0.36, 9, k)
		list = append(list, t, right(n, b.X-3))
	}
	return list
}

// Boards on a page.
const (
	boardGap   = 16.0
	smallBoard = 72.0
	largeBoard = 132.0
	boardsRank = 3
)

// boards shows the positions worth a board, up to four beside each other.
func (c *column) boards() section {
	most := 4
	if c.narrow {
		most = 2
	}
	list := c.side.Boards[:min(most, len(c.side.Boards))]
	s := section{name: "boards", rank: boardsRank, share: 17}
	if len(list) == 0 {
		return s
	}
	cells := max(2, len(list))
	cell := (c.w - boardGap*float64(cells-1)) / float64(cells)
	widest := min(largeBoard, cell-coordLeft)
	s.least = c.diagrams(list, cell, smallBoard).h
	s.want = c.diagrams(list, cell, widest).h
	s.fair = c.diagrams(list, cell, smallBoard+(widest-smallBoard)/3).h
	if c.narrow { // where the lines need the room more
		s.fair, s.last = s.least, true
	}
	s.at = func(h float64) block {
		side := widest
		for side > smallBoard && c.diagrams(list, cell, side).h > h {
			side--
		}
		b := c.diagrams(list, cell, side)
		if n := len(c.side.Boards) - len(list); n > 0 {
			b.lost = moreOf(s.name, n)
		}
		return b
	}
	return s
}

// diagrams sets boards of the size in equal cells. Where a cell is wide enough
// the words stand beside the board, with room to write under them.
func (c *column) diagrams(list []compare.Diagram, cell, side float64) block {
	b := block{}
	b.add(Line{0, 0, c.w, 0, 0.5, pale})
	beside := cell-side-coordLeft-boardGap > 80
	for i, d := range list {
		x := float64(i)*(cell+boardGap) + coordLeft
		y := ruleGap
		words := c.caption(d, cell-coordLeft)
		if beside {
			words = c.caption(d, cell-coordLeft-side-boardGap)
			b.put(words, x+side+boardGap, y)
		} else {
			b.put(words, x, y)
			y += words.h + 3
		}
		b.add(Board{x, y, side, d.EPD, d.View, d.Origin, d.Arrow, c.l.f})
		b.h = max(b.h, y+side+coordBelow)
	}
	return b
}

// caption is a board's title and what it stands for.
func (c *column) caption(d compare.Diagram, w float64) block {
	f := c.l.f
	b := f.para(f.say(d.Title, ink{move, true, black}), w, 1)
	p := f.para(f.say(d.Caption, ink{note, false, black}), w, 2)
	b.put(p, 0, b.h)
	b.h += p.h
	return b
}
