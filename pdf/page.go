// Package pdf presents a Report: as one printed page and as terminal text. In
// comes a compare.Report, whose sentences and numbers are printed as they
// stand; out goes a drawing list (Layout), the PDF of it (Write) or plain text
// (Text). It computes no chess and no statistics; its only neighbour is package
// compare, and only write.go knows the PDF library.
//
// What competes, in order: one page always; nothing overlaps or leaves the
// margins; the likeliest first, with what was left out named; looks.
package pdf

import (
	"errors"
	"fmt"
	"slices"
	"strings"

	"foreply/compare"
)

// Options choose how the page is printed. The zero value is A4.
type Options struct {
	Paper string // 'a4' (default) or 'letter'
}

// ErrPaper is returned for a paper that is neither A4 nor Letter.
var ErrPaper = errors.New("unknown paper: use a4 or letter")

// paper returns width and height in points (ISO 216; Letter is 8.5 by 11 in).
func (o Options) paper() (w, h float64, err error) {
	switch strings.ToLower(o.Paper) {
	case "", "a4":
		return 595.28, 841.89, nil
	case "letter":
		return 612, 792, nil
	}
	return 0, 0, fmt.Errorf("%w, not %q", ErrPaper, o.Paper)
}

// The sizes of type, in points: footer, notes, moves, tonight.
const (
	small = 7.5
	note  = 9.0
	move  = 10.5
	big   = 15.0
)

const (
	sideMargin = 42.0
	topMargin  = 34.0
	footMargin = 30.0
	gutter     = 24.0 // between the halves of a page for both colours
	rail       = 70.0 // where the names of the sections stand
	sectionGap = 10.0
)

// layout is what the sections share while a page is made.
type layout struct {
	f   *faces
	rep *compare.Report
	w   float64 // between the margins
}

// Layout sets a Report on one page.
func Layout(rep *compare.Report, opt Options) (*Page, error) {
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
	l := &layout{f: f, rep: rep, w: p.Margin.W}
	l.fill(p)
	return p, nil
}

func title(rep *compare.Report) string {
	name := plain(rep.Opponent.Name)
	if name == "" {
		return "Preparation"
	}
	return "Preparation for " + name
}

// fill puts head, body and foot on the page. The foot names the sections that
// found no room, which is known only when the body is set: so it is set again
// when the foot grew.
func (l *layout) fill(p *Page) {
	var all block
	head := l.head()
	var missing []string
	for range 4 {
		foot := l.foot(missing)
		all = block{}
		all.put(head, 0, 0)
		all.put(foot, 0, p.Margin.H-foot.h)
		body, lost := l.body(p.Margin.H - head.h - foot.h - 2*sectionGap)
		all.put(body, 0, head.h+sectionGap)
		if slices.Equal(lost, missing) {
			break
		}
		missing = lost
	}
	for _, it := range all.items {
		p.Items = append(p.Items, it.moved(p.Margin.X, p.Margin.Y))
	}
}

// body sets one side over the whole width, two beside each other.
func (l *layout) body(h float64) (block, []string) {
	switch len(l.rep.Sides) {
	case 0:
		c := column{l: l, w: l.w, rail: rail}
		return c.stack([]section{c.about(), c.write()}, h)
	case 1:
		c := column{l: l, w: l.w, rail: rail, side: &l.rep.Sides[0]}
		return c.stack(append(c.sections(), c.about(), c.write()), h)
	}
	return l.halves(h)
}

// halves sets two colours in two columns, what is about the opponent under both.
func (l *layout) halves(h float64) (block, []string) {
	var b block
	under := column{l: l, w: l.w, rail: rail}
	about := under.about()
	tail := block{}
	if about.want > 0 {
		tail, _ = under.stack([]section{about}, min(about.want, h/8))
	}
	room := h
	if tail.h > 0 {
		room -= tail.h + sectionGap
		b.put(tail, 0, h-tail.h)
	}
	var missing []string
	w := (l.w - gutter) / 2
	for i := range l.rep.Sides[:2] {
		c := column{l: l, w: w, side: &l.rep.Sides[i], narrow: true}
		set, lost := c.stack(append(c.sections(), c.write()), room)
		b.put(set, float64(i)*(w+gutter), 0)
		missing = append(missing, lost...)
	}
	x := w + gutter/2
	b.add(Line{x, 0, x, room, 0.5, pale})
	b.h = h
	slices.Sort(missing)
	return b, slices.Compact(missing)
}

// column is the strip of the page that one side's sections stand in.
type column struct {
	l      *layout
	w      float64
	rail   float64
	side   *compare.Side
	narrow bool
}

// inner is the width beside the rail.
func (c *column) inner() float64 { return c.w - c.rail }

// section is one part of a column. Heights include its rule and its name.
type section struct {
	name  string
	rank  int     // the lower stays when there is no room for all
	share float64 // of the page, when all want more than there is
	least float64 // height under which it makes no sense; 0: nothing to say
	want  float64 // height with all it has to say
	at    func(h float64) block
}

// sections are a side's, in reading order.
func (c *column) sections() []section {
	list := []section{}
	if c.narrow {
		list = append(list, c.colour())
	}
	return append(list, c.tonight(), c.lines(), c.boards(), c.unanswered(),
		c.surprise(), c.options(), c.mistakes(), c.know())
}

// stack sets sections under each other in the height. It returns the names of
// those that found no room.
func (c *column) stack(all []section, h float64) (block, []string) {
	kept, missing := admit(all, h)
	heights := allot(kept, h-gaps(len(kept)))
	set := make([]block, len(kept))
	spare := h - gaps(len(kept))
	for i, s := range kept {
		set[i] = s.at(heights[i])
		spare -= set[i].h
	}
	for i, s := range kept { // what one could not use serves another
		if set[i].h < s.want {
			before := set[i].h
			set[i] = s.at(before + spare)
			spare -= set[i].h - before
		}
	}
	extra := 0.0
	if n := len(kept); n > 1 {
		extra = min(spare/float64(n-1), sectionGap)
	}
	var b block
	y := 0.0
	for i := range set {
		b.put(set[i], 0, y)
		b.h = y + set[i].h
		y = b.h + sectionGap + extra
	}
	return b, missing
}

func gaps(n int) float64 { return sectionGap * float64(max(n-1, 0)) }

// admit drops the lowest ranks until the least heights fit.
func admit(all []section, h float64) (kept []section, missing []string) {
	for _, s := range all {
		if s.least > 0 {
			kept = append(kept, s)
		}
	}
	for len(kept) > 1 && leastOf(kept) > h {
		worst := 0
		for i, s := range kept {
			if s.rank >= kept[worst].rank {
				worst = i
			}
		}
		if kept[worst].name != "" {
			missing = append(missing, kept[worst].name)
		}
		kept = slices.Delete(kept, worst, worst+1)
	}
	slices.Sort(missing)
	return kept, missing
}

func leastOf(list []section) float64 {
	sum := gaps(len(list))
	for _, s := range list {
		sum += s.least
	}
	return sum
}

// allot gives every section its least height and shares the rest by the
// sections' shares of the page; what one does not want goes to the others.
func allot(list []section, h float64) []float64 {
	heights := make([]float64, len(list))
	rest := h
	for i, s := range list {
		heights[i] = s.least
		rest -= s.least
	}
	for rest > 0.5 {
		weight := 0.0
		for i, s := range list {
			if heights[i] < s.want {
				weight += s.share
			}
		}
		if weight == 0 {
			break
		}
		given := 0.0
		for i, s := range list {
			if heights[i] < s.want {
				more := min(rest*s.share/weight, s.want-heights[i])
				heights[i] += more
				given += more
			}
		}
		rest -= given
	}
	return heights
}
