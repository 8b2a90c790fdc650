package pgn

import "strings"

// Speed is the time class of a game.
type Speed uint8

const (
	UnknownSpeed Speed = iota
	Bullet
	Blitz
	Rapid
	Classical
)

var speedNames = [...]string{"unknown", "bullet", "blitz", "rapid", "classical"}

// Speeds is how many there are, the unknown one included.
const Speeds = len(speedNames)

func (s Speed) String() string { return speedNames[s] }

// Fast reports whether games of the speed are known to be faster than classical ones.
// Of one that is not known neither slow nor fast is said.
func (s Speed) Fast() bool { return s == Bullet || s == Blitz || s == Rapid }

// Pace names the speed as it is said of games: 'slow' for classical.
func (s Speed) Pace() string {
	if s == Classical {
		return "slow"
	}
	return s.String()
}

// Group names the speed where games are held apart by it: with the slow ones those of
// which it is not known, since collections of games over the board mostly give no clock.
func (s Speed) Group() string {
	if s.Fast() {
		return s.String()
	}
	return "slow"
}

// ParseSpeed reads a speed by its name.
func ParseSpeed(name string) (Speed, bool) {
	for i, known := range speedNames {
		if strings.EqualFold(name, known) {
			return Speed(i), true
		}
	}
	return UnknownSpeed, false
}

// Control is the time that the players had; the zero value is not known.
type Control struct {
	Text      string // the TimeControl tag; empty if it says nothing
	Base, Inc int    // seconds at the start, and after each move of the first period
	Seconds   int    // for 60 moves
	// DaysPerMove is set where a move is sent, not made: a day or more, or as many
	// hours as nobody would sit.
	DaysPerMove int
}

// Limits in seconds for 60 moves. Rapid and classical: FIDE Laws of Chess 2023,
// A.1 (more than 10 but less than 60 minutes) and B.1. The line between bullet
// and blitz is common practice; the Laws do not know bullet.
const (
	bulletUnder   = 180
	blitzUpTo     = 600
	classicalFrom = 3600
	MovesCounted  = 60 // moves that Control.Seconds are for
)

// Speed is the time class by the control alone.
func (c *Control) Speed() Speed {
	switch {
	case c.Seconds == 0:
		return UnknownSpeed
	case c.Seconds < bulletUnder:
		return Bullet
	case c.Seconds <= blitzUpTo:
		return Blitz
	case c.Seconds < classicalFrom:
		return Rapid
	}
	return Classical
}

// ParseControl reads a TimeControl tag (PGN standard 9.6.1): base+increment,
// sudden death, or periods such as 40/7200:3600. What it cannot read is not known.
func ParseControl(tag string) Control {
	c := Control{Text: Told(tag)}
	text := strings.TrimSpace(c.Text)
	if text == "" {
		return c
	}
	first, _, _ := strings.Cut(text, ":")
	if _, after, several := strings.Cut(first, "/"); several {
		first = after
	}
	c.Base, c.Inc, _ = baseAndIncrement(first)
	c.Seconds = timeFor60(text)
	c.DaysPerMove = daysPerMove(text)
	return c
}

// timeFor60 adds up the periods that begin within the first 60 moves, an
// increment counted for the moves of its period; 0 when one can't be read.
func timeFor60(text string) (seconds int) {
	played := 0
	for more := true; more && played < MovesCounted; {
		var period string
		period, text, more = strings.Cut(text, ":")
		moves, base := MovesCounted-played, period
		if before, after, found := strings.Cut(period, "/"); found {
			n, ok := readNumber(before)
			if !ok || n == 0 {
				return 0
			}
			moves, base = min(n, moves), after
		}
		main, inc, ok := baseAndIncrement(base)
		if !ok {
			return 0
		}
		seconds += main + inc*moves
		played += moves
	}
	return seconds
}

func baseAndIncrement(text string) (base, inc int, ok bool) {
	main, plus, found := strings.Cut(text, "+")
	if base, ok = readNumber(main); !ok || !found {
		return base, 0, ok
	}
	if inc, ok = readNumber(plus); !ok {
		return 0, 0, false
	}
	return base, inc, true
}

const day = 24 * 60 * 60

// slowestOverTheBoard is the most seconds a move that nobody would play at a
// sitting: from here on a move is sent, not made.
const slowestOverTheBoard = 6 * 60 * 60

// daysPerMove reads moves/seconds as in 1/86400, and texts such as '3 days', of
// which the number does not matter.
func daysPerMove(text string) int {
	if containsFold(text, "day") {
		return 1
	}
	first, _, _ := strings.Cut(text, ":")
	moves, rest, found := strings.Cut(first, "/")
	base, _, _ := strings.Cut(rest, "+")
	n, ok1 := readNumber(moves)
	seconds, ok2 := readNumber(base)
	if !found || !ok1 || !ok2 || n == 0 || seconds/n < slowestOverTheBoard {
		return 0
	}
	return max(1, seconds/n/day)
}

// readNumber reads a number without sign.
func readNumber(text string) (n int, ok bool) {
	if !isDigits(text, 9) {
		return 0, false
	}
	for i := range len(text) {
		n = 10*n + int(text[i]-'0')
	}
	return n, true
}

// containsFold reports whether the text has the word in it, in capitals or not.
// The word is ASCII.
func containsFold(text, word string) bool {
	for i := 0; i+len(word) <= len(text); i++ {
		if text[i]|0x20 == word[0]|0x20 && strings.EqualFold(text[i:i+len(word)], word) {
			return true
		}
	}
	return false
}
