package past

import (
	"foreply/compare/fact"
	"foreply/compare/walk"
	"foreply/profile"
	"foreply/profile/board"
)

// judge holds a game against the sheet.
func (s *sheet) judge(g *profile.Game, r *Result) {
	way := s.walk.Follow(s.places, g.Moves)
	met := false // the game came to a choice of theirs
	part := &r.first
	for _, at := range way.States {
		if at.Pos.Turn() == s.walk.Book.Mine || len(g.Moves) <= at.Ply {
			continue
		}
		met = true
		if parting(s.walk, at) {
			part.add(s.walk, at, g.Moves[at.Ply])
			part = &r.deeper
		}
	}
	if met {
		s.lines(&way, r)
	}
}

// parting reports whether the sheet shows a choice of theirs here.
func parting(w *walk.Walk, s *walk.State) bool {
	n := 0
	for i := range s.Flows {
		if shown(w, s, &s.Flows[i]) {
			n++
		}
	}
	return n >= 2
}

// shown reports whether a move of theirs is worth a row.
func shown(w *walk.Walk, s *walk.State, f *walk.Flow) bool {
	return s.Mass*f.Likely.P >= w.Opt.Threshold && (f.GoesOn() || f.Likely.N > 0)
}

// lines judges all lines to expect, and the one of 'tonight', by the way of a game.
func (s *sheet) lines(way *walk.Followed, r *Result) {
	last := way.States[len(way.States)-1]
	r.Games++
	if !way.Open {
		r.Decided++
	}
	for i, e := range s.ends {
		came := 0.0
		switch {
		case way.End == e:
			came = 1
		case way.Open:
			came = s.given[last][i]
		}
		r.lines.add(e.Mass, came)
	}
	if s.expect == nil {
		return
	}
	came := 0.0
	for _, at := range way.States {
		if at == s.expect {
			came = 1
		}
	}
	if came == 0 && way.Open {
		came = s.passes[last]
	}
	r.expect.add(s.expect.Mass, came)
}

// part judges the shares of one parting: those of the moves shown, and that of all others.
type part struct {
	said  scale // shares that are told
	all   scale // and those hardly known
	right int   // the likeliest of the moves shown came
	n     int
}

func (t *part) add(w *walk.Walk, s *walk.State, played board.Move) {
	rest, other := 1.0, 1.0
	best := -1
	for i := range s.Flows {
		f := &s.Flows[i]
		if !shown(w, s, f) {
			continue
		}
		came := 0.0
		if f.Likely.Move == played {
			came, other = 1, 0
		}
		if best < 0 || f.Likely.P > s.Flows[best].Likely.P {
			best = i
		}
		t.share(s, f.Likely.P, came)
		rest -= f.Likely.P
	}
	t.share(s, max(rest, 0), other)
	t.n++
	if s.Flows[best].Likely.Move == played {
		t.right++
	}
}

// share judges one share as it is printed.
func (t *part) share(s *walk.State, p, came float64) {
	t.all.add(p, came)
	if !fact.NewShare(fact.Chance(profile.Between(p, s.Expected.Strength)), 0, s.Expected.Visits).Hardly {
		t.said.add(p, came)
	}
}

func (t *part) merge(o *part) {
	t.said.merge(&o.said)
	t.all.merge(&o.all)
	t.right += o.right
	t.n += o.n
}

// scale sums what was said and what came, by how likely it was said to be.
type scale struct {
	edges []float64 // upper ends of all bins but the last
	bins  []sums
}

type sums struct {
	p, came float64
	n       int
}

func (b *sums) add(p, came float64) {
	b.p += p
	b.came += came
	b.n++
}

func (s *scale) add(p, came float64) {
	if s.bins == nil {
		s.bins = make([]sums, len(s.edges)+1)
	}
	at := 0
	for at < len(s.edges) && p >= s.edges[at] {
		at++
	}
	s.bins[at].add(p, came)
}

func (s *scale) merge(o *scale) {
	for i := range o.bins {
		if s.bins == nil {
			s.bins = make([]sums, len(s.edges)+1)
		}
		s.bins[i].p += o.bins[i].p
		s.bins[i].came += o.bins[i].came
		s.bins[i].n += o.bins[i].n
	}
}
