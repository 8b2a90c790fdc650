package pdf

import (
	"slices"

	"foreply/compare/fact"
	"foreply/compare/words"
	"foreply/pdf/sheet"
)

// A card is a move without an answer with its board and room to write, in points.
const (
	cardBoard   = 32 * sheet.MM
	cardTall    = 35 * sheet.MM // with a board, at least
	cardText    = cardBoard + 3.5*sheet.MM
	cardBox     = 24 * sheet.MM
	cardBoxTall = 6.4 * sheet.MM
	cardsApart  = 1.6 * sheet.MM
)

// cardsIn is how many of the likeliest moves without an answer have a card in a height. One
// alone of several has none: their list would begin twice.
func (l *layout) cardsIn(s *fact.Side, h float64) int {
	if l.form.narrow || l.form.margin == 0 {
		return 0
	}
	used, n := l.columnOf(0).Leading+2, 0
	for i := range s.Unanswered {
		used += l.card(s, i, l.form.lines).H + cardsApart
		if used > h || len(s.Unanswered[i].Line) == 0 {
			break
		}
		n++
	}
	if n == 1 && len(s.Unanswered) > 1 {
		return 0
	}
	return n
}

// cards sets so many of them under their title.
func (l *layout) cards(s *fact.Side, n int) sheet.Block {
	c := l.columnOf(l.form.lines)
	var all sheet.Block
	for i := range n {
		if i > 0 {
			all.Add(stroke(0, all.H+cardsApart/2, c.W, all.H+cardsApart/2, 0.3))
			all.H += cardsApart
		}
		card := l.card(s, i, c.W)
		all.Put(card, 0, all.H)
		all.Lost = append(all.Lost, card.Lost...)
		all.H += card.H
	}
	return c.Frame(sheet.Part{Title: words.NoAnswer, Asides: []string{words.PointsAreYours}}, all)
}

// card sets the move with its letter: a position from move 4 on, how often it comes, what
// is known of it, a box for the answer and lines to write on.
func (l *layout) card(s *fact.Side, i int, w float64) sheet.Block {
	u := &s.Unanswered[i]
	b := l.cardBoard(s, u)
	x := 0.0
	if b.H > 0 {
		x = cardText
	}
	c := &column{Column: l.columnOf(w - x), l: l, side: s}
	way := slices.Concat(letterPieces(i), wayTo(u.Line, 9), []sheet.Piece{{S: " · "}, {Look: sheet.Strong, S: howLikely(s, u), Whole: true}})
	text := c.knownRow(words.NoAnswer, way, u, true).Set(gapLines)
	b.H = max(b.H, text.H+cardBoxTall+3*sheet.MM)
	b.Put(text, x, 1*sheet.MM)
	b.Lost = text.Lost
	top := b.H - cardBoxTall - 0.5*sheet.MM
	b.Add(sheet.Rect{Box: sheet.Box{X: x, Y: top, W: cardBox, H: cardBoxTall}, Width: 1.3})
	b.Add(l.f.Label(words.YourAnswer, x+1.2*sheet.MM, top+footSize, cardBox, ink(footSize, false)))
	for _, y := range []float64{top - 1.2*sheet.MM, top + cardBoxTall} {
		b.Add(sheet.Line{X1: x + cardBox + 2*sheet.MM, Y1: y, X2: w, Y2: y, Width: 0.4, ToWrite: true})
	}
	return b
}

// cardBoard is the position of a move without an answer, or of an earlier one that to which
// most games went on behind it; none before move 4.
func (l *layout) cardBoard(s *fact.Side, u *fact.Unanswered) sheet.Block {
	var b sheet.Block
	epd, y := u.EPD, 1.5*sheet.MM
	if len(u.Line) < fact.BoardPlies {
		if len(u.Others) == 0 {
			return b
		}
		on := u.Others[0].On(u.Line)
		if len(on) < fact.BoardPlies || u.Others[0].EPD == "" {
			return b
		}
		c := l.columnOf(cardBoard)
		lines, _ := c.F.Break(c.F.Spans(clausePieces(words.AfterMove(on)), bodyStyle()), c.W, 1)
		b.Put(c.Lines(lines), 0, 1*sheet.MM)
		epd, y = u.Others[0].EPD, y+c.Leading
	}
	b.Add(Board{X: 0, Y: y, Side: cardBoard, EPD: epd, View: s.MyColor, f: l.f})
	b.H = cardTall + y - 1.5*sheet.MM
	return b
}
