package words

import (
	"fmt"
	"strings"

	"foreply/compare/fact"
)

// Trap tells a slip without its line: 'wrong in 2 of 3 games here (blitz; from
// -0.2 to -3.9), last 30 Jan 2026; 4...Nc6 since (1 game): may have repaired it'.
func Trap(t *fact.Trap) string {
	text := fmt.Sprintf("wrong in %d of %s here (%s; %s)", t.Games, Plural(t.Of, "game"), strings.Join(t.Speeds, ", "), fell(t))
	if t.Kind == fact.OthersSlip {
		text = fmt.Sprintf("others went %s, they scored %s", text, Points(t.Score))
	}
	return text + Last(t.Last) + afterTrap(t) + punish(t)
}

// fell says how the evaluation fell: as the side that went wrong has it in the
// comments of its games, as the user has it by an engine.
func fell(t *fact.Trap) string {
	switch {
	case !t.Engine:
		return fmt.Sprintf("from %s to %s", Pawns(t.Before), Pawns(t.After))
	case t.Kind == fact.TheirSlip:
		return fmt.Sprintf("for you from %s to %s", Pawns(-t.Before), Pawns(-t.After))
	}
	return fmt.Sprintf("for you from %s to %s", Pawns(t.Before), Pawns(t.After))
}

// afterTrap says what came after it in their games, or of the user's book there.
func afterTrap(t *fact.Trap) string {
	switch {
	case t.Yours:
		return "; it is your book's move"
	case t.Kind == fact.OthersSlip && t.Answer != "":
		return "; your book has " + trapAt(t, t.Answer)
	case t.Kind == fact.OthersSlip:
		return ""
	case t.Since > 0:
		return fmt.Sprintf("; %s since (%s): may have repaired it", trapAt(t, t.Then), Plural(t.Since, "game"))
	}
	return "; not here again since"
}

// punish says what an engine plays against a wrong move of theirs.
func punish(t *fact.Trap) string {
	if t.Kind != fact.TheirSlip || t.Best == nil {
		return ""
	}
	mine := [...]string{"white", "black"}[len(t.Line)%2] // who moves after it
	if t.Prepared {
		return fmt.Sprintf("; your %s is best (%s)", Movetext(t.Best.Moves[:1], len(t.Line)), Eval(t.Best, mine))
	}
	return "; best then " + Evaluated(t.Best, len(t.Line), mine)
}

// at numbers another move in the place of the wrong one.
func trapAt(t *fact.Trap, san string) string { return Movetext([]string{san}, len(t.Line)-1) }
