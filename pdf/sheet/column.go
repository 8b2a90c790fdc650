package sheet

import "slices"

// Column is a strip of the page that parts stand in under each other, each with a rule
// and its title above.
type Column struct {
	F       *Faces
	W       float64
	Size    float64 // of titles and sentences
	Leading float64 // from line to line
	Between float64 // air between the rows of a part
}

// ruleGap is the air between the rule over a part and its title, in points.
const ruleGap = 1.5

// over is the height that rule and title take above a part.
func (c *Column) over() float64 { return ruleGap + c.Leading }

// Frame puts the rule and the title to a part's content.
func (c *Column) Frame(p Part, content Block) Block {
	var b Block
	b.Add(Line{X2: c.W, Width: 0.6})
	base := ruleGap + c.baseline()
	title := c.F.Label(p.Title, 0, base, c.W, Ink{Size: c.Size, Bold: true})
	b.Add(title)
	for _, text := range p.Asides {
		aside := c.F.Label(text, title.W+c.Size/2, base, c.W, Ink{Size: c.Size})
		if aside.X+aside.W <= c.W {
			b.Add(aside)
			break
		}
	}
	b.Put(content, 0, c.over())
	b.H = c.over() + content.H
	b.Lost = content.Lost
	return b
}

// baseline is where a line of the column's text stands under its top.
func (c *Column) baseline() float64 {
	return c.Leading - (c.Leading-(Ascent+Descent)*c.Size)/2 - Descent*c.Size
}

// Lines sets lines of text at the column's distance.
func (c *Column) Lines(lines []TextLine) Block { return SetApart(lines, c.Leading) }

// Measure finds the heights of a part from its rows; a part that draws itself stays
// as it is.
func (c *Column) Measure(p Part) Part {
	n := len(p.Rows)
	if n == 0 {
		return p
	}
	p.Rows = slices.Clone(p.Rows)
	for i := range p.Rows {
		p.Rows[i].Set = onceEach(p.Rows[i].Set)
	}
	p.Least, p.Want = c.over(), c.over()+c.Between*float64(n-1)
	for i, r := range p.Rows {
		if i < max(1, p.Short) {
			p.Least += r.Set(r.fewest()).H
			if i > 0 {
				p.Least += c.Between
			}
		}
		p.Want += r.whole().H
	}
	p.At = func(h float64) Block { return c.Frame(p, c.fit(p, h-c.over()+0.01)) }
	return p
}

// onceEach sets a row once for each number of lines: finding its place asks again and again.
func onceEach(set func(lines int) Block) func(lines int) Block {
	have := map[int]Block{}
	return func(lines int) Block {
		b, ok := have[lines]
		if !ok {
			b = set(lines)
			have[lines] = b
		}
		return b
	}
}

// fit takes as many rows as stand in their fewest lines; what room is left they grow in,
// the first ones first.
func (c *Column) fit(p Part, h float64) Block {
	var set []Block
	used := 0.0
	for i, r := range p.Rows {
		row := r.Set(r.fewest())
		if i > 0 {
			row.H += c.Between
		}
		if used+row.H > h && i >= max(1, p.Short) {
			break
		}
		set = append(set, row)
		used += row.H
	}
	var b Block
	for i := range set {
		r, between := p.Rows[i], 0.0
		if i > 0 {
			between = c.Between
		}
		for lines := max(1, r.Most); lines > r.fewest(); lines-- {
			if taller := r.Set(lines); used-set[i].H+taller.H+between <= h {
				used += taller.H + between - set[i].H
				set[i] = taller
				set[i].H += between
				break
			}
		}
		b.Put(set[i], 0, b.H+between)
		b.H += set[i].H
		b.Lost = append(b.Lost, set[i].Lost...)
	}
	return c.leave(p, b, p.Rows[len(set):])
}

// leave counts the last rows, which found no room.
func (c *Column) leave(p Part, b Block, rows []Row) Block {
	if stand := len(p.Rows) - len(rows); len(rows) == 0 || p.Silent || p.Plenty > 0 && stand >= p.Plenty {
		return b
	}
	out := Loss{Title: p.Title, Count: len(rows)}
	for _, r := range rows {
		out.Weight += r.Weight
	}
	b.Lost = append(b.Lost, out)
	return b
}

// Sentence is a row that says a list of clauses in so many lines at most; those that go
// for want of room are among its losses. The first so many clauses stand in its fewest
// lines.
func (c *Column) Sentence(title string, clauses [][]Piece, st Style, must, most int) Row {
	row := Row{Most: most, Fewest: 1, Set: func(lines int) Block {
		words, lost := c.F.Clauses(clauses, st, c.W, lines)
		set, _ := c.F.Break(words, c.W, lines)
		b := c.Lines(set)
		if lost > 0 {
			b.Lost = []Loss{{Title: title, Clauses: lost}}
		}
		return b
	}}
	if must > 0 && len(clauses) > 0 {
		words, _ := c.F.Clauses(clauses[:min(must, len(clauses))], st, c.W, most)
		lines, _ := c.F.Break(words, c.W, most)
		row.Fewest = len(lines)
	}
	return row
}

// Ruled is a part of lines to write on, so far apart; it takes what room there is from a
// least height on, and nothing is lost with it.
func (c *Column) Ruled(title string, apart, least float64) Part {
	p := Part{Title: title, Silent: true, Want: 1e5}
	p.Least = max(least, c.over()+apart)
	p.At = func(h float64) Block {
		var b Block
		for y := apart; y <= h-c.over()+0.01; y += apart {
			b.Add(Line{Y1: y, X2: c.W, Y2: y, Width: 0.4, Gray: Pale, ToWrite: true})
			b.H = y
		}
		return c.Frame(p, b)
	}
	return p
}
