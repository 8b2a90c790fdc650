package words

import (
	"fmt"

	"foreply/compare/fact"
)

// theirs is the colour the opponent has against a side.
func theirs(mine string) string {
	if mine == "black" {
		return "White"
	}
	return "Black"
}

// Played counts the opponent's games with the colour they will have.
func Played(s *fact.Side) string {
	text := fmt.Sprintf("with %s %s games", theirs(s.MyColor), Thousands(s.Games))
	if s.Games == 1 {
		text = "with " + theirs(s.MyColor) + " 1 game"
	}
	switch {
	case s.Slow > 0 && s.Slow < s.Games:
		text += fmt.Sprintf(", %s slow", Thousands(s.Slow))
	case s.Fast > 0 && s.Fast < s.Games:
		text += fmt.Sprintf(", %s fast", Thousands(s.Fast))
	}
	if s.NoSpeed > 0 && s.NoSpeed < s.Games {
		text += fmt.Sprintf(", %s of unknown speed", Thousands(s.NoSpeed))
	}
	return text + Last(s.Last)
}

// NoGames says that none with their colour was found.
func NoGames(s *fact.Side) string {
	return fmt.Sprintf("no game of theirs with %s was found", theirs(s.MyColor))
}

// AllGames heads the games of an opponent who has few.
func AllGames(s *fact.Side) string {
	return fmt.Sprintf("all their games with %s", theirs(s.MyColor))
}

// YourRecord counts the games with a colour of theirs and what your side made of them.
func YourRecord(s *fact.Side) Clause {
	if s.Score.Games()-s.Score.Unknown == 0 {
		return Clause{games(s.Games, "game")}
	}
	return say("%s, your side %s", games(s.Games, "game"), yours(s.Score))
}

// Coverage says how far the book reaches, in games of a hundred. It names the first moves
// at which an answer begins to fail, and what was too rare to follow.
func Coverage(side *fact.Side) Sentence {
	const most, whole = 4, 97
	var s Sentence
	for _, c := range side.Coverage {
		switch {
		case c.Of100 > whole || len(s) == most:
		case len(s) == 0:
			s = s.And(say("you still have an answer at move %s in %s of 100 such games", number(c.Move), number(c.Of100)))
		default:
			s = s.And(say(", at %s in %s", number(c.Move), number(c.Of100)))
		}
	}
	return s.And(rare(side, len(s) > 0))
}

func rare(side *fact.Side, behind bool) Clause {
	text := Rare(side.Other, side.Threshold)
	switch {
	case text == "":
		return nil
	case behind:
		return say("; %s", text)
	}
	return say("%s", text)
}

// SoFar says how past games ran through the book.
func SoFar(l *fact.Left) Sentence {
	s := Left(l)
	if len(s) == 0 {
		return nil
	}
	return append(Sentence{append(say("so far: "), s[0]...)}, s[1:]...)
}

// RestsOnLine says what a page rests on, with the games of its colour if it is one; the
// games between the two stand elsewhere on it.
func RestsOnLine(b *fact.Basis, one *fact.Side) Sentence {
	s := counted(b).And(aged(b))
	if len(s) > 0 && len(s[0]) > 0 {
		s[0][0].Text = Capital(s[0][0].Text)
	}
	if one != nil && one.Games > 0 {
		s = s.And(say("; %s", WithColour(one)))
	}
	return s.And(notKnown(b), counting(b), beside(b))
}

// WithColour is what the head says of one colour: their games with it and what the user's
// side made of them.
func WithColour(s *fact.Side) Clause {
	n := s.Score.Games() - s.Score.Unknown
	if n == 0 {
		return say("with %s %s", theirs(s.MyColor), games(s.Games, "game"))
	}
	return say("with %s %s, your side made %s", theirs(s.MyColor), games(s.Games, "game"), yours(s.Score))
}
