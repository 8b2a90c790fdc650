package find

import (
	"foreply/compare/fact"
	"foreply/compare/walk"
	"foreply/fetch/pgn"
	"foreply/profile"
	"foreply/profile/board"
)

// What they can know of the user is told for positions of at least ownReach, in up
// to ownShown habits and hiddenShown lines of what was never shown.
const (
	ownReach    = 0.1
	ownShown    = 3
	hiddenShown = 2
)

// Shown tells what the opponent would find in the user's own games, whose tree
// is given: how often the user chose what where the lines to expect pass, and
// which of the book's main choices there have never been shown.
func Shown(w *walk.Walk, own *profile.Tree) *fact.Shown {
	start := board.Start()
	out := &fact.Shown{Habits: []fact.Habit{}, Hidden: [][]string{}}
	if n := own.At(start.Key()); n != nil {
		out.Games = int(n.Games)
	}
	for _, s := range w.Order {
		if s.Pos.Turn() != w.Book.Mine || len(s.Flows) == 0 || !s.Flows[0].Written {
			continue
		}
		m, n := s.Flows[0].Likely.Move, own.At(s.Key)
		out.Choices++
		switch {
		case n != nil && n.Edge(m) != nil:
			out.Known++
		case s.Mass >= ownReach && len(out.Hidden) < hiddenShown:
			out.Hidden = append(out.Hidden, walk.NewTrack(s.Path()).And(m).SANs)
		}
		if n != nil && s.Mass >= ownReach && len(out.Habits) < ownShown {
			out.Habits = append(out.Habits, habit(s, n))
		}
	}
	return out
}

// habit tells what the user mostly played at a position, and how often the
// book's move if that is another.
func habit(s *walk.State, n *profile.TreeNode) fact.Habit {
	most := &n.Edges[0]
	h := fact.Habit{Line: walk.NewTrack(s.Path()).SANs, Move: s.Pos.SAN(most.Move), N: int(most.Games), Of: int(n.Games)}
	h.Last = pgn.NumberedDate(most.LastDate)
	if m := s.Flows[0].Likely.Move; m != most.Move {
		h.Book = s.Pos.SAN(m)
		if e := n.Edge(m); e != nil {
			h.BookN = int(e.Games)
		}
	}
	return h
}
