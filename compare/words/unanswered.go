package words

import (
	"fmt"

	"foreply/compare/fact"
)

// Unanswered says how often a move of theirs comes that the book has nothing
// for, and what it rests on; few says that their games are counted instead of
// forecast.
func Unanswered(u *fact.Unanswered, few bool) Sentence {
	var s Sentence
	if !few {
		s = s.And(say("%s; ", oftenOf(u.Often(), u.Line)))
	}
	seen := Clause{Seen(u)}
	if u.Games > u.Share.Seen && u.Share.Seen > 0 {
		seen = append(seen, say("; %s came here in all", games(u.Games, "game"))...)
	}
	return s.And(seen, lastOn("; last %s", u.Last))
}

// HowLikely is how often a move without an answer comes, or was played where games are
// counted.
func HowLikely(u *fact.Unanswered, counted bool) Span {
	if counted {
		return Seen(u)
	}
	return oftenIn(u.Often(), u.Line)
}

// Seen says how often they played the move, or came here otherwise.
func Seen(u *fact.Unanswered) Span {
	if u.Share.Seen == 0 && u.Games > 0 {
		return Span{Kind: Number, Text: Plural(u.Games, "game") + " of theirs came here by another order"}
	}
	return Span{Kind: Number, Text: Counted(u.Share)}
}

// Met says how others met their move at a ply, and what came of it for the user's
// side beside what was to be expected: 'others played 3.d4 in 6 games (your side made
// 2½, 3.1 expected), 3.Nf3 in 2 (1, 0.9)'.
func Met(others []fact.Met, ply int) Sentence {
	var s Sentence
	for i := range others {
		m := &others[i]
		n := m.Score.Games() - m.Score.Unknown
		made := Clause{{Kind: Score, Text: Sum(m.Score.Yours())}}
		if n > 0 {
			made = say("%s, %s", made, Span{Kind: Score, Text: fmt.Sprintf("%.1f", float64(n)-m.Expected)})
		}
		switch {
		case i > 0:
			s = s.And(say(", %s in %s (%s)", move(m.Move, ply), number(m.Games), made))
		case n > 0:
			s = s.And(say("others played %s in %s (your side made %s expected)", move(m.Move, ply), games(m.Games, "game"), made))
		default:
			s = s.And(say("others played %s in %s (your side made %s)", move(m.Move, ply), games(m.Games, "game"), made))
		}
	}
	return s
}

// PeersMet says how players like them met their move, and how it went: 'players like
// them met it with 3.d4 in 60 of 140 games (made 31½), 3.Nf3 in 40 (22)'.
func PeersMet(u *fact.Unanswered) Sentence {
	var s Sentence
	for i := range u.Peers {
		m := &u.Peers[i]
		if i == 0 {
			s = s.And(say("players like them met it with %s in %s of %s (made %s)",
				move(m.Move, len(u.Line)), number(m.Games), games(u.PeerGames, "game"), madeOf(m.Score)))
			continue
		}
		s = s.And(say(", %s in %s (%s)", move(m.Move, len(u.Line)), number(m.Games), madeOf(m.Score)))
	}
	return s
}

// Onward says how games went on behind an answer at a ply: '3.Nxe5 Nf6 in 177 of 190;
// then 4.d4 in 60 of 150 (made 31)'; nothing where few games tell.
func Onward(m *fact.Met, ply int) Sentence {
	if len(m.Then) == 0 {
		return nil
	}
	first := &m.Then[0]
	s := Sentence{say("%s in %s", moves([]string{m.Move, first.Move}, ply), kOf(first.Games, first.Of))}
	for i := range m.Then[1:] {
		next := &m.Then[i+1]
		joined := ", %s in %s%s"
		if i == 0 {
			joined = "; then %s in %s%s"
		}
		var made Clause
		if i%2 == 0 { // the user's side
			made = say(" (made %s)", Span{Kind: Score, Text: Sum(next.Score.Yours())})
		}
		s = s.And(say(joined, move(next.Move, ply+2+i), kOf(next.Games, next.Of), made))
	}
	return s
}

// sharesFrom is from how many games on points are said of a hundred games.
const sharesFrom = 100

// madeOf is what the user's side made: '31½', or of many games '52 in 100'.
func madeOf(theirs fact.Score) Span {
	yours := theirs.Yours()
	n := yours.Wins + yours.Draws + yours.Losses
	if n < sharesFrom {
		return Span{Kind: Score, Text: Sum(yours)}
	}
	points := float64(yours.Wins) + float64(yours.Draws)/2
	return Span{Kind: Score, Text: fmt.Sprintf("%.0f in 100", 100*points/float64(n))}
}

// kOf counts k of n of what was named before.
func kOf(k, n int) Span { return Span{Kind: Number, Text: fmt.Sprintf("%d of %d", k, n)} }

// Apart says which answer most of the others played, and that the difference
// may be chance where none exceeds it.
func Apart(u *fact.Unanswered) Clause {
	at := len(u.Line)
	switch {
	case len(u.Others) < 2 || u.Apart && u.Others[0].Games == u.Others[1].Games:
		return nil
	case u.Apart:
		return say("most have played %s", move(u.Others[0].Move, at))
	case u.Others[0].Games == u.Others[1].Games:
		return say("the difference may be chance")
	}
	return say("the difference may be chance; most have played %s", move(u.Others[0].Move, at))
}

// SetUp says what the user usually plays in the family of an unanswered move.
func SetUp(u *fact.Unanswered) Clause {
	if len(u.SetUp) == 0 || u.SetUpPly < 1 || u.SetUpPly > len(u.Line) {
		return nil
	}
	after := last(u.Line[:u.SetUpPly])
	if len(u.SetUp) == 1 {
		return say("you usually play %s after %s", bare(u.SetUp[0]), after)
	}
	return say("your usual set-up after %s: %s", after, bareList(u.SetUp))
}

// bare is a move without a number: it comes when it may.
func bare(san string) Span { return Span{Kind: Move, Text: san, SAN: san, Ply: -1} }

func bareList(sans []string) Clause {
	var c Clause
	for i, san := range sans {
		if i > 0 {
			c = append(c, Span{Text: ", "})
		}
		c = append(c, bare(san))
	}
	return c
}

// Back says what a way back is worth, and where the book goes on: 'back in your
// book 9 in 10 (white.pgn:12)'; nothing of nil.
func Back(b *fact.Back) Sentence {
	if b == nil {
		return nil
	}
	s := Sentence{say("back in your book %s", often(InN(b.P)))}.And(placed(" (%s)", b.File, b.FileLine))
	if b.Hardly {
		s = s.And(say(", as far as is known of them"))
	}
	return s
}

// WayBack says where a move of the user's leads back: 'after 1.d4 e6, 2.c4: back in
// your book 9 in 10 (white.pgn:12)'.
func WayBack(b *fact.WayBack) Sentence {
	if len(b.Into) == 0 {
		return nil
	}
	return append(Sentence{say("after %s, %s: ", moves(b.Line, 0), move(b.Into[0], len(b.Line)))}, Back(&b.Back)...)
}

// either are moves to choose from at one ply: '4.d4 or 4.c3'.
func either(sans []string, ply int) Clause {
	var c Clause
	for i, san := range sans {
		if i > 0 {
			c = append(c, Span{Text: " or "})
		}
		c = append(c, move(san, ply))
	}
	return c
}
