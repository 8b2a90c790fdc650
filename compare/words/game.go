package words

import "foreply/compare/fact"

// leftBy is the move that left the book in a game.
func leftBy(g *fact.GameRow) Span {
	if g.LeftPly < len(g.Moves) {
		return move(g.Moves[g.LeftPly], g.LeftPly)
	}
	return last(g.Moves)
}

// HowLeft says who left the book in a game between the two, and with which move.
func HowLeft(g *fact.GameRow) Clause {
	switch g.LeftBy {
	case fact.LeftByThem:
		return say("they left your book with %s", leftBy(g))
	case fact.LeftByYou:
		return say("you left your book with %s", leftBy(g))
	case fact.BookOver:
		return say("your book ended before %s", leftBy(g))
	case fact.GameEnded:
		return say("the game ended in your book")
	}
	return nil
}

// Hint says what they do first with the other colour: 'with White they opened
// 1.e4 in 4 of 5 games, 1.d4 in 1'.
func Hint(h *fact.Hint) Clause {
	if len(h.Line) == 0 {
		return say("with White they opened %s", mostPlayed(h.Moves, 0, h.Games))
	}
	return say("with Black they met %s with %s", moves(h.Line, 0), mostPlayed(h.Moves, len(h.Line), h.Games))
}

// mostPlayed says what was played most: '1...c5 in 12 of 20 games, 1...e5 in 6'.
func mostPlayed(list []fact.Played, ply, games int) Clause {
	var c Clause
	for i, p := range list {
		if i == 0 {
			c = say("%s in %s", move(p.Move, ply), of(p.Games, games, "game"))
			continue
		}
		c = append(c, say(", %s in %s", move(p.Move, ply), number(p.Games))...)
	}
	return c
}

// MetAside says beside the games between the two what the user made of them: of all on the
// page of one colour, else of those that stand with the colour.
func MetAside(r *fact.Report, s *fact.Side) string {
	theirs := r.Basis.Met
	if len(r.Sides) > 1 {
		theirs = s.Met
	}
	if c := Between(theirs, "you made %s"); len(c) > 0 {
		return c.String()
	}
	return PointsAreYours
}

// MoreGames counts games that a list leaves out.
func MoreGames(n int) string { return "and " + Plural(n, "older game") }
