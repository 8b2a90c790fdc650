package stat

import "math"

// EloExpectation returns the expected score (win 1, draw ½) of a player rated
// diff points above the opponent: 1/(1+10^(−diff/400)), the logistic form of
// Elo's formula (common practice). FIDE's own table is FIDEScore. NaN counts
// as 0.
func EloExpectation(diff float64) float64 {
	if math.IsNaN(diff) {
		diff = 0
	}
	return 1 / (1 + math.Pow(10, -diff/400))
}
