package find

import (
	"slices"

	"foreply/compare/book"
	"foreply/compare/fact"
	"foreply/compare/walk"
	"foreply/profile"
	"foreply/profile/board"
)

// rowMoves is how many plies of a game are shown where it never left the book.
const rowMoves = 12

// rowOf sets a game beside the book.
func rowOf(b *book.Book, ways *walk.Ways, g *profile.Game) fact.GameRow {
	by, ply := follow(b, ways, g)
	shown := min(len(g.Moves), ply+1)
	if by == fact.GameEnded {
		shown = min(len(g.Moves), rowMoves)
	}
	r := Row(g)
	r.Moves, r.LeftBy, r.LeftPly = walk.NewTrack(g.Moves[:shown]).SANs, by, ply
	return r
}

// namedPlies is how far into a game its opening's name is looked for.
const namedPlies = 24

// Row is the part of a row that needs no book.
func Row(g *profile.Game) fact.GameRow {
	r := fact.GameRow{
		Date: g.Date, White: g.White.Name, Black: g.Black.Name, Theirs: g.Theirs.String(), Elo: g.RivalElo,
		Result: result(g), Score: g.Result.Points(), Class: g.Speed.String(), ECO: g.ECO,
		Moves: walk.NewTrack(g.Moves[:min(len(g.Moves), rowMoves)]).SANs,
		File:  g.File, Game: g.Index,
	}
	if opening := walk.NewTrack(g.Moves[:min(len(g.Moves), namedPlies)]).Opening(); opening.Name != "" {
		r.ECO, r.Opening = opening.ECO, opening.Name
	}
	return r
}

func result(g *profile.Game) string {
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

// follow plays a game through the book and the ways back that are known, and tells
// who left it first, and after how many plies.
func follow(b *book.Book, ways *walk.Ways, g *profile.Game) (by string, ply int) {
	pos := board.Start()
	for i, m := range g.Moves {
		after := pos
		after.Play(m)
		if by := leavesBook(b, ways, &pos, m, after.Key()); by != "" {
			return by, i
		}
		pos = after
	}
	return fact.GameEnded, len(g.Moves)
}

func leavesBook(b *book.Book, ways *walk.Ways, pos *board.Position, m board.Move, after uint64) string {
	key := pos.Key()
	answers, covered := b.Answers(key), b.Covered(key)
	if back := ways.Known(key); len(answers) == 0 && back != nil {
		answers = []board.Move{back.Move}
	}
	switch {
	case pos.Turn() == b.Mine && len(answers) == 0:
		return fact.BookOver
	case pos.Turn() == b.Mine && !slices.Contains(answers, m):
		return fact.LeftByYou
	case pos.Turn() == b.Mine || b.HasAnswer(after) || slices.Contains(covered, m) || ways.Known(after) != nil:
		return ""
	case len(covered) == 0:
		return fact.BookOver
	}
	return fact.LeftByThem
}

// answerTo is what the book plays where the user's side left it in a game.
func answerTo(b *book.Book, g *profile.Game, by string, left int) string {
	if by != fact.LeftByYou {
		return ""
	}
	at := walk.NewTrack(g.Moves[:left])
	return answerAt(b, &at.End)
}

// answerAt is the book's first answer at a position, SAN; empty where it has none.
func answerAt(b *book.Book, pos *board.Position) string {
	answers := b.Answers(pos.Key())
	if len(answers) == 0 {
		return ""
	}
	return pos.SAN(answers[0])
}

// hintsShown is how many first moves of the other colour are told.
const hintsShown = 2

// Hints tells what they do first with the other colour, given the tree of their
// games with it.
func Hints(tree *profile.Tree) []fact.Hint {
	start := board.Start()
	first := tree.At(start.Key())
	switch {
	case first == nil:
		return nil
	case tree.Theirs == board.White:
		return []fact.Hint{hint(tree, []string{}, &start, first)}
	}
	var hints []fact.Hint
	for _, e := range first.Edges[:min(len(first.Edges), hintsShown)] {
		after := walk.Played(start, e.Move)
		if n := tree.At(after.Key()); n != nil {
			hints = append(hints, hint(tree, []string{start.SAN(e.Move)}, &after, n))
		}
	}
	return hints
}

func hint(tree *profile.Tree, line []string, pos *board.Position, n *profile.TreeNode) fact.Hint {
	h := fact.Hint{Color: tree.Theirs.String(), Line: line, Games: int(n.Games), Moves: []fact.Played{}}
	for _, e := range n.Edges[:min(len(n.Edges), hintsShown)] {
		h.Moves = append(h.Moves, fact.Played{Move: pos.SAN(e.Move), Games: int(e.Games)})
	}
	return h
}
