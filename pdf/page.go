// Package pdf presents a Report: as one printed page and as terminal text. In
// comes a compare.Report, whose sentences and numbers are printed as they
// stand; out goes a drawing list (Layout), the PDF of it (Write) or plain text
// (Text). It computes no chess and no statistics; its only neighbour is package
// compare, and only write.go knows the PDF library.
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
)

// Options choose how the page is printed. The zero value is a whole A4 page,
// both colours as its two halves.
type Options struct {
	Paper string // 'a4' (default) or 'letter'
	Half  bool   // half of the paper, upright (A5): for double rounds, two to a sheet
	Large bool   // type a fifth larger, so fewer lines
	Pages bool   // both colours on a page each; so it is too with Half and Large
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
	lightGap   = 3.0   // before one without
)

// layout is what the sections share while a page is made.
type layout struct {
	f     *faces
	rep   *fact.Report
	w     float64 // between the margins
	h     float64
	night float64 // size of tonight's type
}

// Layout sets a Report: on one page, or with two colours and the options for it
// on a page for each.
func Layout(rep *fact.Report, opt Options) ([]*Page, error) {
	if len(rep.Sides) < 2 || !opt.Pages && !opt.Half && !opt.Large {
		p, err := onePage(rep, opt)
		return []*Page{p}, err
	}
	var pages []*Page
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
func onePage(rep *fact.Report, opt Options) (*Page, error) {
	w, h, err := opt.paper()
	if err != nil {
		return nil, err
	}
	f, err := loadFaces()
	if err != nil {
		return nil, err
	}
	p := &Page{W: w, H: h, Title: title(rep)}
	p.Margin = Box{sideMargin, topMargin, w - 2*sideMargin, h - topMargin - footMargin}
	if opt.Half {
		p.Margin = Box{halfMargin, halfMargin, w - 2*halfMargin, h - 2*halfMargin}
	}
	by := opt.scale()
	l := &layout{f: f, rep: rep, w: p.Margin.W / by, h: p.Margin.H / by, night: nightly[0]}
	all, foot := l.fill()
	for _, it := range all.items {
		p.Items = append(p.Items, it.scaled(by).moved(p.Margin.X, p.Margin.Y))
	}
	p.Foot = p.Margin.Y + foot*by
	return p, nil
}

func title(rep *fact.Report) string {
	name := plain(rep.Opponent.Name)
	if name == "" {
		return "Preparation"
	}
	return "Preparation for " + name
}

// fill sets head, body and foot, and returns where the foot begins. The foot
// names what found no room, which is known only when the body is set: so it is
// set again when the foot grew.
func (l *layout) fill() (all block, footAt float64) {
	l.night = l.nightSize()
	head := l.head()
	foot := l.foot("")
	sections := l.sections()
	var body block
	for range 4 {
		body = l.stack(sections, l.h-head.h-foot.h-2*l.air())
		again := l.foot(l.named(body.lost))
		if again.h <= foot.h {
			again.h = foot.h
			foot = again
			break
		}
		foot = again
	}
	all.put(head, 0, 0)
	all.put(body, 0, head.h+l.air())
	all.put(foot, 0, l.h-foot.h)
	return all, l.h - foot.h
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

// columns are the strips that the sides' sections stand in: one over the whole
// width, or two beside each other.
func (l *layout) columns() []*column {
	c := column{l: l, w: l.w, narrow: !l.hasRail()}
	if l.hasRail() {
		c.rail = rail
	}
	switch len(l.rep.Sides) {
	case 0:
		return []*column{&c}
	case 1:
		c.side = &l.rep.Sides[0]
		return []*column{&c}
	}
	one, other := c, c
	one.w = (l.w - gutter) / 2
	other.w = one.w
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
			h = max(h, c.tonight().want)
			lines += c.taskLines()
		}
	}
	return h, lines
}

// sections are those of one side over the whole width, or of two beside each
// other, and what is about both under them.
func (l *layout) sections() []section {
	columns := l.columns()
	c := columns[0]
	switch {
	case len(columns) == 2:
		return l.halves(columns[0], columns[1])
	case c.side == nil:
		return []section{c.about(), c.write()}
	}
	return append(c.sections(), c.about(), c.write())
}

// halves puts the same sections of two colours beside each other. Lines to expect
// begin where tonight ends in each, since the shorter one has room for more of them.
func (l *layout) halves(left, right *column) []section {
	all := []section{left.pair(left.colour(), right.colour())}
	one, other := left.sections(), right.sections()
	all = append(all, left.pair(joined(one[0], one[1], l.air()), joined(other[0], other[1], l.air())))
	for i := 2; i < len(one); i++ {
		all = append(all, left.pair(one[i], other[i]))
	}
	under := &column{l: l, w: l.w, rail: rail}
	return append(all, under.about(), under.write())
}

// named says what found no room, by colour where there are two.
func (l *layout) named(lost []loss) string {
	var sides [3][]string
	for _, o := range lost {
		sides[o.side] = append(sides[o.side], o.what)
	}
	text := strings.Join(sides[0], ", ")
	for i := range l.rep.Sides {
		if list := sides[min(i+1, 2)]; i < 2 && len(list) > 0 {
			text = sentenceList([]string{text, "with " + colourName(l.rep.Sides[i].MyColor) + ": " + strings.Join(list, ", ")})
		}
	}
	return text
}
