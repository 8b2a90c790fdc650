package stat

import (
	"math"
	"math/rand/v2"
	"slices"
	"testing"
)

func TestEffectiveSizeWorkedExamples(t *testing.T) {
	for _, c := range worked(t).Kish.Cases {
		if got := EffectiveSize(c.Weights); !near(got, c.Size, 1e-9) {
			t.Errorf("EffectiveSize(%v) = %v, want %v", c.Weights, got, c.Size)
		}
	}
}

func TestEffectiveSizeProperties(t *testing.T) {
	if got := EffectiveSize(nil); got != 0 {
		t.Errorf("of nothing: %v", got)
	}
	if got := EffectiveSize(oddFloats); !(got >= 1 && got <= float64(len(oddFloats))) {
		t.Errorf("of odd weights: %v", got)
	}
	for _, scale := range []float64{1e-320, 1e-200, 1, 1e200, 8e307} {
		if got := EffectiveSize([]float64{scale, scale}); !near(got, 2, 1e-9) {
			t.Errorf("two weights of %v count as %v", scale, got)
		}
	}
}

func TestHalfLifeWorkedExamples(t *testing.T) {
	for _, c := range worked(t).HalfLife.Cases {
		if got := HalfLife(c.Age, c.HalfLife); !near(got, c.Weight, 1e-15) {
			t.Errorf("HalfLife(%v, %v) = %v, want %v", c.Age, c.HalfLife, got, c.Weight)
		}
	}
	for _, age := range oddFloats {
		for _, halfLife := range oddFloats {
			if got := HalfLife(age, halfLife); !inUnit(got) {
				t.Errorf("HalfLife(%v, %v) = %v", age, halfLife, got)
			}
		}
	}
	if HalfLife(500, 0) != 1 || HalfLife(500, math.Inf(1)) != 1 {
		t.Error("no half-life must not fade")
	}
}

func TestLargestRemainder(t *testing.T) {
	for _, c := range []struct {
		name   string
		shares []float64
		total  int
		want   []int
	}{
		{"exact", []float64{0.5, 0.3, 0.2}, 10, []int{5, 3, 2}},
		{"thirds: the earlier", []float64{1, 1, 1}, 100, []int{34, 33, 33}},
		{"equal remainders: the larger", []float64{0.125, 0.375, 0.25, 0.25}, 10, []int{1, 4, 3, 2}},
		{"halves of different shares: the larger, though later", []float64{0.15, 0.35, 0.5}, 10, []int{1, 4, 5}},
		{"largest remainder wins", []float64{0.416, 0.338, 0.246}, 10, []int{4, 3, 3}},
		{"sum of tenths is a tie with three tenths", []float64{0.1 + 0.2, 0.3, 0.3}, 1, []int{1, 0, 0}},
		{"a hair under a whole", []float64{0.1 + 0.7, 0.2}, 10, []int{8, 2}},
		{"not normalised", []float64{6, 2, 2}, 10, []int{6, 2, 2}},
		{"fewer than shares", []float64{0.4, 0.3, 0.3}, 1, []int{1, 0, 0}},
		{"useless shares get nothing", []float64{math.NaN(), -1, 0, 0.5, math.Inf(1)}, 10, []int{0, 0, 0, 10, 0}},
		{"nothing to share by", []float64{0, 0}, 10, []int{0, 0}},
		{"nothing to share", []float64{1, 2}, 0, []int{0, 0}},
		{"none", nil, 10, []int{}},
		{"the largest total", []float64{1, 3}, math.MaxInt32, []int{1 << 29, 3<<29 - 1}},
		{"above it", []float64{1, 3}, math.MaxInt32 + 1, []int{0, 0}},
	} {
		t.Run(c.name, func(t *testing.T) {
			if got := LargestRemainder(c.shares, c.total); !slices.Equal(got, c.want) {
				t.Errorf("got %v, want %v", got, c.want)
			}
		})
	}
}

func TestLargestRemainderSumsAndStaysWithinOne(t *testing.T) {
	r := rand.New(rand.NewPCG(5, 6))
	for range 20000 {
		shares := make([]float64, 1+r.IntN(12))
		for i := range shares {
			shares[i] = math.Exp(r.Float64()*40 - 20)
			if r.IntN(6) == 0 {
				shares[i] = 0
			}
		}
		shares[0] += 1e-9
		whole := 0.0
		for _, s := range shares {
			whole += s
		}
		total := r.IntN(1001)
		sum := 0
		for i, n := range LargestRemainder(shares, total) {
			sum += n
			if quota := shares[i] / whole * float64(total); math.Abs(float64(n)-quota) > 1+1e-6 {
				t.Fatalf("%v of %d: share %d got %d", shares, total, i, n)
			}
		}
		if sum != total {
			t.Fatalf("%v of %d sums to %d", shares, total, sum)
		}
	}
	for _, s := range []float64{5e-324, math.MaxFloat64} {
		if got := LargestRemainder([]float64{s, s}, 10); got[0] != 5 || got[1] != 5 {
			t.Errorf("two shares of %v: %v", s, got)
		}
	}
}
