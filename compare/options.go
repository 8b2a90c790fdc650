package compare

import (
	"fmt"

	"foreply/profile/board"
	"foreply/profile/stat"
)

// Options are told of the positions that matter most.
const (
	optionPositions = 3
	optionReach     = 0.05
)

// options sets the user's answers side by side where the book has several,
// each followed by a walk of its own.
func (c *comparison) options(w *walk) []Option {
	var out []Option
	positions := 0
	for _, s := range w.order {
		answers := c.book.Answers(s.key)
		if s.pos.Turn() != c.book.Mine || len(answers) < 2 || s.mass < optionReach || positions == optionPositions {
			continue
		}
		positions++
		from := len(out)
		for i, m := range answers {
			out = append(out, c.option(s, m, i == 0))
		}
		judge(out[from:])
	}
	return out
}

func (c *comparison) option(s *state, m board.Move, main bool) Option {
	after := s.pos
	after.Play(m)
	w := c.walkFrom(after, s.ply+1, c.opt.Threshold)
	line := newTrack(s.path()).and(m)
	o := Option{
		Line: line.sans[:s.ply], Move: line.sans[s.ply], Main: main, Reach: s.mass,
		Score: c.expectedScore(line), Covered: w.answeredNext(), Depth: w.depth(),
	}
	if n := c.tree.At(s.key); n != nil {
		if e := n.Edge(m); e != nil {
			o.Familiar = int(e.Games)
		}
	}
	if e := c.look.At(&after); len(e.Moves) > 0 {
		o.Known = e.Moves[0].P
	}
	return o
}

// answeredNext is the share of their next moves that the book answers.
func (w *walk) answeredNext() float64 {
	start := w.order[0]
	covered := 0.0
	for i := range start.flows {
		if f := &start.flows[i]; f.covered() && w.book.answers(f.to) {
			covered += f.likely.P
		}
	}
	return covered
}

// depth is the mean full move at which the lines leave the book; what was cut
// under the threshold does not count.
func (w *walk) depth() float64 {
	var sum, mass float64
	for _, e := range w.sorted() {
		sum += e.mass * float64(e.ply/2+1)
		mass += e.mass
	}
	if mass == 0 {
		return 0
	}
	return sum / mass
}

// expectedScore is the user's expected score after a line: the opponent's
// results shrunk along the line towards their results with the colour.
func (c *comparison) expectedScore(t track) Share {
	r := c.look.Results(t.keys)
	yours := 1 - r.Score()
	lo, hi := stat.BetaInterval(yours, r.Strength())
	return Share{P: yours, Lo: lo, Hi: hi, Seen: r.Games, Of: r.All}
}

// judge words the options of one position. Results separate them only where the
// intervals of the shrunk scores lie apart; what else is known pulls both ways
// and is told as it is.
func judge(options []Option) {
	apart := true
	for i := range options {
		for j := range options[:i] {
			a, b := options[i].Score, options[j].Score
			if a.Lo <= b.Hi && b.Lo <= a.Hi {
				apart = false
			}
		}
	}
	for i := range options {
		o := &options[i]
		o.Text = fmt.Sprintf("%s: your book answers %d in 10 of their next moves and holds to about move %.0f; %s",
			LastMove(append(o.Line[:len(o.Line):len(o.Line)], o.Move)), int(o.Covered*10+0.5), o.Depth, familiar(o.Familiar))
		if i == len(options)-1 && !apart {
			o.Text += "; results don't separate these: play what you know best"
		}
	}
}

func familiar(games int) string {
	if games == 0 {
		return "they have not met it in the games found"
	}
	return fmt.Sprintf("they have met it in %s", plural(games, "game"))
}
