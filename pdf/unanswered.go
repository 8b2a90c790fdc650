package pdf

import "foreply/compare"

// unanswered are their likely moves without an answer, with room for one.
func (c *column) unanswered() section {
	var rows []block
	for _, u := range c.side.Unanswered {
		rows = append(rows, c.open(u))
	}
	fair := height(rows[:min(2, len(rows))]) + c.over(false)
	return c.rows(section{name: "no answer yet", rank: 4, share: 9, fair: fair}, 1, rows, nil)
}

// open is one unanswered move: the way there, the facts, and a box to write in.
func (c *column) open(u compare.Unanswered) block {
	f := c.l.f
	n := len(u.Line)
	if n == 0 {
		return block{}
	}
	from := min(c.shared(u.Line), n-1)
	words := f.lineTo(u.Line, from, dark)
	box := c.w * 0.26
	w := c.inner() - box - 10
	if c.narrow {
		w = c.inner()
	}
	b := f.para(words, w, 2)
	facts := append(f.say(openText(u), ink{note, false, black}), f.own(u.Note, ink{note, false, dark})...)
	p := f.para(facts, w, 2)
	b.put(p, 0, b.h)
	b.h += p.h
	if c.narrow {
		b.add(Rect{Box: Box{0, b.h + 2, w, 17}, Width: 1, Stroke: black})
		b.h += 25
		return b
	}
	b.add(Rect{Box: Box{c.inner() - box, 1, box, max(b.h-1, 24)}, Width: 1.2, Stroke: black})
	b.h = max(b.h, 25) + 4
	return b
}

// openText joins the sentence with what others played and the ways back.
func openText(u compare.Unanswered) string {
	parts := []string{u.Text}
	parts = append(parts, compare.MetWords(u.Others, len(u.Line)))
	if len(u.Return) > 0 {
		parts = append(parts, compare.Alternatives(u.Return, len(u.Line))+" leads back into your book")
	}
	return sentenceList(parts)
}

// shared is how many half-moves of the line stand in the first fork's stem,
// which the page has printed once.
func (c *column) shared(line []string) int {
	if len(c.side.Forks) == 0 {
		return 0
	}
	return common(c.side.Forks[0].Stem, line)
}
