package pdf

import (
	"fmt"
	"slices"
)

// Above the text of a section: the rule and some air; in a narrow column its
// name as well. A light section has no rule, and in a narrow column its name
// opens the text.
const (
	ruleGap  = 5.0
	nameLine = note*leading + 1
)

// over is the height that the frame takes.
func (c *column) over(s section) float64 {
	switch {
	case s.light:
		return 0
	case c.narrow && !s.beside && !s.inText:
		return ruleGap + nameLine
	}
	return ruleGap
}

// besideName is the room for a name that stands before the first line of its
// section in a narrow column, in points.
const besideName = 34.0

// frame puts the rule and the name to a section's text.
func (c *column) frame(s section, content block) block {
	var b block
	over := c.over(s)
	if !s.light {
		b.add(Line{0, 0, c.w, 0, 0.5, pale})
	}
	name := ink{note, true, black}
	switch {
	case s.inText:
	case !c.narrow || s.beside:
		base := over + firstBase(content, note*0.97)
		b.add(c.l.f.label(s.name, 0, base, max(c.rail-4, besideName-4), name))
	case !s.light:
		b.add(c.l.f.label(s.name, 0, ruleGap+note*0.97, c.w, name))
	}
	b.put(content, c.rail, over)
	b.h = over + content.h
	b.lost = content.lost
	return b
}

// firstBase is the baseline a block's text begins on, which its name shares.
func firstBase(b block, otherwise float64) float64 {
	for _, it := range b.items {
		if t, ok := it.(Run); ok && t.Size > small {
			return t.Y
		}
	}
	return otherwise
}

// entry is one thing a section says; it can be set in fewer lines than the most
// it takes, then it ends with an ellipsis.
type entry struct {
	most int
	set  func(lines int) block
}

func (e entry) whole() block { return e.set(e.most) }

// listing is what a section lists, and how it names what found no room.
type listing struct {
	entries []entry
	fair    int                // so many stand in the section's fair height
	even    bool               // all in fewer lines before one is left out
	more    func(n int) string // the last n in a line of their own; nil: the foot names them
	lost    func(n int) string // the last n for the foot; nil: by their number
}

// texts makes a section of sentences. Where it is light in a narrow column, its
// name opens the first.
func (c *column) texts(s section, most int, list [][]word) section {
	l := listing{fair: 1}
	for i, words := range list {
		if i == 0 && s.light && c.narrow {
			words = append(c.l.f.own(s.name+":", ink{note, true, black}), words...)
		}
		l.entries = append(l.entries, entry{most, func(lines int) block { return setLines(c.l.f.breakClause(words, c.inner(), lines)) }})
	}
	return c.rows(s, l)
}

// rows makes a section of a listing.
func (c *column) rows(s section, l listing) section {
	n := len(l.entries)
	if n == 0 {
		return s
	}
	rest := 0.0
	if l.more != nil && n > 1 {
		rest = note * leading
	}
	over := c.over(s)
	s.least = over + rest + l.entries[0].set(1).h
	for i, e := range l.entries {
		s.want += e.whole().h
		switch {
		case l.even:
			s.fair += e.set(1).h
		case i < l.fair:
			s.fair = over + rest + s.want
		}
	}
	if l.even {
		s.fair += over
	}
	s.want += over
	s.least = min(s.least, s.want)
	s.fair = max(s.least, min(s.fair, s.want))
	s.at = func(h float64) block {
		return c.frame(s, c.fit(s, l, h-over+0.01, rest))
	}
	return s
}

// fit takes the entries that fit; the last of them may be cut short.
func (c *column) fit(s section, l listing, h, rest float64) block {
	n := len(l.entries)
	if l.even {
		l.entries = slices.Clone(l.entries)
		for most := l.entries[n-1].most; most > 1 && tall(l.entries) > h; {
			most--
			for i := range l.entries {
				l.entries[i].most = min(l.entries[i].most, most)
			}
		}
	}
	if tall(l.entries) <= h {
		rest = 0
	}
	var b block
	for i, e := range l.entries {
		row := e.whole()
		for lines := e.most - 1; b.h+row.h+rest > h && lines > 0; lines-- {
			row = e.set(lines)
		}
		if b.h+row.h+rest > h && i > 0 {
			return c.leave(s, l, b, n-i)
		}
		b.put(row, 0, b.h)
		b.h += row.h
		b.lost = append(b.lost, row.lost...)
	}
	return b
}

// tall is the height of all entries.
func tall(entries []entry) float64 {
	sum := 0.0
	for _, e := range entries {
		sum += e.whole().h
	}
	return sum
}

// leave names the last k entries, which found no room.
func (c *column) leave(s section, l listing, b block, k int) block {
	switch {
	case l.more != nil:
		b.add(c.l.f.label(l.more(k), 0, b.h+note*0.97, c.inner(), ink{note, true, black}))
		b.h += note * leading
	case l.lost != nil:
		b.lost = []loss{{what: l.lost(k)}}
	default:
		b.lost = []loss{{what: moreOf(s.name, k)}}
	}
	return b
}

// moreOf names what a section left out.
func moreOf(name string, n int) string { return fmt.Sprintf("%s (%d more)", name, n) }
