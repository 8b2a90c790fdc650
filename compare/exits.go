package compare

import (
	"iter"

	"foreply/compare/fact"
	"foreply/compare/find"
	"foreply/compare/walk"
	"foreply/profile"
	"foreply/profile/board"
	"foreply/profile/stat"
)

// newest is how many games a line cites.
const newest = 3

// exits puts the walk's ends into the Report's words, likeliest first.
func (c *comparison) exits(w *walk.Walk) []fact.Exit {
	ends := w.Sorted()
	shares := make([]float64, 0, len(ends)+1)
	for _, e := range ends {
		shares = append(shares, e.Mass)
	}
	printed := stat.LargestRemainder(append(shares, w.Other), 100)
	exits := make([]fact.Exit, len(ends))
	for i, e := range ends {
		exits[i] = c.exit(e)
		exits[i].Of100 = printed[i]
	}
	return exits
}

func (c *comparison) exit(e *walk.End) fact.Exit {
	t := walk.NewTrack(e.At.Path())
	at := c.tree.At(e.At.Key)
	visits := nodeVisits(at)
	if e.Leave != board.NoMove {
		t = t.And(e.Leave)
		visits = visitsWith(at, e.Leave)
	}
	lo, hi := e.Interval()
	opening := t.Opening()
	x := fact.Exit{
		Kind: e.Kind, Reach: e.Mass, Lo: lo, Hi: hi, Line: t.SANs, Unseen: e.Unseen, Orders: e.Orders,
		EPD: t.End.EPD(), YourMove: t.End.Turn() == c.book.Mine, NotSeen: walk.NotSeen(e.At),
		ECO: opening.ECO, Name: opening.Name,
	}
	if !e.Unseen {
		x.Games, x.Last, x.Newest = c.cite(visits)
	}
	x.Structure = structureOf(&t, c.book.Mine)
	if !e.Unseen {
		x.Instant = c.instantFrom(t.End.Key(), len(t.SANs))
	}
	if best := bestLines(c.in.Engine, t.End, 1); best != nil {
		x.Best = &best[0]
	}
	x.Note, x.NotePly = t.Note(c.book)
	x.File, x.FileLine = t.Spot(c.book)
	return x
}

// found are the games as the findings take them.
func (c *comparison) found() find.Games { return find.Games{All: c.in.Profile.Games, Tree: c.tree} }

func nodeVisits(n *profile.TreeNode) []profile.Visit {
	if n == nil {
		return nil
	}
	return n.Visits
}

func visitsWith(n *profile.TreeNode, m board.Move) []profile.Visit {
	var found []profile.Visit
	for _, v := range nodeVisits(n) {
		if v.Move == m {
			found = append(found, v)
		}
	}
	return found
}

func (c *comparison) games(visits []profile.Visit) iter.Seq[*profile.Game] {
	return c.found().Of(visits)
}

func (c *comparison) cite(visits []profile.Visit) (int, string, []fact.Ref) {
	return c.found().Cite(visits)
}

func (c *comparison) score(visits []profile.Visit) fact.Score { return c.found().Score(visits) }

func addResult(s *fact.Score, r profile.Result) {
	switch r {
	case profile.Win:
		s.Wins++
	case profile.Draw:
		s.Draws++
	case profile.Loss:
		s.Losses++
	default:
		s.Unknown++
	}
}
