package walk

import (
	"math"

	"foreply/compare/fact"
	"foreply/profile/stat"
)

// Reach is the probability that a game passes a place, with its second moment:
// their moves at a position are held as a Dirichlet distribution, each as
// Beta(p*s, (1-p)*s), those of different positions as independent.
type Reach struct {
	Mass   float64
	Square float64 // mean of its square
	ways   []way   // what it is the sum of
}

// way is one of the ways to a place: from a state by moves of probability p.
type way struct {
	from *State
	p    float64
}

// add adds the way from s by moves of probability p, whose square has the mean
// given. The square of a sum has a part for each pair of ways, too.
func (r *Reach) add(s *State, p, square float64) {
	r.Mass += s.Mass * p
	r.Square += s.Square * square
	for _, w := range r.ways {
		r.Square += 2 * together(w.from, s) * w.p * p
	}
	r.ways = append(r.ways, way{s, p})
}

// secondMoment is E[x^2] for x ~ Beta(p*s, (1-p)*s).
func secondMoment(p, s float64) float64 { return p * (p*s + 1) / (s + 1) }

// together is the mean product of two reaches of one ply. Their likeliest ways
// share what leads to the position where they part, by different moves, for
// which E[p*q] = p*q*s/(s+1) in a Dirichlet distribution of strength s; all else
// is taken as independent.
func together(a, b *State) float64 {
	product := a.Mass * b.Mass
	for x, y := a, b; x != nil && y != nil; x, y = x.Via, y.Via {
		if x != y {
			continue
		}
		if s := x.Expected.Strength; s > 0 {
			product *= x.Square / (x.Mass * x.Mass) * s / (s + 1)
		}
		break
	}
	return min(product, math.Sqrt(a.Square*b.Square))
}

// beta are the parameters of the Beta distribution with the moments of a reach;
// ok is false for one that is certain.
func (r *Reach) beta() (a, b float64, ok bool) {
	return stat.BetaFromMoments(r.Mass, min(r.Square, r.Mass))
}

// Interval is the 80 % interval of a reach.
func (r *Reach) Interval() (lo, hi float64) {
	a, b, ok := r.beta()
	if !ok {
		return r.Mass, r.Mass
	}
	// Far from one half a skewed Beta may have both quantiles beyond its mean.
	return min(stat.BetaQuantile(0.1, a, b), r.Mass), max(stat.BetaQuantile(0.9, a, b), r.Mass)
}

// hardly reports whether a reach is hardly known.
func (r *Reach) hardly() bool {
	lo, hi := r.Interval()
	return fact.Chance{P: r.Mass, Lo: lo, Hi: hi}.Hardly()
}

// Often is the reach as it is told, of a place that so many games of theirs came
// to of those at the first choice of theirs on the way.
func (r *Reach) Often(games, of int) fact.Often {
	lo, hi := r.Interval()
	return fact.NewOften(fact.Chance{P: r.Mass, Lo: lo, Hi: hi}, games, of)
}
