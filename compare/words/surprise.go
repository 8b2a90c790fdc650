package words

import (
	"foreply/compare/fact"
)

// usualSetUp says which moves are most common in the user's book.
func usualSetUp(sans []string) Clause {
	if len(sans) == 0 {
		return nil
	}
	return say("Your usual set-up: %s", bareList(sans))
}

// noteFrom says where the user's nearest note stands, which follows.
func noteFrom(s *fact.Surprise) Clause {
	if len(s.NoteLine) == 0 {
		return say("Your note at the head of the chapter: ")
	}
	return say("Your note at %s: ", last(s.NoteLine))
}

// Surprised are what helps when they leave early: the usual set-up, moves that lead back,
// the nearest note.
func Surprised(sp *fact.Surprise) []Sentence {
	var list []Sentence
	if c := usualSetUp(sp.SetUp); len(c) > 0 {
		list = append(list, Sentence{c})
	}
	for i := range sp.Returns {
		list = append(list, WayBack(&sp.Returns[i]))
	}
	if sp.Note != "" {
		list = append(list, Sentence{append(noteFrom(sp), Span{Kind: Own, Text: sp.Note})})
	}
	return list
}
