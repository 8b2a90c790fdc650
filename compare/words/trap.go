package words

import (
	"fmt"
	"strings"

	"foreply/compare/fact"
)

// words tells a slip without its line: 'wrong in 2 of 3 games here (blitz; from
// -0.2 to -3.9), last 30 Jan 2026; 4...Nc6 since (1 game): may have repaired it'.
func Trap(t *fact.Trap) string {
	text := fmt.Sprintf("wrong in %d of %s here (%s; from %s to %s)", t.Games, Plural(t.Of, "game"),
		strings.Join(t.Speeds, ", "), Pawns(t.Before), Pawns(t.After))
	if t.Kind == fact.OthersSlip {
		text = fmt.Sprintf("others went %s, they scored %s", text, Points(t.Score))
	}
	if t.Last != "" {
		text += ", last " + Date(t.Last)
	}
	switch {
	case t.Yours:
		return text + "; it is your book's move"
	case t.Kind == fact.OthersSlip && t.Answer != "":
		return text + "; your book has " + trapAt(t, t.Answer)
	case t.Kind == fact.OthersSlip:
		return text
	case t.Since > 0:
		return text + fmt.Sprintf("; %s since (%s): may have repaired it", trapAt(t, t.Then), Plural(t.Since, "game"))
	}
	return text + "; not here again since"
}

// at numbers another move in the place of the wrong one.
func trapAt(t *fact.Trap, san string) string { return Movetext([]string{san}, len(t.Line)-1) }
