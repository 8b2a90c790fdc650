package find

import (
	"foreply/compare/fact"
	"foreply/compare/walk"
	"foreply/profile/board"
	"foreply/profile/stat"
)

// Exits are the lines to expect: the walk's ends, likeliest first.
func Exits(w *walk.Walk, games Games) []fact.Exit {
	ends := w.Sorted()
	shares := make([]float64, 0, len(ends)+1)
	for _, e := range ends {
		shares = append(shares, e.Mass)
	}
	printed := stat.LargestRemainder(append(shares, w.Other), 100)
	exits := make([]fact.Exit, len(ends))
	for i, e := range ends {
		exits[i] = exit(e, w, games)
		exits[i].Of100 = printed[i]
	}
	return exits
}

func exit(e *walk.End, w *walk.Walk, games Games) fact.Exit {
	b := w.Book
	t := walk.NewTrack(e.At.Path())
	visits := games.Visits(e.At.Key)
	if e.Leave != board.NoMove {
		t = t.And(e.Leave)
		visits = games.With(e.At.Key, e.Leave)
	}
	lo, hi := e.Interval()
	opening := t.Opening()
	x := fact.Exit{
		Kind: e.Kind, Reach: e.Mass, Lo: lo, Hi: hi, Line: t.SANs, Unseen: e.Unseen, Orders: e.Orders,
		EPD: t.End.EPD(), YourMove: t.End.Turn() == b.Mine, NotSeen: walk.NotSeen(e.At), WaysBack: walk.BackAt(e.At, b.Mine),
		ECO: opening.ECO, Name: opening.Name, Of: firstChoice(w, e.At, games), AnyOrder: anyOrder(e.Mass, w.Way(e)),
	}
	if !e.Unseen {
		x.Games, x.Last, x.Newest = games.Cite(visits)
	}
	switch {
	case e.Leave != board.NoMove:
		x.Came = cameBy(e.At, e.Leave, games)
	case !e.Unseen:
		x.Came = came(w, e.At, games)
	}
	x.Structure = Structure(&t)
	if !e.Unseen {
		x.Instant = instantFrom(t.End.Key(), len(t.SANs), games)
	}
	x.Note, x.NotePly = t.Note(b)
	x.File, x.FileLine = t.Spot(b)
	return x
}
