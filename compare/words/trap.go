package words

import (
	"fmt"
	"slices"
	"strings"

	"foreply/compare/fact"
)

// Trap tells what happened behind a line, without it, in points of the user's
// side. A slip: 'wrong in 2 of 3 games here (blitz; from -0.2 to -3.9), last 30
// Jan 2026; 4...Nc6 since (1 game): may have repaired it'. A score: 'from here your
// side made 1 of 8, 4.0 expected; weighed with their other games 44 in 100, usually
// 51; last 8 Jan 2026'.
func Trap(t *fact.Trap) Sentence {
	if t.Kind == fact.TheyScore || t.Kind == fact.TheyFail {
		return scored(t)
	}
	wrong := say("wrong in %s here (%s; %s)", of(t.Games, t.Of, "game"), speeds(t.Speeds), fell(t))
	if t.Kind == fact.OthersSlip {
		wrong = say("others went %s%s", wrong, made(", %s", t.Score, t.Expected))
	}
	return Sentence{wrong}.And(lastOn(", last %s", t.Last), afterTrap(t), punish(t))
}

func scored(t *fact.Trap) Sentence {
	s := Sentence{
		say("from here %s", made("%s", t.Score, t.Expected)),
		say("; weighed with their other games %s in 100, usually %s", hundredth(1-t.Weighed), hundredth(1-t.Usual)),
	}.And(lastOn("; last %s", t.Last))
	if t.Repaired {
		s = s.And(say("; another way since (%s, last %s): may have repaired it", games(t.Since, "game"), move(t.Then, t.ThenPly)))
	}
	if t.ByChance {
		s = s.And(say("; such a score turns up by chance"))
	}
	return s
}

// hundredth is a share of a hundred.
func hundredth(p float64) Span { return Span{Kind: Score, Text: fmt.Sprintf("%.0f", 100*p)} }

// fell says how the evaluation fell: as the side that went wrong has it in the
// comments of its games, as the user has it by an engine.
func fell(t *fact.Trap) Clause {
	before, after := t.Before, t.After
	if !t.Engine {
		return say("from %s to %s", Pawns(before), Pawns(after))
	}
	if t.Kind == fact.TheirSlip {
		before, after = -before, -after
	}
	return say("for you from %s to %s", Pawns(before), Pawns(after))
}

// afterTrap says what came after it in their games, or of the user's book there.
func afterTrap(t *fact.Trap) Clause {
	here := len(t.Line) - 1
	switch {
	case t.Yours:
		return say("; it is your book's move")
	case t.Kind == fact.OthersSlip && t.Answer != "":
		return say("; your book has %s", move(t.Answer, here))
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
	names := slices.Clone(of)
	for i := range names {
		if names[i] == "unknown" {
			names[i] = "speed unknown"
		}
	}
	return strings.Join(names, ", ")
}
