package profile

import (
	"cmp"
	"math"
	"slices"

	"foreply/fetch/pgn"
	"foreply/profile/board"
	"foreply/profile/stat"
)

// Outlook is the forecast as of one day: each game's weight is worked out once.
// It keeps working space, so one Outlook serves one goroutine.
type Outlook struct {
	f *Forecast
	weighing
	class    Class
	classes  [pgn.Speeds]float64 // weight of a visit by its class
	mix      []float64           // weight of each setting
	own      ownStep             // how their last step differs from others'
	evidence evidence
}

// Known is how many games of the colour the forecast knows on its day.
func (o *Outlook) Known() int { return o.known }

// At forecasts the coming games at pos, where it must be the opponent's turn:
// each move's share of them with its interval.
func (o *Outlook) At(pos *board.Position) Expected {
	e := o.Shares(pos)
	if len(e.Moves) == 0 {
		return e
	}
	e.Unseen = Between(e.Unseen.P, e.Strength)
	for i := range e.Moves {
		if i > 0 && e.Moves[i].P == e.Moves[i-1].P { // most unseen moves share one probability
			e.Moves[i].Range = e.Moves[i-1].Range
			continue
		}
		e.Moves[i].Range = Between(e.Moves[i].P, e.Strength)
	}
	return e
}

// Shares is At without the intervals: Lo and Hi are 0.
func (o *Outlook) Shares(pos *board.Position) Expected {
	e := o.Chances(pos)
	fresh := e.Unseen.P
	if o.f.untuned || !(fresh > 0 && fresh < 1) {
		return e
	}
	r := o.f.model.refinement(&o.evidence)
	ahead := 1 / (1 + math.Exp(-r.AheadShift-r.AheadSlope*math.Log(fresh/(1-fresh))))
	for i := range e.Moves {
		if e.Moves[i].N == 0 {
			e.Moves[i].P *= ahead / fresh
		} else {
			e.Moves[i].P *= (1 - ahead) / (1 - fresh)
		}
	}
	e.Unseen.P = ahead
	e.sort()
	return e
}

// Chances forecasts the very next move at pos, without intervals: it is what a
// test of move after move judges.
//
// The model, step by step: bases (evidence.go) says what is expected before any
// visit, part (mixture.go) joins it with the long and the short memory under
// each setting, blended takes their mean by how well they forecast so far, and
// settle (laststep.go) corrects what this gets wrong, for this player above all.
func (o *Outlook) Chances(pos *board.Position) Expected {
	e := o.gather(pos)
	if len(e.legal) == 0 {
		return Expected{}
	}
	b := blended(e.partsOf(o.f.settings), o.f.settings, o.mix)
	p := b.mixed(e)
	if !o.f.untuned {
		o.settle(e, p, pos.Ply()+1)
	}
	r := o.f.model.refinement(e)
	return o.expected(e, p, max(r.PerRoot*math.Sqrt(o.effective(e, &b))+r.Bonus, leastStrength))
}

// leastStrength is what a forecast rests on where the opponent has never been, in
// games: about half of what one visit gives.
const leastStrength = 0.5

func (o *Outlook) expected(e *evidence, p []float64, strength float64) Expected {
	out := Expected{Moves: make([]Likely, len(e.legal)), Visits: len(e.passes), Strength: strength}
	for i, m := range e.legal {
		t := &e.moves[i]
		out.Moves[i] = Likely{Move: m, Range: Range{P: p[i]}, N: int(t.n)}
		if t.n > 0 {
			out.Moves[i].Last = &o.f.profile.Games[t.last]
		} else {
			out.Unseen.P += p[i]
		}
	}
	out.Unseen.P = min(out.Unseen.P, 1)
	out.sort()
	return out
}

// sort puts the likeliest move first.
func (e *Expected) sort() {
	slices.SortStableFunc(e.Moves, func(a, b Likely) int {
		return cmp.Or(cmp.Compare(b.P, a.P), cmp.Compare(b.N, a.N), cmp.Compare(a.Move, b.Move))
	})
}

// Between gives p its 80 % interval: the 10 % and 90 % quantiles of
// Beta(p*s, (1-p)*s). Far from one half both may lie beyond the mean, p; then it is p
// that bounds the interval.
func Between(p, s float64) Range {
	lo, hi := stat.BetaInterval(p, s)
	return Range{P: p, Lo: min(lo, p), Hi: max(hi, p)}
}
