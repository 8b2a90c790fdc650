// Package pdf presents a Report: as one printed page and as terminal text. In
// comes a compare.Report, whose sentences and numbers are printed as they
// stand; out goes a drawing list (Layout), the PDF of it (Write) or plain text
// (Text). It computes no chess and no statistics; its neighbours are package
// compare, and package sheet, which lays out what this one says.
//
// What competes, in order: one page always; nothing overlaps or leaves the
// margins; tonight whole, the likeliest first, with what was left out named;
// looks.
package pdf

import (
	"errors"
	"fmt"
	"strings"

	"foreply/compare/fact"
	"foreply/compare/words"
	"foreply/pdf/sheet"
)

// Options choose how the page is printed. The zero value is a whole A4 page,
// both colours as its two halves.
type Options struct {
	Paper  string // 'a4' (default) or 'letter'
	Half   bool   // half of the paper, upright (A5): for double rounds, two to a sheet
	Large  bool   // type a fifth larger, so fewer lines
	Beside bool   // one colour as lines to expect with a margin, where the paper is wide enough for it
	Pages  bool   // both colours on a page each; so it is too with Half and Large
}

// ErrPaper is returned for a paper that is neither A4 nor Letter.
var ErrPaper = errors.New("unknown paper: use a4 or letter")

// paper returns width and height in points (ISO 216: A4, and A5 for the half of
// it; Letter is 8.5 by 11 in).
func (o Options) paper() (w, h float64, err error) {
	switch strings.ToLower(o.Paper) {
	case "", "a4":
		w, h = 595.28, 841.89
	case "letter":
		w, h = 612, 792
	default:
		return 0, 0, fmt.Errorf("%w, not %q", ErrPaper, o.Paper)
	}
	if o.Half {
		w, h = h/2, w
	}
	return w, h, nil
}

// enlarged is how much larger everything is with Options.Large.
const enlarged = 1.2

func (o Options) scale() float64 {
	if o.Large {
		return enlarged
	}
	return 1
}

// The sizes of type, in points: footer, notes, moves. The fourth is tonight's,
// which is also the name's: one of nightly.
const (
	small = 7.0
	note  = 9.0
	move  = 10.5
)

// nightly are the sizes that tonight may have.
var nightly = [...]float64{14.5, 12.5, 11.5}

// nightShare is the most of the page that tonight takes before its type shrinks.
const nightShare = 0.16

const (
	sideMargin = 38.0
	halfMargin = 26.0 // all around half a sheet
	topMargin  = 34.0
	footMargin = 30.0
	gutter     = 24.0  // between the halves of a page for both colours
	rail       = 72.0  // where the names of the sections stand
	railFrom   = 400.0 // the width from which there is a rail
	sectionGap = 9.0   // before a section with a rule
	closeGap   = 5.0   // the same on half a sheet
	halfTall   = 600.0 // where half a sheet begins to be
)

// layout is what the sections share while a page is made.
type layout struct {
	f     *sheet.Faces
	rep   *fact.Report
	w     float64 // between the margins
	h     float64
	night float64 // size of tonight's type
	wide  bool    // Options.Beside
}

// Layout sets a Report: on one page, or with two colours and the options for it
// on a page for each.
func Layout(rep *fact.Report, opt Options) ([]*sheet.Page, error) {
	if len(rep.Sides) < 2 || !opt.Pages && !opt.Half && !opt.Large {
		p, err := onePage(rep, opt)
		return []*sheet.Page{p}, err
	}
	var pages []*sheet.Page
	for i := range rep.Sides {
		side := *rep
		side.Sides = rep.Sides[i : i+1]
		p, err := onePage(&side, opt)
		if err != nil {
			return nil, err
		}
		pages = append(pages, p)
	}
	return pages, nil
}

// onePage sets a Report on one page. Larger type is a smaller page enlarged.
func onePage(rep *fact.Report, opt Options) (*sheet.Page, error) {
	w, h, err := opt.paper()
	if err != nil {
		return nil, err
	}
	f, err := sheet.LoadFaces()
	if err != nil {
		return nil, err
	}
	p := &sheet.Page{W: w, H: h, Title: title(rep)}
	p.Margin = sheet.Box{X: sideMargin, Y: topMargin, W: w - 2*sideMargin, H: h - topMargin - footMargin}
	if opt.Half {
		p.Margin = sheet.Box{X: halfMargin, Y: halfMargin, W: w - 2*halfMargin, H: h - 2*halfMargin}
	}
	by := opt.scale()
	l := &layout{f: f, rep: rep, w: p.Margin.W / by, h: p.Margin.H / by, night: nightly[0], wide: opt.Beside}
	all, foot := l.fill()
	for _, it := range all.Items {
		p.Items = append(p.Items, it.Scaled(by).Moved(p.Margin.X, p.Margin.Y))
	}
	p.Foot = p.Margin.Y + foot*by
	return p, nil
}

func title(rep *fact.Report) string {
	name := sheet.Plain(rep.Opponent.Name)
	if name == "" {
		return "Preparation"
	}
	return "Preparation for " + name
}

// fill sets head, body and foot, and returns where the foot begins. The foot
// names what found no room, which is known only when the body is set: so it is
// set again when the foot grew.
func (l *layout) fill() (all sheet.Block, footAt float64) {
	l.night = l.nightSize()
	head := l.head()
	foot := l.foot("")
	var body sheet.Block
	for range 4 {
		body = l.body(l.h - head.H - foot.H - 2*l.air())
		again := l.foot(l.named(body.Lost))
		if again.H <= foot.H {
			again.H = foot.H
			foot = again
			break
		}
		foot = again
	}
	all.Put(head, 0, 0)
	all.Put(body, 0, head.H+l.air())
	all.Put(foot, 0, l.h-foot.H)
	return all, l.h - foot.H
}

// body is what stands between head and foot.
func (l *layout) body(h float64) sheet.Block {
	if l.margined() {
		return l.beside(h)
	}
	return sheet.Stack(l.sections(), h, l.air())
}

// air is the height between sections.
func (l *layout) air() float64 {
	if l.h < halfTall {
		return closeGap
	}
	return sectionGap
}

// hasRail says whether the names of the sections stand beside them.
func (l *layout) hasRail() bool { return l.w >= railFrom && len(l.rep.Sides) < 2 }

// column is the strip of the page that one side's sections stand in.
type column struct {
	sheet.Column
	l    *layout
	side *fact.Side
}

// strip is a column of a width.
func (l *layout) strip(w float64, narrow bool) sheet.Column {
	return sheet.Column{F: l.f, W: w, Narrow: narrow, Note: note, Small: small}
}

// measured finds the heights of sections.
func (c *column) measured(list ...sheet.Part) []sheet.Part {
	for i := range list {
		list[i] = c.Measure(list[i])
	}
	return list
}

// The ranks of sections.
const (
	colourRank = iota
	tonightRank
	linesRank
	boardsRank
	unansweredRank
	surpriseRank
	aboutRank
	knowRank
	writeRank
	trapsRank
	changesRank
	ordersRank
	optionsRank
	mistakesRank
)

// sections are a side's, in reading order.
func (c *column) sections() []sheet.Part {
	return c.measured(c.tonight(), c.lines(), c.boards(), c.unanswered(),
		c.surprise(), c.traps(), c.changes(), c.orders(), c.options(), c.mistakes(), c.know())
}

// lossWords names what found no room.
func lossWords(o sheet.Loss) string {
	switch {
	case o.Count == 0:
		return o.Title
	case o.Weight > 0:
		return fmt.Sprintf("%s (%d more, together %s)", o.Title, o.Count, words.OneIn(o.Weight))
	}
	return fmt.Sprintf("%s (%d more)", o.Title, o.Count)
}

// columns are the strips that the sides' sections stand in: one over the whole
// width, or two beside each other.
func (l *layout) columns() []*column {
	c := column{Column: l.strip(l.w, !l.hasRail()), l: l}
	if l.hasRail() {
		c.Rail = rail
	}
	switch len(l.rep.Sides) {
	case 0:
		return []*column{&c}
	case 1:
		if l.margined() {
			return []*column{l.leftColumn()}
		}
		c.side = &l.rep.Sides[0]
		return []*column{&c}
	}
	one, other := c, c
	one.W = (l.w - gutter) / 2
	other.W = one.W
	one.side, other.side = &l.rep.Sides[0], &l.rep.Sides[1]
	return []*column{&one, &other}
}

// nightSize is the size of tonight's type, the same in both halves: the largest in
// which tonight takes no more than its share, and no more lines than in the least.
func (l *layout) nightSize() float64 {
	least := nightly[len(nightly)-1]
	_, fewest := l.nightAt(least)
	for _, size := range nightly {
		if h, lines := l.nightAt(size); h <= nightShare*l.h && lines == fewest {
			return size
		}
	}
	return least
}

// nightAt is the height and the number of lines of the taller tonight in a size.
func (l *layout) nightAt(size float64) (h float64, lines int) {
	l.night = size
	for _, c := range l.columns() {
		if c.side != nil {
			h = max(h, c.tonight().Want)
			lines += c.taskLines()
		}
	}
	return h, lines
}

// sections are those of one side over the whole width, or of two beside each
// other, and what is about both under them.
func (l *layout) sections() []sheet.Part {
	columns := l.columns()
	c := columns[0]
	switch {
	case len(columns) == 2:
		return l.halves(columns[0], columns[1])
	case c.side == nil:
		return c.measured(c.about(), c.write())
	}
	return append(c.sections(), c.measured(c.about(), c.write())...)
}

// halves puts the same sections of two colours beside each other. Lines to expect
// begin where tonight ends in each, since the shorter one has room for more of them.
func (l *layout) halves(left, right *column) []sheet.Part {
	all := []sheet.Part{left.Pair(left.colour(), right.colour(), gutter)}
	one, other := left.sections(), right.sections()
	all = append(all, left.Pair(sheet.Joined(one[0], one[1], l.air()), sheet.Joined(other[0], other[1], l.air()), gutter))
	for i := 2; i < len(one); i++ {
		all = append(all, left.Pair(one[i], other[i], gutter))
	}
	under := &column{Column: l.strip(l.w, false), l: l}
	under.Rail = rail
	return append(all, under.measured(under.about(), under.write())...)
}

// named says what found no room, by colour where there are two.
func (l *layout) named(lost []sheet.Loss) string {
	var sides [3][]string
	for _, o := range lost {
		if o.Clauses > 0 { // it says less of what stands there
			continue
		}
		sides[o.Half] = append(sides[o.Half], lossWords(o))
	}
	text := strings.Join(sides[0], ", ")
	for i := range l.rep.Sides {
		if list := sides[min(i+1, 2)]; i < 2 && len(list) > 0 {
			text = sentenceList([]string{text, "with " + colourName(l.rep.Sides[i].MyColor) + ": " + strings.Join(list, ", ")})
		}
	}
	return text
}
