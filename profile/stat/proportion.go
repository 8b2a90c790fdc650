package stat

import "math"

// Wilson returns the score interval of a proportion from k successes in n
// trials: the p for which k/n is not further from p than z standard errors
// (Wilson 1927; method 3 of Newcombe 1998, Statistics in Medicine 17,
// 857-872). confidence is two-sided, 0.95 for 95 %. k and n may be fractional,
// as weighted counts are; k is cut to 0..n, and no trials give (0, 1).
func Wilson(k, n, confidence float64) (lo, hi float64) {
	k, n, confidence, ok := counts(k, n, confidence)
	if !ok {
		return 0, 1
	}
	z := math.Sqrt2 * math.Erfinv(confidence)
	p, zz := k/n, z*z/n
	centre := (p + zz/2) / (1 + zz)
	half := z / (1 + zz) * math.Sqrt(p*(1-p)/n+zz/(4*n))
	// With p, exact at the ends, where rounding would leave a speck.
	return math.Min(unit(centre-half), p), math.Max(unit(centre+half), p)
}

// ordered undoes what rounding may do to the ends of an interval of (nearly) no
// width.
func ordered(lo, hi float64) (float64, float64) { return min(lo, hi), max(lo, hi) }

// counts brings the arguments of an interval into range; ok is false where
// they leave everything possible.
func counts(k, n, confidence float64) (_, _, _ float64, ok bool) {
	confidence = unit(confidence)
	if !(n > 0) || math.IsNaN(k) || confidence == 1 {
		return 0, 0, 0, false
	}
	n = math.Min(n, heaviest*heaviest)
	return math.Min(math.Max(k, 0), n), n, confidence, true
}
