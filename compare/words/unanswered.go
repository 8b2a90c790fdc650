package words

import (
	"fmt"
	"strings"

	"foreply/compare/fact"
)

// Seen says how often they played the move, or came here otherwise.
func Seen(u *fact.Unanswered) string {
	if u.Share.Seen == 0 && u.Games > 0 {
		return Plural(u.Games, "game") + " of theirs came here by another move order"
	}
	return Counted(u.Share)
}

// MetWords tells how others met a move and what came of it, as facts: 'others
// played 3.d4 in 6 games (they scored 3½), 3.Nf3 in 2 (1)'; ply is that of the
// answers.
func Met(others []fact.Met, ply int) string {
	parts := make([]string, len(others))
	for i, m := range others {
		games, scored := fmt.Sprint(m.Games), Sum(m.Score)
		if i == 0 {
			games, scored = Plural(m.Games, "game"), "they scored "+scored
		}
		parts[i] = fmt.Sprintf("%s in %s (%s)", Movetext([]string{m.Move}, ply), games, scored)
	}
	if len(parts) == 0 {
		return ""
	}
	return "others played " + strings.Join(parts, ", ")
}
