package words

import (
	"fmt"
	"math"

	"foreply/compare/fact"
)

// One probability is told in one figure wherever it stands, on the page, on the terminal
// and in files: InN makes it. Odds tells a share of the moves at a place, Often a reach,
// in games; behind the figure either may have its interval, never another figure.

// Where the words for a probability change.
const (
	always    = 0.95 // there is nothing left to count
	tellTens  = 0.15 // from here up it is told in tens
	leastTold = 100  // what comes less than once in so many is told as that
)

// InN says a probability in the fewest words: '4 in 10', '1 in 15'.
func InN(p float64) string {
	switch {
	case p >= always:
		return "nearly always"
	case p >= tellTens:
		return fmt.Sprintf("%.0f in 10", math.Round(10*p))
	case math.Round(1/max(p, 1e-9)) > leastTold:
		return fmt.Sprintf("under 1 in %d", leastTold)
	}
	return fmt.Sprintf("1 in %d", roundTidy(1/p))
}

// InGames says how often something comes in all games with the opponent: '4 in 10 games',
// '1 in 12 games'. A share at its place has no 'games'.
func InGames(p float64) string {
	switch {
	case p <= 0:
		return "no game"
	case p >= always:
		return "nearly every game"
	}
	return InN(p) + " games"
}

// Often says a reach with its interval: '4 in 10 games (2–6)', '1 in 12 games'; of one that
// other orders of moves add to '4 in 10 games by any order (2–6)'. Of one hardly known it
// counts the games: 'hardly known: in 4 of 9 games', unless few of them went as the user
// plays: 'hardly known how often'; where there are none, others' chance
// stands without an interval.
func Often(o fact.Often) string {
	if o.Hardly {
		return OftenIn(o)
	}
	return withTens(OftenIn(o), o.P, o.TenLo, o.TenHi)
}

// OftenIn is Often without the interval, for little room.
func OftenIn(o fact.Often) string {
	switch {
	case o.Hardly && o.Far() > 0 && o.P*float64(o.Of) > tellsElse*float64(o.Games):
		return "hardly known how often"
	case o.Hardly && o.Of > 0:
		text := fmt.Sprintf("in %d of %s", o.Games, Plural(o.Of, "game"))
		if o.Of < manyGames {
			text = "hardly known: " + text
		}
		return text + expectMore[o.Far()+1]
	case o.AnyOrder:
		return InGames(o.P) + byAnyOrder
	}
	return InGames(o.P)
}

// manyGames are so many games at a place that nobody calls it hardly known: the count speaks
// for itself, though what comes next may be anything.
const manyGames = 10

// tellsElse is how many times as much as counted is to be expected from which a count says
// how others played, not how often the line comes against the user's book.
const tellsElse = 3

const byAnyOrder = " by any order"

// withTens puts an interval in ten games behind a figure, where it says something.
func withTens(text string, p float64, lo, hi int) string {
	switch {
	case p <= 0 || p >= always || lo >= hi:
		return text
	case p < tellTens && hi < 2:
		return text
	}
	return fmt.Sprintf("%s (%d–%d)", text, lo, hi)
}

// Odds says in few words how often a move comes at its place: '6 in 10 (4–8)', '1 in
// 15'. Of a share that is hardly known it says what was counted, and nothing of the share:
// 'hardly known: 1 of 2 games', '4 of 6 games', 'not seen in 2 games'; where they have
// never been, what others do. Where no game of theirs is known at all, which the page says,
// shares are those of others.
func Odds(s fact.Share) string { return odds(s, true) }

// OddsIn is Odds without the interval, for little room.
func OddsIn(s fact.Share) string { return odds(s, false) }

func odds(s fact.Share, interval bool) string {
	switch {
	case s.P <= 0:
		return "not seen"
	case s.OfPeers:
		return InN(s.P)
	case s.Of == 0:
		return "not seen; other players " + InN(s.P)
	case s.Counted() && s.Seen == 0:
		return "not seen in " + Plural(s.Of, "game")
	case s.Of <= fact.FewestGames:
		return fmt.Sprintf("hardly known: %d of %s", s.Seen, Plural(s.Of, "game"))
	case s.Hardly:
		return Counted(s)
	}
	text := InN(s.P)
	if interval {
		text = withTens(text, s.P, s.TenLo, s.TenHi)
	}
	if s.Seen == 0 {
		text += ", not seen"
	}
	return text
}

// Others says how often all other moves come together, nothing where that is seldom; narrow is
// in the fewest letters, and only where it is much.
func Others(p float64, narrow bool) string {
	switch {
	case narrow && p < 0.3, p < 0.1:
		return ""
	case narrow:
		return fmt.Sprintf("else %.0f", math.Round(10*p))
	}
	return "else " + InN(p)
}

// OthersCounted says in how many games all other moves came together where those beside
// them are counted, too: nothing where that is seldom.
func OthersCounted(k, of int, narrow bool) string {
	if p := float64(k) / float64(of); narrow && p < 0.3 || p < 0.1 {
		return ""
	}
	if narrow {
		return fmt.Sprintf("else %d/%d", k, of)
	}
	return fmt.Sprintf("else %d of %s", k, Plural(of, "game"))
}

// Counted says what a share rests on: '9 of 17 games', where other orders of moves lead to
// the place '9 of 17 games by any order'; 'not seen from them'. A forecast far from the
// count is 'expect more' or 'expect less'.
func Counted(s fact.Share) string {
	switch {
	case s.Of == 0:
		return "never been here in the games found"
	case s.Seen == 0:
		return "not seen from them"
	}
	text := fmt.Sprintf("%d of %s", s.Seen, Plural(s.Of, "game"))
	if s.AnyOrder {
		text += byAnyOrder
	}
	return text + expectMore[s.Far()+1]
}

// expectMore says that a forecast lies under a count, near it, or over it.
var expectMore = [...]string{", expect less", "", ", expect more"}

// Tens says a probability that stands for itself, with its interval: '8 in 10 (5–10)';
// 'hardly known' where the interval says next to nothing.
func Tens(c fact.Chance) string {
	if c.Hardly() {
		return "hardly known"
	}
	return withTens(InN(c.P), c.P, int(math.Round(min(c.Lo, c.P)*10)), int(math.Round(max(c.Hi, c.P)*10)))
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

// Rare says what was cut under the threshold; nothing where it is little.
func Rare(other, threshold float64) string {
	if other < tellOther {
		return ""
	}
	return fmt.Sprintf("lines under 1 game in %.0f are not followed: together %s", 1/threshold, InGames(other))
}

const tellOther = 0.03
