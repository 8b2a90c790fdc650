package words

import (
	"fmt"
	"strconv"

	"foreply/compare/fact"
)

// YourPoints is what the user made of a game of which theirs is given: 1, ½, 0, or * as
// it is.
func YourPoints(theirs string) string {
	switch theirs {
	case "1":
		return "0"
	case "0":
		return "1"
	}
	return theirs
}

// Times says how often something happened.
func Times(n int) string {
	switch n {
	case 1:
		return "once"
	case 2:
		return "twice"
	}
	return fmt.Sprintf("%d times", n)
}

// YourScore is the result of a game between the two from the user's side.
func YourScore(r *fact.GameRow) string { return YourPoints(r.Score) }

// Pawns prints centipawns as players say them: '+0.3'. What stands at the cut
// is decided.
func Pawns(cp int) string {
	switch {
	case cp <= -fact.MostEval:
		return "lost"
	case cp >= fact.MostEval:
		return "won"
	}
	if pawns := fmt.Sprintf("%+.1f", float64(cp)/100); pawns != "+0.0" && pawns != "-0.0" {
		return pawns
	}
	return "0.0"
}

// Points prints the opponent's score: '4½ of 12'; games without a result are
// left out.
func Points(s fact.Score) string {
	return Sum(s) + fmt.Sprintf(" of %d", s.Wins+s.Draws+s.Losses)
}

// Sum prints the opponent's points: '4½'.
func Sum(s fact.Score) string { return Halves(float64(s.Wins) + float64(s.Draws)/2) }

// Halves prints points, in halves: '4½'.
func Halves(points float64) string {
	n := int(2 * points)
	switch {
	case n == 1:
		return "½"
	case n%2 == 1:
		return fmt.Sprintf("%d½", n/2)
	}
	return fmt.Sprint(n / 2)
}

// Thousands prints a number with commas: '11,204'.
func Thousands(n int) string {
	s := strconv.Itoa(n)
	for i := len(s) - 3; i > 0; i -= 3 {
		s = s[:i] + "," + s[i:]
	}
	return s
}

// Plural counts things: '1 game', '12 games'.
func Plural(n int, noun string) string {
	if n == 1 {
		return fmt.Sprintf("%d %s", n, noun)
	}
	return fmt.Sprintf("%d %ss", n, noun)
}
