package find

import (
	"foreply/compare/fact"
	"foreply/compare/walk"
	"foreply/profile"
	"foreply/profile/board"
	"math"
	"strings"
)

// normalTail is the chance that a standard normal value is above z.
func normalTail(z float64) float64 { return math.Erfc(z/math.Sqrt2) / 2 }

// ResultPoints are what a result is worth to the opponent, 0..1; one without a result
// counts 0.
func ResultPoints(r profile.Result) float64 {
	switch r {
	case profile.Win:
		return 1
	case profile.Draw:
		return 0.5
	}
	return 0
}

// passed counts the games that went on from a position.
func passed(pos *board.Position, games Games) int {
	if n := games.At(pos.Key()); n != nil {
		return int(n.Games)
	}
	return 0
}

// shareAt words a forecast at s as a share; its Ten is set by who prints it among
// others.
func shareAt(s *walk.State, r profile.Range, seen int) fact.Share {
	return fact.NewShare(fact.Chance(r), seen, s.Expected.Visits)
}

func withoutCheck(san string) string { return strings.TrimRight(san, "+#") }

// otherPoints is a result in points from the other side.
func otherPoints(points string) string {
	switch points {
	case "1":
		return "0"
	case "0":
		return "1"
	}
	return points
}
