package words

import (
	"fmt"

	"foreply/compare/fact"
)

// BoardTitle says where a board stands: 'after 5...Qb6'.
func BoardTitle(d *fact.Diagram) Clause { return say("after %s", last(d.Line)) }

// BoardWhy says what a board is for.
func BoardWhy(d *fact.Diagram) Clause {
	return say(map[string]string{
		fact.BoardNoAnswer: "no answer yet", fact.BoardBookEnds: "your book ends", fact.BoardUnseen: "a move not seen yet",
		fact.BoardInBook: "still in your book", fact.BoardGameOver: "the game is over",
	}[d.Why])
}

// BoardOften says how often the position comes, or of few games how many came there.
func BoardOften(d *fact.Diagram) Span {
	switch {
	case !d.Counted:
		return oftenIn(d.Often(), d.Line)
	case d.Games == 0:
		return Span{Kind: Number, Text: "not in the games found"}
	}
	return Span{Kind: Number, Text: fmt.Sprintf("%s of theirs", Plural(d.Games, "game"))}
}

// Position is a board for who hears the page or copies its text.
func Position(placement string) string { return "position " + placement }
