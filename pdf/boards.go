package pdf

import (
	"slices"

	"foreply/compare/fact"
	"foreply/compare/words"
	"foreply/pdf/sheet"
)

// Boards in a column, in points.
const (
	mostBoard  = 28.7 * sheet.MM
	leastBoard = 26 * sheet.MM // under it the men of a photocopy run together
	boardGap   = 2.5 * sheet.MM
)

// boards shows the positions worth a board beside each other, but those that a card has. One
// of a move without an answer bears its letter.
func (c *column) boards(cards int) sheet.Part {
	p := sheet.Part{Title: words.Boards}
	gapOf := func(d fact.Diagram) int {
		return slices.IndexFunc(c.side.Unanswered, func(u fact.Unanswered) bool { return u.EPD == d.EPD })
	}
	list := slices.DeleteFunc(slices.Clone(c.side.Boards), func(d fact.Diagram) bool {
		k := gapOf(d)
		return k >= 0 && k < cards
	})
	n := min(c.l.form.boards, len(list))
	cell := (c.W - boardGap*float64(n-1)) / float64(max(1, n))
	side := min(mostBoard, (c.W-boardGap)/2)
	if n == 0 || side < leastBoard {
		return p
	}
	var shown []pictured
	for i := range list[:n] {
		caption := captionPieces(&list[i])
		if k := gapOf(list[i]); k >= 0 {
			caption = append(letterPieces(k), caption...)
		}
		shown = append(shown, pictured{caption, list[i].EPD, list[i].View})
	}
	b := c.diagrams(shown, min(cell, (c.W+boardGap)/2-boardGap/2), side)
	b.Add(stroke(0, 0, c.W, 0, 0.6))
	p.Least, p.Want = b.H, b.H
	p.At = func(float64) sheet.Block { return b }
	return p
}

// gameBoards are the positions of few games after eight moves, the newest first: as many as
// find room. Of a shorter game there is none.
func (c *column) gameBoards() sheet.Part {
	p := sheet.Part{Title: words.AfterEight, Asides: []string{words.PointsAreYours}, Short: 1, Plenty: 1}
	abreast := int((c.W + boardGap) / (leastBoard + boardGap))
	if abreast == 0 {
		return p
	}
	cell := (c.W - boardGap*float64(abreast-1)) / float64(abreast)
	var shown []pictured
	for i := range c.side.FewGames {
		if g := &c.side.FewGames[i]; len(g.Moves) >= fact.ShownPlies {
			shown = append(shown, pictured{clausePieces(words.PlayedTo(g)), g.EPD, c.side.MyColor})
		}
	}
	for row := range slices.Chunk(shown, abreast) {
		b := c.diagrams(row, cell, min(mostBoard, cell))
		b.H += 1.5 * sheet.MM
		p.Rows = append(p.Rows, sheet.Row{Set: func(int) sheet.Block { return b }})
	}
	return p
}

// pictured is a position with what is said over it.
type pictured struct {
	caption   []sheet.Piece
	epd, view string
}

// diagrams sets boards beside each other, their captions above them.
func (c *column) diagrams(list []pictured, cell, side float64) sheet.Block {
	var b sheet.Block
	top := 1.0
	captions := make([][]sheet.TextLine, len(list))
	tallest := 0
	for i := range list {
		captions[i], _ = c.F.Break(c.F.Spans(list[i].caption, bodyStyle()), cell, 3)
		tallest = max(tallest, len(captions[i]))
	}
	y := top + float64(tallest)*c.Leading + 1*sheet.MM
	for i := range list {
		x := float64(i) * (cell + boardGap)
		b.Put(c.Lines(captions[i]), x, top)
		b.Add(Board{X: x, Y: y, Side: side, EPD: list[i].epd, View: list[i].view, f: c.F})
	}
	b.H = y + side
	return b
}

// captionPieces head a board: after which move, what it is for, how often it comes.
func captionPieces(d *fact.Diagram) []sheet.Piece {
	list := append(clausePieces(words.BoardTitle(d)), sheet.Piece{S: " "})
	list = append(list, clausePieces(words.BoardWhy(d))...)
	return append(append(list, sheet.Piece{S: ", "}), clausePieces(words.Clause{words.BoardOften(d)})...)
}
