package past

import (
	"math"

	"foreply/compare/fact"
	"foreply/compare/walk"
	"foreply/profile"
	"foreply/profile/board"
	"foreply/profile/hindsight"
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
		s.judgeLines(&way, len(g.Moves), r)
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

// line is a line to expect.
type line struct {
	reach float64
	end   *walk.End // nil for a place on the way
	way   []walk.Choice
}

// judgeLines judges all lines to expect, and the one of 'tonight', by the way of a game.
func (s *sheet) judgeLines(way *walk.Followed, plies int, r *Result) {
	r.Games++
	if !way.Open {
		r.Decided++
	}
	passed := map[*walk.State]int{}
	for i, at := range way.States {
		if at.Ply < plies {
			passed[at] = i
		}
	}
	for i := range s.lines {
		l := &s.lines[i]
		r.lines[bin(l.reach)].add(l, way, passed)
	}
	if s.expect != nil {
		r.expect.add(s.expect, way, passed)
	}
}

func bin(reach float64) int {
	at := 0
	for at < len(lineEdges) && reach >= lineEdges[at] {
		at++
	}
	return at
}

// limit sums what was said of lines, and by their first, second, ... choice what was said
// and what came in games that passed there.
type limit struct {
	said    sums
	choices []sums
}

func (t *limit) add(l *line, way *walk.Followed, passed map[*walk.State]int) {
	t.said.add(l.reach, 0)
	for i, c := range l.way {
		at, ok := passed[c.At]
		if !ok {
			continue
		}
		came := 0.0
		switch last := at == len(way.States)-1; {
		case c.To == nil && way.End != nil && way.End == l.end, c.To != nil && !last && way.States[at+1] == c.To:
			came = 1
		}
		for len(t.choices) <= i {
			t.choices = append(t.choices, sums{})
		}
		t.choices[i].add(c.P, came)
	}
}

func (t *limit) merge(o *limit) {
	t.said.merge(&o.said)
	for i := range o.choices {
		if len(t.choices) <= i {
			t.choices = append(t.choices, sums{})
		}
		t.choices[i].merge(&o.choices[i])
	}
}

// told reports whether enough games came to the first choice.
func (t *limit) told() bool { return len(t.choices) > 0 && t.choices[0].n >= Enough }

// bin is what was said and what came. Choices that fewer than Enough games came to are
// taken as said.
func (t *limit) bin() hindsight.Bin {
	said := t.said.p / float64(t.said.n)
	ratio, variance := 1.0, 0.0
	for i := range t.choices {
		c := &t.choices[i]
		if c.n < Enough {
			break
		}
		ratio *= c.came / c.p
		variance += (float64(c.n) - c.came) / (max(c.came, 0.5) * float64(c.n))
	}
	off := math.Exp(ninetyFive * math.Sqrt(variance))
	came := min(said*ratio, 1)
	return hindsight.Bin{P: said, Observed: came, Lo: came / off, Hi: min(came*off, 1), N: t.said.n}
}

const ninetyFive = 1.96 // deviations of the normal distribution that hold 95 %

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

func (b *sums) merge(o *sums) {
	b.p += o.p
	b.came += o.came
	b.n += o.n
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
		s.bins[i].merge(&o.bins[i])
	}
}
