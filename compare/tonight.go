package compare

import (
	"fmt"
	"strings"

	"foreply/compare/fact"
	"foreply/compare/words"
	"foreply/profile/board"
)

// Limits of 'tonight'.
const (
	expectFrom   = 0.3  // the expected line is told as far as its reach is at least this
	expectSecond = 0.15 // a second one from here
	firstsShown  = 3    // moves named where none is likely
)

// tonight says in a line each what to expect, what to play and what to look at.
// The expected line is written out once; the others begin where they part from
// it.
func (c *comparison) tonight(w *walk, s *fact.Side) []fact.Task {
	var tasks []fact.Task
	var stem []string
	switch {
	case s.Games == 0 && !s.PeersOnly:
		return []fact.Task{{
			Kind: "expect", Lead: "expect", Need: 1,
			Text: fmt.Sprintf("anything: no game of theirs with %s found; go through your main lines", colourWord(c.tree.Theirs)),
		}}
	case c.counted:
		tasks, stem = c.expectCounted()
	default:
		if tasks, stem = c.expect(w); s.PeersOnly && len(tasks) > 0 {
			tasks[0].Text += ", as players like them do"
		}
	}
	tasks = append(tasks, changeTasks(s.Changes)...)
	return append(tasks, c.study(w, s, stem)...)
}

// expect tells the likeliest line as far as it is likely, what the user plays
// against it, and the likeliest other way. It returns the line with that
// answer, too.
func (c *comparison) expect(w *walk) ([]fact.Task, []string) {
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
	if s.via != nil && s.pos.Turn() != c.book.Mine { // what the user plays is told apart
		s = s.via
	}
	if s.ply == 0 {
		return c.openField(w, next)
	}
	stem := newTrack(s.path())
	tasks := []fact.Task{{
		Kind: "expect", Lead: "expect", Moves: stem.sans, Need: s.mass,
		Text: fmt.Sprintf("%s: %s%s", words.Movetext(stem.sans, 0), words.Often(s.often()), inBrackets(stem)),
	}}
	tasks = append(tasks, c.play(stem, c.walkFrom(s.pos, s.ply, c.opt.Threshold).depth())...)
	if aside != nil && aside.mass >= expectSecond {
		tasks = append(tasks, c.otherwise(aside, stem.sans))
	}
	return tasks, c.answered(stem)
}

// answered is a line with the main answer behind it.
func (c *comparison) answered(t track) []string {
	if answers := c.book.Answers(t.end.Key()); len(answers) > 0 {
		return t.and(answers[0]).sans
	}
	return t.sans
}

// otherwise tells the second line: where it parts from the first, how often it
// comes, and the answer to it.
func (c *comparison) otherwise(s *state, stem []string) fact.Task {
	t := newTrack(s.path())
	task := fact.Task{
		Kind: "expect", Lead: "or", Moves: t.sans, Need: s.mass,
		Text: fmt.Sprintf("%s: %s%s", words.Parted(t.sans, stem), words.Often(s.often()), inBrackets(t)),
	}
	if answers := c.book.Answers(s.key); len(answers) > 0 {
		task.Text += "; you play " + words.LastMove(t.and(answers[0]).sans)
	}
	return task
}

// inBrackets names the opening of a line by its family, if it has a name.
func inBrackets(t track) string {
	name := t.opening().Name
	if name == "" {
		return ""
	}
	return " (" + words.Family(name) + ")"
}

// openField is said when no first move of theirs is likely enough to name alone:
// the likeliest few.
func (c *comparison) openField(w *walk, next map[stateKey]*state) ([]fact.Task, []string) {
	s := w.order[0]
	if s.pos.Turn() == c.book.Mine {
		if s, _ = likeliest(s, next); s == nil {
			return nil, nil
		}
	}
	stem := newTrack(s.path()).sans
	var firsts []string
	for i := range s.flows[:min(len(s.flows), firstsShown)] {
		f := &s.flows[i]
		san := s.pos.SAN(f.likely.Move)
		firsts = append(firsts, words.Movetext([]string{san}, s.ply)+" "+words.Rate(f.likely.P))
	}
	text := "no move of theirs stands out"
	if len(stem) > 0 {
		text += " after " + words.Movetext(stem, 0)
	}
	return []fact.Task{{
		Kind: "expect", Lead: "expect", Moves: stem, Need: 1,
		Text: text + ": " + strings.Join(firsts, ", "),
	}}, stem
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

// expectCounted tells where most of few games went that met the user's main
// choices, as a count.
func (c *comparison) expectCounted() ([]fact.Task, []string) {
	way := c.mostPlayed()
	if way.base == 0 {
		return []fact.Task{{
			Kind: "expect", Lead: "expect", Need: 1,
			Text: fmt.Sprintf("the unknown: no game of theirs met %s; go through your main lines", words.Movetext(newTrack(way.moves).sans, 0)),
		}}, nil
	}
	if way.last == 0 {
		return c.openCounted(newTrack(way.moves[:way.from]), way.base)
	}
	stem := newTrack(way.moves[:way.last])
	text := fmt.Sprintf("%s, played in %d of %s", words.Movetext(stem.sans, 0), way.games, words.Plural(way.base, "game"))
	if way.from > 0 {
		text += " after " + words.LastMove(stem.sans[:way.from])
	}
	task := fact.Task{Kind: "expect", Lead: "expect", Moves: stem.sans, Need: 1, Text: text + inBrackets(stem)}
	return append([]fact.Task{task}, c.play(stem, 0)...), c.answered(stem)
}

// trodden is the way that most games took against the user's main choices.
type trodden struct {
	moves []board.Move
	from  int // plies before their first decision in it
	base  int // games that came there
	last  int // plies up to their last move in it, 0 for none
	games int // games with that move
}

// mostPlayed follows their commonest moves as far as two games went, or the only
// one.
func (c *comparison) mostPlayed() trodden {
	var way trodden
	pos := board.Start()
	for len(way.moves) < c.opt.MaxPly {
		if pos.Turn() == c.book.Mine {
			answers := c.book.Answers(pos.Key())
			if len(answers) == 0 {
				break
			}
			way.moves = append(way.moves, answers[0])
		} else {
			n := c.tree.At(pos.Key())
			if n != nil && way.base == 0 {
				way.from, way.base = len(way.moves), int(n.Games)
			}
			if n == nil || int(n.Edges[0].Games) < min(2, way.base) {
				break
			}
			way.moves = append(way.moves, n.Edges[0].Move)
			way.last, way.games = len(way.moves), int(n.Edges[0].Games)
		}
		pos.Play(way.moves[len(way.moves)-1])
	}
	return way
}

// openCounted is said of few games that all went different ways.
func (c *comparison) openCounted(t track, games int) ([]fact.Task, []string) {
	var firsts []string
	for _, e := range c.tree.At(t.end.Key()).Edges {
		firsts = append(firsts, words.Movetext([]string{t.end.SAN(e.Move)}, len(t.sans)))
	}
	return []fact.Task{{
		Kind: "expect", Lead: "expect", Moves: t.sans, Need: 1,
		Text: fmt.Sprintf("no move of theirs twice in %s: %s", words.Plural(games, "game"), strings.Join(firsts, ", ")),
	}}, t.sans
}

// play names the answer at the end of a line, to about which move it is
// prepared, with the note on it.
func (c *comparison) play(stem track, depth float64) []fact.Task {
	answers := c.book.Answers(stem.end.Key())
	if len(answers) == 0 {
		return nil
	}
	t := stem.and(answers[0])
	text := words.LastMove(t.sans)
	if depth > float64(len(t.sans)/2+2) {
		text += fmt.Sprintf(", prepared to about move %.0f", depth)
	}
	file, line := t.place(c.book)
	return []fact.Task{{Kind: "play", Lead: "play", Moves: t.sans, Text: text, Note: c.book.Note(t.end.Key()), Need: 1, File: file, Line: line}}
}

// colourWord prints a colour as it stands in a sentence.
func colourWord(c board.Color) string {
	if c == board.White {
		return "White"
	}
	return "Black"
}
