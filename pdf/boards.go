package pdf

import (
	"strings"

	"foreply/compare"
)

// Boards on a page, in points.
const (
	boardGap   = 16.0
	leastBoard = 58.0 // under it the men of a photocopy run together
	fairBoard  = 76.0
	fairNarrow = 62.0 // beside each other in half a page
	mostBoard  = 132.0
	boardCell  = 115.0 // width of the page for each board
	halfCell   = 150.0 // the same on half a sheet
	leastWords = 82.0  // width of words beside a board
	captionGap = 3.0
	wordsGap   = 9.0 // between a board and the words beside it
)

// boards shows the positions worth a board, two to four beside each other, all
// of one size.
func (c *column) boards() section {
	cell := boardCell
	if c.narrow {
		cell = halfCell
	}
	most := max(2, min(4, int(c.w/cell)))
	list := c.side.Boards[:min(most, len(c.side.Boards))]
	s := section{name: "boards", rank: boardsRank, share: 17}
	if len(list) == 0 {
		return s
	}
	p := c.plan(list)
	fair := fairBoard
	if c.narrow {
		fair = fairNarrow
	}
	s.least = p.height(leastBoard)
	s.fair = p.height(min(fair, p.most))
	s.want = p.height(p.most)
	s.last = true // words need the room more
	s.at = func(h float64) block {
		side := p.most
		for side > leastBoard && p.height(side) > h+0.01 {
			side = max(leastBoard, side-0.5)
		}
		b := c.diagrams(list, p, side)
		if n := len(c.side.Boards) - len(list); n > 0 {
			b.lost = []loss{{what: moreOf(s.name, n)}}
		}
		return b
	}
	return s
}

// plan is what the size of boards depends on.
type plan struct {
	cell   float64 // width for a board and its words
	most   float64 // side of the largest board
	words  float64 // height of the tallest caption
	widest float64 // width of the widest, as far as a cell has room for it
}

func (c *column) plan(list []compare.Diagram) plan {
	cells := float64(max(2, len(list)))
	p := plan{cell: (c.w - boardGap*(cells-1)) / cells}
	p.most = min(mostBoard, p.cell-coordLeft)
	for _, d := range list {
		b := c.caption(d, p.cell-coordLeft)
		p.words = max(p.words, b.h)
		for _, it := range b.items {
			p.widest = max(p.widest, it.Bounds().W)
		}
	}
	return p
}

// aside is the width for words beside a board, 0 where they stand above it.
func (p plan) aside(side float64) float64 {
	if w := p.cell - side - coordLeft - wordsGap; w >= leastWords {
		return w
	}
	return 0
}

func (p plan) height(side float64) float64 {
	board := side + coordBelow
	if p.aside(side) > 0 {
		return ruleGap + max(board, p.words)
	}
	return ruleGap + p.words + captionGap + board
}

// diagrams sets boards of the size from margin to margin. Where there is room
// enough the words stand beside a board, with room to write under them.
func (c *column) diagrams(list []compare.Diagram, p plan, side float64) block {
	b := block{h: p.height(side)}
	b.add(Line{0, 0, c.w, 0, 0.5, pale})
	y, aside := ruleGap, p.aside(side)
	step, w := p.cell+boardGap, aside
	if aside == 0 {
		y += p.words + captionGap
		w = max(side, p.widest) // the last one's words must not leave the margin
		step = (c.w - coordLeft - w) / float64(max(2, len(list))-1)
	}
	for i, d := range list {
		x := coordLeft + float64(i)*step
		if aside > 0 {
			b.put(c.caption(d, w), x+side+wordsGap, y)
		} else {
			b.put(c.caption(d, w), x, ruleGap)
		}
		b.add(Board{x, y, side, d.EPD, d.View, d.Origin, d.Arrow, 1, c.l.f})
	}
	return b
}

// caption is a board's title and what it stands for.
func (c *column) caption(d compare.Diagram, w float64) block {
	f := c.l.f
	b := f.para(f.say(d.Title, ink{move, true, black}), w, 1)
	for _, s := range captionLines(d) {
		p := f.para(f.say(s, ink{note, false, black}), w, 1)
		b.put(p, 0, b.h)
		b.h += p.h
	}
	return b
}

// captionLines breaks a caption at its colon.
func captionLines(d compare.Diagram) []string {
	what, often, _ := strings.Cut(d.Caption, ": ")
	return []string{what, often}
}
