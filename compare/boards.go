package compare

import (
	"foreply/compare/fact"
	"foreply/compare/walk"
	"foreply/compare/words"
)

// boardsWanted is how many diagrams a side offers; the page takes what fits.
const boardsWanted = 4

// boards picks positions worth a diagram: the worst unanswered move first, then
// the likeliest exits, then what else the user must answer.
func (c *comparison) boards(s *fact.Side) []fact.Diagram {
	var out []fact.Diagram
	have := map[string]bool{}
	add := func(d fact.Diagram) {
		if len(out) < boardsWanted && !have[d.EPD] && d.Origin != "" {
			have[d.EPD] = true
			out = append(out, d)
		}
	}
	if len(s.Unanswered) > 0 {
		add(c.unansweredBoard(&s.Unanswered[0]))
	}
	c.exitBoards(s, add, func(x *fact.Exit) bool { return x.Kind != fact.TheyLeave })
	for i := range s.Unanswered {
		add(c.unansweredBoard(&s.Unanswered[i]))
	}
	c.exitBoards(s, add, func(x *fact.Exit) bool { return x.Unseen })
	return out
}

func (c *comparison) exitBoards(s *fact.Side, add func(fact.Diagram), which func(*fact.Exit) bool) {
	for i := range s.Exits {
		if x := &s.Exits[i]; which(x) && (!c.counted || x.Games > 0) {
			add(c.exitBoard(x))
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
