package pdf

import "fmt"

// Above the text of a section: the rule and some air; in a narrow column its
// name as well. A light section has no rule, and in a narrow column its name
// opens the text.
const (
	ruleGap  = 5.0
	nameLine = note*leading + 1
)

// over is the height that the frame takes.
func (c *column) over(light bool) float64 {
	switch {
	case c.narrow:
		return ruleGap + nameLine
	case light:
		return 0
	}
	return ruleGap
}

// frame puts the rule and the name to a section's text.
func (c *column) frame(s section, content block) block {
	var b block
	over := c.over(s.light)
	top := 0.0
	if !s.light || c.narrow {
		b.add(Line{0, 0, c.w, 0, 0.5, pale})
		top = ruleGap
	}
	base := top + note*0.97
	if !c.narrow {
		base = over + firstBase(content, note*0.97)
	}
	b.add(c.l.f.label(s.name, 0, base, c.w, ink{note, true, black}))
	b.put(content, c.rail, over)
	b.h = over + content.h
	b.lost = content.lost
	return b
}

// firstBase is the baseline a block's text begins on, which its name shares.
func firstBase(b block, otherwise float64) float64 {
	for _, it := range b.items {
		if t, ok := it.(Run); ok {
			return t.Y
		}
	}
	return otherwise
}

// rows makes a section of rows, of which at least the first few must fit. What
// does not is named by more in a line of its own, or, where more is nil, in the
// page's foot.
func (c *column) rows(s section, few int, rows []block, more func(k int) string) section {
	if len(rows) == 0 {
		return s
	}
	rest := 0.0
	if more != nil {
		rest = note * leading
	}
	over := c.over(s.light)
	full := height(rows)
	s.least = full + over
	if few < len(rows) {
		s.least = min(height(rows[:few])+rest, full) + over
	}
	s.want = full + over
	s.fair = min(s.want, max(s.least, s.fair))
	s.at = func(h float64) block {
		return c.frame(s, c.fit(s.name, rows, h-over+0.01, rest, more))
	}
	return s
}

func height(rows []block) float64 {
	sum := 0.0
	for _, r := range rows {
		sum += r.h
	}
	return sum
}

// fit takes the rows that fit.
func (c *column) fit(name string, rows []block, h, rest float64, more func(k int) string) block {
	full := height(rows)
	var b block
	for i, r := range rows {
		if full > h && b.h+r.h+rest > h {
			if more == nil {
				b.lost = moreOf(name, len(rows)-i)
				return b
			}
			k := ink{note, true, black}
			b.add(c.l.f.label(more(len(rows)-i), 0, b.h+note*0.97, c.inner(), k))
			b.h += rest
			return b
		}
		b.put(r, 0, b.h)
		b.h += r.h
	}
	return b
}

// moreOf names what a section left out.
func moreOf(name string, n int) string { return fmt.Sprintf("%s (%d more)", name, n) }
