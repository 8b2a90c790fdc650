package pdf

import (
	"fmt"
	"slices"
	"strconv"

	"foreply/compare"
	"foreply/profile"
)

// games lists the games when they are too few to count.
func (c *column) games() section {
	f := c.l.f
	list := listing{even: true, more: func(n int) string { return compare.Thousands(n) + " more games left out" }}
	if len(c.side.List) == 0 {
		none := f.own(noGames(c.side), ink{note, false, black})
		list.entries = append(list.entries, entry{2, func(lines int) block { return f.para(none, c.inner(), lines) }})
	}
	for _, hint := range facts(c.side.Hints) { // before the games: what is left out is games
		words := f.say(hint, ink{note, false, dark})
		list.entries = append(list.entries, entry{2, func(lines int) block { return f.para(words, c.inner(), lines) }})
	}
	for _, g := range c.side.List {
		list.entries = append(list.entries, entry{3, func(lines int) block { return c.game(g, lines) }})
	}
	return c.rows(section{name: "their games", rank: linesRank, share: 36}, list)
}

func noGames(s *compare.Side) string {
	return fmt.Sprintf("no game of theirs with %s was found", theirColour(s))
}

// elo is a rating, nothing when unknown.
func elo(n int) string {
	if n <= 0 {
		return ""
	}
	return strconv.Itoa(n)
}

// speed is a game's time class; nothing where its file gives no clock, as those
// of games over the board mostly do.
func speed(class string) string {
	if class == profile.UnknownClass.String() {
		return ""
	}
	return class
}

// game is one row: date, rating, result, opening, where the book was left.
func (c *column) game(g compare.GameRow, lines int) block {
	f := c.l.f
	k := ink{note, false, black}
	base := note * 0.97
	var b block
	b.add(f.label(day(g.Date), 0, base, 58, k))
	b.add(f.label(g.Score, 62, base, 14, ink{note, true, black}))
	b.add(right(f.label(elo(g.Elo), 0, base, 26, k), 104))
	b.add(f.label(speed(g.Class), 110, base, 46, ink{note, false, dark}))
	x := 160.0
	w := c.inner() - x
	if c.narrow {
		x, w = 0, c.inner()
		b.h = note * leading
	}
	left, opening := f.say(g.Left, k), f.own(g.ECO+" "+g.Opening, ink{note, false, middle})
	words := slices.Concat(f.lineTo(g.Moves, 0, middle), left, opening)
	if lines == 1 && len(left) > 0 { // where they left says more than the moves before
		words = slices.Concat(left, opening)
	}
	p := f.para(words, w, lines)
	b.put(p, x, b.h)
	b.h = max(b.h+p.h, note*leading) + 2
	return b
}

// single is the one line to expect where nothing parts, or the lines in full
// when the Report has no forks.
func (c *column) single() section {
	f := c.l.f
	all := c.side.Exits
	list := listing{fair: leastRows, more: func(n int) string { return leftOutLines(all[len(all)-n:]) }}
	for _, e := range all {
		words := f.lineTo(e.Line, 0, middle)
		words = append(words, f.own(compare.OneIn(e.Reach)+"; "+exitWords(e), ink{note, false, black})...)
		words = append(words, f.own(e.Note, ink{note, false, dark})...)
		list.entries = append(list.entries, entry{6, func(lines int) block {
			p := f.para(words, c.inner(), lines)
			p.h += 4
			return p
		}})
	}
	return c.rows(section{name: "to expect", rank: linesRank, share: 36}, list)
}

func leftOutLines(list []compare.Exit) string {
	sum := 0.0
	for _, e := range list {
		sum += e.Reach
	}
	return moreLines(len(list), sum)
}

// exitWords says how a line ends.
func exitWords(e compare.Exit) string {
	switch {
	case e.Unseen:
		return "then they leave your book by a move not seen from them"
	case e.Kind == compare.TheyLeave:
		return "they leave your book"
	case e.Kind == compare.BookEnds:
		return "your book ends"
	case e.Kind == compare.GameOver:
		return "the game is over"
	}
	return "still in your book"
}
