package pdf

import (
	"fmt"
	"strings"

	"foreply/compare/words"
	"foreply/pdf/sheet"
)

// Board is a diagram: Parts draws it with squares, lines and figurines. X and Y are
// the upper left corner.
type Board struct {
	X, Y, Side float64
	EPD        string // placement field, or more of it
	View       string // colour at the bottom: 'white' or 'black'
	f          *sheet.Faces
}

// Bounds is the rectangle the item covers.
func (b Board) Bounds() sheet.Box { return sheet.Box{X: b.X, Y: b.Y, W: b.Side, H: b.Side} }

// Moved is the board elsewhere.
func (b Board) Moved(dx, dy float64) sheet.Item { b.X += dx; b.Y += dy; return b }

// Scaled is the board on an enlarged page.
func (b Board) Scaled(by float64) sheet.Item {
	b.X, b.Y, b.Side = b.X*by, b.Y*by, b.Side*by
	return b
}

// Dump is the board as text.
func (b Board) Dump() string {
	return fmt.Sprintf("board %.1f %.1f side %.1f view %s %s", b.X, b.Y, b.Side, b.View, b.placement())
}

func (b Board) placement() string {
	p, _, _ := strings.Cut(b.EPD, " ")
	return p
}

// Alt is the board in words, for who hears the page or copies its text.
func (b Board) Alt() string { return words.Position(b.placement()) }

// corner is the upper left corner of a square, given file and rank from 0.
func (b Board) corner(file, rank int) (x, y float64) {
	if b.View == "black" {
		file, rank = 7-file, 7-rank
	}
	sq := b.Side / 8
	return b.X + float64(file)*sq, b.Y + float64(7-rank)*sq
}

// The ground of a board: dark squares of a grey that type in black stands out from, and a
// grid that shows them where a copier drops the grey.
const (
	darkSquare = sheet.Gray(0.84)
	gridLine   = 0.25
	edgeLine   = 0.8
)

// Parts are the squares, lines and characters of the board, in drawing order.
func (b Board) Parts() []sheet.Item {
	var list []sheet.Item
	sq := b.Side / 8
	for rank := range 8 {
		for file := range 8 {
			if (file+rank)%2 == 0 {
				x, y := b.corner(file, rank)
				list = append(list, sheet.Rect{Box: sheet.Box{X: x, Y: y, W: sq, H: sq}, Filled: true, Fill: darkSquare})
			}
		}
	}
	for i := 1; i < 8; i++ {
		at := float64(i) * sq
		list = append(list, stroke(b.X+at, b.Y, b.X+at, b.Y+b.Side, gridLine), stroke(b.X, b.Y+at, b.X+b.Side, b.Y+at, gridLine))
	}
	list = append(list, sheet.Rect{Box: sheet.Box{X: b.X, Y: b.Y, W: b.Side, H: b.Side}, Width: edgeLine})
	return append(list, b.pieces()...)
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

// Sizes of a man, as shares of a square.
const (
	manSize = 1.12
	manEdge = 0.13  // the white around it
	outline = 0.022 // by so much a man is stronger than the font has him
)

func (b Board) man(body rune, isWhite bool, file, rank int) []sheet.Item {
	x, y := b.corner(file, rank)
	sq := b.Side / 8
	size := sq * manSize
	fc := b.f.Regular
	l, bottom, r, top := fc.Extent(body, size)
	px := x + sq/2 - (l+r)/2
	py := y + sq/2 + (top+bottom)/2
	t := sheet.Run{X: px, Y: py, W: fc.Width(string(body), size), Size: size, S: string(body)}
	ground := t
	ground.Gray, ground.Edge = sheet.White, sq*manEdge
	t.Edge = sq * outline
	if isWhite {
		t.S = string(body - '♚' + '♔')
	}
	return []sheet.Item{ground, t}
}
