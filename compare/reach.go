package compare

import (
	"math"

	"foreply/compare/fact"
	"foreply/profile/stat"
)

// reach is the probability that a game passes a place, with its second moment:
// their moves at a position are held as a Dirichlet distribution, each as
// Beta(p*s, (1-p)*s), those of different positions as independent.
type reach struct {
	mass   float64
	square float64 // mean of its square
	ways   []way   // what it is the sum of
}

// way is one of the ways to a place: from a state by moves of probability p.
type way struct {
	from *state
	p    float64
}

// add adds the way from s by moves of probability p, whose square has the mean
// given. The square of a sum has a part for each pair of ways, too.
func (r *reach) add(s *state, p, square float64) {
	r.mass += s.mass * p
	r.square += s.square * square
	for _, w := range r.ways {
		r.square += 2 * together(w.from, s) * w.p * p
	}
	r.ways = append(r.ways, way{s, p})
}

// secondMoment is E[x^2] for x ~ Beta(p*s, (1-p)*s).
func secondMoment(p, s float64) float64 { return p * (p*s + 1) / (s + 1) }

// together is the mean product of two reaches of one ply. Their likeliest ways
// share what leads to the position where they part, by different moves, for
// which E[p*q] = p*q*s/(s+1) in a Dirichlet distribution of strength s; all else
// is taken as independent.
func together(a, b *state) float64 {
	product := a.mass * b.mass
	for x, y := a, b; x != nil && y != nil; x, y = x.via, y.via {
		if x != y {
			continue
		}
		if s := x.expected.Strength; s > 0 {
			product *= x.square / (x.mass * x.mass) * s / (s + 1)
		}
		break
	}
	return min(product, math.Sqrt(a.square*b.square))
}

// beta are the parameters of the Beta distribution with the moments of a reach;
// ok is false for one that is certain.
func (r *reach) beta() (a, b float64, ok bool) {
	return stat.BetaFromMoments(r.mass, min(r.square, r.mass))
}

// interval is the 80 % interval of a reach.
func (r *reach) interval() (lo, hi float64) {
	a, b, ok := r.beta()
	if !ok {
		return r.mass, r.mass
	}
	// Far from one half a skewed Beta may have both quantiles beyond its mean.
	return min(stat.BetaQuantile(0.1, a, b), r.mass), max(stat.BetaQuantile(0.9, a, b), r.mass)
}

// tens is the 80 % interval of how many of their next ten games pass, the
// printed tenth within it.
func (r *reach) tens() (from, to int) {
	ten := int(math.Round(r.mass * 10))
	a, b, ok := r.beta()
	if !ok {
		return ten, ten
	}
	from, to = stat.BetaBinomialInterval(10, a, b, 0.8)
	return min(from, ten), max(to, ten)
}

// often is the reach as it is told.
func (r *reach) often() fact.Often {
	lo, hi := r.interval()
	from, to := r.tens()
	return fact.Often{Chance: fact.Chance{P: r.mass, Lo: lo, Hi: hi}, TenLo: from, TenHi: to}
}
