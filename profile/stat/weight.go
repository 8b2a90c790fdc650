package stat

import "math"

// HalfLife returns the weight 2^(−age/halfLife) of something that old; age and
// half-life are in the same unit, days or games. Only a positive half-life
// fades: zero, negative and infinite ones keep the weight 1. An age below 0
// counts as 0.
func HalfLife(age, halfLife float64) float64 {
	if !(age > 0) || !(halfLife > 0) || math.IsInf(halfLife, 1) {
		return 1
	}
	return math.Exp2(-age / halfLife)
}

// EffectiveSize returns Kish's effective sample size (Σw)²/Σw² (Kish, Survey
// Sampling, 1965): how many equally weighted games these are worth. It lies
// between 1 and the number of weights. Weights that are not positive and
// finite are left out; with none left it is 0.
func EffectiveSize(weights []float64) float64 {
	largest := 0.0
	for _, w := range weights {
		if usable(w) {
			largest = math.Max(largest, w)
		}
	}
	if largest == 0 {
		return 0
	}
	// Scaled by the largest, so that squares neither overflow nor vanish.
	sum, squares := 0.0, 0.0
	for _, w := range weights {
		if usable(w) {
			sum += w / largest
			squares += (w / largest) * (w / largest)
		}
	}
	return sum * sum / squares
}

func usable(w float64) bool { return w > 0 && !math.IsInf(w, 1) }
