package past

import (
	"testing"

	"foreply/compare/walk"
	"foreply/profile"
	"foreply/profile/board"
)

// A change is judged by the next ten games at its place, of its speed: here of the games from
// the third on, in which 1...c5 takes turns and the fourth was blitz.
func TestNextGamesOfAChange(t *testing.T) {
	var lines []string
	for i := range 16 {
		lines = append(lines, []string{sicilian, open}[i%2])
	}
	p := gamesOf(t, append(lines, queens)...)
	p.Games[3].Speed = profile.Blitz
	here := walk.Resolved([]string{"e4"}).End
	c5 := walk.Resolved([]string{"e4", "c5"}).Moves[1]
	judge := &test{profile: p, theirs: board.Black}
	for _, c := range []struct {
		group         string
		from, n, came int
	}{
		{p.Games[0].Speed.Group(), 2, 10, 6}, {p.Games[0].Speed.Group(), 13, 3, 1}, {p.Games[0].Speed.Group(), 16, 0, 0},
		{profile.Blitz.Group(), 2, 1, 0}, {profile.Blitz.Group(), 4, 0, 0},
	} {
		if n, came := judge.after(&profile.Change{Position: here, Group: c.group, Move: c5}, c.from); n != c.n || came != c.came {
			t.Errorf("%s from game %d on: %d of %d, want %d of %d", c.group, c.from, came, n, c.came, c.n)
		}
	}
}
