package main

import (
	"fmt"
	"math"
	"math/rand/v2"
)

// clock is one player's clock in a fast game.
type clock struct {
	left, increment float64 // seconds
	pace            float64 // how many moves the player saves time for
}

func newClock(r *rand.Rand, c control) *clock {
	return &clock{left: float64(c.start), increment: float64(c.increment), pace: 17 + 18*r.Float64()}
}

// think spends the time for one move and says whether the flag stayed up. Known
// moves come quickly, the rest takes a share of what is left, with a long tail.
func (c *clock) think(r *rand.Rand, known bool) bool {
	t := c.left/c.pace + 0.6*c.increment
	switch {
	case c.left < 12:
		t = 0.4 + 1.5*r.Float64()
	case known:
		t *= 0.12 + 0.25*r.Float64()
	default:
		t = math.Min(t*math.Exp(0.8*r.NormFloat64()), c.left*0.3)
	}
	if t >= c.left {
		c.left = 0
		return false
	}
	c.left += c.increment - t
	return true
}

// String writes the time left as PGN comments do: 0:04:57.
func (c *clock) String() string {
	s := int(c.left)
	return fmt.Sprintf("%d:%02d:%02d", s/3600, s/60%60, s%60)
}
