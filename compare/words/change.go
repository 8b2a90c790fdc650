package words

import (
	"fmt"
	"strings"

	"foreply/compare/fact"
)

// Speed prints a speed as it stands in a sentence.
func Speed(speed string) string {
	switch speed {
	case "slow":
		return "slow games"
	case "unknown":
		return "games not known to be fast"
	}
	return Class(speed)
}

// Change tells what they took up or dropped, and what to expect: 'against 1.e4, in
// blitz since Feb 2026: 1...c5 in the last 8; expect 6 in 10 (4–8); before that 1...e5 in
// 40 of 44; the same in rapid'.
func Change(ch *fact.Change) Sentence {
	var where Clause
	switch ply := len(ch.Line); {
	case ply == 1:
		where = say("against %s, ", moves(ch.Line, 0))
	case ply > 1:
		where = say("after %s, ", moves(ch.Line, 0))
	}
	at := func(san string) Span { return move(san, len(ch.Line)) }
	speed := Clause{}
	if ch.Speed != "" {
		speed = say("in %s ", Speed(ch.Speed))
	}
	since := say("%s%ssince %s: ", where, speed, day(ch.Since))
	var s Sentence
	switch {
	case ch.Habit:
		s = Sentence{say("%s%s in %s", since, at(ch.Now), ofLast(ch.NowN, ch.Of))}.And(
			ahead(ch.Share), say("; before that %s in %s", at(ch.Former), ofPast(ch.FormerN, ch.PastOf)))
	default:
		s = Sentence{say("%s%s in %s", since, at(ch.Move), ofLast(ch.N, ch.Of))}.And(
			ahead(ch.Share), say("; before that in %s", ofPast(ch.PastN, ch.PastOf)))
	}
	s = s.And(inAll(ch))
	if !ch.Habit && !ch.Up && ch.Now != ch.Move {
		s = s.And(say("; now most often %s (%s)", at(ch.Now), number(ch.NowN)))
	}
	if len(ch.SameIn) > 0 {
		speeds := make([]string, len(ch.SameIn))
		for i, speed := range ch.SameIn {
			speeds[i] = Speed(speed)
		}
		s = s.And(say("; the same in %s", strings.Join(speeds, " and ")))
	}
	return s
}

// ahead is what to expect of the move, in the words of the lines to expect.
func ahead(s *fact.Share) Clause {
	switch {
	case s == nil:
		return nil
	case s.Hardly:
		return say("; what to expect is hardly known")
	}
	return say("; expect %s", often(Odds(*s)))
}

// inAll counts all games before, where those compared are the last of them.
func inAll(ch *fact.Change) Clause {
	if ch.AllOf <= ch.PastOf {
		return nil
	}
	return say(" (%s of all %s before)", number(ch.AllN), number(ch.AllOf))
}

func ofLast(n, of int) Span {
	switch n {
	case of:
		return Span{Kind: Number, Text: fmt.Sprintf("the last %d", of)}
	case 0:
		return Span{Kind: Number, Text: fmt.Sprintf("none of the last %d", of)}
	}
	return Span{Kind: Number, Text: fmt.Sprintf("%d of the last %d", n, of)}
}

func ofPast(n, of int) Span {
	switch n {
	case of:
		return Span{Kind: Number, Text: fmt.Sprintf("all %d", of)}
	case 0:
		return Span{Kind: Number, Text: fmt.Sprintf("none of %d", of)}
	}
	return Span{Kind: Number, Text: fmt.Sprintf("%d of %d", n, of)}
}
