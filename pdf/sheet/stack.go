package sheet

import "slices"

// Row is one thing a part says. It can be set in fewer lines than the most it takes,
// then it ends with an ellipsis.
type Row struct {
	Most   int
	Fewest int     // lines in which it still makes sense; 0: one
	Weight float64 // what is lost with it, for who names it
	Set    func(lines int) Block
}

func (r Row) whole() Block { return r.Set(r.Most) }

func (r Row) fewest() int { return min(max(1, r.Fewest), max(1, r.Most)) }

// Part is one part of a column: rows to be set, or something that draws itself.
// Heights include its rule and its title.
type Part struct {
	Title string
	Rank  int     // the lower stays when there is no room for all
	Share float64 // of the page, when all want more than there is

	Rows  []Row
	Short int                   // so many rows stand in the least height; 0: one
	Fair  int                   // so many rows stand in the height that is enough; 0: one
	Even  bool                  // all rows in fewer lines before one is left out
	More  func(lost int) string // the last rows in a line of their own; nil: they are lost

	Extra  bool // stands only where the others have enough
	Last   bool // grows beyond what is enough only by what the others leave
	Light  bool // no rule: a line or two that belong to what stands above
	Airy   bool // what follows keeps its distance, if it be light
	Beside bool // even in a narrow column the title stands before the first line
	InText bool // the title opens the text
	Silent bool // nothing is lost with it

	Least  float64 // height under which it makes no sense; 0: nothing to say
	Enough float64 // height that says the most of it; 0: the least
	Want   float64 // height with all it has to say
	Out    []Loss  // what is lost with it; nil: it by its title
	At     func(h float64) Block
}

// Loss is something that found no room.
type Loss struct {
	Half    int // 1 or 2 for a half of the page, 0 for all of it
	Title   string
	Count   int     // so many rows of it; 0: all of it, unless clauses are named
	Weight  float64 // of the rows together
	Clauses int     // so many clauses of a row that stands
}

// Joined is a part and the one under it as one of the first one's rank: it is
// the second that has what room there is, and that goes where there is none.
func Joined(first, second Part, air float64) Part {
	if first.Least == 0 || second.Least == 0 {
		if first.Least == 0 {
			return second
		}
		return first
	}
	s := first
	s.Share += second.Share
	s.Least += air + second.Least
	s.Enough = first.Least + air + second.Enough
	s.Want += air + second.Want
	s.At = func(h float64) Block {
		b := first.At(max(first.Least, h-air-second.Least))
		rest := h - b.H - air
		if rest < second.Least-0.01 {
			b.Lost = append(b.Lost, second.losses()...)
			return b
		}
		under := second.At(rest)
		b.Put(under, 0, b.H+air)
		b.H += air + under.H
		b.Lost = append(b.Lost, under.Lost...)
		return b
	}
	return s
}

// Stack sets parts under each other in the height, air between them, and names what found no
// room.
func Stack(all []Part, h, air float64) Block {
	kept, out := admit(all, h, air)
	spare := h - gaps(kept, air)
	heights := allot(kept, spare)
	set := make([]Block, len(kept))
	for i, s := range kept {
		set[i] = s.At(heights[i])
		spare -= set[i].H
	}
	for _, last := range []bool{false, true} { // what one could not use serves another
		for i, s := range kept {
			if s.Last == last && set[i].H < s.Want {
				before := set[i].H
				set[i] = s.At(before + spare)
				spare -= set[i].H - before
			}
		}
	}
	extra := stretch(kept, spare)
	var b Block
	for _, s := range out {
		b.Lost = append(b.Lost, s.losses()...)
	}
	for i := range set {
		if i > 0 {
			b.H += kept[i].gap(kept[i-1], air)
			if !kept[i].Light {
				b.H += extra
			}
		}
		b.Put(set[i], 0, b.H)
		b.H += set[i].H
		b.Lost = append(b.Lost, set[i].Lost...)
	}
	return b
}

// losses are what is lost where a part finds no room.
func (p Part) losses() []Loss {
	switch {
	case p.Silent:
		return nil
	case p.Out != nil:
		return p.Out
	}
	return []Loss{{Title: p.Title}}
}

// gap is the air before a part that follows another.
func (p Part) gap(before Part, air float64) float64 {
	if p.Light && !before.Airy {
		return lightGap
	}
	return air
}

// gaps is the air between parts.
func gaps(list []Part, air float64) float64 {
	sum := 0.0
	for i, s := range list {
		if i > 0 {
			sum += s.gap(list[i-1], air)
		}
	}
	return sum
}

// stretch shares a small rest out between the parts.
func stretch(list []Part, spare float64) float64 {
	n := 0
	for i, s := range list {
		if i > 0 && !s.Light {
			n++
		}
	}
	if n == 0 || spare <= 0 {
		return 0
	}
	return min(spare/float64(n), mostGap)
}

// admit drops the lowest ranks until the least heights fit, and what is extra
// until the others have their fair ones; these are out, the highest rank first.
func admit(all []Part, h, air float64) (kept, out []Part) {
	for _, s := range all {
		if s.Least > 0 {
			kept = append(kept, s)
		}
	}
	for len(kept) > 1 {
		worst := 0
		for i, s := range kept {
			if s.Rank >= kept[worst].Rank {
				worst = i
			}
		}
		if leastOf(kept, kept[worst].Extra, air) <= h {
			break
		}
		out = append(out, kept[worst])
		kept = slices.Delete(kept, worst, worst+1)
	}
	return kept, out
}

// leastOf is the height that parts need, the fair one or the least.
func leastOf(list []Part, fair bool, air float64) float64 {
	sum := gaps(list, air)
	for _, s := range list {
		if fair && !s.Extra {
			sum += max(s.Least, s.Enough)
		} else {
			sum += s.Least
		}
	}
	return sum
}

// allot gives every part its least height, then by rank what is fair, then
// what it wants; where that is more than there is, by the parts' shares of
// the page.
func allot(list []Part, h float64) []float64 {
	heights := make([]float64, len(list))
	byRank := make([]int, len(list))
	for i, s := range list {
		heights[i] = s.Least
		h -= s.Least
		byRank[i] = i
	}
	slices.SortStableFunc(byRank, func(a, b int) int { return list[a].Rank - list[b].Rank })
	for _, i := range byRank {
		more := max(0, min(list[i].Enough-heights[i], h))
		heights[i] += more
		h -= more
	}
	pour(list, heights, h, func(p Part) float64 {
		if p.Last {
			return max(p.Least, p.Enough)
		}
		return p.Want
	})
	return heights
}

// pour raises the heights to their goals as far as the rest goes.
func pour(list []Part, heights []float64, rest float64, goal func(Part) float64) {
	for rest > 0.5 {
		weight := 0.0
		for i, s := range list {
			if heights[i] < goal(s) {
				weight += s.Share
			}
		}
		if weight == 0 {
			break
		}
		given := 0.0
		for i, s := range list {
			if heights[i] < goal(s) {
				more := min(rest*s.Share/weight, goal(s)-heights[i])
				heights[i] += more
				given += more
			}
		}
		rest -= given
	}
}

// Air before a light part, and the most that is put between others where there is room.
const (
	lightGap = 3.0
	mostGap  = 9.0
)
