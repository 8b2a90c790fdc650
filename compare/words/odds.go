package words

import (
	"fmt"
	"math"

	"foreply/compare/fact"
)

// Where a share stops being told as one.
const (
	hardly = 2   // games from which nothing is known
	always = .95 // of all games
)

// Odds says in few words how often a move comes at its place: '6 in 10 (4–8)', '1 in
// 15'. Of a share that is hardly known it says what was counted, and nothing of the share:
// 'hardly known: 2 games', '4 of 6 games'; where they have never been, what others do.
func Odds(s fact.Share) string {
	switch {
	case s.P <= 0:
		return "not seen"
	case s.Of == 0:
		return "not seen; others " + InN(s.P)
	case s.Of <= hardly:
		return "hardly known: " + Plural(s.Of, "game")
	case s.Hardly && s.Seen == 0:
		return "not seen in " + Plural(s.Of, "game")
	case s.Hardly:
		return Counted(s)
	case s.P >= always:
		return "nearly always"
	case s.P >= tellTens:
		return inTen(s, fmt.Sprintf("%.0f in 10", math.Round(10*s.P)))
	}
	text := InN(s.P)
	if s.TenHi >= 2 {
		text = inTen(s, text)
	}
	if s.Seen == 0 {
		text += ", not seen"
	}
	return text
}

// inTen puts the interval of a share in ten games behind it.
func inTen(s fact.Share, text string) string {
	if s.TenLo >= s.TenHi {
		return text
	}
	return fmt.Sprintf("%s (%d–%d)", text, s.TenLo, s.TenHi)
}

// InN says a probability in the fewest words: '4 in 10', '1 in 15'.
func InN(p float64) string {
	switch {
	case p >= always:
		return "nearly always"
	case p >= tellTens:
		return fmt.Sprintf("%.0f in 10", math.Round(10*p))
	case math.Round(1/max(p, 1e-9)) > 100:
		return "under 1 in 100"
	}
	return fmt.Sprintf("1 in %d", roundTidy(1/p))
}

// Others says how often all other moves come together, ” where that is seldom; narrow is
// in the fewest letters, and only where it is much.
func Others(p float64, narrow bool) string {
	switch {
	case narrow && p < 0.3, p < 0.1:
		return ""
	case narrow:
		return fmt.Sprintf("others %.0f", math.Round(10*p))
	}
	return fmt.Sprintf("others %.0f in 10", math.Round(10*p))
}

// InGames says how often something comes in all games with the opponent: '4 in 10 games',
// '1 in 12 games'. A share at its place has no 'games'.
func InGames(p float64) string {
	if p >= always {
		return "nearly every game"
	}
	return InN(p) + " games"
}

// InTenths says a reach with its interval in few words: '4 in 10 games (2–6)', '1 in 12 games'; of one
// hardly known it counts the games.
func InTenths(o *fact.Often) string {
	text := InGames(o.P)
	switch {
	case o.Hardly && o.Of == 0:
		return text
	case o.Hardly:
		return fmt.Sprintf("hardly known: in %d of %s", o.Games, Plural(o.Of, "game"))
	}
	if o.P < tellTens || o.P >= always || o.TenLo >= o.TenHi {
		return text
	}
	return fmt.Sprintf("%s (%d–%d)", text, o.TenLo, o.TenHi)
}
