package pdf

import (
	"slices"
	"strings"

	"foreply/compare/fact"
	"foreply/compare/words"
	"foreply/pdf/sheet"
)

// Boxes to write an answer in, in points.
const (
	boxWide  = 135.0
	boxTall  = 24.0
	boxSmall = 14.0 // height in a narrow column, where it is as wide as an answer
)

// unanswered are their likely moves without an answer, with room for one.
func (c *column) unanswered() sheet.Part {
	var list []fact.Unanswered
	for _, u := range c.side.Unanswered {
		if len(u.Line) > 0 {
			list = append(list, u)
		}
	}
	s := sheet.Part{Title: "no answer yet", Rank: unansweredRank, Share: 9, InText: c.Narrow}
	s.Fair = 2
	for i, u := range list {
		var name []sheet.Word
		if i == 0 && s.InText {
			name = c.l.f.Own(s.Title, ink(note, true, sheet.Black))
		}
		s.Rows = append(s.Rows, sheet.Row{Most: c.openLines(), Weight: u.Reach, Set: func(lines int) sheet.Block { return c.open(u, name, lines) }})
	}
	return s
}

// openLines is the most that one unanswered move takes.
func (c *column) openLines() int {
	if c.Narrow {
		return 4
	}
	return 3
}

// open is one unanswered move: the section's name if it is to stand here, the way there, the facts in the lines after the
// first, and a box to write in.
func (c *column) open(u fact.Unanswered, name []sheet.Word, lines int) sheet.Block {
	box := sheet.Box{X: c.Inner() - boxWide, Y: 1, W: boxWide, H: boxTall}
	w := c.Inner() - boxWide - 10
	if c.Narrow {
		w = c.Inner() - answerCol - colGap
		box = sheet.Box{X: c.Inner() - answerCol, Y: 0.5, W: answerCol, H: boxSmall}
	}
	b := sheet.SetLines([]sheet.TextLine{c.wayTo(name, u.Line, w)})
	if lines > 1 {
		if c.Narrow {
			w = c.Inner()
			b.H += underBox
		}
		p := c.facts(u, w, lines-1)
		b.Put(p, 0, b.H)
		b.H += p.H
	}
	b.Add(sheet.Rect{Box: box, Width: 1.2, Stroke: sheet.Black})
	b.H = max(b.H, box.Y+box.H) + 4
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
func (c *column) wayTo(name []sheet.Word, san []string, w float64) sheet.TextLine {
	f := c.l.f
	last := len(san) - 1
	from := min(c.shared(san), last)
	for i := from; ; i++ {
		words := lineTo(f, san, i, sheet.Dark)
		if i > from {
			words = append(f.Own("…", ink(move, false, sheet.Dark)), words...)
		}
		lines, whole := f.Break(slices.Concat(name, words), w, 1)
		if whole || i == last {
			return lines[0]
		}
	}
}

// facts tells as much of what is known of the move as fits without breaking off,
// but for the user's own note.
func (c *column) facts(u fact.Unanswered, w float64, lines int) sheet.Block {
	f := c.l.f
	words := clauses(f, append(openParts(&u, c.side), words.SetUp(&u).String()), ink(note, false, sheet.Black), w, lines)
	return f.Para(append(words, f.Own(c.noteOf(u), ink(note, false, sheet.Dark))...), w, lines)
}

// openParts are the clauses of its sentence, what an engine would play, what
// others played and the ways back.
func openParts(u *fact.Unanswered, s *fact.Side) []string {
	var parts []string
	for _, c := range words.Unanswered(u, s.Counted()) {
		parts = append(parts, strings.Trim(c.String(), "; "))
	}
	return append(parts, words.Best(u.Best, len(u.Line), s.MyColor), words.Met(u.Others, len(u.Line)).String(), words.Apart(u).String(), words.PeersMet(u).String())
}

// shared is how many half-moves of the line stand in the first fork's stem,
// which the page has printed once.
func (c *column) shared(line []string) int {
	if len(c.side.Forks) == 0 {
		return 0
	}
	return common(c.side.Forks[0].Stem, line)
}
