package find

import (
	"cmp"
	"slices"

	"foreply/compare/fact"
	"foreply/compare/walk"
	"foreply/profile"
	"foreply/profile/analysis"
	"foreply/profile/board"
	"foreply/profile/uci"
)

const (
	// AgainFrom is what a move of the user's must lose against the best one, in
	// centipawns, to be looked at again; less is often a matter of taste (our
	// choice).
	AgainFrom = 80
	// linePlies is how much of an engine's line is told: the move, the answer, and
	// the move after that.
	linePlies = 3
	// bestShown is how many of the best moves are told where the user needs one.
	bestShown = 2
	againTold = 4 // moves to look at again that a side tells
)

// Best are the best moves of a position as far as an engine looked at it.
func Best(found *analysis.Found, pos board.Position, most int) []fact.Evaluated {
	var out []fact.Evaluated
	lines := found.Lines(&pos)
	for _, l := range lines[:min(len(lines), most)] {
		out = append(out, evaluated(pos, l, linePlies))
	}
	return out
}

// Consult adds to the ends of a side's lines what an engine found there.
func Consult(found *analysis.Found, s *fact.Side) {
	if found == nil {
		return
	}
	for i := range s.Exits {
		s.Exits[i].Best = bestOf(found, s.Exits[i].Line)
	}
	for i := range s.Unanswered {
		u := &s.Unanswered[i]
		u.Best = Best(found, walk.Resolved(u.Line).End, bestShown)
	}
	for i := range s.Partings {
		for j := range s.Partings[i].Branches {
			if b := &s.Partings[i].Branches[j]; b.Answer != "" && (b.EndsWith == fact.BookEnds || b.EndsWith == fact.LimitInBook) {
				b.Best = bestOf(found, slices.Concat(s.Partings[i].Stem, []string{b.Move, b.Answer}, b.Then))
			}
		}
	}
}

// bestOf is the best line from the end of another, nil where none is known.
func bestOf(found *analysis.Found, line []string) *fact.Evaluated {
	if best := Best(found, walk.Resolved(line).End, 1); best != nil {
		return &best[0]
	}
	return nil
}

// JudgeBy evaluates moves by what an engine found; nil if none was asked.
func JudgeBy(found *analysis.Found) profile.Judge {
	if found == nil {
		return nil
	}
	return func(pos *board.Position, m board.Move) (before, after int, ok bool) {
		j, ok := found.Judge(pos, m)
		if !ok {
			return 0, 0, false
		}
		return j.Best.Score.For(pos.Turn()).Value(), j.Played.Score.For(pos.Turn()).Value(), true
	}
}

// LookAgain are the user's main choices on the lines to expect that lose much, what
// costs most first: reach times loss.
func LookAgain(found *analysis.Found, w *walk.Walk, games Games) []fact.Again {
	if found == nil {
		return nil
	}
	var out []fact.Again
	told := map[uint64]bool{}
	for _, s := range w.Order {
		if s.Pos.Turn() != w.Book.Mine || len(s.Flows) == 0 || !s.Flows[0].Written || told[s.Key] {
			continue
		}
		told[s.Key] = true
		t := walk.NewTrack(s.Path())
		a, ok, _ := Again(found, t.SANs, &s.Pos, s.Flows[0].Likely.Move)
		if !ok {
			continue
		}
		a.Reach, a.Often = s.Mass, *oftenAt(w, s, games)
		a.File, a.FileLine = t.Spot(w.Book)
		out = append(out, a)
	}
	slices.SortStableFunc(out, func(a, b fact.Again) int {
		return cmp.Compare(b.Reach*float64(b.Loss), a.Reach*float64(a.Loss))
	})
	return out[:min(len(out), againTold)]
}

// evaluated puts an engine's line into the Report, so many plies of it as asked.
func evaluated(pos board.Position, l uci.Line, plies int) fact.Evaluated {
	e := fact.Evaluated{Centipawns: l.Score.Centipawns, Mate: l.Score.Mate, Depth: l.Depth}
	for _, m := range l.Moves[:min(len(l.Moves), plies)] {
		e.Moves = append(e.Moves, pos.SAN(m))
		pos.Play(m)
	}
	return e
}

// Again judges a move of the user's at the end of a line: ok if it loses AgainFrom
// or more, by what an engine found; known if it found enough to tell.
func Again(found *analysis.Found, line []string, pos *board.Position, m board.Move) (a fact.Again, ok, known bool) {
	j, known := found.Judge(pos, m)
	if !known || j.Loss < AgainFrom {
		return fact.Again{}, false, known
	}
	return fact.Again{
		Line: slices.Clone(line), Played: evaluated(*pos, j.Played, linePlies),
		Best: evaluated(*pos, j.Best, linePlies), Loss: j.Loss,
	}, true, true
}

// EngineOf is what the Report says of the engine, nil if none was asked.
func EngineOf(found *analysis.Found) *fact.Engine {
	if found == nil {
		return nil
	}
	return &fact.Engine{Name: found.Engine, Nodes: found.Nodes, Positions: found.Len(), Wanted: found.Asked}
}
