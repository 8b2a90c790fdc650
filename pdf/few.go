package pdf

import (
	"slices"
	"sort"
	"strings"

	"foreply/compare/fact"
	"foreply/compare/words"
	"foreply/pdf/sheet"
)

// behindGames is the height that few games leave to the lines and what stands under them.
const behindGames = 95 * sheet.MM

// fewGames are all games of an opponent who has few with that colour, before the lines.
func (l *layout) fewGames(s *fact.Side, h float64) sheet.Block {
	if len(s.FewGames) == 0 {
		return sheet.Block{}
	}
	c := &column{Column: l.columnOf(l.form.lines), l: l, side: s}
	p := sheet.Part{Title: words.AllGames(s), Asides: []string{words.PointsAreYours}}
	for i := range s.FewGames {
		p.Rows = append(p.Rows, c.playedGame(p.Title, &s.FewGames[i]))
	}
	m := c.Measure(p)
	b := m.At(min(m.Want, max(h-behindGames, h/2)))
	b.H += air
	return b
}

// mostGameLines is the most lines that one of few games takes.
const mostGameLines = 6

// playedGame is a game: the result of the user's side, when, against whom; the moves as far
// as there is room, as far as they tell something at least; what the book says to it.
func (c *column) playedGame(title string, g *fact.PlayedGame) sheet.Row {
	left := clausePieces(words.PlayedLeft(g))
	set := func(plies int) []sheet.Word {
		pieces := append(resultFirst(words.PlayedHead(g)), sheet.Piece{S: " "})
		pieces = append(pieces, lineOf(g.Moves[:plies], 0, func(ply int) bool { return ply == g.LeftPly })...)
		if plies < g.Plies {
			pieces = append(pieces, sheet.Piece{S: " …"})
		}
		if len(left) > 0 {
			pieces = append(append(pieces, sheet.Piece{S: " – "}), left...)
		}
		return c.F.Spans(pieces, bodyStyle())
	}
	tell := min(max(g.Telling, 1), len(g.Moves))
	least := set(tell)
	lines, _ := c.F.Break(least, c.W, 0)
	return sheet.Row{Fewest: len(lines), Most: max(mostGameLines, len(lines)), Set: func(most int) sheet.Block {
		return c.Lines(c.asFar(set, tell, len(g.Moves), most))
	}}
}

// The newest games: how many half-moves of each are told, and of how many at least. They
// are as many as there is room for: who wants all has the file.
const (
	newestPlies = 10
	newestLeast = 1
	newestLines = 2 // of one, at most
)

// newest are their newest games with the first moves, as many as find room.
func (c *column) newest() sheet.Part {
	p := sheet.Part{Title: words.NewestGames, Asides: words.NewestAsides(c.side.NewestAlong)}
	if len(c.side.FewGames) > 0 {
		return p
	}
	for i := range c.side.NewestGames {
		p.Rows = append(p.Rows, c.newestGame(&c.side.NewestGames[i]))
	}
	p.Short = min(newestLeast, len(p.Rows))
	p.Plenty = newestLeast
	return p
}

// newestGame is a game with its first moves, with more of them where there is room.
func (c *column) newestGame(g *fact.PlayedGame) sheet.Row {
	set := func(plies int) []sheet.Word {
		pieces := append(resultFirst(words.PlayedHead(g)), sheet.Piece{S: " "})
		return c.F.Spans(append(pieces, lineOf(g.Moves[:plies], 0, never)...), bodyStyle())
	}
	tell := min(newestPlies, len(g.Moves))
	least, _ := c.F.Break(set(tell), c.W, 0)
	return sheet.Row{Fewest: len(least), Most: max(newestLines, len(least)), Set: func(most int) sheet.Block {
		return c.Lines(c.asFar(set, tell, len(g.Moves), most))
	}}
}

// asFar are lines with as many moves as they hold, so many plies at least.
func (c *column) asFar(set func(plies int) []sheet.Word, least, most, lines int) []sheet.TextLine {
	plies := least + sort.Search(most-least, func(more int) bool {
		_, whole := c.F.Break(set(least+more+1), c.W, lines)
		return !whole
	})
	broken, _ := c.F.Break(set(plies), c.W, lines)
	return broken
}

// never is for lines in which no move stands out.
func never(int) bool { return false }

// playThrough are games of theirs to play through for the lines to expect, each with a
// square to tick.
func (c *column) playThrough() sheet.Part {
	p := sheet.Part{Title: words.ToPlayThrough}
	if len(c.side.FewGames) > 0 {
		return p // all stand on the page
	}
	told := map[string]bool{}
	for i := range c.side.ModelGames {
		m := &c.side.ModelGames[i]
		if len(m.Games) == 0 || len(m.Line) == 0 {
			continue
		}
		line := m.Line[:min(m.Games[0].Deep, len(m.Line))]
		if told[strings.Join(line, " ")] {
			continue // the games of a likelier line came as far
		}
		told[strings.Join(line, " ")] = true
		said := func(rivals bool) [][]sheet.Piece {
			clauses := sentencePieces(words.PlayThrough(m, rivals))
			clauses[0] = slices.Concat(tickPieces(), c.labelOf(line), clauses[0])
			return clauses
		}
		clauses := said(true)
		if bare := said(false); c.height(clauses) > c.height(bare) {
			clauses = bare // against whom is told where it costs no line
		}
		row := c.Sentence(p.Title, clauses, bodyStyle(), 1, 4)
		row.Weight = m.Reach
		p.Rows = append(p.Rows, row)
	}
	p.Short = min(2, len(p.Rows))
	return p
}

// height is how many lines clauses take in the column.
func (c *column) height(clauses [][]sheet.Piece) int {
	lines, _ := c.F.Break(c.F.Spans(slices.Concat(clauses...), bodyStyle()), c.W, 0)
	return len(lines)
}

// labelOf is what a line is called on the page: its letter where the book has no answer to
// its last move, else its end.
func (c *column) labelOf(line []string) []sheet.Piece {
	for i := range c.side.Unanswered {
		if slices.Equal(c.side.Unanswered[i].Line, line) {
			return append(letterPieces(i), wayTo(line, 1)...)
		}
	}
	return shortWay(line)
}

// resultFirst are the pieces of a clause that begins with a result, which stands out.
func resultFirst(c words.Clause) []sheet.Piece {
	list := clausePieces(c)
	if len(list) > 0 {
		list[0].Look = sheet.Strong
	}
	return list
}
