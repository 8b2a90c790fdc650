package profile

import (
	"slices"

	"foreply/profile/stat"
)

// part is how one setting makes the probability of a move from its tally:
// short*v(m) + long*c(m) - cut*min(1, c(m)) + base*B(m).
type part struct{ short, long, cut, base float64 }

// partsOf works out the parts of all settings.
func (e *evidence) partsOf(settings []setting) []part {
	e.parts = e.parts[:0]
	for i := range settings {
		e.parts = append(e.parts, e.part(&settings[i]))
	}
	return e.parts
}

// part works out the long and the short memory under one setting.
//
// The long memory is a Pitman-Yor process over weighted visits, with one table
// a move (Pitman and Yor 1997; Teh 2006 for its use on sequences): with
// C = sum of c, D(m) = d*min(1, c(m)) and the concentration
// theta = conc + scale*N/(N+10), P3 = (c(m) - D(m) + (theta + sum of D)*B(m)) / (C + theta).
// The short memory: P4 = (v(m) + k*P3) / (V + k).
func (e *evidence) part(s *setting) part {
	theta := s.conc + s.peerScale*e.pull
	rest := s.shortPrior / (e.short + s.shortPrior)
	scale := rest / (e.long[s.halfLife] + theta)
	return part{
		short: 1 / (e.short + s.shortPrior),
		long:  scale,
		cut:   scale * s.discount,
		base:  scale * (theta + s.discount*e.once[s.halfLife]),
	}
}

// of is the probability of one move under the setting.
func (p *part) of(t *tally, s *setting) float64 {
	with := 0
	if s.peers {
		with = 1
	}
	return p.short*t.short + p.long*t.long[s.halfLife] - p.cut*t.once[s.halfLife] + p.base*t.base[with][s.halfLife]
}

// blend is the weighted mean of the parts of all settings.
type blend struct {
	short     float64
	long, cut [halfLives]float64
	base      [2][halfLives]float64
}

func blended(parts []part, settings []setting, weights []float64) blend {
	var b blend
	for i := range settings {
		s, w, p := &settings[i], weights[i], &parts[i]
		b.short += w * p.short
		b.long[s.halfLife] += w * p.long
		b.cut[s.halfLife] += w * p.cut
		with := 0
		if s.peers {
			with = 1
		}
		b.base[with][s.halfLife] += w * p.base
	}
	return b
}

func (b *blend) of(t *tally) float64 {
	p := b.short * t.short
	for h := range halfLives {
		p += b.long[h]*t.long[h] - b.cut[h]*t.once[h] + b.base[0][h]*t.base[0][h] + b.base[1][h]*t.base[1][h]
	}
	return p
}

// mixed are the probabilities of the legal moves in the mixture.
func (b *blend) mixed(e *evidence) []float64 {
	e.mixed = slices.Grow(e.mixed[:0], len(e.moves))[:len(e.moves)]
	p, sum := e.mixed, 0.0
	for i := range p {
		p[i] = max(b.of(&e.moves[i]), 0)
		sum += p[i]
	}
	for i := range p {
		p[i] /= sum
	}
	return p
}

// refinement is what was fitted for such a position: peers who have never been there
// tell nothing of it.
func (m *Model) refinement(e *evidence) *Refinement {
	if e.peered {
		return &m.Peers
	}
	return &m.Plain
}

// effective is the effective number of visits (Kish 1965), each weighted by its
// part in the mixture.
func (o *Outlook) effective(e *evidence, b *blend) float64 {
	weights := e.weights[:0]
	for i := range e.passes {
		v := &e.passes[i]
		w := b.short * v.short
		for h := range halfLives {
			w += b.long[h] * v.z * o.weight[v.game][h]
		}
		weights = append(weights, w)
	}
	e.weights = weights
	return stat.EffectiveSize(weights)
}

// unseen joins the tallies of the moves never played here, so that a setting's
// probability of it is that of something new.
func (e *evidence) unseen() tally {
	var all tally
	for i := range e.moves {
		if t := &e.moves[i]; t.n == 0 {
			for h := range halfLives {
				all.base[0][h] += t.base[0][h]
				all.base[1][h] += t.base[1][h]
			}
		}
	}
	return all
}
