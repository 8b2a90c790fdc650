package compare

import (
	"slices"

	"foreply/profile"
	"foreply/profile/board"
)

// Who left the book in a game.
const (
	LeftByThem = "them"
	LeftByYou  = "you"  // the side you will have; another player sat there
	BookOver   = "book" // it had nothing more
	GameEnded  = "end"  // the game ended inside the book
)

// rowMoves is how many plies of a game are shown where it never left the book.
const rowMoves = 12

// row sets a game beside the book.
func (c *comparison) row(g *profile.Game) GameRow {
	by, ply := c.book.follow(g)
	shown := min(len(g.Moves), ply+1)
	if by == GameEnded {
		shown = min(len(g.Moves), rowMoves)
	}
	t := newTrack(g.Moves[:shown])
	r := gameRow(g)
	r.Moves, r.LeftBy, r.LeftPly = t.sans, by, ply
	r.Left = leftWords(by, t.sans)
	if opening := newTrack(g.Moves[:min(len(g.Moves), 24)]).opening(); opening.Name != "" {
		r.ECO, r.Opening = opening.ECO, opening.Name
	}
	return r
}

// gameRow is the part of a row that needs no book.
func gameRow(g *profile.Game) GameRow {
	return GameRow{
		Date: g.Date, White: g.White, Black: g.Black, Theirs: g.Theirs.String(), Elo: g.RivalElo,
		Result: resultText(g), Score: g.Result.Points(), Class: g.Class.String(), ECO: g.ECO,
		File: g.File, Game: g.Index,
	}
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

func leftWords(by string, line []string) string {
	switch by {
	case LeftByThem:
		return "they left your book with " + LastMove(line)
	case LeftByYou:
		return "the other player left your book with " + LastMove(line)
	case BookOver:
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
	return GameEnded, len(g.Moves)
}

func (b *Book) leaves(pos *board.Position, m board.Move, after uint64) string {
	p := b.places[pos.Key()]
	if pos.Turn() == b.Mine {
		switch {
		case p == nil || len(p.answers) == 0:
			return BookOver
		case !slices.ContainsFunc(p.answers, func(a answer) bool { return a.move == m }):
			return LeftByYou
		}
		return ""
	}
	if b.answers(after) {
		return ""
	}
	switch {
	case p == nil || len(p.covered) == 0:
		return BookOver
	case !slices.Contains(p.covered, m):
		return LeftByThem
	}
	return ""
}

// list returns rows of the games with colour theirs, newest first.
func (c *comparison) list() []GameRow {
	var rows []GameRow
	games := c.in.Profile.Games
	for i := range slices.Backward(games) {
		if games[i].Theirs == c.tree.Theirs {
			rows = append(rows, c.row(&games[i]))
		}
	}
	return rows
}
