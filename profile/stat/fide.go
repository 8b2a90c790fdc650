package stat

import "math"

// performanceDifference is table 8.1.1 of the FIDE Handbook, B.02 'FIDE Rating
// Regulations effective from 1 March 2024': the rating difference dp that goes
// with a score of 50, 51, …, 100 per cent. Below 50 the sign turns. The table,
// not the normal curve it was once made from, is the authority: they differ in
// 28 places. dp for 100 per cent is notional (8.1).
var performanceDifference = [51]int16{
	0, 7, 14, 21, 29, 36, 43, 50, 57, 65, // 50-59
	72, 80, 87, 95, 102, 110, 117, 125, 133, 141, // 60-69
	149, 158, 166, 175, 184, 193, 202, 211, 220, 230, // 70-79
	240, 251, 262, 273, 284, 296, 309, 322, 336, 351, // 80-89
	366, 383, 401, 422, 444, 470, 501, 538, 589, 677, // 90-99
	800, // 100
}

// scoreLimits is table 8.1.2 of the same chapter: the largest rating
// difference at which the higher rated player is expected to score 50, 51, …,
// 99 per cent. Above the last it is 100.
var scoreLimits = [50]int16{
	3, 10, 17, 25, 32, 39, 46, 53, 61, 68, // 50-59
	76, 83, 91, 98, 106, 113, 121, 129, 137, 145, // 60-69
	153, 162, 170, 179, 188, 197, 206, 215, 225, 235, // 70-79
	245, 256, 267, 278, 290, 302, 315, 328, 344, 357, // 80-89
	374, 391, 411, 432, 456, 484, 517, 559, 619, 735, // 90-99
}

// RatingList is the kind of FIDE rating, which decides how the 400-point rule
// is applied.
type RatingList int

const (
	StandardList   RatingList = iota // classical play
	RapidBlitzList                   // rapid or blitz
)

const (
	countedDifference = 400  // a larger difference counts as this
	exemptRating      = 2650 // from here on, in standard play, it counts in full
)

// FIDEScore returns the scoring probability PD of table 8.1.2 for a player
// rated d points above the opponent (below: negative), without the 400-point
// rule. Two decimals, as in the table.
func FIDEScore(d int) float64 {
	percent := 50
	for percent < 100 && magnitude(d) > int(scoreLimits[percent-50]) {
		percent++
	}
	if d < 0 {
		percent = 100 - percent
	}
	return float64(percent) / 100
}

// magnitude is |d|, also for the one int whose negative is itself.
func magnitude(d int) int { return max(d, -max(d, -math.MaxInt)) }

// FIDEDifference returns the rating difference that counts for a player's
// rating change: own less opponent, a difference of more than 400 counting as
// 400. In standard play, since 1 October 2025, the real difference counts for
// players rated 2650 or more (B.02 8.3.1); in rapid and blitz there is no such
// exemption (B.02 rapid and blitz 7.3.1).
func FIDEDifference(own, opponent int, list RatingList) int {
	d := own - opponent
	if list == StandardList && own >= exemptRating {
		return d
	}
	return min(max(d, -countedDifference), countedDifference)
}

// FIDEExpectation returns the score FIDE expects of a player in one game:
// table 8.1.2 after the 400-point rule.
func FIDEExpectation(own, opponent int, list RatingList) float64 {
	return FIDEScore(FIDEDifference(own, opponent, list))
}

// Performance is a FIDE performance rating and what it was made from.
type Performance struct {
	Games      int
	Average    int  // Ra, the opponents' average rating, whole, ½ upward
	Percent    int  // score in per cent of the games, whole, ½ upward
	Difference int  // dp of table 8.1.1
	Rating     int  // Rp = Ra + dp
	Notional   bool // 0 or 100 per cent: dp is only a convention (8.1)
}

// FIDEPerformance returns the performance rating Rp = Ra + dp (FIDE Handbook
// B.01 'Title Regulations effective from 1 January 2024', 1.4.7 to 1.4.9) from
// the number of games, the sum of the opponents' ratings in them, and the
// points scored (win 1, draw ½). Only games against rated opponents belong in
// it: FIDE has no rule for others in a private figure. The 400-point rule is
// no part of it. ok is false for no games, a negative sum, or points that are
// not halves in 0..games.
func FIDEPerformance(games, sumOfRatings int, points float64) (perf Performance, ok bool) {
	halves := int(math.Round(math.Max(points, -1) * 2))
	if games <= 0 || sumOfRatings < 0 || !(points >= 0 && points <= float64(games)) ||
		float64(halves) != points*2 {
		return Performance{}, false
	}
	perf = Performance{
		Games:   games,
		Average: (2*sumOfRatings + games) / (2 * games),
		// 100·(halves/2)/games, ½ upward
		Percent: (100*halves + games) / (2 * games),
	}
	perf.Difference = fideDifferenceOf(perf.Percent)
	perf.Rating = perf.Average + perf.Difference
	perf.Notional = perf.Percent == 0 || perf.Percent == 100
	return perf, true
}

// fideDifferenceOf looks up table 8.1.1 for a percentage in 0..100.
func fideDifferenceOf(percent int) int {
	if percent < 50 {
		return -int(performanceDifference[50-percent])
	}
	return int(performanceDifference[percent-50])
}
