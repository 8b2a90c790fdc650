package find

import (
	"cmp"
	"slices"

	"foreply/compare/fact"
	"foreply/compare/walk"
	"foreply/profile"
)

const (
	againReach = 0.05 // a line not met for long is told from this reach
	againDays  = 365  // long
	againMove  = 4    // lines are told apart at your move of this number
)

// Unpractised are likely lines of the book that the user's own games have not had
// for long before a game within a time, likeliest first.
func Unpractised(w *walk.Walk, own *profile.Profile, games Games, when profile.Span) []fact.Unpractised {
	tree := own.Tree(w.Book.Mine)
	var out []fact.Unpractised
	for _, s := range w.Order {
		if s.Mass < againReach || s.Pos.Turn() != w.Book.Mine || len(s.Flows) == 0 || s.Ply/2 != againMove-1 {
			continue
		}
		t := walk.NewTrack(s.Path()).And(s.Flows[0].Likely.Move)
		u := fact.Unpractised{Line: t.SANs, Reach: s.Mass, Often: *oftenAt(w, s, games)}
		if n := tree.At(s.Key); n != nil {
			g := &own.Games[n.Visits[len(n.Visits)-1].Game]
			if !g.Date.Known() || when.Known() && g.Span.Last+againDays >= when.First {
				continue
			}
			u.Last = g.Date
		}
		u.File, u.FileLine = t.Spot(w.Book)
		out = append(out, u)
	}
	slices.SortStableFunc(out, func(a, b fact.Unpractised) int { return cmp.Compare(b.Reach, a.Reach) })
	return out
}
