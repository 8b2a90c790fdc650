package compare

import (
	"fmt"
	"math"
	"strconv"
	"strings"

	"foreply/compare/fact"

	"foreply/profile"
)

// Players misread percentages; everything is said in frequencies that can be
// counted on fingers (DESIGN: 'how it is said').

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

// often says a reach with its 80 % interval: 'about 3 games in 10, likely 2-5'
// counts their next ten games, 'about 1 game in 12, likely 1 in 30 to 1 in 6'
// tells the reach itself.
func (r *reach) often() string {
	text := OneIn(r.mass)
	lo, hi := r.interval()
	switch {
	case r.mass <= 0 || r.mass > nearlyAll || hi < seldom:
		return text
	case r.mass >= tellTens:
		if from, to := r.tens(); from < to {
			text += fmt.Sprintf(", likely %d-%d", from, to)
		}
		return text
	case lo < seldom:
		return text + fmt.Sprintf(", 1 in %d at most", roundTidy(1/hi))
	}
	if from, to := roundTidy(1/lo), roundTidy(1/hi); from != to {
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
func one(p float64) string {
	if p >= tellTens {
		return fmt.Sprintf("%d in 10", int(math.Round(p*10)))
	}
	return fmt.Sprintf("1 in %d", roundTidy(1/p))
}

// InTen says a share as printed: '5 in 10, likely 3-7'. A share that rounds to
// none of ten is said as one in so many.
func InTen(s fact.Share) string {
	var text string
	switch {
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
func rareText(other, threshold float64) string {
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

// Movetext prints a line of SAN with its move numbers; startPly is the number
// of plies played before it: 0 prints '1.e4 c5', 1 prints '1...c5'.
func Movetext(line []string, startPly int) string {
	var b strings.Builder
	for i, san := range line {
		ply := startPly + i
		if i > 0 {
			b.WriteByte(' ')
		}
		switch {
		case ply%2 == 0:
			fmt.Fprintf(&b, "%d.", ply/2+1)
		case i == 0:
			fmt.Fprintf(&b, "%d...", ply/2+1)
		}
		b.WriteString(san)
	}
	return b.String()
}

// LastMove prints the last move of a line with its number: '5...Qb6'.
func LastMove(line []string) string {
	if len(line) == 0 {
		return "the first move"
	}
	return Movetext(line[len(line)-1:], len(line)-1)
}

// ScoreOf is the score of games counted.
func ScoreOf(c *profile.Count) fact.Score {
	return fact.Score{Wins: int(c.Wins), Draws: int(c.Draws), Losses: int(c.Losses), Unknown: int(c.Unknown)}
}

// Points prints the opponent's score: '4½ of 12'; games without a result are
// left out.
func Points(s fact.Score) string {
	return pointsSum(s) + fmt.Sprintf(" of %d", s.Wins+s.Draws+s.Losses)
}

// sum prints the opponent's points: '4½'.
func pointsSum(s fact.Score) string { return Halves(float64(s.Wins) + float64(s.Draws)/2) }

// Halves prints points, in halves: '4½'.
func Halves(points float64) string {
	n := int(2 * points)
	switch {
	case n == 1:
		return "½"
	case n%2 == 1:
		return fmt.Sprintf("%d½", n/2)
	}
	return fmt.Sprint(n / 2)
}

// Thousands prints a number with commas: '11,204'.
func Thousands(n int) string {
	s := strconv.Itoa(n)
	for i := len(s) - 3; i > 0; i -= 3 {
		s = s[:i] + "," + s[i:]
	}
	return s
}

// Plural counts things: '1 game', '12 games'.
func Plural(n int, noun string) string {
	if n == 1 {
		return fmt.Sprintf("%d %s", n, noun)
	}
	return fmt.Sprintf("%d %ss", n, noun)
}

var months = [...]string{"Jan", "Feb", "Mar", "Apr", "May", "Jun", "Jul", "Aug", "Sep", "Oct", "Nov", "Dec"}

// DateWords prints a Date tag as a player says it: '2 Nov 2026', 'Nov 2026',
// '2026', or 'date unknown'.
func DateWords(tag string) string {
	var y, m, d int
	parts := strings.Split(tag, ".")
	if len(parts) > 0 {
		fmt.Sscanf(parts[0], "%d", &y)
	}
	if len(parts) > 1 {
		fmt.Sscanf(parts[1], "%d", &m)
	}
	if len(parts) > 2 {
		fmt.Sscanf(parts[2], "%d", &d)
	}
	switch {
	case y == 0:
		return "date unknown"
	case m < 1 || m > 12:
		return fmt.Sprint(y)
	case d < 1 || d > 31:
		return fmt.Sprintf("%s %d", months[m-1], y)
	}
	return fmt.Sprintf("%d %s %d", d, months[m-1], y)
}
