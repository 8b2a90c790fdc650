package pdf

import (
	"slices"
	"strings"

	"foreply/compare/fact"
	"foreply/compare/words"
	"foreply/pdf/sheet"
)

// Boards on a page, in points.
const (
	boardGap   = 16.0
	leastBoard = 58.0 // under it the men of a photocopy run together
	fairBoard  = 80.0 // under it fewer boards are better, if they are larger
	fairNarrow = 66.0 // beside each other in half a page
	mostBoard  = 132.0
	boardCell  = 115.0 // width of the page for each board
	halfCell   = 150.0 // the same on half a sheet
	leastWords = 64.0  // width of words beside a board
	captionGap = 3.0
	wordsGap   = 9.0 // between a board and the words beside it
)

// boards shows the positions worth a board, two to four beside each other, all
// of one size.
func (c *column) boards() sheet.Part {
	s := sheet.Part{Title: "boards", Rank: boardsRank, Share: 17, Airy: true}
	all := c.side.Boards
	if len(all) == 0 {
		return s
	}
	fair, cell := fairBoard, boardCell
	if c.Narrow {
		fair, cell = fairNarrow, halfCell
	}
	most := min(len(all), max(2, min(4, int(c.W/cell))))
	p := c.plan(all[:most])
	s.Enough = p.height(min(fair, p.most))
	s.Want = p.height(p.most)
	s.Least = s.Enough
	for n := most; n >= min(2, most); n-- {
		s.Least = min(s.Least, c.plan(all[:n]).height(leastBoard))
	}
	s.Last = true // words need the room more
	s.At = func(h float64) sheet.Block {
		p, side := c.planFor(all, most, fair, h+0.01)
		b := c.diagrams(p, side)
		if n := len(all) - len(p.list); n > 0 {
			b.Lost = []sheet.Loss{{Title: s.Title, Count: n}}
		}
		return b
	}
	return s
}

// planFor is as many boards as have a fair size in the height; where not even two
// have it, the number that gives the largest.
func (c *column) planFor(all []fact.Diagram, most int, fair, h float64) (best plan, size float64) {
	for n := most; n >= min(2, most); n-- {
		p := c.plan(all[:n])
		if side := p.side(h); side > size {
			best, size = p, side
		}
		if size >= min(fair, p.most) {
			break
		}
	}
	return best, size
}

// plan is boards and what their size depends on.
type plan struct {
	c     *column
	list  []fact.Diagram
	cell  float64 // width for a board and its words
	most  float64 // side of the largest board
	above float64 // height of the tallest caption over a board
	wide  float64 // width of the widest one
}

func (c *column) plan(list []fact.Diagram) plan {
	cells := float64(max(2, len(list)))
	if c.Narrow && len(list) == 1 { // with its words beside it
		cells = 1
	}
	p := plan{c: c, list: list, cell: (c.W - boardGap*(cells-1)) / cells}
	p.most = min(mostBoard, p.cell-coordLeft)
	for _, b := range p.captions(p.cell-coordLeft, overBoard) {
		p.above = max(p.above, b.H)
		for _, it := range b.Items {
			p.wide = max(p.wide, it.Bounds().W)
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
	w := p.aside(side)
	if w == 0 {
		return sheet.RuleGap + p.above + captionGap + board
	}
	for _, b := range p.captions(w, besideBoard) {
		board = max(board, b.H)
	}
	return sheet.RuleGap + board
}

// side is the size of the boards in a height, the least one at least.
func (p plan) side(h float64) float64 {
	side := min(p.most, max(leastBoard, h-sheet.RuleGap-coordBelow)) // a board without words
	for side > leastBoard && p.height(side) > h {
		side = max(leastBoard, side-0.5)
	}
	return side
}

// diagrams sets boards of the size from margin to margin. Where there is room
// enough the words stand beside a board, with room to write under them.
func (c *column) diagrams(p plan, side float64) sheet.Block {
	b := sheet.Block{H: p.height(side)}
	b.Add(stroke(0, 0, c.W, 0, 0.5, sheet.Pale))
	y, aside := sheet.RuleGap, p.aside(side)
	step, words := p.cell+boardGap, side+wordsGap
	captions := p.captions(aside, besideBoard)
	if aside == 0 {
		y += p.above + captionGap // the last one's words must not leave the margin
		step, words = (c.W-coordLeft-max(side, p.wide))/float64(max(2, len(p.list))-1), 0
		captions = p.captions(p.cell-coordLeft, overBoard)
	}
	for i, d := range p.list {
		x := coordLeft + float64(i)*step
		b.Put(captions[i], x+words, sheet.RuleGap)
		b.Add(Board{x, y, side, d.EPD, d.View, d.Origin, d.Arrow, 1, c.l.f})
	}
	return b
}

// Ways to say a caption under its title, the most telling first.
var (
	overBoard   = []func(what, often string) []string{inALine, inAShortLine, inLines}
	besideBoard = []func(what, often string) []string{inLines, inShortLines}
)

func inALine(what, often string) []string { return []string{what + ": " + often} }
func inLines(what, often string) []string { return []string{what, often} }

// inAShortLine and inShortLines say a frequency shorter: '1 in 12', '1 game in 12'.
func inAShortLine(what, often string) []string {
	return []string{what + ", " + strings.NewReplacer("about ", "", " game in ", " in ", " games in ", " in ").Replace(often)}
}

func inShortLines(what, often string) []string {
	return []string{what, strings.TrimPrefix(often, "about ")}
}

// captions are the boards' titles and what they stand for, all said in the first
// way in which no line breaks in the width, else in the last.
func (p plan) captions(w float64, ways []func(what, often string) []string) []sheet.Block {
	f := p.c.l.f
	titles := p.titles(w)
	var all []sheet.Block
	for _, way := range ways {
		all = nil
		broken := false
		for i, d := range p.list {
			lines := way(words.BoardWhy(&d).String(), words.BoardOften(&d).Text)
			b := titles[i]
			for _, s := range lines {
				set, _ := f.Break(say(f, s, ink(note, false, sheet.Black)), w, 2)
				broken = broken || len(set) > 1
				b.Put(sheet.SetLines(set), 0, b.H)
				b.H += sheet.SetLines(set).H
			}
			all = append(all, b)
		}
		if !broken {
			break
		}
	}
	return all
}

// titles are those of the boards; without their first word, 'after', where one
// would break.
func (p plan) titles(w float64) []sheet.Block {
	f := p.c.l.f
	set := func(title string) []sheet.TextLine {
		lines, _ := f.Break(say(f, title, ink(move, true, sheet.Black)), w, 2)
		return lines
	}
	short := slices.ContainsFunc(p.list, func(d fact.Diagram) bool { return len(set(words.BoardTitle(&d).String())) > 1 })
	var all []sheet.Block
	for _, d := range p.list {
		title := words.BoardTitle(&d).String()
		if short {
			title = words.LastMove(d.Line)
		}
		b := sheet.SetLines(set(title))
		b.Items = slices.Clip(b.Items)
		all = append(all, b)
	}
	return all
}
