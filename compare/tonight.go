package compare

import (
	"cmp"
	"fmt"
	"slices"

	"foreply/profile/board"
)

// Limits of 'tonight'.
const (
	expectFrom   = 0.3  // the expected line is told as far as its reach is at least this
	expectSecond = 0.15 // a second one from here
	looksShown   = 3
	earlyPly     = 16 // a book that ends before this ply ends early
	earlyReach   = 0.04
)

// tonight says in a line each what to expect, what to play and what to look at.
func (c *comparison) tonight(w *walk, s *Side) []Task {
	if s.Games == 0 {
		return []Task{{
			Kind: "expect", Lead: "expect", Need: 1,
			Text: fmt.Sprintf("anything: no game of theirs with %s found; go through your main lines", colourWord(c.tree.Theirs)),
		}}
	}
	tasks := c.expect(w)
	looks := c.looks(s)
	slices.SortStableFunc(looks, func(a, b Task) int { return cmp.Compare(b.Need, a.Need) })
	return append(tasks, looks[:min(len(looks), looksShown)]...)
}

// expect tells the likeliest line as far as it is likely, what the user plays
// against it, and the likeliest other way.
func (c *comparison) expect(w *walk) []Task {
	next := w.byPlace()
	s, aside := w.order[0], (*state)(nil)
	for {
		best, second := likeliest(s, next)
		if second != nil && (aside == nil || second.mass > aside.mass) {
			aside = second
		}
		if best == nil || best.mass < expectFrom {
			break
		}
		s = best
	}
	if s.ply == 0 {
		return c.openField(w, next)
	}
	tasks := []Task{c.expectTask(s, "expect")}
	if aside != nil && aside.mass >= expectSecond {
		tasks = append(tasks, c.expectTask(aside, "or"))
	}
	return append(tasks, c.playTask(s)...)
}

// openField is said when nothing they do first is likely enough to name alone.
func (c *comparison) openField(w *walk, next map[stateKey]*state) []Task {
	best, _ := likeliest(w.order[0], next)
	if best == nil {
		return []Task{{Kind: "expect", Lead: "expect", Text: "variety from the first move on; no line is likely", Need: 1}}
	}
	return []Task{c.expectTask(best, "expect")}
}

// likeliest returns the two heaviest states that s leads to.
func likeliest(s *state, next map[stateKey]*state) (best, second *state) {
	for i := range s.flows {
		to := next[stateKey{s.flows[i].to, s.ply + 1}]
		switch {
		case to == nil || !s.flows[i].covered() || to.via != s:
		case best == nil || to.mass > best.mass:
			best, second = to, best
		case second == nil || to.mass > second.mass:
			second = to
		}
	}
	return best, second
}

func (c *comparison) expectTask(s *state, lead string) Task {
	t := newTrack(s.path())
	text := fmt.Sprintf("%s, %s", Movetext(t.sans, 0), OneIn(s.mass))
	if name := t.opening().Name; name != "" {
		text += " (" + name + ")"
	}
	return Task{Kind: "expect", Lead: lead, Text: text, Need: s.mass}
}

// playTask says what the book holds against the expected line.
func (c *comparison) playTask(s *state) []Task {
	t, from := newTrack(s.path()), s
	if t.end.Turn() != c.book.Mine {
		if s.via == nil {
			return nil
		}
		from = s.via
	} else if answers := c.book.Answers(s.key); len(answers) > 0 {
		t = t.and(answers[0])
	} else {
		return nil
	}
	ply := len(t.sans) - 1
	text := Movetext(t.sans[ply:], ply)
	if depth := c.walkFrom(from.pos, from.ply, c.opt.Threshold).depth(); depth > float64(ply/2+2) {
		text += fmt.Sprintf(", prepared to about move %.0f", depth)
	}
	if note := c.book.Note(t.end.Key()); note != "" {
		text += ". " + note
	}
	file, line := t.place(c.book)
	return []Task{{Kind: "play", Lead: "play", Text: text, Need: 1, File: file, Line: line}}
}

// looks lists what wants work: unanswered moves by reach, then lines of the
// book that end early though they are likely.
func (c *comparison) looks(s *Side) []Task {
	var tasks []Task
	for i := range s.Unanswered {
		u := &s.Unanswered[i]
		file, line := resolved(u.Line).place(c.book)
		tasks = append(tasks, Task{
			Kind: "look", Lead: "answer", Need: u.Reach, File: file, Line: line,
			Text: fmt.Sprintf("%s, %s", Movetext(u.Line, 0), OneIn(u.Reach)),
		})
	}
	for i := range s.Exits {
		x := &s.Exits[i]
		if x.Kind == BookEnds && !x.YourMove && len(x.Line) < earlyPly && x.Reach >= earlyReach {
			tasks = append(tasks, Task{
				Kind: "look", Lead: "go on", Need: x.Reach / 2, File: x.File, Line: x.FileLine,
				Text: fmt.Sprintf("from %s, where your book ends early, %s", Movetext(x.Line, 0), OneIn(x.Reach)),
			})
		}
	}
	return tasks
}

// colourWord prints a colour as it stands in a sentence.
func colourWord(c board.Color) string {
	if c == board.White {
		return "White"
	}
	return "Black"
}
