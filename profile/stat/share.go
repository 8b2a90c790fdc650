package stat

import (
	"cmp"
	"math"
	"slices"
)

// shareGrain is the fraction of a unit below which two shares count as equal,
// so that the last bit of a sum decides neither a rounding nor a tie.
const shareGrain = 1e-9

// LargestRemainder splits total into whole numbers in the ratio of the shares,
// so that printed shares sum to exactly total: each gets its quota rounded
// down, and what is left goes one by one to the largest remainders (the method
// of Hamilton and Hare, common practice). Equal remainders go to the larger
// share, then to the earlier one. The shares need not sum to 1; those that are
// not positive and finite get nothing. If none is positive, or total is not,
// all are 0. Meant for totals such as 10, 100 or 1000; above 2^31 they are
// refused as 0.
func LargestRemainder(shares []float64, total int) []int {
	out := make([]int, len(shares))
	largest := 0.0
	for _, s := range shares {
		if usable(s) {
			largest = math.Max(largest, s)
		}
	}
	if largest == 0 || total <= 0 || total > math.MaxInt32 {
		return out
	}
	sum := 0.0 // of the shares over the largest: no overflow
	for _, s := range shares {
		if usable(s) {
			sum += s / largest
		}
	}
	const grains = 1 / shareGrain
	remainder := make([]int64, len(shares))
	left := total
	var order []int
	for i, s := range shares {
		if !usable(s) {
			continue
		}
		quota := int64(math.Round(s / largest / sum * float64(total) * grains))
		out[i], remainder[i] = int(quota/grains), quota%grains
		left -= out[i]
		order = append(order, i)
	}
	slices.SortStableFunc(order, func(i, j int) int {
		return cmp.Or(cmp.Compare(remainder[j], remainder[i]), cmp.Compare(out[j], out[i]))
	})
	for k := 0; left > 0; k++ {
		out[order[k%len(order)]]++
		left--
	}
	return out
}
