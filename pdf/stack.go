package pdf

import (
	"slices"

	"foreply/compare/fact"
)

// column is the strip of the page that one side's sections stand in.
type column struct {
	l      *layout
	w      float64
	rail   float64
	side   *fact.Side
	narrow bool
}

// inner is the width beside the rail.
func (c *column) inner() float64 { return c.w - c.rail }

// section is one part of a column. Heights include its rule and its name.
type section struct {
	name   string
	rank   int     // the lower stays when there is no room for all
	share  float64 // of the page, when all want more than there is
	least  float64 // height under which it makes no sense; 0: nothing to say
	fair   float64 // height that says the most of it; 0: the least
	want   float64 // height with all it has to say
	extra  bool    // stands only where the others have their fair height
	last   bool    // grows beyond the fair height only by what the others leave
	light  bool    // no rule: a line or two that belong to what stands above
	beside bool    // even in a narrow column the name stands before the first line
	inText bool    // the name opens the text
	out    []loss  // names it when it finds no room; nil: by its name
	at     func(h float64) block
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
func (c *column) sections() []section {
	return []section{c.tonight(), c.lines(), c.boards(), c.unanswered(),
		c.surprise(), c.traps(), c.changes(), c.orders(), c.options(), c.mistakes(), c.know()}
}

// pair joins the same section of two columns into one over both.
func (c *column) pair(left, right section) section {
	s := left
	if left.least == 0 {
		s = right
	}
	s.least = max(left.least, right.least)
	s.fair = max(left.fair, right.fair)
	s.want = max(left.want, right.want)
	s.out = nil
	for i, one := range []section{left, right} {
		if one.least > 0 {
			s.out = append(s.out, loss{i + 1, one.name})
		}
	}
	s.at = func(h float64) block {
		var b block
		for i, one := range []section{left, right} {
			if one.least == 0 {
				continue
			}
			set := one.at(h)
			b.put(set, float64(i)*(c.w+gutter), 0)
			b.h = max(b.h, set.h)
			for _, o := range set.lost {
				b.lost = append(b.lost, loss{i + 1, o.what})
			}
		}
		x := c.w + gutter/2
		b.add(Line{x, 0, x, b.h, 0.5, pale})
		return b
	}
	return s
}

// joined is a section and the one under it as one of the first one's rank: it is
// the second that has what room there is, and that goes where there is none.
func joined(first, second section, air float64) section {
	if first.least == 0 || second.least == 0 {
		if first.least == 0 {
			return second
		}
		return first
	}
	s := first
	s.share += second.share
	s.least += air + second.least
	s.fair = first.least + air + second.fair
	s.want += air + second.want
	s.at = func(h float64) block {
		b := first.at(max(first.least, h-air-second.least))
		rest := h - b.h - air
		if rest < second.least-0.01 {
			b.lost = append(b.lost, second.losses()...)
			return b
		}
		under := second.at(rest)
		b.put(under, 0, b.h+air)
		b.h += air + under.h
		b.lost = append(b.lost, under.lost...)
		return b
	}
	return s
}

// stack sets sections under each other in the height, and names what found no
// room.
func (l *layout) stack(all []section, h float64) block {
	air := l.air()
	kept, out := admit(all, h, air)
	spare := h - gaps(kept, air)
	heights := allot(kept, spare)
	set := make([]block, len(kept))
	for i, s := range kept {
		set[i] = s.at(heights[i])
		spare -= set[i].h
	}
	for _, last := range []bool{false, true} { // what one could not use serves another
		for i, s := range kept {
			if s.last == last && set[i].h < s.want {
				before := set[i].h
				set[i] = s.at(before + spare)
				spare -= set[i].h - before
			}
		}
	}
	extra := stretch(kept, spare)
	var b block
	for _, s := range out {
		b.lost = append(b.lost, s.losses()...)
	}
	for i := range set {
		if i > 0 {
			b.h += kept[i].gap(kept[i-1], air)
			if !kept[i].light {
				b.h += extra
			}
		}
		b.put(set[i], 0, b.h)
		b.h += set[i].h
		b.lost = append(b.lost, set[i].lost...)
	}
	return b
}

// losses names a section that found no room; room to write needs no mention.
func (s section) losses() []loss {
	switch {
	case s.rank == writeRank:
		return nil
	case s.out != nil:
		return s.out
	}
	return []loss{{what: s.name}}
}

// gap is the air before a section that follows another: boards want more of it.
func (s section) gap(before section, air float64) float64 {
	if s.light && before.rank != boardsRank {
		return lightGap
	}
	return air
}

// gaps is the air between sections.
func gaps(list []section, air float64) float64 {
	sum := 0.0
	for i, s := range list {
		if i > 0 {
			sum += s.gap(list[i-1], air)
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
func admit(all []section, h, air float64) (kept, out []section) {
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
		if leastOf(kept, kept[worst].extra, air) <= h {
			break
		}
		out = append(out, kept[worst])
		kept = slices.Delete(kept, worst, worst+1)
	}
	return kept, out
}

// leastOf is the height that sections need, the fair one or the least.
func leastOf(list []section, fair bool, air float64) float64 {
	sum := gaps(list, air)
	for _, s := range list {
		if fair && !s.extra {
			sum += max(s.least, s.fair)
		} else {
			sum += s.least
		}
	}
	return sum
}

// allot gives every section its least height, then by rank what is fair, then
// what it wants; where that is more than there is, by the sections' shares of
// the page.
func allot(list []section, h float64) []float64 {
	heights := make([]float64, len(list))
	byRank := make([]int, len(list))
	for i, s := range list {
		heights[i] = s.least
		h -= s.least
		byRank[i] = i
	}
	slices.SortStableFunc(byRank, func(a, b int) int { return list[a].rank - list[b].rank })
	for _, i := range byRank {
		more := max(0, min(list[i].fair-heights[i], h))
		heights[i] += more
		h -= more
	}
	pour(list, heights, h, func(s section) float64 {
		if s.last {
			return max(s.least, s.fair)
		}
		return s.want
	})
	return heights
}

// pour raises the heights to their goals as far as the rest goes.
func pour(list []section, heights []float64, rest float64, goal func(section) float64) {
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
}
