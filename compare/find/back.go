package find

import (
	"cmp"
	"slices"

	"foreply/compare/book"
	"foreply/compare/fact"
	"foreply/compare/walk"
)

// WaysBack lists the moves of theirs on the lines to expect that are not in the
// book but need no new answer, likeliest first.
func WaysBack(w *walk.Walk) []fact.WayBack {
	var out []fact.WayBack
	for _, s := range w.Order {
		if s.Pos.Turn() != w.Book.Mine || len(s.Flows) == 0 || s.Flows[0].Back == nil {
			continue
		}
		t := walk.NewTrack(s.Path())
		out = append(out, fact.WayBack{Line: t.SANs, Reach: s.Mass, Back: *back(s.Flows[0].Back, t, w.Book)})
	}
	slices.SortStableFunc(out, func(a, b fact.WayBack) int { return cmp.Compare(b.Reach, a.Reach) })
	return out
}

// back tells a way back from the end of a line.
func back(b *walk.Back, from walk.Track, in *book.Book) *fact.Back {
	t := walk.NewTrack(slices.Concat(from.Moves, b.Into))
	out := &fact.Back{
		Chance: fact.Chance(b.Range), Hardly: fact.Chance(b.Range).Hardly(), Into: t.SANs[len(from.Moves):],
		Answer: t.End.SAN(in.Answers(t.End.Key())[0]),
	}
	out.File, out.FileLine = in.Spot(t.End.Key())
	return out
}
