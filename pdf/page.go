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
	small = 7.0
	note  = 9.0
	move  = 10.5
	big   = 14.5
	less  = 12.5 // tonight's where it has much to say, or half a page
)

const (
	sideMargin = 38.0
	topMargin  = 34.0
	footMargin = 30.0
	gutter     = 24.0 // between the halves of a page for both colours
	rail       = 72.0 // where the names of the sections stand
	sectionGap = 9.0  // before a section with a rule
	lightGap   = 3.0  // before one without
)

// layout is what the sections share while a page is made.
type layout struct {
	f   *faces
	rep *compare.Report
	w   float64 // between the margins
	h   float64
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
	l := &layout{f: f, rep: rep, w: p.Margin.W, h: p.Margin.H}
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

// fill puts head, body and foot on the page. The foot names what found no room,
// which is known only when the body is set: so it is set again when the foot
// grew.
func (l *layout) fill(p *Page) {
	head := l.head()
	foot := l.foot("")
	var body block
	for range 4 {
		body = l.body(p.Margin.H - head.h - foot.h - 2*sectionGap)
		again := l.foot(body.lost)
		if again.h <= foot.h {
			again.h = foot.h
			foot = again
			break
		}
		foot = again
	}
	var all block
	all.put(head, 0, 0)
	all.put(body, 0, head.h+sectionGap)
	all.put(foot, 0, p.Margin.H-foot.h)
	for _, it := range all.items {
		p.Items = append(p.Items, it.moved(p.Margin.X, p.Margin.Y))
	}
}

// body sets one side over the whole width, two beside each other.
func (l *layout) body(h float64) block {
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

// halves sets two colours in two columns, what is about the opponent under
// both: all of it, unless a column lacks room for its boards then.
func (l *layout) halves(h float64) block {
	about := (&column{l: l, w: l.w, rail: rail}).about()
	b := l.over(about, about.want, h)
	if b.worst > 0 && b.worst <= boardsRank && about.least < about.want {
		b = l.over(about, about.least, h)
	}
	return b
}

// over sets the columns over the section, which gets the height.
func (l *layout) over(under section, tall, h float64) block {
	b := block{h: h}
	room := h
	var lost []string
	if tall > 0 {
		tail := under.at(tall)
		room -= tail.h + sectionGap
		b.put(tail, 0, h-tail.h)
		if tail.lost != "" {
			lost = append(lost, tail.lost)
		}
	}
	w := (l.w - gutter) / 2
	for i := range l.rep.Sides[:2] {
		c := column{l: l, w: w, side: &l.rep.Sides[i], narrow: true}
		set := c.stack(append(c.sections(), c.write()), room)
		b.put(set, float64(i)*(w+gutter), 0)
		if set.lost != "" {
			lost = append(lost, "with "+colourName(c.side.MyColor)+": "+set.lost)
		}
		if set.worst > 0 && (b.worst == 0 || set.worst < b.worst) {
			b.worst = set.worst
		}
	}
	x := w + gutter/2
	b.add(Line{x, 0, x, room, 0.5, pale})
	b.lost = strings.Join(lost, "; ")
	return b
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
	fair  float64 // height that says the most of it; 0: the least
	want  float64 // height with all it has to say
	extra bool    // stands only where the others have their fair height
	last  bool    // grows beyond the fair height only by what the others leave
	light bool    // no rule: a line or two that belong to what stands above
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

// stack sets sections under each other in the height, and names what found no
// room.
func (c *column) stack(all []section, h float64) block {
	kept, out := admit(all, h)
	spare := h - gaps(kept)
	heights := allot(kept, spare)
	set := make([]block, len(kept))
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
	extra := stretch(kept, spare)
	var b block
	var missing []string
	for _, s := range out {
		b.worst = s.rank
		if s.name != writing {
			missing = append(missing, s.name)
		}
	}
	for i := range set {
		if i > 0 {
			b.h += kept[i].gap()
			if !kept[i].light {
				b.h += extra
			}
		}
		b.put(set[i], 0, b.h)
		b.h += set[i].h
		if set[i].lost != "" {
			missing = append(missing, set[i].lost)
		}
	}
	b.lost = strings.Join(missing, ", ")
	return b
}

// gap is the air before a section.
func (s section) gap() float64 {
	if s.light {
		return lightGap
	}
	return sectionGap
}

// gaps is the air between sections.
func gaps(list []section) float64 {
	sum := 0.0
	for i, s := range list {
		if i > 0 {
			sum += s.gap()
		}
	}
	return sum
}

// stretch shares a small rest out between the sections.
func stretch(list []section, spare float64) float64 {
	n := 0
	for i, s := range list {
		if i > 0 && !s.light {
			n++
		}
	}
	if n == 0 || spare <= 0 {
		return 0
	}
	return min(spare/float64(n), sectionGap)
}

// admit drops the lowest ranks until the least heights fit, and what is extra
// until the others have their fair ones; these are out, the highest rank first.
func admit(all []section, h float64) (kept, out []section) {
	for _, s := range all {
		if s.least > 0 {
			kept = append(kept, s)
		}
	}
	for len(kept) > 1 {
		worst := 0
		for i, s := range kept {
			if s.rank >= kept[worst].rank {
				worst = i
			}
		}
		if leastOf(kept, kept[worst].extra) <= h {
			break
		}
		out = append(out, kept[worst])
		kept = slices.Delete(kept, worst, worst+1)
	}
	return kept, out
}

// leastOf is the height that sections need, the fair one or the least.
func leastOf(list []section, fair bool) float64 {
	sum := gaps(list)
	for _, s := range list {
		if fair && !s.extra {
			sum += max(s.least, s.fair)
		} else {
			sum += s.least
		}
	}
	return sum
}

// allot gives every section its least height, then what is fair, then what it
// wants; where that is more than there is, by the sections' shares of the page.
func allot(list []section, h float64) []float64 {
	heights := make([]float64, len(list))
	for i, s := range list {
		heights[i] = s.least
		h -= s.least
	}
	h = pour(list, heights, h, func(s section) float64 { return max(s.least, s.fair) })
	pour(list, heights, h, func(s section) float64 {
		if s.last {
			return max(s.least, s.fair)
		}
		return s.want
	})
	return heights
}

// pour raises the heights to their goals as far as the rest goes, and returns
// what is left of it.
func pour(list []section, heights []float64, rest float64, goal func(section) float64) float64 {
	for rest > 0.5 {
		weight := 0.0
		for i, s := range list {
			if heights[i] < goal(s) {
				weight += s.share
			}
		}
		if weight == 0 {
			break
		}
		given := 0.0
		for i, s := range list {
			if heights[i] < goal(s) {
				more := min(rest*s.share/weight, goal(s)-heights[i])
				heights[i] += more
				given += more
			}
		}
		rest -= given
	}
	return rest
}
