package compare

import (
	"strings"

	"foreply/compare/fact"
	"foreply/compare/walk"
	"foreply/compare/words"
)

// boardsWanted is how many diagrams a side offers; the page takes what fits.
const boardsWanted = 4

// boardPlies is how many half-moves a position must be from the start to need a
// board: every player sees the first three moves without one.
const boardPlies = 7

// boards picks positions worth a diagram from move 4 on: the worst unanswered move
// first, then the likeliest exits, then what else the user must answer; of two that
// share all but the last half-move one is enough.
func (c *comparison) boards(s *fact.Side) []fact.Diagram {
	var out []fact.Diagram
	have := map[string]bool{}
	add := func(line []string, d fact.Diagram) {
		if len(out) == boardsWanted || len(line) < boardPlies || have[d.EPD] {
			return
		}
		stem := strings.Join(line[:len(line)-1], " ")
		if have[stem] {
			return
		}
		have[d.EPD], have[stem] = true, true
		out = append(out, d)
	}
	if len(s.Unanswered) > 0 {
		add(s.Unanswered[0].Line, c.unansweredBoard(&s.Unanswered[0]))
	}
	c.exitBoards(s, add, func(x *fact.Exit) bool { return x.Kind != fact.TheyLeave })
	for i := range s.Unanswered {
		add(s.Unanswered[i].Line, c.unansweredBoard(&s.Unanswered[i]))
	}
	c.exitBoards(s, add, func(x *fact.Exit) bool { return x.Unseen })
	return out
}

func (c *comparison) exitBoards(s *fact.Side, add func([]string, fact.Diagram), which func(*fact.Exit) bool) {
	for i := range s.Exits {
		if x := &s.Exits[i]; which(x) && (!c.counted || x.Games > 0) {
			add(x.Line, c.exitBoard(x))
		}
	}
}

func (c *comparison) unansweredBoard(u *fact.Unanswered) fact.Diagram {
	how := words.OneIn(u.Reach)
	if c.counted {
		how = words.Plural(u.Games, "game") + " of theirs"
	}
	return c.diagram(u.Line, u.EPD, u.Reach, "no answer yet: "+how)
}

func (c *comparison) exitBoard(x *fact.Exit) fact.Diagram {
	caption := "your book ends: "
	switch {
	case x.Unseen:
		caption = "a move not seen yet: "
	case x.YourMove && x.Kind == fact.BookEnds:
		caption = "no answer yet: "
	case x.Kind == fact.LimitInBook:
		caption = "still in your book: "
	case x.Kind == fact.GameOver:
		caption = "the game is over: "
	}
	return c.diagram(x.Line, x.EPD, x.Reach, caption+words.HowOften(x, c.counted))
}

func (c *comparison) diagram(line []string, epd string, reach float64, caption string) fact.Diagram {
	t := walk.Resolved(line)
	d := fact.Diagram{
		Title: "after " + words.LastMove(line), Caption: caption, EPD: epd, View: c.book.Mine.String(),
		Origin: t.Origin(), Reach: reach,
	}
	if answers := c.book.Answers(t.End.Key()); len(answers) > 0 {
		d.Arrow = answers[0].UCI()
	}
	return d
}
