package pdf

// Above the text of a section: the rule and some air; in a narrow column its
// name as well.
const (
	ruleGap  = 6.0
	nameLine = note*leading + 2
)

// over is the height that the frame takes.
func (c *column) over() float64 {
	if c.narrow {
		return ruleGap + nameLine
	}
	return ruleGap
}

// frame puts the rule and the name to a section's text.
func (c *column) frame(name string, content block) block {
	var b block
	b.add(Line{0, 0, c.w, 0, 0.5, pale})
	k := ink{note, true, black}
	if c.narrow {
		b.add(c.l.f.label(name, 0, ruleGap+note*0.95, c.w, k))
	} else {
		b.add(c.l.f.label(name, 0, ruleGap+note*0.98, c.rail-8, k))
	}
	b.put(content, c.rail, c.over())
	b.h = c.over() + content.h
	return b
}

// rows makes a section of rows, of which at least the first few must fit. more
// says what stands there for the rest; it may be nil when all must be shown.
func (c *column) rows(name string, rank int, share float64, few int, rows []block, more func(k int) string) section {
	s := section{name: name, rank: rank, share: share}
	if len(rows) == 0 {
		return s
	}
	rest := small * leading
	full := 0.0
	for i, r := range rows {
		full += r.h
		if i+1 == min(few, len(rows)) {
			s.least = full
		}
	}
	if few < len(rows) {
		s.least = min(s.least+rest, full)
	}
	s.least += c.over()
	s.want = full + c.over()
	s.at = func(h float64) block {
		return c.frame(name, c.fit(rows, h-c.over()+0.01, rest, more))
	}
	return s
}

// fit takes the rows that fit, with a line for the others.
func (c *column) fit(rows []block, h, rest float64, more func(k int) string) block {
	full := 0.0
	for _, r := range rows {
		full += r.h
	}
	var b block
	for i, r := range rows {
		if full > h && b.h+r.h+rest > h {
			k := ink{small, false, dark}
			b.add(c.l.f.label(more(len(rows)-i), 0, b.h+small*0.95, c.inner(), k))
			b.h += rest
			return b
		}
		b.put(r, 0, b.h)
		b.h += r.h
	}
	return b
}
