package stat

import (
	"math"
	"math/rand/v2"
	"testing"

	"gonum.org/v1/gonum/mathext"
)

func TestBetaQuantileAgainstHighPrecision(t *testing.T) {
	for _, r := range table(t, "beta_quantiles.tsv") {
		p, a, b := r.float(t, "p"), r.float(t, "a"), r.float(t, "b")
		x, complement := r.float(t, "x"), r.float(t, "one_minus_x")
		got := BetaQuantile(p, a, b)
		// Relative to the nearer end, so that tiny answers are checked
		// too; a million games' worth costs the library three digits.
		tolerance := 1e-9 * math.Min(x, complement)
		if !near(got, x, tolerance+2e-16) {
			t.Errorf("BetaQuantile(%v, %v, %v) = %.17g, want %.17g", p, a, b, got, x)
		}
		// The mirrored distribution shows the digits that 1-x hides.
		if mirrored := BetaQuantile(1-p, b, a); p > 1e-3 && !near(mirrored, complement, 1e-9*complement+1e-300) {
			t.Errorf("BetaQuantile(%v, %v, %v) = %.17g, want %.17g", 1-p, b, a, mirrored, complement)
		}
	}
}

func TestBetaQuantileLimits(t *testing.T) {
	inf := math.Inf(1)
	for _, c := range []struct {
		name    string
		p, a, b float64
		want    float64
	}{
		{"a zero: all at 0", 0.9, 0, 3, 0},
		{"b zero: all at 1", 0.1, 3, 0, 1},
		{"both zero, lower half", 0.4, 0, 0, 0},
		{"both zero, upper half", 0.6, 0, 0, 1},
		{"both vanish one to three, below", 0.74, 1e-200, 3e-200, 0},
		{"both vanish one to three, above", 0.76, 1e-200, 3e-200, 1},
		{"both infinite", 0.1, inf, inf, 0.5},
		{"a infinite", 0.1, inf, 2, 1},
		{"b infinite", 0.9, 2, inf, 0},
		{"both vanish alike, just the lower half", 0.5, 1e-13, 1e-13, 0},
		{"p zero though all is at 1", 0, 2, 0, 0},
		{"p one though all is at 0", 1, 0, 2, 1},
		{"p zero", 0, 2, 3, 0},
		{"p one", 1, 2, 3, 1},
		{"p beyond one", 7, 2, 3, 1},
	} {
		t.Run(c.name, func(t *testing.T) {
			if got := BetaQuantile(c.p, c.a, c.b); !near(got, c.want, 1e-3) {
				t.Errorf("got %v, want %v", got, c.want)
			}
		})
	}
}

func TestBetaQuantileInvertsTheDistribution(t *testing.T) {
	r := rand.New(rand.NewPCG(1, 2))
	for range 20000 {
		a, b := math.Exp(r.Float64()*22-8), math.Exp(r.Float64()*22-8)
		p := r.Float64()
		x := BetaQuantile(p, a, b)
		if !inUnit(x) {
			t.Fatalf("BetaQuantile(%v, %v, %v) = %v", p, a, b, x)
		}
		if x < 1e-290 || x > 1-1e-9 {
			continue // too near an end for one float64 to carry p
		}
		if back := distribution(a, b, x); !near(back, p, 1e-6) {
			t.Errorf("BetaQuantile(%v, %v, %v) = %v, where the distribution is %v", p, a, b, x, back)
		}
		if higher := BetaQuantile(math.Min(1, p+0.01), a, b); higher < x {
			t.Errorf("BetaQuantile falls with p at %v for %v, %v: %v after %v", p, a, b, higher, x)
		}
	}
}

// distribution is P(X ≤ x), taken from the nearer end: the library loses
// digits for x near 1.
func distribution(a, b, x float64) float64 {
	if x > 0.5 {
		return 1 - mathext.RegIncBeta(b, a, 1-x)
	}
	return mathext.RegIncBeta(a, b, x)
}

func TestBetaNeverLeavesTheUnitInterval(t *testing.T) {
	for _, p := range oddFloats {
		for _, a := range oddFloats {
			for _, b := range oddFloats {
				if x := BetaQuantile(p, a, b); !inUnit(x) {
					t.Errorf("BetaQuantile(%v, %v, %v) = %v", p, a, b, x)
				}
			}
			if lo, hi := BetaInterval(p, a); !inUnit(lo) || !inUnit(hi) || lo > hi {
				t.Errorf("BetaInterval(%v, %v) = %v, %v", p, a, lo, hi)
			}
			if x, y, ok := BetaFromMoments(p, a); math.IsNaN(x) || math.IsNaN(y) || ok && !(x > 0 && y > 0) {
				t.Errorf("BetaFromMoments(%v, %v) = %v, %v, %v", p, a, x, y, ok)
			}
		}
	}
}

func TestBetaFromMomentsReturnsTheParameters(t *testing.T) {
	for _, c := range [][2]float64{{1, 1}, {0.5, 0.5}, {3, 7}, {0.02, 0.98}, {1e-3, 40}, {500, 0.2}, {4000, 6000}} {
		a, b := c[0], c[1]
		mean := a / (a + b)
		second := mean * (a + 1) / (a + b + 1)
		gotA, gotB, ok := BetaFromMoments(mean, second)
		if !ok || !near(gotA, a, 1e-7*a) || !near(gotB, b, 1e-7*b) {
			t.Errorf("of Beta(%v, %v): got %v, %v, %v", a, b, gotA, gotB, ok)
		}
	}
}

func TestBetaFromMomentsRefusesWhatNoBetaHas(t *testing.T) {
	for _, c := range []struct {
		name         string
		mean, second float64
	}{
		{"certain not to happen", 0, 0},
		{"certain to happen", 1, 1},
		{"no variance", 0.3, 0.09},
		{"negative variance", 0.3, 0.08},
		{"all weight at the ends", 0.3, 0.3},
		{"more than that", 0.3, 0.4},
		{"mean beyond one", 1.2, 1.5},
	} {
		t.Run(c.name, func(t *testing.T) {
			if a, b, ok := BetaFromMoments(c.mean, c.second); ok {
				t.Errorf("got Beta(%v, %v)", a, b)
			}
		})
	}
}

func TestBetaInterval(t *testing.T) {
	for _, c := range []struct {
		name           string
		mean, strength float64
		lo, hi         float64
	}{
		{"uniform", 0.5, 2, 0.1, 0.9},
		// the arcsine distribution, quantile sin²(πp/2)
		{"arcsine", 0.5, 1, 0.0244717418524232, 0.9755282581475768},
		// 1−(1−p)^(1/3)
		{"Beta(1, 3)", 0.25, 4, 0.03451063710, 0.53584111639},
		{"certain not", 0, 5, 0, 0},
		{"certain", 1, 5, 1, 1},
		{"nothing known of a rare move", 0.05, 0, 0, 0},
		{"nothing known of an even choice", 0.5, 0, 0, 1},
		{"nothing known of a usual move", 0.95, 0, 1, 1},
		{"everything known", 0.3, math.Inf(1), 0.3, 0.3},
		{"not a number", math.NaN(), 3, 0, 1},
	} {
		t.Run(c.name, func(t *testing.T) {
			lo, hi := BetaInterval(c.mean, c.strength)
			if !near(lo, c.lo, 1e-4) || !near(hi, c.hi, 1e-4) {
				t.Errorf("got %v, %v, want %v, %v", lo, hi, c.lo, c.hi)
			}
		})
	}
}

func TestBetaIntervalNarrowsWithStrength(t *testing.T) {
	last := 1.0
	for _, strength := range []float64{2, 4, 8, 16, 100, 1e4, 1e6, 1e8} {
		lo, hi := BetaInterval(0.4, strength)
		if hi-lo >= last || lo >= 0.4 || hi <= 0.4 {
			t.Errorf("strength %v: %v..%v after a width of %v", strength, lo, hi, last)
		}
		last = hi - lo
	}
}

func BenchmarkBetaInterval(b *testing.B) {
	for b.Loop() {
		BetaInterval(0.23, 6.5)
	}
}

// gonum's inverse of the same function, from another hand, agrees wherever a walk asks.
func TestBetaQuantileAgreesWithGonum(t *testing.T) {
	r := rand.New(rand.NewPCG(20, 26))
	for range 4000 {
		a, b, p := math.Pow(10, 9*r.Float64()-5), math.Pow(10, 9*r.Float64()-5), []float64{0.005, 0.1, 0.9, 0.995}[r.IntN(4)]
		if got, want := BetaQuantile(p, a, b), mathext.InvRegIncBeta(a, b, p); math.Abs(got-want) > 1e-9 {
			t.Errorf("the %v quantile of Beta(%v, %v) is %v, gonum's %v", p, a, b, got, want)
		}
	}
}
