package words

import "foreply/compare/fact"

// Mistake says whose mistake a move is that the book marks, and how often it was
// met; few says that their games are counted instead of forecast.
func Mistake(m *fact.Mistake, few bool) Sentence {
	s := Sentence{say("is a mistake of theirs in your book")}
	switch {
	case m.Yours:
		s = Sentence{say("is a mistake of yours to avoid")}
	case m.Answer != "":
		s = Sentence{say("is a mistake of theirs, you have %s", move(m.Answer, len(m.Line)))}
	}
	switch {
	case m.Games > 0:
		s = s.And(say("; made in %s that came here", of(m.Games, m.Reached, "game")), lastOn(", last %s", m.Last))
	case m.Reached > 0:
		s = s.And(say("; %s of theirs came here and did not make it", games(m.Reached, "game")))
	case m.Near > 0:
		s = s.And(say("; %s of theirs came close", games(m.Near, "game")))
	}
	if m.Games == 0 && m.Often != nil && !few {
		s = s.And(say("; the place before comes in %s", oftenOf(*m.Often, m.Line[:len(m.Line)-1])))
	}
	return s
}
