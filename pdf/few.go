package pdf

import (
	"sort"

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
	p := sheet.Part{Title: words.AllGames(s), Aside: words.PointsAreYours}
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
		plies := tell + sort.Search(len(g.Moves)-tell, func(more int) bool {
			_, whole := c.F.Break(set(tell+more+1), c.W, most)
			return !whole
		})
		lines, _ := c.F.Break(set(plies), c.W, most)
		return c.Lines(lines)
	}}
}

// The newest games: how many half-moves of each are told, and of how many at least. They
// are as many as there is room for: who wants all has the file.
const (
	newestPlies = 10
	newestLeast = 3
)

// newest are their newest games with the first moves, as many as find room.
func (c *column) newest() sheet.Part {
	p := sheet.Part{Title: words.NewestGames, Aside: words.PointsAreYours}
	if len(c.side.FewGames) > 0 {
		return p
	}
	for i := range c.side.NewestGames {
		g := &c.side.NewestGames[i]
		line := lineOf(g.Moves[:min(newestPlies, len(g.Moves))], 0, func(int) bool { return false })
		pieces := append(append(resultFirst(words.PlayedHead(g)), sheet.Piece{S: " "}), line...)
		p.Rows = append(p.Rows, c.Sentence(p.Title, [][]sheet.Piece{pieces}, bodyStyle(), 1, 4))
	}
	p.Short = min(newestLeast, len(p.Rows))
	p.Plenty = newestLeast
	return p
}

// playThrough are games of theirs to play through for the lines to expect, each with a
// square to tick.
func (c *column) playThrough() sheet.Part {
	p := sheet.Part{Title: words.ToPlayThrough}
	for i := range c.side.ModelGames {
		m := &c.side.ModelGames[i]
		if len(m.Games) == 0 || len(m.Line) == 0 {
			continue
		}
		pieces := append([]sheet.Piece{{Look: sheet.ToTick, S: "☐"}, {S: " "}}, clausePieces(words.PlayThrough(m))...)
		row := c.Sentence(p.Title, [][]sheet.Piece{pieces}, bodyStyle(), 1, 2)
		row.Weight = m.Reach
		p.Rows = append(p.Rows, row)
	}
	p.Short = min(2, len(p.Rows))
	return p
}

// resultFirst are the pieces of a clause that begins with a result, which stands out.
func resultFirst(c words.Clause) []sheet.Piece {
	list := clausePieces(c)
	if len(list) > 0 {
		list[0].Look = sheet.Strong
	}
	return list
}
