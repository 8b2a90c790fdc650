package words

import (
	"strings"

	"foreply/compare/fact"
)

// Structure tells what is uneven, from the side of the user, who has a colour:
// material, majorities, weak and strong pawns, bishops, kings. Of what is even it
// says nothing.
func Structure(s *fact.Structure, mine string) Sentence {
	if s == nil {
		return nil
	}
	own, other := &s.White, &s.Black
	if mine == "black" {
		own, other = other, own
	}
	parts := []Clause{balance(&own.Men, &other.Men), majorities(own, other), peculiar("yours: %s", own), peculiar("theirs: %s", other)}
	if len(s.Open) > 0 {
		parts = append(parts, say("open %s", strings.Join(s.Open, " ")))
	}
	if own.Men.Queens+other.Men.Queens == 0 {
		parts = append(parts, say("queens off"))
	}
	if castled(own) && castled(other) && own.King != other.King {
		parts = append(parts, say("castled on opposite sides"))
	}
	return joined("; ", parts)
}

// joined makes a sentence of clauses with a sign between them; those that say nothing
// are left away.
func joined(sign string, parts []Clause) Sentence {
	var s Sentence
	for _, c := range parts {
		if len(c) > 0 && len(s) > 0 {
			c = say(sign+"%s", c)
		}
		s = s.And(c)
	}
	return s
}

// balance tells the men that one side has more of.
func balance(mine, theirs *fact.Men) Clause {
	var more, less []string
	for _, man := range []struct {
		name         string
		mine, theirs int
	}{
		{"queen", mine.Queens, theirs.Queens}, {"rook", mine.Rooks, theirs.Rooks}, {"bishop", mine.Bishops, theirs.Bishops},
		{"knight", mine.Knights, theirs.Knights}, {"pawn", mine.Pawns, theirs.Pawns},
	} {
		switch d := man.mine - man.theirs; {
		case d > 0:
			more = append(more, several(d, man.name))
		case d < 0:
			less = append(less, several(-d, man.name))
		}
	}
	ours, others := strings.Join(more, " and "), strings.Join(less, " and ")
	switch {
	case len(more)+len(less) == 0:
		return nil
	case len(less) == 0:
		return say("you are up %s", ours)
	case len(more) == 0:
		return say("you are down %s", others)
	}
	return say("you have %s for %s", ours, others)
}

// several are so many things: 'a pawn', '2 pawns'.
func several(n int, noun string) string {
	if n == 1 {
		return "a " + noun
	}
	return Plural(n, noun)
}

func castled(f *fact.SideFacts) bool {
	return f.King == fact.CastledShort || f.King == fact.CastledLong
}

// majorities tells where a side has more pawns than the other.
func majorities(own, other *fact.SideFacts) Clause {
	var yours, others []Clause
	for _, wing := range []struct {
		phrase       string
		yours, other int
	}{{"%s to %s on the queen's side", own.QueenSide, other.QueenSide}, {"%s to %s on the king's side", own.KingSide, other.KingSide}} {
		switch a, b := wing.yours, wing.other; {
		case a > b:
			yours = append(yours, say(wing.phrase, number(a), number(b)))
		case b > a:
			others = append(others, say(wing.phrase, number(b), number(a)))
		}
	}
	ours, theirs := and(yours), and(others)
	switch {
	case len(yours)+len(others) == 0:
		return nil
	case len(others) == 0:
		return say("your majority %s", ours)
	case len(yours) == 0:
		return say("their majority %s", theirs)
	}
	return say("your majority %s, theirs %s", ours, theirs)
}

// and joins clauses: 'a and b'.
func and(list []Clause) Clause {
	var c Clause
	for i, part := range list {
		if i > 0 {
			c = append(c, say(" and ")...)
		}
		c = append(c, part...)
	}
	return c
}

// peculiar tells what a side's pawns, bishops and king have of their own.
func peculiar(phrase string, f *fact.SideFacts) Clause {
	var parts []string
	for _, squares := range []struct {
		what string
		list []string
	}{{"passed", f.Passed}, {"isolated", f.Isolated}, {"backward", f.Backward}, {"doubled on", f.Doubled}, {"half-open", f.HalfOpen}} {
		if len(squares.list) > 0 {
			parts = append(parts, squares.what+" "+strings.Join(squares.list, " "))
		}
	}
	if f.Bishops {
		parts = append(parts, "bishop pair")
	}
	if f.King == fact.LostCastling {
		parts = append(parts, "castling lost")
	}
	if len(parts) == 0 {
		return nil
	}
	return say(phrase, strings.Join(parts, ", "))
}
