package words

import "foreply/compare/fact"

// HowLeft says who left the book in a game, and with which move.
func HowLeft(g *fact.GameRow) Clause {
	switch g.LeftBy {
	case fact.LeftByThem:
		return say("they left your book with %s", last(g.Moves))
	case fact.LeftByYou:
		who := "the other player"
		if g.Between {
			who = "you"
		}
		return say(who+" left your book with %s", last(g.Moves))
	case fact.BookOver:
		return say("your book ended before %s", last(g.Moves))
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
