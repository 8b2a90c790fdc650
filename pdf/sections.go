package pdf

import (
	"slices"

	"foreply/compare/fact"
	"foreply/compare/words"
	"foreply/pdf/sheet"
)

// rows makes a section of sentences, each of so many lines at most.
func (c *column) rows(title string, short, most int, list []words.Sentence) sheet.Part {
	p := sheet.Part{Title: title, Short: short}
	for _, s := range list {
		if len(s) > 0 {
			p.Rows = append(p.Rows, c.Sentence(title, sentencePieces(s), bodyStyle(), 1, most))
		}
	}
	p.Short = min(short, len(p.Rows))
	return p
}

// metPlies is how many half-moves of a game between the two are told at most, up to where it
// left the book.
const metPlies = 12

// met are the games between the two, the user's result first. The newest two stand.
func (c *column) met() sheet.Part {
	p := sheet.Part{Title: words.BetweenYou, Asides: []string{words.MetAside(c.l.rep, c.side)}}
	for i := range c.l.rep.Basis.Meetings {
		g := &c.l.rep.Basis.Meetings[i]
		if len(c.l.rep.Sides) > 1 && g.Theirs == c.side.MyColor {
			continue // stands with the other colour
		}
		clauses := sentencePieces(words.Meeting(g))
		clauses[0] = resultFirst(words.Meeting(g)[0])
		if n := len(g.Moves); n > 0 {
			clauses = slices.Insert(clauses, 1, append([]sheet.Piece{{S: " "}}, plainly(wayTo(g.Moves, metPlies))...))
		}
		p.Rows = append(p.Rows, c.Sentence(p.Title, clauses, bodyStyle(), 2, 4))
	}
	p.Short = min(2, len(p.Rows))
	return p
}

// plans are the user's own notes that the lines refer to.
func (c *column) plans(notes []planned) sheet.Part {
	p := sheet.Part{Title: words.YourPlans, Short: len(notes)}
	for _, n := range notes {
		pieces := append([]sheet.Piece{{Look: sheet.Strong, S: words.Numeral(n.number)}, {S: " "}}, plainly(clausePieces(words.AfterMove(n.after)))...)
		pieces = append(pieces, sheet.Piece{S: ": "}, sheet.Piece{Look: sheet.Noted, S: n.text})
		row := c.Sentence(p.Title, [][]sheet.Piece{pieces}, bodyStyle(), 0, 9)
		row.Fewest = min(3, c.height([][]sheet.Piece{pieces}))
		p.Rows = append(p.Rows, row)
	}
	return p
}

// watch is what to watch for: mistakes that the book marks, moves of the book that an
// engine finds worse, and where a side went wrong before.
func (c *column) watch() sheet.Part {
	p := sheet.Part{Title: words.WatchFor}
	add := func(line []string, said words.Sentence, note string) {
		clauses := [][]sheet.Piece{append(knownWay(line), sheet.Piece{S: " "})}
		for i, cl := range sentencePieces(said) {
			if i == 0 {
				clauses[0] = append(clauses[0], cl...)
				continue
			}
			clauses = append(clauses, cl)
		}
		if note != "" {
			clauses = append(clauses, []sheet.Piece{{S: "; "}, {Look: sheet.Noted, S: note}})
		}
		p.Rows = append(p.Rows, c.Sentence(p.Title, clauses, bodyStyle(), 1, 7))
	}
	for i := range c.side.Mistakes {
		if m := &c.side.Mistakes[i]; len(m.Line) > 0 {
			add(m.Line, words.Mistake(m, c.side.Counted()), m.Note)
		}
	}
	for i := range c.side.Again {
		a := &c.side.Again[i]
		add(append(slices.Clone(a.Line), a.Played.Moves[0]), words.BookDoubted(a, c.side.MyColor), "")
	}
	for i := range c.side.Traps {
		if t := &c.side.Traps[i]; len(t.Line) > 0 {
			add(t.Line, words.Trap(t), "")
		}
	}
	return p
}

// orders tell what another order of moves does.
func (c *column) orders() sheet.Part {
	var list []words.Sentence
	for i := range c.side.Orders {
		list = append(list, words.Order(&c.side.Orders[i]))
	}
	return c.rows(words.MoveOrder, 1, 5, list)
}

// surprise is what helps when they leave early: the usual set-up, moves that lead back, the
// nearest note, if it isn't among the plans.
func (c *column) surprise(plans []planned) sheet.Part {
	said := words.Surprised(&c.side.Surprise)
	note := c.side.Surprise.Note
	if note == "" {
		return c.rows(words.IfSurprised, 1, 9, said)
	}
	last := len(said) - 1 // the note
	p := c.rows(words.IfSurprised, 1, 9, said[:last])
	if slices.ContainsFunc(plans, func(n planned) bool { return n.text == note }) {
		return p
	}
	row := c.Sentence(p.Title, [][]sheet.Piece{plainly(clausePieces(said[last][0]))}, bodyStyle(), 0, 6)
	row.Fewest = 3
	p.Rows = append(p.Rows, row)
	return p
}

// options are the answers that the book has to choose from: all of the first place stand,
// since one alone is no choice.
func (c *column) options() sheet.Part {
	list := c.side.Options
	first := len(words.Situation(c.side.Situation))
	if first == 0 {
		for first < len(list) && slices.Equal(list[first].Line, list[0].Line) {
			first++
		}
	}
	return c.rows(words.YourOptions, first, 9, words.Options(c.side))
}

// about is what is known of the opponent beyond the moves, and what else changed than
// tonight says.
func (c *column) about() sheet.Part {
	var list []words.Sentence
	for i := range c.l.rep.About {
		a := &c.l.rep.About[i]
		if a.Kind == fact.PlainRecord && len(c.l.rep.Sides) == 1 {
			continue // the head has it
		}
		list = append(list, words.About(a).And(words.RestsOn(a)))
	}
	for i := changedTonight(c.side); i < len(c.side.Changes); i++ {
		list = append(list, words.Change(&c.side.Changes[i]))
	}
	for i := range c.side.Hints {
		list = append(list, words.Sentence{words.Hint(&c.side.Hints[i])})
	}
	return c.rows(words.AboutThem, 1, 4, list)
}

// know is what the opponent can find out about the user.
func (c *column) know() sheet.Part {
	return c.rows(words.TheyCanKnow, 1, 4, words.Shown(c.side.KnowOfYou, c.side.MyColor))
}

// far is how far the book goes on these lines. How far it went in games of others helps
// nobody tonight: the terminal has it.
func (c *column) far() sheet.Part {
	return c.rows(words.HowFar, 1, 8, []words.Sentence{words.Coverage(c.side)})
}

// write is what room remains, ruled.
func (c *column) write() sheet.Part { return c.Ruled(words.ToWrite, apart, 11*sheet.MM) }
