package words

import (
	"fmt"

	"foreply/compare/fact"
)

// HowOften says how often a line comes: its reach, or where games are few how
// many of them came there.
func HowOften(x *fact.Exit, counted bool) string {
	switch {
	case !counted:
		return Often(x.Often())
	case x.Games == 0:
		return "not in the games found"
	case x.Games == 1:
		return "1 game of theirs came here"
	}
	return fmt.Sprintf("%d games of theirs came here", x.Games)
}

// Exit says why a line ends.
func Exit(x *fact.Exit) string {
	switch {
	case x.Kind == fact.TheyLeave && x.Unseen:
		return "they leave your book by a move not seen from them"
	case x.Kind == fact.TheyLeave:
		return "they leave your book"
	case x.Kind == fact.LimitInBook:
		return "still in your book"
	case x.Kind == fact.GameOver:
		return "the game is over"
	case x.YourMove:
		return "your book has no answer here"
	}
	return "your book ends"
}

// Instant says how far they play at once from here; nothing of nil.
func Instant(i *fact.Instant) Clause {
	if i == nil {
		return nil
	}
	return say("they are usually instant to move %s here (%s)", number(i.Move), games(i.Games, "game"))
}
