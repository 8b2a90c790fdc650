package words

import (
	"slices"

	"foreply/compare/fact"
)

// Task says what follows the word that a task begins with: the expected line in full,
// the others from where they part from it.
func Task(t *fact.Task) Sentence {
	switch t.Lead {
	case fact.LeadExpect:
		return expected(t)
	case fact.LeadOr:
		s := Sentence{say("%s: %s%s", tail(t.Moves, t.From), comes(t), named(t.Name))}
		if t.Answer != "" {
			s = s.And(say("; you play %s", move(t.Answer, len(t.Moves))))
		}
		return s
	case fact.LeadPlay:
		return play(t, ", ")
	}
	return look(t, tail(t.Moves, t.From))
}

// look says what a task is about, whose line is told already.
func look(t *fact.Task, line Clause) Sentence {
	switch about := t.About.(type) {
	case *fact.Change:
		return Change(about)
	case *fact.Unanswered:
		return Sentence{say("%s: %s", line, gap(t, about))}.And(bestBehind(t))
	case *fact.Exit:
		return Sentence{say("from %s, where your book ends: %s", line, oftenOf(about.Often(), about.Line))}
	case *fact.Trap:
		s := Trap(about)
		return append(Sentence{say("%s: %s", line, s[0])}, s[1:]...)
	case *fact.Again:
		return Sentence{say("again at %s: %s", line, AgainTail(about, mover(len(about.Line))))}
	case *fact.Option:
		if t.Aim != "" {
			return Sentence{say("%s for a %s: you call it %s", line, t.Aim, about.Character)}
		}
		return Sentence{say("%s: %s", line, Recommended(about))}
	case *fact.Order:
		return Sentence{say("%s allows their pet line %s; %s goes round it", line, move(about.Pet, len(t.Moves)), move(about.Other, len(about.Line)))}
	case *fact.Unpractised:
		when := say("not in your games")
		if about.Last.Known() {
			when = say("you last had it %s", day(about.Last))
		}
		return Sentence{say("%s: %s; %s", line, when, oftenOf(about.Often, about.Line))}
	}
	return Sentence{line}
}

// gap says how often a move comes that the book has nothing for.
func gap(t *fact.Task, u *fact.Unanswered) Clause {
	switch {
	case t.Counted:
		return Clause{Seen(u)}
	case u.Share.Of > 0:
		return say("%s, %s", oftenOf(u.Often(), u.Line), Seen(u))
	}
	return Clause{oftenOf(u.Often(), u.Line)}
}

func bestBehind(t *fact.Task) Clause {
	if t.Best == nil {
		return nil
	}
	return say("; best %s", evaluated(t.Best, len(t.Moves), mover(len(t.Moves))))
}

// mover is the colour that moves after so many plies.
func mover(ply int) string { return [...]string{"white", "black"}[ply%2] }

// expected says the line to expect, or why there is none.
func expected(t *fact.Task) Sentence {
	var s Sentence
	switch {
	case t.Color != "":
		return Sentence{say("anything: no game of theirs with %s found; go through your main lines", Colour(t.Color))}
	case len(t.Unmet) > 0:
		return Sentence{say("the unknown: no game of theirs met %s; go through your main lines", moves(t.Unmet, 0))}
	case len(t.Choices) > 0 && t.Of > 0:
		return Sentence{say("no move of theirs twice in %s: %s", games(t.Of, "game"), firsts(t))}
	case len(t.Choices) > 0 && len(t.Moves) > 0:
		s = Sentence{say("no move of theirs stands out after %s: %s", moves(t.Moves, 0), firsts(t))}
	case len(t.Choices) > 0:
		s = Sentence{say("no move of theirs stands out: %s", firsts(t))}
	case t.Often != nil:
		s = Sentence{say("%s: %s%s", moves(t.Moves, 0), comes(t), named(t.Name))}
		if len(t.Gap) > 0 {
			s = s.And(say(", %s", NoAnswer))
		}
	default:
		s = Sentence{say("%s, played in %s%s%s", moves(t.Moves, 0), of(t.Played, t.Of, "game"), behind(t), named(t.Name))}
	}
	if t.Peers {
		s = s.And(say(", as players like them do"))
	}
	return s
}

// firsts are the choices of theirs, with how likely they are.
func firsts(t *fact.Task) Clause {
	var c Clause
	for i, choice := range t.Choices {
		if i > 0 {
			c = append(c, say(", ")...)
		}
		c = append(c, move(choice.Move, len(t.Moves)))
		if choice.Share != nil {
			c = append(c, say(" %s", odd(*choice.Share, slices.Concat(t.Moves, []string{choice.Move})))...)
		}
	}
	return c
}

// behind says after which move of the user's they had their first choice.
func behind(t *fact.Task) Clause {
	if t.First == 0 {
		return nil
	}
	return say(" after %s", last(t.Moves[:t.First]))
}

func comes(t *fact.Task) Span {
	if t.Often == nil {
		return Span{}
	}
	return oftenOf(*t.Often, t.Moves)
}

// named is the opening of a line, behind it.
func named(name string) Clause {
	if name == "" {
		return nil
	}
	return say(", %s", Span{Kind: Own, Text: name})
}

// tail is a line from a ply on, in full or cut in its middle.
func tail(line []string, from int) Clause {
	from = max(0, min(from, len(line)-1))
	if len(line)-from <= wholeTail {
		return moves(line[from:], from)
	}
	return say("%s … %s", moves(line[from:from+2], from), moves(line[len(line)-2:], len(line)-2))
}
