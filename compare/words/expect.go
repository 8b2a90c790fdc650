package words

import (
	"slices"

	"foreply/compare/fact"
)

// Expect says what to expect tonight, or the other way: the moves, of a second line from
// where they part from the first; how often; the opening; what the user plays.
func Expect(t *fact.Task, stem []string) Sentence {
	ply := len(t.Moves)
	if len(t.Choices) > 0 {
		return noneStandsOut(t)
	}
	if ply == 0 {
		return Sentence{say("anything: go through your main lines")}
	}
	s := Sentence{moves(t.Moves, 0)}
	if len(stem) > 0 {
		s = Sentence{parted(t.Moves, stem)}
	}
	switch {
	case t.Often != nil:
		s = s.And(say(" · %s", oftenOf(*t.Often, t.Moves)))
	case t.Of > 0:
		s = s.And(say(" · in %s", of(t.Played, t.Of, "game")))
	}
	if len(t.Gap) > 0 {
		s = s.And(say(" · %s", NoAnswer))
	}
	if t.Peers {
		s = s.And(say(" · as players like them do"))
	}
	if t.Answer != "" {
		s = s.And(say(" · you play %s", move(t.Answer, ply)))
	}
	if t.Name != "" {
		s = s.And(say(" · %s", t.Name))
	}
	return s
}

// noneStandsOut names the likeliest moves where none is likely alone.
func noneStandsOut(t *fact.Task) Sentence {
	var list Clause
	for i, c := range t.Choices {
		if i > 0 {
			list = append(list, Span{Text: ", "})
		}
		list = append(list, move(c.Move, len(t.Moves)))
		if c.Share != nil {
			list = append(list, say(" %s", oddIn(*c.Share, slices.Concat(t.Moves, []string{c.Move})))...)
		}
	}
	s := Sentence{list}
	if t.Of > 0 {
		s = s.And(say(" · no move twice in %s", games(t.Of, "game")))
	}
	if len(t.Moves) > 0 {
		s = s.And(say(" · after %s", moves(t.Moves, 0)))
	}
	if t.Peers {
		s = s.And(say(" · as players like them do"))
	}
	return s
}

// Play says the user's answer to the line to expect, how far it is prepared, and what it isn't
// prepared for.
func Play(t *fact.Task) Sentence {
	if len(t.Moves) == 0 {
		return nil
	}
	return play(t, " · ")
}

// play joins what it says by some sign.
func play(t *fact.Task, joint string) Sentence {
	s := Sentence{Clause{last(t.Moves)}}
	if t.Depth > 0 {
		s = s.And(say(joint+"prepared to about move %s", mean(t.Depth)))
	}
	switch {
	case len(t.Gap) == 0 && t.Open >= always:
		s = s.And(say(joint + "then your book ends"))
	case len(t.Gap) == 0 && t.Open > 0 && t.Counted:
		s = s.And(say(joint + "most of what comes next is not in your book"))
	case len(t.Gap) == 0 && t.Open > 0:
		s = s.And(say(joint+"your book answers %s of what comes next", Span{Kind: Frequency, Text: InN(1 - t.Open)}))
	case len(t.Gap) == 0:
	case t.Depth > 0:
		s = s.And(say(", but not for %s", last(t.Gap)))
	default:
		s = s.And(say(joint+"no answer to %s", last(t.Gap)))
	}
	return s
}

// MoreToAnswer counts the gaps that tonight doesn't name.
func MoreToAnswer(n int) Clause {
	if n <= 0 {
		return nil
	}
	return say(" · %s more", number(n))
}
