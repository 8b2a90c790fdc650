package compare

import (
	"fmt"
	"slices"
	"strings"

	"foreply/compare/book"
	"foreply/compare/fact"
	"foreply/compare/walk"
	"foreply/compare/words"
	"foreply/profile"
	"foreply/profile/board"
)

// rowMoves is how many plies of a game are shown where it never left the book.
const rowMoves = 12

// row sets a game beside the book. The player on the user's side is called as
// given: 'the other player', 'you'.
func rowOf(b *book.Book, g *profile.Game, called string) fact.GameRow {
	by, ply := followBook(b, g)
	shown := min(len(g.Moves), ply+1)
	if by == fact.GameEnded {
		shown = min(len(g.Moves), rowMoves)
	}
	r := NewGameRow(g)
	r.Moves, r.LeftBy, r.LeftPly = walk.NewTrack(g.Moves[:shown]).SANs, by, ply
	r.Left = words.LeftBy(by, called, r.Moves)
	return r
}

// namedPlies is how far into a game its opening's name is looked for.
const namedPlies = 24

// NewGameRow is the part of a row that needs no book.
func NewGameRow(g *profile.Game) fact.GameRow {
	r := fact.GameRow{
		Date: g.Date, White: g.White, Black: g.Black, Theirs: g.Theirs.String(), Elo: g.RivalElo,
		Result: resultText(g), Score: g.Result.Points(), Class: g.Class.String(), ECO: g.ECO,
		Moves: walk.NewTrack(g.Moves[:min(len(g.Moves), rowMoves)]).SANs,
		File:  g.File, Game: g.Index,
	}
	if opening := walk.NewTrack(g.Moves[:min(len(g.Moves), namedPlies)]).Opening(); opening.Name != "" {
		r.ECO, r.Opening = opening.ECO, opening.Name
	}
	return r
}

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

// follow plays a game through the book and tells who left it first, and after
// how many plies.
func followBook(b *book.Book, g *profile.Game) (by string, ply int) {
	pos := board.Start()
	for i, m := range g.Moves {
		after := pos
		after.Play(m)
		if by := leavesBook(b, &pos, m, after.Key()); by != "" {
			return by, i
		}
		pos = after
	}
	return fact.GameEnded, len(g.Moves)
}

func leavesBook(b *book.Book, pos *board.Position, m board.Move, after uint64) string {
	key := pos.Key()
	switch answers, covered := b.Answers(key), b.Covered(key); {
	case pos.Turn() == b.Mine && len(answers) == 0:
		return fact.BookOver
	case pos.Turn() == b.Mine && !slices.Contains(answers, m):
		return fact.LeftByYou
	case pos.Turn() == b.Mine || b.HasAnswer(after) || slices.Contains(covered, m):
		return ""
	case len(covered) == 0:
		return fact.BookOver
	}
	return fact.LeftByThem
}

// list returns rows of the games with colour theirs, newest first.
func (c *comparison) list() []fact.GameRow {
	var rows []fact.GameRow
	games := c.in.Profile.Games
	for i := range slices.Backward(games) {
		if games[i].Theirs == c.tree.Theirs {
			rows = append(rows, rowOf(c.book, &games[i], "the other player"))
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
			text := fmt.Sprintf("with Black they met %s with %s", words.Movetext([]string{start.SAN(e.Move)}, 0), playedText(&after, n, hintsShown))
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
		part := fmt.Sprintf("%s in %d", words.Movetext([]string{pos.SAN(e.Move)}, pos.Ply()), e.Games)
		if i == 0 {
			part += " of " + words.Plural(int(n.Games), "game")
		}
		parts = append(parts, part)
	}
	return strings.Join(parts, ", ")
}
