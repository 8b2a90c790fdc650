package stat

import (
	"math"
	"math/big"
	"testing"
)

// The lady tasting tea (Fisher 1935, chapter II): of eight cups four have the
// milk first; all four right is 1 chance in 70, three or more 17 in 70.
func TestHypergeometricTailOfTheTea(t *testing.T) {
	for k, want := range map[int]float64{5: 0, 4: 1. / 70, 3: 17. / 70, 2: 53. / 70, 1: 69. / 70, 0: 1, -1: 1} {
		if got := HypergeometricTail(k, 4, 4, 8); math.Abs(got-want) > 1e-12 {
			t.Errorf("%d or more: %v, want %v", k, got, want)
		}
	}
}

// Against exact binomial coefficients.
func TestHypergeometricTailIsExact(t *testing.T) {
	for total := 1; total <= 60; total += 7 {
		for n := 0; n <= total; n += 3 {
			for marked := 0; marked <= total; marked += 4 {
				tail := new(big.Rat)
				all := new(big.Int).Binomial(int64(total), int64(n))
				for k := min(n, marked); k >= max(0, n+marked-total); k-- {
					ways := new(big.Int).Binomial(int64(marked), int64(k))
					ways.Mul(ways, new(big.Int).Binomial(int64(total-marked), int64(n-k)))
					tail.Add(tail, new(big.Rat).SetFrac(ways, all))
					want, _ := tail.Float64()
					if got := HypergeometricTail(k, n, marked, total); math.Abs(got-want) > 1e-9*want {
						t.Fatalf("%d of %d drawn, %d of %d marked: %v, want %v", k, n, marked, total, got, want)
					}
				}
			}
		}
	}
}

// What is out of range is brought into it: no more are drawn or marked than there are.
func TestHypergeometricTailOutOfRange(t *testing.T) {
	for _, c := range []struct {
		k, n, marked, total int
		want                float64
	}{
		{2, 9, 1, 5, 0}, {1, 9, 1, 5, 1}, {2, 1, 9, 5, 0}, {1, 1, 9, 5, 1}, {1, -3, 2, 5, 0}, {0, -3, 2, 5, 1}, {1, 3, -2, 5, 0},
		{1, 3, 2, -5, 0}, {0, 3, 2, -5, 1}, {1, 3, 2, 0, 0},
	} {
		if got := HypergeometricTail(c.k, c.n, c.marked, c.total); got != c.want {
			t.Errorf("%+v: %v", c, got)
		}
	}
	for n := range 50 { // the least that must come is certain to the last bit
		if got := HypergeometricTail(max(0, n-13), n, 37, 50); got != 1 {
			t.Errorf("%d drawn: %v", n, got)
		}
	}
}
