package words

import (
	"fmt"

	"foreply/compare/fact"
)

func Familiar(games int) string {
	if games == 0 {
		return "new to them in the games found"
	}
	return fmt.Sprintf("they have met it in %s", Plural(games, "game"))
}

// Covers says how many of what they play the user's book answers: 'your book answers 8
// in 10 (likely 6-9) of their next moves'.
func Covers(c fact.Chance, what string) string {
	if c.Hardly() {
		return fmt.Sprintf("your book answers some of %s, how many is hardly known", what)
	}
	return fmt.Sprintf("your book answers %s of %s", Tens(c), what)
}
