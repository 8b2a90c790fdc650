package words

import (
	"fmt"

	"foreply/compare/fact"
)

// pointsOf are the points of your side in so many games: '3 of 6', '2½ of 7'.
func pointsOf(s fact.Score) Span {
	n := s.Games() - s.Unknown
	if n == 0 {
		return Span{Kind: Score, Text: "–"}
	}
	return Span{Kind: Score, Text: fmt.Sprintf("%s of %d", Sum(s.Yours()), n)}
}

// Answers are how others met a move of theirs after so many plies, each with the points
// of the user's side: '3.d4 2 of 6, 3.Nf3 1 of 2'.
func Answers(list []fact.Met, ply int) Sentence {
	var s Sentence
	for i, m := range list {
		phrase := "%s %s"
		if i > 0 {
			phrase = ", %s %s"
		}
		s = s.And(say(phrase, move(m.Move, ply), pointsOf(m.Score)))
	}
	return s
}

// BestMoves are an engine's best moves after so many plies.
func BestMoves(best []fact.Evaluated, ply int, mine string) Sentence {
	var s Sentence
	for i := range best {
		phrase := "best %s (%s)"
		if i > 0 {
			phrase = "or %s (%s)"
		}
		s = s.And(say(phrase, moves(best[i].Moves, ply), Span{Kind: Score, Text: Eval(&best[i], mine)}))
	}
	return s
}

// Gap says all that is known of a move without an answer, but its line.
func Gap(u *fact.Unanswered, few bool, mine string) Sentence {
	var s Sentence
	add := func(more Sentence) {
		for i, c := range more {
			if i == 0 && len(s) > 0 {
				c = say("; %s", c)
			}
			s = s.And(c)
		}
	}
	add(Unanswered(u, few))
	var best Sentence
	for i, c := range BestMoves(u.Best, len(u.Line), mine) {
		if i > 0 {
			c = say(" %s", c)
		}
		best = best.And(c)
	}
	add(best)
	add(Met(u.Others, len(u.Line)))
	add(Sentence{}.And(Apart(u)))
	add(PeersMet(u))
	add(Sentence{}.And(SetUp(u)))
	return s
}

// PeersAnswer is how players like them met a move of theirs, in few words.
func PeersAnswer(u *fact.Unanswered) Clause {
	var c Clause
	for _, clause := range PeersMet(u) {
		c = append(c, clause...)
	}
	return c
}

// YourSetUp says what the user usually plays in the family of an unanswered move: nothing of
// a family that is the whole book, or of one move, which is no set-up.
func YourSetUp(u *fact.Unanswered) Clause {
	if len(u.SetUp) < 2 || u.SetUpPly < 1 || u.SetUpPly > len(u.Line) {
		return nil
	}
	return say("Your set-up: %s", bareList(u.SetUp))
}

// SeenIn says how often they played an unanswered move, and when last: 'they played it in 7
// of 31 games, last Sep 2026'.
func SeenIn(u *fact.Unanswered) Clause {
	c := Clause{Seen(u)}
	if u.Share.Seen > 0 {
		c = say("they played it in %s", Seen(u))
	}
	return append(c, lastOn(", last %s", u.Last)...)
}

// MetIn says in how many games others answered so, and what came of it for the user's side:
// '7 games: your side made 2, 3.3 expected'.
func MetIn(m *fact.Met) string {
	n := m.Score.Games() - m.Score.Unknown
	if n == 0 {
		return Plural(m.Games, "game")
	}
	return fmt.Sprintf("%s: your side made %s, %.1f expected", Plural(m.Games, "game"), Sum(m.Score.Yours()), float64(n)-m.Expected)
}

// WentOnIn says in how many of the games a move came next, and behind one of the user's side
// what came of it: '5 of 7 games: your side made 1½'.
func WentOnIn(g *fact.GoesOn, mine bool) string {
	text := fmt.Sprintf("%d of %s", g.Games, Plural(g.Of, "game"))
	if !mine || g.Score.Games() == g.Score.Unknown {
		return text
	}
	return text + ": your side made " + Sum(g.Score.Yours())
}
