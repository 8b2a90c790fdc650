package find

import (
	"fmt"
	"math"
	"reflect"
	"slices"
	"strings"
	"testing"

	"foreply/compare/fact"
	"foreply/profile"
	"foreply/profile/board"
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

// A plain record has all games of the colour, those with a result apart, beside the ratings;
// one is told for each colour asked for, and no fact of no game.
func TestRecordOfAColour(t *testing.T) {
	p := gamesOf(t, "2026.01.05 1-0 300 1900: e4 e5", "2026.01.06 1-0 300 1900: e4 e5", "2026.01.07 1/2-1/2 300: e4 e5", "2026.01.08 * 300 1900: e4 e5", "2026.01.09 0-1 300 1900: e4 e5")
	got := About(p, profile.Blitz, nil, board.White, board.Black)
	want := fact.About{Kind: fact.PlainRecord, Color: "black", N: 4, Score: fact.Score{Wins: 1, Draws: 1, Losses: 2, Unknown: 1}, Rated: rated(p, board.Black)}
	if len(got) != 1 || !reflect.DeepEqual(got[0], want) {
		t.Errorf("%+v", got)
	}
	open := gamesOf(t, "2026.01.08 * 300 1900: e4 e5")
	if got := About(open, profile.Blitz, nil, board.Black); len(got) != 1 || got[0].N != 0 {
		t.Errorf("without a result: %+v", got)
	}
}

// Up to which move they play at once, of fast games with clocks: told from six on, the most
// unusual first. Fifteen of sixteen go beyond the usual six; sixteen stop short of it.
func TestPlayedAtOnce(t *testing.T) {
	game := func(pauses ...int) string {
		text := ":"
		for n := 1; n <= 15; n++ {
			seconds := map[bool]string{true: "20", false: "1"}[slices.Contains(pauses, n)]
			text += " " + [2]string{"Nf3 Nf6", "Ng1 Ng8"}[(n-1)%2] + " {[%emt " + seconds + "]}"
		}
		return text
	}
	told := func(rows ...string) (out []fact.About) {
		for _, a := range About(gamesOf(t, rows...), profile.Blitz, nil) {
			if a.Kind == fact.AtOnce {
				out = append(out, a)
			}
		}
		return out
	}
	fast := append(repeated(15, "1-0 300"+game(10, 13)), repeated(1, "1-0 300"+game(3, 7))...)
	for name, c := range map[string]struct {
		rows []string
		want []fact.About
	}{
		"far":        {fast, []fact.About{{Kind: fact.AtOnce, N: 16, Above: true, Move: 12, UsualMove: 6}}},
		"not far":    {repeated(16, "1-0 300"+game(2, 3)), []fact.About{{Kind: fact.AtOnce, N: 16, Move: 2, UsualMove: 6}}},
		"as others":  {repeated(16, "1-0 300"+game(3, 7)), nil},
		"six games":  {repeated(6, "1-0 300"+game(10, 13)), []fact.About{{Kind: fact.AtOnce, N: 6, Above: true, Move: 12, UsualMove: 6}}},
		"five games": {repeated(5, "1-0 300"+game(10, 13)), nil},
		"slow games": {repeated(16, "1-0 5400"+game(10, 13)), nil},
	} {
		if got := told(c.rows...); !reflect.DeepEqual(got, c.want) {
			t.Errorf("%s: %+v", name, got)
		}
	}
}

// Habits beside what is usual, or what peers do; of some only what is often is told, and the
// most unusual comes first.
func TestHabits(t *testing.T) {
	p := &profile.Profile{}
	for i := range 40 { // of sixty moves and more, but ten drawn early
		g := profile.Game{Moves: make([]board.Move, 120), Result: profile.Win}
		if i < 10 {
			g.Moves, g.Result = g.Moves[:30], profile.Draw
		}
		p.Games = append(p.Games, g)
	}
	set := comparableGames(p, profile.Blitz)
	var kinds []string
	for _, o := range set.habits(nil) {
		kinds = append(kinds, fmt.Sprintf("%s %d of %d, %v, usual %.4f %v", o.Kind, o.K, o.N, o.Above, o.Usual, o.Peers))
	}
	long, drawn := "long_game 30 of 40, true, usual 0.1200 false", "short_draw 10 of 40, true, usual 0.0365 false"
	if !slices.Contains(kinds, long) || !slices.Contains(kinds, drawn) {
		t.Errorf("%q", kinds)
	}
	peers := &profile.Peers{}
	peers.Habits[profile.LongGame].K, peers.Habits[profile.LongGame].N = 150, 200
	peers.Habits[profile.ShortDraw].K, peers.Habits[profile.ShortDraw].N = 0, 199
	kinds = nil
	for _, o := range set.habits(peers) {
		kinds = append(kinds, fmt.Sprintf("%s %v %.4f", o.Kind, o.Peers, o.Usual))
	}
	if slices.ContainsFunc(kinds, func(k string) bool { return strings.HasPrefix(k, "long_game") }) || !slices.Contains(kinds, "short_draw false 0.0365") {
		t.Errorf("beside peers %q", kinds)
	}
	facts := About(p, profile.Blitz, nil)
	if len(facts) == 0 || len(facts) > aboutShown || facts[0].Kind == fact.ShortDraw {
		t.Errorf("%+v", facts)
	}
}

// Who always castles short does so early, which is told of all that they never do late, too;
// that they never castle long is no news.
func TestSeldomIsToldOfSomeHabits(t *testing.T) {
	moves := ": e4 e5 Nf3 Nf6 Bc4 Bc5 O-O O-O" + strings.Repeat(" Re1 Re8 Rf1 Rf8", 15)
	found := about(t, repeated(100, "0-1 300 -"+moves)...)
	if late, ok := found[fact.LateCastling]; !ok || late.Above || late.K != 0 || late.N != 100 {
		t.Errorf("late castling: %+v", found)
	}
	for _, kind := range []string{fact.LongCastling, fact.OppositeSides, fact.ShortDraw} {
		if a, told := found[kind]; told {
			t.Errorf("told though seldom: %+v", a)
		}
	}
}
