package main

import (
	"math"

	"foreply/profile/hindsight"
)

// sample is one prediction made without the step for new moves, as far as that
// step needs it.
type sample struct {
	logit float64 // of something new
	ply   float64 // of the move to come
	sure  bool    // nothing or everything is new: the step leaves it alone
	fresh bool    // something new came
	seen  float64 // bits of the move that came, among those played before; 0 if new
	raw   float64 // bits of the plain counts
}

func newSample(p *hindsight.Prediction) sample {
	fresh := p.Expected.Unseen.P
	s := sample{
		logit: math.Log(fresh) - math.Log1p(-fresh), ply: float64(p.Ply), sure: !(fresh > 0 && fresh < 1),
		fresh: p.New, raw: -math.Log2(p.Raw),
	}
	if !p.New {
		s.seen = -math.Log2(p.Given) + math.Log2(1-fresh)
	}
	return s
}

// step is the step for new moves: shift, slope and ply term.
type step [3]float64

// middlePly is where the ply term is 0, as in package profile.
const middlePly = 10

func (s *sample) terms(withPly bool) step {
	if !withPly {
		return step{1, s.logit, 0}
	}
	return step{1, s.logit, s.ply - middlePly}
}

// bits sums the one-event bits of samples after a step, and the plain counts'.
func bits(samples []sample, w step) (one, raw float64) {
	for i := range samples {
		s := &samples[i]
		raw += s.raw
		one += s.seen
		if s.sure {
			continue
		}
		z := w[0] + w[1]*s.logit + w[2]*(s.ply-middlePly)
		if s.fresh {
			z = -z
		}
		one += math.Log1p(math.Exp(z)) / math.Ln2
	}
	return one, raw
}

// fitStep finds the step of greatest likelihood by Newton's method: a logistic
// regression (Cox 1958) of 'something new came'. A normal prior of deviation 30
// keeps it finite.
func fitStep(groups [][]sample, withPly bool) step {
	w := step{0, 1, 0}
	for range 30 {
		var slope step
		var bend [3]step
		for i := range bend {
			bend[i][i] = 1e-3
		}
		for _, g := range groups {
			for i := range g {
				climbStep(&g[i], w, g[i].terms(withPly), &slope, &bend)
			}
		}
		move := solve(bend, slope)
		for i := range w {
			w[i] += move[i]
		}
	}
	return w
}

func climbStep(s *sample, w, x step, slope *step, bend *[3]step) {
	if s.sure {
		return
	}
	p := 1 / (1 + math.Exp(-(w[0]*x[0] + w[1]*x[1] + w[2]*x[2])))
	off := -p
	if s.fresh {
		off = 1 - p
	}
	for i := range x {
		slope[i] += off * x[i]
		for j := range x {
			bend[i][j] += p * (1 - p) * x[i] * x[j]
		}
	}
}

// solve is Gaussian elimination; the matrix is positive definite.
func solve(a [3]step, b step) step {
	for i := range b {
		for j := i + 1; j < len(b); j++ {
			f := a[j][i] / a[i][i]
			for k := range b {
				a[j][k] -= f * a[i][k]
			}
			b[j] -= f * b[i]
		}
	}
	for i := len(b) - 1; i >= 0; i-- {
		for k := i + 1; k < len(b); k++ {
			b[i] -= a[i][k] * b[k]
		}
		b[i] /= a[i][i]
	}
	return b
}
