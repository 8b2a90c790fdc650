package compare

import (
	"fmt"
	"slices"
	"strings"

	"foreply/compare/fact"

	"foreply/profile"
	"foreply/profile/board"
)

// rowMoves is how many plies of a game are shown where it never left the book.
const rowMoves = 12

// row sets a game beside the book. The player on the user's side is called as
// given: 'the other player', 'you'.
func (b *Book) row(g *profile.Game, called string) fact.GameRow {
	by, ply := b.follow(g)
	shown := min(len(g.Moves), ply+1)
	if by == fact.GameEnded {
		shown = min(len(g.Moves), rowMoves)
	}
	r := NewGameRow(g)
	r.Moves, r.LeftBy, r.LeftPly = newTrack(g.Moves[:shown]).sans, by, ply
	r.Left = leftWords(by, called, r.Moves)
	return r
}

// namedPlies is how far into a game its opening's name is looked for.
const namedPlies = 24

// NewGameRow is the part of a row that needs no book.
func NewGameRow(g *profile.Game) fact.GameRow {
	r := fact.GameRow{
		Date: g.Date, White: g.White, Black: g.Black, Theirs: g.Theirs.String(), Elo: g.RivalElo,
		Result: resultText(g), Score: g.Result.Points(), Class: g.Class.String(), ECO: g.ECO,
		Moves: newTrack(g.Moves[:min(len(g.Moves), rowMoves)]).sans,
		File:  g.File, Game: g.Index,
	}
	if opening := newTrack(g.Moves[:min(len(g.Moves), namedPlies)]).opening(); opening.Name != "" {
		r.ECO, r.Opening = opening.ECO, opening.Name
	}
	return r
}

// Yours is the result of a game between the two from the user's side.
func YourScore(r *fact.GameRow) string { return yourPoints(r.Score) }

func resultText(g *profile.Game) string {
	switch {
	case g.Result == profile.Draw:
		return "1/2-1/2"
	case g.Result == profile.NoResult:
		return "*"
	case (g.Result == profile.Win) == (g.Theirs == board.White):
		return "1-0"
	}
	return "0-1"
}

func leftWords(by, called string, line []string) string {
	switch by {
	case fact.LeftByThem:
		return "they left your book with " + LastMove(line)
	case fact.LeftByYou:
		return called + " left your book with " + LastMove(line)
	case fact.BookOver:
		return "your book ended before " + LastMove(line)
	}
	return "the game ended in your book"
}

// follow plays a game through the book and tells who left it first, and after
// how many plies.
func (b *Book) follow(g *profile.Game) (by string, ply int) {
	pos := board.Start()
	for i, m := range g.Moves {
		after := pos
		after.Play(m)
		if by := b.leaves(&pos, m, after.Key()); by != "" {
			return by, i
		}
		pos = after
	}
	return fact.GameEnded, len(g.Moves)
}

func (b *Book) leaves(pos *board.Position, m board.Move, after uint64) string {
	p := b.places[pos.Key()]
	if pos.Turn() == b.Mine {
		switch {
		case p == nil || len(p.answers) == 0:
			return fact.BookOver
		case !slices.ContainsFunc(p.answers, func(a answer) bool { return a.move == m }):
			return fact.LeftByYou
		}
		return ""
	}
	if b.answers(after) {
		return ""
	}
	switch {
	case p == nil || len(p.covered) == 0:
		return fact.BookOver
	case !slices.Contains(p.covered, m):
		return fact.LeftByThem
	}
	return ""
}

// list returns rows of the games with colour theirs, newest first.
func (c *comparison) list() []fact.GameRow {
	var rows []fact.GameRow
	games := c.in.Profile.Games
	for i := range slices.Backward(games) {
		if games[i].Theirs == c.tree.Theirs {
			rows = append(rows, c.book.row(&games[i], "the other player"))
		}
	}
	return rows
}

// hintsShown is how many first moves of the other colour are told.
const hintsShown = 2

// hints tells what they do first with the other colour: something to go by
// where their games with this one are few.
func (c *comparison) hints() []fact.Fact {
	other := c.tree.Theirs.Other()
	tree := c.in.Profile.Tree(other)
	start := board.Start()
	first := tree.At(start.Key())
	switch {
	case first == nil:
		return nil
	case other == board.White:
		return []fact.Fact{{Text: "with White they opened " + playedText(&start, first, hintsShown), N: int(first.Games)}}
	}
	var facts []fact.Fact
	for _, e := range first.Edges[:min(len(first.Edges), hintsShown)] {
		after := start
		after.Play(e.Move)
		if n := tree.At(after.Key()); n != nil {
			text := fmt.Sprintf("with Black they met %s with %s", Movetext([]string{start.SAN(e.Move)}, 0), playedText(&after, n, hintsShown))
			facts = append(facts, fact.Fact{Text: text, N: int(n.Games)})
		}
	}
	return facts
}

// playedText tells what was played most at a position: '1...c5 in 12 of 20
// games, 1...e5 in 6', up to so many moves.
func playedText(pos *board.Position, n *profile.TreeNode, most int) string {
	var parts []string
	for i, e := range n.Edges[:min(len(n.Edges), most)] {
		part := fmt.Sprintf("%s in %d", Movetext([]string{pos.SAN(e.Move)}, pos.Ply()), e.Games)
		if i == 0 {
			part += " of " + Plural(int(n.Games), "game")
		}
		parts = append(parts, part)
	}
	return strings.Join(parts, ", ")
}
