package find

import (
	"foreply/compare/fact"
)

// timedLeast is how many games with clocks it takes to tell how fast they play.
const timedLeast = 6

// instantFrom tells up to which move they usually play at once in the games that
// came to the position after so many plies, if that is further: they know what
// follows. Told from timedLeast games with clocks; nil otherwise.
func instantFrom(key uint64, ply int, games Games) *fact.Instant {
	var moves []int
	for g := range games.Of(games.Visits(key)) {
		if n, ok := g.Instant(); ok {
			moves = append(moves, n)
		}
	}
	if len(moves) < timedLeast {
		return nil
	}
	move := median(moves)
	if move <= ply/2+1 {
		return nil
	}
	return &fact.Instant{Move: move, Games: len(moves)}
}
