package words

import (
	"fmt"
	"slices"

	"foreply/compare/fact"
)

// aims begin the options of a position with what they are ordered for.
var aims = map[string]string{
	fact.ForWin: "for a win: ", fact.ForDraw: "for a draw: ", fact.ForTwoRounds: "with two rounds a day: ", fact.ForFast: "at this clock: ",
}

// Options say a side's options; the first of a position tells what they are
// ordered for and where they are, the last one what sets one of them apart.
func Options(s *fact.Side) []Sentence {
	out := Situation(s.Situation)
	from := 0
	for i := range s.Options {
		o := &s.Options[i]
		if i > 0 && !slices.Equal(o.Line, s.Options[i-1].Line) {
			from = i
		}
		said := option(o, optionLead(o, i == from, s.Aim), s.Counted())
		if s.Aim == fact.ForWin || s.Aim == fact.ForDraw {
			said = said.And(called(o), styled(&o.Style))
		}
		if i == len(s.Options)-1 || !slices.Equal(o.Line, s.Options[i+1].Line) {
			said = said.And(say("; %s", verdict(s.Options[from:i+1])))
		}
		out = append(out, said)
	}
	return out
}

// Situation says what the need of a result, or two rounds a day, changed: nothing, or which
// answers it put before the main choice. It says nothing of nil.
func Situation(s *fact.Situation) []Sentence {
	if s == nil {
		return nil
	}
	what := map[string]string{fact.ForWin: "needing a win", fact.ForDraw: "needing a draw", fact.ForTwoRounds: "a second round that day"}[s.Aim]
	switch {
	case s.Places == 0:
		return []Sentence{{say("%s changes nothing: your book has one answer wherever these lines pass often", what)}}
	case len(s.First) == 0:
		return []Sentence{{say("%s changes nothing: your main choices come first as they are", what)}}
	}
	var moves Clause
	for i, line := range s.First {
		if i > 0 {
			moves = append(moves, say(", ")...)
		}
		moves = append(moves, last(line))
	}
	return []Sentence{{say("%s puts %s before your main choice", what, moves)}}
}

func optionLead(o *fact.Option, first bool, aim string) Clause {
	here := move(o.Move, len(o.Line))
	switch {
	case !first:
		return say("or %s", here)
	case len(o.Line) == 0:
		return say("%s%s", aims[aim], here)
	}
	return say("%safter %s, %s", aims[aim], parted(o.Line, nil), here)
}

// option says what an option is.
func option(o *fact.Option, lead Clause, counted bool) Sentence {
	if counted {
		return Sentence{say("%s: prepared to about move %s", lead, mean(o.Depth)), say("; %s", familiar(o.Familiar))}
	}
	s := Sentence{
		say("%s: %s and holds to about move %s", lead, covers(o, "their next moves"), mean(o.Depth)),
		say("; %s", familiar(o.Familiar)),
	}
	if o.Likeliest != "" {
		s = s.And(say("; likeliest then %s, %s", move(o.Likeliest, len(o.Line)+1), odd(o.Known, slices.Concat(o.Line, []string{o.Move, o.Likeliest}))))
	}
	return s.And(say("; your expected score %s of 100, likely %s-%s", hundredth(o.Score.P), hundredth(o.Score.Lo), hundredth(o.Score.Hi)))
}

// mean is a mean full move.
func mean(moves float64) Span { return Span{Kind: Number, Text: fmt.Sprintf("%.0f", moves)} }

// covers says how many of what they play the user's book answers: 'your book answers 8
// in 10 (likely 6-9) of their next moves'.
func covers(o *fact.Option, what string) Clause {
	c := fact.Chance{P: o.Covered, Lo: o.CoveredLo, Hi: o.CoveredHi}
	if c.Hardly() {
		return say("your book answers some of %s (how many is hardly known)", what)
	}
	return say("your book answers %s of %s", often(Tens(c)), what)
}

func familiar(n int) Clause {
	if n == 0 {
		return say("new to them in the games found")
	}
	return say("they have met it in %s", games(n, "game"))
}

func called(o *fact.Option) Clause {
	if o.Character == "" {
		return nil
	}
	return say("; you call it %s", o.Character)
}

func styled(s *fact.Style) Clause {
	if s.Of == 0 {
		return nil
	}
	return say("; in %s: queens off by move 20 in %s, drawn before move 25 in %s, opposite castling in %s",
		games(s.Of, "game"), number(s.QueensOff), number(s.ShortDraws), number(s.Opposite))
}

// verdict is said once for the options of a position.
func verdict(options []fact.Option) Clause {
	for i := range options {
		if o := &options[i]; len(o.Reasons) > 0 {
			return say("%s is recommended: %s", move(o.Move, len(o.Line)), Recommended(o))
		}
	}
	return say("results don't separate these: play what you know best")
}

// Recommended says what sets an option apart from the others.
func Recommended(o *fact.Option) Clause {
	var c Clause
	for i, reason := range o.Reasons {
		if i > 0 {
			c = append(c, say(", and ")...)
		}
		if reason == fact.ByResults {
			c = append(c, say("their results against it are worse than chance and ratings explain (%s)", games(o.Score.Seen, "game"))...)
		} else {
			c = append(c, say("%s, clearly more than after the others", covers(o, "what they play then"))...)
		}
	}
	return c
}

// hundredth is a share of a hundred.
func hundredth(p float64) Span { return Span{Kind: Score, Text: fmt.Sprintf("%.0f", 100*p)} }
