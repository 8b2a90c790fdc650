package stat

import "math"

// HypergeometricTail returns the chance of at least k marked ones among n drawn
// without putting back from total, of which marked are marked: the one-sided
// p-value of Fisher's exact test (R. A. Fisher, The Design of Experiments, 1935,
// chapter II). Arguments out of range are brought into it.
func HypergeometricTail(k, n, marked, total int) float64 {
	n, marked = min(max(n, 0), total), min(max(marked, 0), total)
	least, most := max(0, n+marked-total), min(n, marked)
	if k <= least {
		return 1
	}
	sum := 0.0
	all := logChoose(total, n)
	for i := k; i <= most; i++ {
		sum += math.Exp(logChoose(marked, i) + logChoose(total-marked, n-i) - all)
	}
	return math.Min(sum, 1)
}

// logChoose is the logarithm of the binomial coefficient.
func logChoose(n, k int) float64 {
	a, _ := math.Lgamma(float64(n + 1))
	b, _ := math.Lgamma(float64(k + 1))
	c, _ := math.Lgamma(float64(n - k + 1))
	return a - b - c
}
