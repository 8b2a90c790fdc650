package words

import (
	"strings"

	"foreply/compare/fact"
)

// Trap tells what happened behind a line, without it, from the user's side: 'wrong in 2
// of 3 games here (blitz; for you from +0.2 to +3.9 by the games' comments), last
// 30 Jan 2026; 4...Nc6 since (1 game): may have repaired it'.
func Trap(t *fact.Trap) Sentence {
	wrong := say("wrong in %s here (%s; %s)", of(t.Games, t.Of, "game"), speeds(t.Speeds), fell(t))
	if t.Kind == fact.OthersSlip {
		wrong = say("others went %s%s", wrong, made(", %s", t.Score, t.Expected))
	}
	return Sentence{wrong}.And(lastOn(", last %s", t.Last), afterTrap(t), punish(t))
}

// fell says how the evaluation fell, or rose, for the user, and whose it is.
func fell(t *fact.Trap) Clause {
	before, after := t.Before, t.After // of the side that went wrong
	if t.Kind == fact.TheirSlip {
		before, after = -before, -after
	}
	whose := "the games' comments"
	if t.Engine {
		whose = "the engine"
	}
	return say("for you from %s to %s by %s", Pawns(before), Pawns(after), whose)
}

// afterTrap says what came after it in their games, or of the user's book there.
func afterTrap(t *fact.Trap) Clause {
	switch {
	case t.Yours:
		return say("; it is your book's move")
	case t.Kind == fact.OthersSlip:
		return nil
	case t.Repaired:
		return say("; %s since (%s): may have repaired it", move(t.Then, t.ThenPly), games(t.Since, "game"))
	}
	return say("; not here again since")
}

// punish says what an engine plays against a wrong move of theirs.
func punish(t *fact.Trap) Clause {
	if t.Kind != fact.TheirSlip || t.Best == nil {
		return nil
	}
	mine := [...]string{"white", "black"}[len(t.Line)%2] // who moves after it
	if t.Prepared {
		return say("; your %s is best (%s)", move(t.Best.Moves[0], len(t.Line)), Eval(t.Best, mine))
	}
	return say("; best then %s", evaluated(t.Best, len(t.Line), mine))
}

// speeds names the speeds of games; 'speed unknown' where neither the clock nor the
// event tells.
func speeds(of []string) string {
	names := make([]string, len(of))
	for i := range of {
		if names[i] = Class(of[i]); names[i] == "" {
			names[i] = "speed unknown"
		}
	}
	return strings.Join(names, ", ")
}
