package stat

import "math"

// equalMass is how far two sums of probabilities may differ and still count
// as equal: rounding must not decide which end of an interval is cut.
const equalMass = 1e-12

// BetaBinomial returns the probabilities of 0, 1, …, n successes in n trials
// whose common probability is Beta(a, b): the element k is
// C(n,k)·B(k+a, n−k+b)/B(a,b) (Skellam 1948; formula from memory, checked
// against exact sums). The limits for vanishing and infinite parameters are
// those of BetaQuantile; a negative n counts as 0.
func BetaBinomial(n int, a, b float64) []float64 {
	n, a, b = max(n, 0), parameter(a), parameter(b)
	p := make([]float64, n+1)
	if a == 0 || b == 0 {
		switch {
		case a == b:
			p[0] += 0.5
			p[n] += 0.5
		case a == 0:
			p[0] = 1
		default:
			p[n] = 1
		}
		return p
	}
	// Each term from the one before, in logarithms: no gamma functions, so
	// no digits are lost to large ones cancelling.
	logs, largest := p, 0.0
	for k := 1; k <= n; k++ {
		j := float64(k - 1)
		ratio := math.Log(float64(n)-j) - math.Log(j+1) +
			math.Log(j+a) - math.Log(float64(n)-j-1+b)
		logs[k] = logs[k-1] + ratio
		largest = math.Max(largest, logs[k])
	}
	sum := 0.0
	for k, l := range logs {
		p[k] = math.Exp(l - largest)
		sum += p[k]
	}
	for k := range p {
		p[k] /= sum
	}
	return p
}

// BetaBinomialInterval returns the central interval lo..hi of the number of
// successes: on either side of it lies no more than (1−mass)/2, so it holds at
// least mass, and it mirrors when a and b change places. mass is cut to 0..1.
func BetaBinomialInterval(n int, a, b float64, mass float64) (lo, hi int) {
	p := BetaBinomial(n, a, b)
	tail := (1-unit(mass))/2 + equalMass
	lo, hi = 0, len(p)-1
	for below := p[lo]; below <= tail && lo < hi; below += p[lo] {
		lo++
	}
	for above := p[hi]; above <= tail && hi > lo; above += p[hi] {
		hi--
	}
	return lo, hi
}
