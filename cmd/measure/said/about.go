package main

import (
	"fmt"

	"foreply/compare/fact"
	"foreply/profile"
	"foreply/profile/board"
)

// habits are the facts about them that count a habit.
var habits = map[string]profile.Habit{
	fact.LongCastling: profile.LongCastling, fact.LateCastling: profile.LateCastling, fact.EarlyQueens: profile.EarlyQueens,
	fact.OppositeSides: profile.OppositeSides, fact.ShortDraw: profile.ShortDraw, fact.LongGame: profile.LongGame,
}

// longEdge is how much of the edge of ratings is left in long games, as in
// compare/find/about.go.
const longEdge = 0.6

func (n *notices) about(a *fact.About) {
	x := notice{row: "about: " + a.Kind, key: fmt.Sprintf("%s %v %s", a.Kind, a.Above, a.Speed), theirs: n.theirs}
	habit, isHabit := habits[a.Kind]
	switch {
	case isHabit:
		x.said, x.silent = float64(a.K)/float64(a.N), a.Usual
		x.value = func(g *profile.Game, _ board.Move) (float64, bool) {
			var t profile.Tally
			traits := g.Traits()
			t.Enter(&traits, g.Theirs, g.Result == profile.Draw)
			return float64(t[habit].K), t[habit].N > 0 && bySpeed(g, a.Speed)
		}
	case a.Kind == fact.AtOnce: // moves, which the table takes for hundredths
		x.said, x.silent = float64(a.Move)/100, float64(a.UsualMove)/100
		x.value = func(g *profile.Game, _ board.Move) (float64, bool) {
			moves, ok := g.Instant()
			return float64(moves) / 100, ok && g.Class.Fast()
		}
	case a.Kind == fact.PlainRecord:
		if a.Rated == nil || a.Rated.Beside == 0 {
			return
		}
		x.key += " " + a.Color
		x.said = (a.Rated.Expected - a.Rated.Points) / float64(a.Rated.Games)
		x.value = func(g *profile.Game, _ board.Move) (float64, bool) {
			v, ok := edge(g, n.usual, 1)
			return v, ok && g.Elo > 0 && g.RivalElo > 0 && g.Theirs.String() == a.Color
		}
	default:
		x.said = beyond(a.Score, a.Expected)
		x.value = n.results(a)
	}
	n.add(x)
}

// results tells games against much stronger or weaker players, or long ones.
func (n *notices) results(a *fact.About) func(*profile.Game, board.Move) (float64, bool) {
	return func(g *profile.Game, _ board.Move) (float64, bool) {
		part := 1.0
		in := g.Elo > 0 && g.RivalElo > 0
		switch a.Kind {
		case fact.AgainstLower:
			in = in && g.RivalElo-g.Elo <= -a.Limit
		default:
			in, part = len(g.Moves) >= 2*a.Limit-1, longEdge
		}
		v, ok := edge(g, n.usual, part)
		return v, ok && in && bySpeed(g, a.Speed)
	}
}
