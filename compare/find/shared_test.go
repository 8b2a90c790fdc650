package find

import (
	"slices"
	"strings"
	"testing"

	"foreply/compare/fact"
	"foreply/compare/walk"
	"foreply/profile"
)

// A share of a place that more games came to than went to it by the line is one by any order;
// so is a reach that orders add to.
func TestAnyOrder(t *testing.T) {
	for second, want := range map[string]bool{"5 5": true, "5 3": false, "9 9": false} {
		onward, here, _ := strings.Cut(second, " ")
		w := walked(bookOf(t, "1. d4 d5 2. c4 e6 3. Nc3 *"), chances{"d4": "d5 100 " + map[string]string{"5 5": "4", "5 3": "3", "9 9": "9"}[second], "d4 d5 c4": "e6 50 " + here + " c6 50 0"})
		i := slices.IndexFunc(w.Order, func(s *walk.State) bool { return s.Ply == 3 })
		if s := shareAt(w.Order[i], profile.Range{P: 0.5, Lo: 0.4, Hi: 0.6}, 2); s.AnyOrder != want || s.Of != number(here) || s.Seen != 2 {
			t.Errorf("%s of %s: %+v", here, onward, s)
		}
	}
	way := []walk.Choice{{P: 0.5}, {P: 0.4}}
	for reach, want := range map[float64]bool{0.2: false, 0.239: false, 0.241: true} {
		if got := anyOrder(reach, way); got != want {
			t.Errorf("%v of 0.2 along the line: %v", reach, got)
		}
	}
	if got := ScoreOf(&profile.Count{Games: 10, Wins: 4, Draws: 3, Losses: 2, Unknown: 1}); got != (fact.Score{Wins: 4, Draws: 3, Losses: 2, Unknown: 1}) {
		t.Errorf("%+v", got)
	}
}
