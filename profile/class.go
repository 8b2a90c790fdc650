package profile

import (
	"strconv"
	"strings"
)

// Class is the time class of a game.
type Class uint8

const (
	UnknownClass Class = iota
	Bullet
	Blitz
	Rapid
	Classical
)

var classNames = [...]string{"unknown", "bullet", "blitz", "rapid", "classical"}

func (c Class) String() string { return classNames[c] }

// Slow reports whether games of the class count as slow on the page: classical,
// and unknown, since collections of games over the board mostly give no clock.
func (c Class) Slow() bool { return c == Classical || c == UnknownClass }

// Speed names the class where games are held apart by speed: 'slow', or the
// class.
func (c Class) Speed() string {
	if c.Slow() {
		return "slow"
	}
	return c.String()
}

// ParseClass reads a class by its name.
func ParseClass(s string) (Class, bool) {
	for i, name := range classNames {
		if strings.EqualFold(s, name) {
			return Class(i), true
		}
	}
	return UnknownClass, false
}

// Limits in seconds for 60 moves. Rapid and classical: FIDE Laws of Chess 2023,
// A.1 (more than 10 but less than 60 minutes) and B.1. The line between bullet
// and blitz is common practice; the Laws do not know bullet.
const (
	bulletUnder   = 180
	blitzUpTo     = 600
	classicalFrom = 3600
	movesCounted  = 60
)

// ClassOf reads a TimeControl tag (PGN standard 9.6.1): base+increment, sudden
// death, or periods such as 40/7200:3600. Whatever it cannot read is unknown.
func ClassOf(tag string) Class {
	seconds, ok := timeFor60(strings.TrimSpace(tag))
	switch {
	case !ok:
		return UnknownClass
	case seconds < bulletUnder:
		return Bullet
	case seconds <= blitzUpTo:
		return Blitz
	case seconds < classicalFrom:
		return Rapid
	}
	return Classical
}

// timeFor60 adds up the periods that begin within the first 60 moves, an
// increment counted for the moves of its period.
func timeFor60(tag string) (seconds int, ok bool) {
	played := 0
	for period := range strings.SplitSeq(tag, ":") {
		if played >= movesCounted {
			return seconds, true
		}
		moves := movesCounted - played
		base := period
		if before, after, found := strings.Cut(period, "/"); found {
			n, err := strconv.Atoi(before)
			if err != nil || n <= 0 {
				return 0, false
			}
			moves, base = min(n, moves), after
		}
		main, inc, ok := baseAndIncrement(base)
		if !ok {
			return 0, false
		}
		seconds += main + inc*moves
		played += moves
	}
	return seconds, seconds > 0
}

func baseAndIncrement(s string) (base, inc int, ok bool) {
	main, plus, found := strings.Cut(s, "+")
	base, err := strconv.Atoi(main)
	if err != nil || base < 0 {
		return 0, 0, false
	}
	if !found {
		return base, 0, true
	}
	inc, err = strconv.Atoi(plus)
	return base, inc, err == nil && inc >= 0
}
