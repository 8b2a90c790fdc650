package pdf

import (
	"fmt"
	"math"
	"strings"

	"foreply/pdf/sheet"
)

// Board is a diagram: Parts draws it with lines and figurines. X and Y are the
// upper left corner of the squares; coordinates stand left of and below them.
type Board struct {
	X, Y, Side float64
	EPD        string // placement field, or more of it
	View       string // colour at the bottom: 'white' or 'black'
	Origin     string // square to dot, or ''
	Arrow      string // 'e2e4', or ''
	Unit       float64
	f          *sheet.Faces
}

// Room for the coordinates, in the board's units: points, or more of them where
// the page is enlarged.
const (
	coordLeft  = 9.0
	coordBelow = 10.0
)

// Bounds is the rectangle the item covers, coordinates included.
func (b Board) Bounds() sheet.Box {
	return sheet.Box{X: b.X - b.Unit*coordLeft, Y: b.Y, W: b.Side + b.Unit*coordLeft, H: b.Side + b.Unit*coordBelow}
}

func (b Board) Moved(dx, dy float64) sheet.Item { b.X += dx; b.Y += dy; return b }

func (b Board) Scaled(by float64) sheet.Item {
	b.X, b.Y, b.Side, b.Unit = b.X*by, b.Y*by, b.Side*by, b.Unit*by
	return b
}

func (b Board) Dump() string {
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
func (b Board) Parts() []sheet.Item {
	var list []sheet.Item
	for rank := range 8 {
		for file := range 8 {
			if (file+rank)%2 == 0 {
				list = append(list, b.hatch(file, rank)...)
			}
		}
	}
	list = append(list, sheet.Rect{Box: sheet.Box{X: b.X, Y: b.Y, W: b.Side, H: b.Side}, Width: 0.8, Stroke: sheet.Black})
	if x, y, ok := b.centre(b.Origin); ok {
		list = append(list, sheet.Dot{X: x, Y: y, R: b.Side / 44, Gray: sheet.White}, sheet.Dot{X: x, Y: y, R: b.Side / 58, Gray: sheet.Black})
	}
	list = append(list, b.pieces()...)
	list = append(list, b.arrow()...)
	return append(list, b.coordinates()...)
}

// smallSquare has fewer lines, in points.
const smallSquare = 8.5

// hatch draws a dark square: fine slanting lines survive a photocopier where a
// grey surface turns to dirt.
func (b Board) hatch(file, rank int) []sheet.Item {
	x, y := b.corner(file, rank)
	sq := b.Side / 8
	n := 7 // lines across a square
	if sq < smallSquare {
		n = 5
	}
	step := sq * 2 / float64(n)
	var list []sheet.Item
	for i := range n {
		d := (float64(i) + 0.5) * step
		x1, y1 := x+max(0, d-sq), y+min(d, sq)
		x2, y2 := x+min(d, sq), y+max(0, d-sq)
		list = append(list, stroke(x1, y1, x2, y2, max(0.3, sq/42), sheet.Black))
	}
	return list
}

var manOf = map[rune]rune{'k': '♚', 'q': '♛', 'r': '♜', 'b': '♝', 'n': '♞', 'p': '♟'}

// pieces puts the men: white ones as an outline on a white body.
func (b Board) pieces() []sheet.Item {
	var list []sheet.Item
	for i, row := range ranks(b.EPD) {
		for file, r := range row {
			if body, ok := manOf[r|0x20]; ok {
				list = append(list, b.man(body, r < 'a', file, 7-i)...)
			}
		}
	}
	return list
}

func (b Board) man(body rune, isWhite bool, file, rank int) []sheet.Item {
	x, y := b.corner(file, rank)
	sq := b.Side / 8
	size := sq * 1.02
	fc := b.f.Regular
	l, bottom, r, top := fc.Extent(body, size)
	px := x + sq/2 - (l+r)/2
	py := y + sq/2 + (top+bottom)/2
	t := sheet.Run{X: px, Y: py, W: fc.Width(string(body), size), Size: size, S: string(body)}
	ground := t // keeps the hatching off the man
	ground.Gray, ground.Edge = sheet.White, sq*0.1
	if isWhite { // its outline a little stronger than the font has it
		t.S = string(body - '♚' + '♔')
		t.Edge = sq * 0.022
	}
	return []sheet.Item{ground, t}
}

// arrow shows the prepared answer.
func (b Board) arrow() []sheet.Item {
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
	head := func(by float64) sheet.Poly {
		w := sq*0.2 + by
		return sheet.Poly{Points: [][2]float64{
			{x2 + dx*by, y2 + dy*by},
			{hx - dx*by - dy*w, hy - dy*by + dx*w},
			{hx - dx*by + dy*w, hy - dy*by - dx*w},
		}}
	}
	outer := head(sq * 0.08)
	outer.Gray = sheet.White
	return []sheet.Item{
		stroke(x1, y1, hx, hy, sq*0.26, sheet.White), outer,
		stroke(x1, y1, hx, hy, sq*0.12, sheet.Black), head(0),
	}
}

func (b Board) coordinates() []sheet.Item {
	var list []sheet.Item
	k := ink(small*b.Unit, false, sheet.Dark)
	room := 9 * b.Unit
	for i := range 8 {
		x, _ := b.corner(i, 0)
		_, y := b.corner(0, i)
		t := b.f.Label(string(rune('a'+i)), 0, b.Y+b.Side+(coordBelow-2)*b.Unit, room, k)
		t.X = x + b.Side/16 - t.W/2
		n := b.f.Label(string(rune('1'+i)), 0, y+b.Side/16+k.Size*0.36, room, k)
		list = append(list, t, sheet.Right(n, b.X-3*b.Unit))
	}
	return list
}

func fmtPoint(x, y float64) string { return fmt.Sprintf("%.1f %.1f", x, y) }

func fmtOne(v float64) string { return fmt.Sprintf("%.1f", v) }
