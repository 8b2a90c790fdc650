package pdf

import (
	"fmt"
	"slices"
	"strings"

	"foreply/compare/fact"
	"foreply/compare/words"
)

// Boxes to write an answer in, in points.
const (
	boxWide  = 135.0
	boxTall  = 24.0
	boxSmall = 14.0 // height in a narrow column, where it is as wide as an answer
)

// unanswered are their likely moves without an answer, with room for one.
func (c *column) unanswered() section {
	var list []fact.Unanswered
	for _, u := range c.side.Unanswered {
		if len(u.Line) > 0 {
			list = append(list, u)
		}
	}
	s := section{name: "no answer yet", rank: unansweredRank, share: 9, inText: c.narrow}
	rows := listing{fair: 2, lost: func(n int) string {
		sum := 0.0
		for _, u := range list[len(list)-n:] {
			sum += u.Reach
		}
		return fmt.Sprintf("%s (%d more, together %s)", s.name, n, words.OneIn(sum))
	}}
	for i, u := range list {
		var name []word
		if i == 0 && s.inText {
			name = c.l.f.own(s.name, ink{note, true, black})
		}
		rows.entries = append(rows.entries, entry{c.openLines(), func(lines int) block { return c.open(u, name, lines) }})
	}
	return c.rows(s, rows)
}

// openLines is the most that one unanswered move takes.
func (c *column) openLines() int {
	if c.narrow {
		return 4
	}
	return 3
}

// open is one unanswered move: the section's name if it is to stand here, the way there, the facts in the lines after the
// first, and a box to write in.
func (c *column) open(u fact.Unanswered, name []word, lines int) block {
	box := Box{c.inner() - boxWide, 1, boxWide, boxTall}
	w := c.inner() - boxWide - 10
	if c.narrow {
		w = c.inner() - answerCol - colGap
		box = Box{c.inner() - answerCol, 0.5, answerCol, boxSmall}
	}
	b := setLines([]line{c.wayTo(name, u.Line, w)})
	if lines > 1 {
		if c.narrow {
			w = c.inner()
			b.h += underBox
		}
		p := c.facts(u, w, lines-1)
		b.put(p, 0, b.h)
		b.h += p.h
	}
	b.add(Rect{Box: box, Width: 1.2, Stroke: black})
	b.h = max(b.h, box.Y+box.H) + 4
	return b
}

// noteOf is the user's note on the way, unless the page has it below anyway.
func (c *column) noteOf(u fact.Unanswered) string {
	if u.Note == c.side.Surprise.Note {
		return ""
	}
	return u.Note
}

// wayTo is the name and a line that ends with its last move in bold: all of it behind the
// first fork's stem, or as much of its end as fits.
func (c *column) wayTo(name []word, san []string, w float64) line {
	f := c.l.f
	last := len(san) - 1
	from := min(c.shared(san), last)
	for i := from; ; i++ {
		words := f.lineTo(san, i, dark)
		if i > from {
			words = append(f.own("…", ink{move, false, dark}), words...)
		}
		lines, whole := f.breakLines(slices.Concat(name, words), w, 1)
		if whole || i == last {
			return lines[0]
		}
	}
}

// facts tells as much of what is known of the move as fits without breaking off,
// but for the user's own note.
func (c *column) facts(u fact.Unanswered, w float64, lines int) block {
	f := c.l.f
	words := f.clauses(append(openParts(u), setUpWords(u)), ink{note, false, black}, w, lines)
	return f.para(append(words, f.own(c.noteOf(u), ink{note, false, dark})...), w, lines)
}

// openParts are the clauses of its sentence, what others played and the ways back.
func openParts(u fact.Unanswered) []string {
	parts := append(strings.Split(u.Text, "; "), words.Met(u.Others, len(u.Line)))
	if len(u.Return) > 0 {
		parts = append(parts, words.Alternatives(u.Return, len(u.Line))+" leads back into your book")
	}
	return parts
}

// setUpWords are what the user usually plays in that family.
func setUpWords(u fact.Unanswered) string {
	if len(u.SetUp) == 0 || u.SetUpPly < 1 || u.SetUpPly > len(u.Line) {
		return ""
	}
	after := "after " + words.LastMove(u.Line[:u.SetUpPly])
	if len(u.SetUp) == 1 {
		return "you usually play " + u.SetUp[0] + " " + after
	}
	return "your usual set-up " + after + ": " + strings.Join(u.SetUp, ", ")
}

// shared is how many half-moves of the line stand in the first fork's stem,
// which the page has printed once.
func (c *column) shared(line []string) int {
	if len(c.side.Forks) == 0 {
		return 0
	}
	return common(c.side.Forks[0].Stem, line)
}
