package compare

import (
	"fmt"
	"strings"

	"foreply/compare/fact"
	"foreply/compare/walk"
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
func (c *comparison) tonight(w *walk.Walk, s *fact.Side) []fact.Task {
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
func (c *comparison) expect(w *walk.Walk) ([]fact.Task, []string) {
	next := w.ByPlace()
	s, aside := w.Order[0], (*walk.State)(nil)
	for {
		best, second := likeliest(s, next)
		if second != nil && (aside == nil || second.Mass > aside.Mass) {
			aside = second
		}
		if best == nil || best.Mass < expectFrom {
			break
		}
		s = best
	}
	if s.Via != nil && s.Pos.Turn() != c.book.Mine { // what the user plays is told apart
		s = s.Via
	}
	if s.Ply == 0 {
		return c.openField(w, next)
	}
	stem := walk.NewTrack(s.Path())
	often := c.oftenOf(s)
	tasks := []fact.Task{{
		Kind: "expect", Lead: "expect", Moves: stem.SANs, Need: s.Mass, Often: often, Name: nameOf(stem),
		Text: fmt.Sprintf("%s: %s%s", words.Movetext(stem.SANs, 0), words.Often(*often), inBrackets(stem)),
	}}
	tasks = append(tasks, c.play(stem, c.walkFrom(s.Pos, s.Ply, c.opt.Threshold).Depth())...)
	if aside != nil && aside.Mass >= expectSecond {
		tasks = append(tasks, c.otherwise(aside, stem.SANs))
	}
	return tasks, c.answered(stem)
}

// answered is a line with the main answer behind it.
func (c *comparison) answered(t walk.Track) []string {
	if answers := c.book.Answers(t.End.Key()); len(answers) > 0 {
		return t.And(answers[0]).SANs
	}
	return t.SANs
}

// otherwise tells the second line: where it parts from the first, how often it
// comes, and the answer to it.
func (c *comparison) otherwise(s *walk.State, stem []string) fact.Task {
	t := walk.NewTrack(s.Path())
	often := c.oftenOf(s)
	task := fact.Task{
		Kind: "expect", Lead: "or", Moves: t.SANs, Need: s.Mass, Often: often, Name: nameOf(t),
		Text: fmt.Sprintf("%s: %s%s", words.Parted(t.SANs, stem), words.Often(*often), inBrackets(t)),
	}
	if answers := c.book.Answers(s.Key); len(answers) > 0 {
		task.Answer = t.End.SAN(answers[0])
		task.Text += "; you play " + words.LastMove(t.And(answers[0]).SANs)
	}
	return task
}

// inBrackets names the opening of a line by its family, if it has a name.
func inBrackets(t walk.Track) string {
	name := nameOf(t)
	if name == "" {
		return ""
	}
	return " (" + name + ")"
}

// nameOf is the family of the opening that a line leads to.
func nameOf(t walk.Track) string { return words.Family(t.Opening().Name) }

// oftenOf says how often a place comes, with their games that came there, of those at
// their first choice on the way.
func (c *comparison) oftenOf(s *walk.State) *fact.Often {
	first := s
	for at := s.Via; at != nil; at = at.Via {
		if at.Pos.Turn() != c.book.Mine {
			first = at
		}
	}
	often := s.Often(c.gamesAt(s.Key), c.gamesAt(first.Key))
	return &often
}

// gamesAt counts the games that went on from a position.
func (c *comparison) gamesAt(key uint64) int {
	if n := c.tree.At(key); n != nil {
		return int(n.Games)
	}
	return 0
}

// openField is said when no first move of theirs is likely enough to name alone:
// the likeliest few.
func (c *comparison) openField(w *walk.Walk, next map[walk.Key]*walk.State) ([]fact.Task, []string) {
	s := w.Order[0]
	if s.Pos.Turn() == c.book.Mine {
		if s, _ = likeliest(s, next); s == nil {
			return nil, nil
		}
	}
	stem := walk.NewTrack(s.Path()).SANs
	var firsts []string
	var choices []fact.Choice
	for i := range s.Flows[:min(len(s.Flows), firstsShown)] {
		f := &s.Flows[i]
		san := s.Pos.SAN(f.Likely.Move)
		choices = append(choices, fact.Choice{Move: san, P: f.Likely.P})
		firsts = append(firsts, words.Movetext([]string{san}, s.Ply)+" "+words.Rate(f.Likely.P))
	}
	text := "no move of theirs stands out"
	if len(stem) > 0 {
		text += " after " + words.Movetext(stem, 0)
	}
	return []fact.Task{{
		Kind: "expect", Lead: "expect", Moves: stem, Need: 1, Choices: choices,
		Text: text + ": " + strings.Join(firsts, ", "),
	}}, stem
}

// likeliest returns the two heaviest states that s leads to.
func likeliest(s *walk.State, next map[walk.Key]*walk.State) (best, second *walk.State) {
	for i := range s.Flows {
		to := next[walk.Key{Position: s.Flows[i].To, Ply: s.Ply + 1}]
		switch {
		case to == nil || !s.Flows[i].GoesOn() || to.Via != s:
		case best == nil || to.Mass > best.Mass:
			best, second = to, best
		case second == nil || to.Mass > second.Mass:
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
			Text: fmt.Sprintf("the unknown: no game of theirs met %s; go through your main lines", words.Movetext(walk.NewTrack(way.moves).SANs, 0)),
		}}, nil
	}
	if way.last == 0 {
		return c.openCounted(walk.NewTrack(way.moves[:way.from]), way.base)
	}
	stem := walk.NewTrack(way.moves[:way.last])
	text := fmt.Sprintf("%s, played in %d of %s", words.Movetext(stem.SANs, 0), way.games, words.Plural(way.base, "game"))
	if way.from > 0 {
		text += " after " + words.LastMove(stem.SANs[:way.from])
	}
	task := fact.Task{
		Kind: "expect", Lead: "expect", Moves: stem.SANs, Need: 1, Played: way.games, Of: way.base, Name: nameOf(stem),
		Text: text + inBrackets(stem),
	}
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
func (c *comparison) openCounted(t walk.Track, games int) ([]fact.Task, []string) {
	var firsts []string
	var choices []fact.Choice
	for _, e := range c.tree.At(t.End.Key()).Edges {
		choices = append(choices, fact.Choice{Move: t.End.SAN(e.Move)})
		firsts = append(firsts, words.Movetext([]string{t.End.SAN(e.Move)}, len(t.SANs)))
	}
	return []fact.Task{{
		Kind: "expect", Lead: "expect", Moves: t.SANs, Need: 1, Of: games, Choices: choices,
		Text: fmt.Sprintf("no move of theirs twice in %s: %s", words.Plural(games, "game"), strings.Join(firsts, ", ")),
	}}, t.SANs
}

// play names the answer at the end of a line, to about which move it is
// prepared, with the note on it.
func (c *comparison) play(stem walk.Track, depth float64) []fact.Task {
	answers := c.book.Answers(stem.End.Key())
	if len(answers) == 0 {
		return nil
	}
	t := stem.And(answers[0])
	text := words.LastMove(t.SANs)
	if depth <= float64(len(t.SANs)/2+2) {
		depth = 0 // not worth a word
	} else {
		text += fmt.Sprintf(", prepared to about move %.0f", depth)
	}
	file, line := t.Spot(c.book)
	return []fact.Task{{Kind: "play", Lead: "play", Moves: t.SANs, Text: text, Note: c.book.Note(t.End.Key()), Need: 1, Depth: depth, File: file, Line: line}}
}

// colourWord prints a colour as it stands in a sentence.
func colourWord(c board.Color) string {
	if c == board.White {
		return "White"
	}
	return "Black"
}
