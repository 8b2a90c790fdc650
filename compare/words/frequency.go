package words

import (
	"fmt"
	"math"

	"foreply/compare/fact"
)

// Tens says a probability with its interval in tenths: '8 in 10, likely 5-10';
// 'hardly known' where the interval says next to nothing.
func Tens(c fact.Chance) string {
	if c.Hardly() {
		return "hardly known"
	}
	ten := math.Round(c.P * 10)
	from, to := min(math.Round(c.Lo*10), ten), max(math.Round(c.Hi*10), ten)
	if from == to {
		return fmt.Sprintf("%.0f in 10", ten)
	}
	return fmt.Sprintf("%.0f in 10 (likely %.0f-%.0f)", ten, from, to)
}

// Comes says how often a move comes after all.
func Comes(p float64) string {
	switch {
	case p < seldom:
		return "hardly ever comes"
	case p < tellTens:
		return fmt.Sprintf("comes 1 time in %d", roundTidy(1/p))
	}
	return fmt.Sprintf("comes %.0f times in 10", 10*p)
}

// Tenths says a share of ten.
func Tenths(p float64) string {
	switch {
	case p < seldom:
		return "hardly ever"
	case p >= nearlyTen:
		return "nearly all"
	}
	return Rate(p)
}

const nearlyTen = 0.95

// OneIn says a probability as a frequency of games: 'about 1 game in 12'.
func OneIn(p float64) string {
	switch {
	case p <= 0:
		return "never"
	case p > nearlyAll:
		return "nearly every game"
	case p >= tellTens:
		if t := int(math.Round(p * 10)); t < 10 {
			return fmt.Sprintf("about %s in 10", Plural(t, "game"))
		}
		return "9 games in 10 or more"
	}
	if math.Round(1/p) > 100 {
		return "less than 1 game in 100"
	}
	return fmt.Sprintf("about 1 game in %d", roundTidy(1/p))
}

// Often says a reach with its 80 % interval: 'about 3 games in 10, likely 2-5',
// 'about 1 game in 12, likely 1 in 30 to 1 in 6'. Of one hardly known it counts the
// games: 'hardly known: played in 4 of 9 games'; where there are none, others' chance
// stands without an interval.
func Often(o fact.Often) string {
	text := OneIn(o.P)
	switch {
	case o.Hardly && o.Of == 0:
		return text
	case o.Hardly:
		return fmt.Sprintf("hardly known: played in %d of %s", o.Games, Plural(o.Of, "game"))
	case o.P <= 0 || o.P > nearlyAll || o.Hi < seldom:
		return text
	case o.P >= tellTens:
		if o.TenLo < o.TenHi {
			text += fmt.Sprintf(", likely %d-%d", o.TenLo, o.TenHi)
		}
		return text
	case o.Lo < seldom:
		return text + fmt.Sprintf(", 1 in %d at most", roundTidy(1/o.Hi))
	}
	if from, to := roundTidy(1/o.Lo), roundTidy(1/o.Hi); from != to {
		text += fmt.Sprintf(", likely 1 in %d to 1 in %d", from, to)
	}
	return text
}

// Where the words for a probability change: above nearlyAll there is nothing to
// count, from tellTens up it is told in tens of games, under seldom not at all.
const (
	nearlyAll = 0.97
	tellTens  = 0.15
	seldom    = 0.01
)

// one says a frequency in short: '1 in 12', '2 in 10'.
func Rate(p float64) string {
	if p >= tellTens {
		return fmt.Sprintf("%d in 10", int(math.Round(p*10)))
	}
	return fmt.Sprintf("1 in %d", roundTidy(1/p))
}

// InTen says a share as printed: '5 in 10, likely 3-7'. A share that rounds to
// none of ten is said as one in so many, one hardly known as Odds has it.
func InTen(s fact.Share) string {
	var text string
	switch {
	case s.Hardly:
		text = Odds(s)
	case s.Ten == 0:
		text = rarely(s.P)
	case s.TenLo == s.TenHi:
		text = fmt.Sprintf("%d in 10", s.Ten)
	default:
		text = fmt.Sprintf("%d in 10, likely %d-%d", s.Ten, s.TenLo, s.TenHi)
	}
	return text
}

func rarely(p float64) string {
	if p < 0.005 {
		return "hardly ever"
	}
	return fmt.Sprintf("1 in %d", roundTidy(1/p))
}

// roundTidy rounds to a number one would say: to the unit up to a dozen, to 5 up
// to 50, then to 10.
func roundTidy(x float64) int {
	switch {
	case x < 12.5:
		return int(math.Round(x))
	case x <= 50:
		return int(math.Round(x/5)) * 5
	}
	return int(math.Round(x/10)) * 10
}

// rareText says what was cut under the threshold; nothing where it is little.
func Rare(other, threshold float64) string {
	if other < tellOther {
		return ""
	}
	return fmt.Sprintf("lines under 1 game in %.0f are not followed: together %s", 1/threshold, OneIn(other))
}

const tellOther = 0.03

// Where the forecast differs from the plain count by more than this factor, it
// is said, since the two stand side by side.
const (
	unlike     = 3
	unlikeFrom = 0.1 // and the larger of the two is worth it
)

// Counted says what a share rests on: '9 of 17 games'; 'not seen from them'. A
// forecast unlike the count is 'expect more' or 'expect less': what came of late and
// at the speed of the game to come counts more, and where little does, what others
// play.
func Counted(s fact.Share) string {
	switch {
	case s.Of == 0:
		return "never been here in the games found"
	case s.Seen == 0:
		return "not seen from them"
	}
	text := fmt.Sprintf("%d of %s", s.Seen, Plural(s.Of, "game"))
	switch plain := float64(s.Seen) / float64(s.Of); {
	case plain >= unlikeFrom && plain > unlike*s.P:
		text += ", expect less"
	case s.P >= unlikeFrom && s.P > unlike*plain:
		text += ", expect more"
	}
	return text
}
