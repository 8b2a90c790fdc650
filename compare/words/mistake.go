package words

import (
	"fmt"

	"foreply/compare/fact"
)

// words says whose mistake it is and how often it was met.
func Mistake(m *fact.Mistake, counted bool) string {
	text := "is a mistake of theirs in your book"
	if m.Whose == "yours" {
		text = "is a mistake of yours to avoid"
	}
	switch {
	case m.Games > 0:
		text += fmt.Sprintf("; made in %d of %s that came here, last %s", m.Games, Plural(m.Reached, "game"), Date(m.Last))
	case m.Reached > 0:
		text += fmt.Sprintf("; %s of theirs came here and did not make it", Plural(m.Reached, "game"))
	case m.Near > 0:
		text += fmt.Sprintf("; %s of theirs came within a move of it", Plural(m.Near, "game"))
	}
	if m.Games == 0 && m.Reach > 0 && !counted {
		text += fmt.Sprintf("; the place comes in %s", OneIn(m.Reach))
	}
	return text
}
