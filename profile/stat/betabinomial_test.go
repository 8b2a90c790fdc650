package stat

import (
	"math"
	"math/rand/v2"
	"testing"
)

func TestBetaBinomialAgainstExactFractions(t *testing.T) {
	for _, r := range table(t, "beta_binomial.tsv") {
		n, k := r.int(t, "n"), r.int(t, "k")
		a, b := r.float(t, "a"), r.float(t, "b")
		pmf, cdf := r.float(t, "pmf"), r.float(t, "cdf")
		if got := BetaBinomial(n, a, b)[k]; !near(got, pmf, 1e-12*pmf) {
			t.Errorf("%d of %d; %v, %v: %v, want %v", k, n, a, b, got, pmf)
		}
		if got := atMost(k, n, a, b); !near(got, cdf, 1e-12) {
			t.Errorf("at most %d of %d; %v, %v: %v, want %v", k, n, a, b, got, cdf)
		}
	}
}

// atMost is the probability of at most k successes.
func atMost(k, n int, a, b float64) float64 {
	sum := 0.0
	for _, p := range BetaBinomial(n, a, b)[:k+1] {
		sum += p
	}
	return sum
}

func TestBetaBinomialInterval(t *testing.T) {
	for _, c := range []struct {
		name   string
		n      int
		a, b   float64
		mass   float64
		lo, hi int
	}{
		// eleven equally likely counts: one off either end leaves 9/11
		{"uniform", 10, 1, 1, 0.8, 1, 9},
		{"uniform, just not enough", 10, 1, 1, 0.82, 0, 10},
		{"uniform, a tenth is cut off either end", 9, 1, 1, 0.8, 1, 8},
		{"the whole", 10, 2, 3, 1, 0, 10},
		{"certain not", 10, 0, 3, 0.8, 0, 0},
		{"certain", 10, 3, 0, 0.8, 10, 10},
		{"one or the other", 10, 0, 0, 0.8, 0, 10},
		// binomial(10, 1/2): 2 or fewer 0.0547, 3 or fewer 0.1719
		{"infinite strength is binomial", 10, math.Inf(1), math.Inf(1), 0.8, 3, 7},
		{"no trials", 0, 2, 3, 0.8, 0, 0},
		{"no mass is the median", 10, 5, 5, 0, 5, 5},
	} {
		t.Run(c.name, func(t *testing.T) {
			lo, hi := BetaBinomialInterval(c.n, c.a, c.b, c.mass)
			if lo != c.lo || hi != c.hi {
				t.Errorf("got %d..%d, want %d..%d", lo, hi, c.lo, c.hi)
			}
		})
	}
}

func TestBetaBinomialIntervalIsCentralAndTight(t *testing.T) {
	r := rand.New(rand.NewPCG(3, 4))
	for range 3000 {
		n, mass := r.IntN(30), r.Float64()
		a, b := math.Exp(r.Float64()*14-7), math.Exp(r.Float64()*14-7)
		lo, hi := BetaBinomialInterval(n, a, b, mass)
		below, above := atMost(lo-1, n, a, b), 1-atMost(hi, n, a, b)
		tail := (1 - mass) / 2
		if lo > hi || below > tail+1e-9 || above > tail+1e-9 {
			t.Errorf("n %d, Beta(%v, %v), mass %v: %d..%d leaves %v and %v", n, a, b, mass, lo, hi, below, above)
		}
		if lo < hi && atMost(lo, n, a, b) < tail-1e-9 {
			t.Errorf("n %d, Beta(%v, %v), mass %v: %d could be higher", n, a, b, mass, lo)
		}
		if l, h := BetaBinomialInterval(n, b, a, mass); mass > 0.01 && (l != n-hi || h != n-lo) {
			t.Errorf("n %d, Beta(%v, %v), mass %v: %d..%d, mirrored %d..%d", n, a, b, mass, lo, hi, l, h)
		}
	}
}

func TestBetaBinomialIsAlwaysADistribution(t *testing.T) {
	for _, n := range []int{-3, 0, 1, 10, 500} {
		for _, a := range oddFloats {
			for _, b := range oddFloats {
				sum := 0.0
				for k, p := range BetaBinomial(n, a, b) {
					if !inUnit(p) {
						t.Fatalf("BetaBinomial(%d, %v, %v)[%d] = %v", n, a, b, k, p)
					}
					sum += p
				}
				if !near(sum, 1, 1e-9) {
					t.Errorf("BetaBinomial(%d, %v, %v) sums to %v", n, a, b, sum)
				}
				for _, mass := range oddFloats {
					if lo, hi := BetaBinomialInterval(n, a, b, mass); lo < 0 || lo > hi || hi > max(n, 0) {
						t.Errorf("interval(%d, %v, %v, %v) = %d..%d", n, a, b, mass, lo, hi)
					}
				}
			}
		}
	}
}

func BenchmarkBetaBinomialInterval(b *testing.B) {
	for b.Loop() {
		BetaBinomialInterval(10, 1.5, 5, 0.8)
	}
}
