package main

import (
	"math"

	"foreply/profile"
	"foreply/profile/hindsight"
)

// sample is one prediction made without numbers of the last step, as far as that
// step needs it.
type sample struct {
	outcomes []profile.Outcome // none where there is nothing to judge
	came     int
	one      float64 // bits where there is nothing to judge
	raw      float64 // bits of the plain counts
}

// newSample keeps what is fitted: with peers the positions where they have been,
// for the others have the numbers without.
func newSample(p *hindsight.Prediction, peers bool, plain *profile.Terms) sample {
	s := sample{one: -math.Log2(p.Given), raw: -math.Log2(p.Raw)}
	l := p.Look.Lesson(&p.Position, p.Played)
	if l == nil {
		return s
	}
	s.outcomes, s.came = l.Outcomes, l.Came
	if peers && !l.Peered {
		for i := range s.outcomes {
			o := &s.outcomes[i]
			o.Score += dot(plain, &o.X)
			o.X = profile.Terms{}
		}
	}
	return s
}

func dot(a, b *profile.Terms) float64 {
	sum := 0.0
	for k := range a {
		sum += a[k] * b[k]
	}
	return sum
}

// chances are the probabilities of the outcomes by numbers w.
func (s *sample) chances(w *profile.Terms, p []float64) []float64 {
	p = p[:0]
	sum := 0.0
	for i := range s.outcomes {
		p = append(p, math.Exp(s.outcomes[i].Score+dot(w, &s.outcomes[i].X)))
		sum += p[i]
	}
	for i := range p {
		p[i] /= sum
	}
	return p
}

// bits sums the one-event bits of samples by numbers w, and the plain counts'.
func bits(samples []sample, w profile.Terms) (one, raw float64) {
	var p []float64
	for i := range samples {
		s := &samples[i]
		raw += s.raw
		if len(s.outcomes) == 0 {
			one += s.one
			continue
		}
		p = s.chances(&w, p)
		one -= math.Log2(p[s.came])
	}
	return one, raw
}

const terms = len(profile.Terms{})

// fitTerms finds the numbers of greatest likelihood by Newton's method, all groups of
// equal weight: a conditional logit (McFadden 1974). A normal prior of deviation 1,
// against the weight of 10,000 samples, keeps them finite.
func fitTerms(groups [][]sample) (w profile.Terms) {
	for range 12 {
		var slope profile.Terms
		var bend [terms]profile.Terms
		for k := range w {
			bend[k][k], slope[k] = 1, -w[k]
		}
		for _, g := range groups {
			weight := 10000 / float64(len(groups)) / float64(max(len(g), 1))
			for i := range g {
				climb(&g[i], &w, weight, &slope, &bend)
			}
		}
		move := solve(bend, slope)
		for k := range w {
			w[k] += move[k]
		}
	}
	return w
}

func climb(s *sample, w *profile.Terms, weight float64, slope *profile.Terms, bend *[terms]profile.Terms) {
	p := s.chances(w, make([]float64, 0, len(s.outcomes)))
	var middle profile.Terms
	for i := range p {
		for k, x := range s.outcomes[i].X {
			middle[k] += p[i] * x
		}
	}
	for i := range p {
		x := s.outcomes[i].X
		for k := range x {
			x[k] -= middle[k]
		}
		for k := range x {
			if i == s.came {
				slope[k] += weight * x[k]
			}
			for l := range x {
				bend[k][l] += weight * p[i] * x[k] * x[l]
			}
		}
	}
}

// solve is Gaussian elimination; the matrix is positive definite.
func solve(a [terms]profile.Terms, b profile.Terms) profile.Terms {
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
