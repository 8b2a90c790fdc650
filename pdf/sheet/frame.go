package sheet

import "slices"

// Column is a strip of the page that parts stand in under each other.
type Column struct {
	F      *Faces
	W      float64
	Rail   float64 // width at the left where titles stand; 0: they stand above their parts
	Narrow bool    // it has no rail because it is narrow: light parts have their title in the text
	Framed bool    // light parts have a rule and a title above like others
	Fewest int     // lines in which a row of text still makes sense; 0: one
	Note   float64 // size of titles and sentences
	Small  float64 // the smallest size of type
}

// Inner is the width beside the rail.
func (c *Column) Inner() float64 { return c.W - c.Rail }

// RuleGap is the air between the rule over a part and what stands under it, in points.
const RuleGap = 5.0

// TitleLine is the height of a title above its part.
func (c *Column) TitleLine() float64 { return c.Note*Leading + 1 }

// Over is the height that the frame takes above a part: the rule and some air; where
// there is no rail its title as well. A light part has no rule.
func (c *Column) Over(p Part) float64 {
	switch {
	case c.light(p):
		return 0
	case c.Narrow && !p.Beside && !p.InText:
		return RuleGap + c.TitleLine()
	}
	return RuleGap
}

// light says whether a part has neither rule nor title in the column.
func (c *Column) light(p Part) bool { return p.Light && !c.Framed }

// BesideTitle is the room for a title that stands before the first line of its
// part in a narrow column, in points.
const BesideTitle = 34.0

// titleBase is the baseline of a title that stands alone, as a share of its size.
const titleBase = 0.97

// Frame puts the rule and the title to a part's text.
func (c *Column) Frame(p Part, content Block) Block {
	var b Block
	over := c.Over(p)
	if !c.light(p) {
		b.Add(Line{X2: c.W, Width: 0.5, Gray: Pale})
	}
	name := Ink{Size: c.Note, Bold: true}
	switch {
	case p.InText:
	case !c.Narrow || p.Beside:
		base := over + FirstBase(content, c.Small, c.Note*titleBase)
		b.Add(c.F.Label(p.Title, 0, base, max(c.Rail-4, BesideTitle-4), name))
	case !c.light(p):
		b.Add(c.F.Label(p.Title, 0, RuleGap+c.Note*titleBase, c.W, name))
	}
	b.Put(content, c.Rail, over)
	b.H = over + content.H
	b.Lost = content.Lost
	return b
}

// FirstBase is the baseline that a block's first text above the small size stands on,
// which its title shares.
func FirstBase(b Block, small, otherwise float64) float64 {
	for _, it := range b.Items {
		if t, ok := it.(Run); ok && t.Size > small {
			return t.Y
		}
	}
	return otherwise
}

// Texts gives a part rows of text, each of as many lines at most. Where it is light in
// a narrow column, its title opens the first.
func (c *Column) Texts(p Part, most int, list [][]Word) Part {
	for i, words := range list {
		if i == 0 && c.light(p) && c.Narrow {
			words = append(c.F.Own(p.Title+":", Ink{Size: c.Note, Bold: true}), words...)
		}
		p.Rows = append(p.Rows, Row{Most: most, Fewest: c.Fewest, Set: func(lines int) Block {
			return SetLines(c.F.BreakClause(words, c.Inner(), lines))
		}})
	}
	return p
}

// Measure finds the heights of a part from its rows; a part that draws itself stays
// as it is.
func (c *Column) Measure(p Part) Part {
	n := len(p.Rows)
	if n == 0 {
		return p
	}
	p.Least, p.Enough, p.Want = 0, 0, 0
	rest := 0.0
	if p.More != nil && n > 1 {
		rest = c.Note * Leading
	}
	over := c.Over(p)
	for _, r := range p.Rows[:min(n, max(1, p.Short))] {
		p.Least += r.Set(r.fewest()).H
	}
	p.Least += over + rest
	enough := max(1, p.Fair, p.Short)
	for i, r := range p.Rows {
		p.Want += r.whole().H
		switch {
		case p.Even:
			p.Enough += r.Set(r.fewest()).H
		case i < enough:
			p.Enough = over + rest + p.Want
		}
	}
	if p.Even {
		p.Enough += over
	}
	p.Want += over
	p.Least = min(p.Least, p.Want)
	p.Enough = max(p.Least, min(p.Enough, p.Want))
	p.At = func(h float64) Block {
		return c.Frame(p, c.fit(p, h-over+0.01, rest))
	}
	return p
}

// fit takes the rows that fit; the last of them may be cut short.
func (c *Column) fit(p Part, h, rest float64) Block {
	rows := p.Rows
	n := len(rows)
	if p.Even {
		rows = slices.Clone(rows)
		for most := rows[n-1].Most; most > 1 && tall(rows) > h; {
			most--
			for i := range rows {
				rows[i].Most = max(rows[i].fewest(), min(rows[i].Most, most))
			}
		}
	}
	if tall(rows) <= h {
		rest = 0
	}
	var b Block
	for i, r := range rows {
		row := r.whole()
		for lines := r.Most - 1; b.H+row.H+rest > h && lines >= r.fewest(); lines-- {
			row = r.Set(lines)
		}
		if b.H+row.H+rest > h && i > 0 {
			return c.leave(p, b, rows[i:])
		}
		b.Put(row, 0, b.H)
		b.H += row.H
		b.Lost = append(b.Lost, row.Lost...)
	}
	return b
}

// tall is the height of all rows.
func tall(rows []Row) float64 {
	sum := 0.0
	for _, r := range rows {
		sum += r.whole().H
	}
	return sum
}

// leave names the last rows, which found no room: in a line of their own, else for the
// foot.
func (c *Column) leave(p Part, b Block, rows []Row) Block {
	if p.More != nil {
		b.Add(c.F.Label(p.More(len(rows)), 0, b.H+c.Note*titleBase, c.Inner(), Ink{Size: c.Note, Bold: true}))
		b.H += c.Note * Leading
		return b
	}
	out := Loss{Title: p.Title, Count: len(rows)}
	for _, r := range rows {
		out.Weight += r.Weight
	}
	b.Lost = []Loss{out}
	return b
}

// Pair joins the same part of two columns, which stand beside each other with a
// gutter between them, into one over both.
func (c *Column) Pair(left, right Part, gutter float64) Part {
	s := left
	if left.Least == 0 {
		s = right
	}
	s.Least = max(left.Least, right.Least)
	s.Enough = max(left.Enough, right.Enough)
	s.Want = max(left.Want, right.Want)
	s.Out = nil
	for i, one := range []Part{left, right} {
		if one.Least > 0 {
			s.Out = append(s.Out, Loss{Half: i + 1, Title: one.Title})
		}
	}
	s.At = func(h float64) Block {
		var b Block
		for i, one := range []Part{left, right} {
			if one.Least == 0 {
				continue
			}
			set := one.At(h)
			b.Put(set, float64(i)*(c.W+gutter), 0)
			b.H = max(b.H, set.H)
			for _, o := range set.Lost {
				o.Half = i + 1
				b.Lost = append(b.Lost, o)
			}
		}
		x := c.W + gutter/2
		b.Add(Line{X1: x, X2: x, Y2: b.H, Width: 0.5, Gray: Pale})
		return b
	}
	return s
}
