package find

import (
	"fmt"
	"math"
	"slices"
	"testing"

	"foreply/compare/fact"
	"foreply/profile"
)

// about are the facts of some games, by kind.
func about(t *testing.T, rows ...string) map[string]fact.About {
	t.Helper()
	found := map[string]fact.About{}
	for _, a := range About(gamesOf(t, rows...), profile.Blitz, nil) {
		found[a.Kind] = a
	}
	return found
}

// Four points of twenty against players 200 or 300 below are far less than the 16.6 that the
// Elo formula lets expect; 200 points are the least. As many as expected are no news, nor are
// sixteen of twenty against players 200 or 300 above: out of sample that foretold nothing.
func TestAgainstTheRatings(t *testing.T) {
	const moves = ": e4 e5 Nf3 Nc6"
	rows := slices.Concat(
		repeated(16, "0-1 300 2300"+moves), repeated(4, "1-0 300 2200"+moves), // theirs are 2000
		repeated(4, "0-1 300 1700"+moves), repeated(16, "1-0 300 1800"+moves), repeated(30, "0-1 300 1801"+moves),
	)
	found := about(t, rows...)
	lower := found[fact.AgainstLower]
	if len(found) != 1 {
		t.Errorf("%+v", found)
	}
	if lower.Above || lower.N != 20 || lower.Score != (fact.Score{Wins: 4, Losses: 16}) || math.Abs(lower.Expected-(4*0.84902+16*0.75975)) > 1e-3 {
		t.Errorf("against lower rated: %+v", lower)
	}
	if found := about(t, slices.Concat(repeated(17, "0-1 300 1700"+moves), repeated(3, "1-0 300 1700"+moves))...); len(found) > 0 {
		t.Errorf("as expected: %+v", found)
	}
}

// What lies outside counts by the near ends of both intervals, on the side where it lies.
func TestOutside(t *testing.T) {
	usual := expectation{0.2, 0.3}
	for _, c := range []struct {
		k, n       float64
		out, above bool
	}{{36, 40, true, true}, {0, 40, true, false}, {10, 40, false, true}, {3, 4, false, true}} {
		if by, above := outside(c.k, c.n, usual); by > 0 != c.out || c.out && above != c.above {
			t.Errorf("%v of %v: %.2f outside, above %v", c.k, c.n, by, above)
		}
	}
	near, _ := outside(24, 40, usual)
	far, _ := outside(36, 40, usual)
	if near >= far {
		t.Errorf("24 of 40 lies %.2f outside, 36 of 40 %.2f", near, far)
	}
}

// Where a position comes more than once in a game, the game counts once.
func TestAGameCountsOnce(t *testing.T) {
	c := compare(t, gamesOf(t, "2026.01.05 0-1 300 2000: Nf3 Nf6 Ng1 Ng8 Nf3 Nf6 Ng1 Ng8 e4 e5", "2026.01.06 1-0 300 2000: Nf3 d5"), "1. Nf3 Nf6 *")
	met := c.w.Order[1].Key // after 1.Nf3
	visits := c.games.Visits(met)
	games, last, refs := c.games.Cite(visits)
	if len(visits) != 3 || games != 2 || last.String() != "2026-01-06" || len(refs) != 2 || refs[0].Game != 2 {
		t.Errorf("%d visits, %d games, last %v, %+v", len(visits), games, last, refs)
	}
	if got := fmt.Sprint(c.games.Score(visits), c.games.Expected(visits)); got != "{1 0 1 0} 1" {
		t.Errorf("score and expectation %s", got)
	}
}

// Of two numbers in the middle the lower one is the median.
func TestMedian(t *testing.T) {
	for n, want := range map[int]int{1: 1, 2: 1, 3: 2, 4: 2, 5: 3} {
		list := []int{5, 4, 3, 2, 1}[5-n:]
		if got := median(list); got != want {
			t.Errorf("of %v: %d, want %d", list, got, want)
		}
	}
}
