package profile

import (
	"cmp"
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
	evidence evidence
}

// Known is how many games of the colour the forecast knows on its day.
func (o *Outlook) Known() int { return o.known }

// At forecasts the move to come at pos; it must be the opponent's turn.
func (o *Outlook) At(pos *board.Position) Expected {
	e := o.Chances(pos)
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

// Chances is At without the intervals: Lo and Hi are 0. It is what a test over
// thousands of positions needs.
//
// The model, step by step: bases (evidence.go) says what is expected before any
// visit, part (mixture.go) joins it with the long and the short memory under
// each setting, blend takes their mean by how well they forecast so far, and
// renew corrects the share of new moves.
func (o *Outlook) Chances(pos *board.Position) Expected {
	e := o.gather(pos)
	if len(e.legal) == 0 {
		return Expected{}
	}
	b := e.blend(o.f.settings, o.mix)
	p := make([]float64, len(e.legal))
	sum := 0.0
	for i := range p {
		p[i] = max(b.of(&e.moves[i]), 0)
		sum += p[i]
	}
	for i := range p {
		p[i] /= sum
	}
	refined := o.f.model.refinement(o.f.peers != nil)
	if !o.f.untuned {
		e.renew(p, &refined, pos.Ply()+1)
	}
	return o.expected(e, p, refined.PerEffective*o.effective(e, &b)+refined.Bonus)
}

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
	slices.SortStableFunc(out.Moves, func(a, b Likely) int {
		return cmp.Or(cmp.Compare(b.P, a.P), cmp.Compare(b.N, a.N), cmp.Compare(a.Move, b.Move))
	})
	return out
}

// Between gives p its 80 % interval: the 10 % and 90 % quantiles of
// Beta(p*s, (1-p)*s).
func Between(p, s float64) Range {
	lo, hi := stat.BetaInterval(p, s)
	return Range{P: p, Lo: lo, Hi: hi}
}
