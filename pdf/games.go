package pdf

import (
	"fmt"
	"slices"
	"strconv"

	"foreply/compare/fact"
	"foreply/compare/words"
	"foreply/profile"
)

// games lists the games when they are too few to count.
func (c *column) games() section {
	f := c.l.f
	list := listing{even: true, more: func(n int) string { return words.Thousands(n) + " more games left out" }}
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

func noGames(s *fact.Side) string {
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

// game is one row: date, result, rating, speed, the moves, where the book was left,
// the opening.
func (c *column) game(g fact.GameRow, lines int) block {
	f := c.l.f
	k := ink{note, false, black}
	timed := slices.ContainsFunc(c.side.List, func(g fact.GameRow) bool { return speed(g.Class) != "" })
	x, y := 114.0, 0.0
	switch {
	case c.narrow:
		x, y = 0, note*leading
	case timed:
		x = 160
	}
	p := setLines(c.gameWords(g, c.inner()-x, lines))
	base := note * 0.97
	if !c.narrow {
		base = firstBase(p, base)
	}
	var b block
	b.add(f.label(day(g.Date), 0, base, 58, k))
	b.add(f.label(g.Score, 62, base, 14, ink{note, true, black}))
	b.add(right(f.label(elo(g.Elo), 0, base, 26, k), 104))
	if timed {
		b.add(f.label(speed(g.Class), 110, base, 46, ink{note, false, dark}))
	}
	b.put(p, x, y)
	b.h = max(y+p.h, note*leading) + 2
	return b
}

// gameWords are the moves of a game, where it left the book and its opening; where
// not all goes in, as many of the first moves as leave room for how it left.
func (c *column) gameWords(g fact.GameRow, w float64, most int) []line {
	f := c.l.f
	left, opening := f.say(g.Left, ink{note, false, black}), f.own(g.ECO+" "+g.Opening, ink{note, false, middle})
	all := f.lineTo(g.Moves, 0, middle)
	set, whole := f.breakLines(slices.Concat(all, left, opening), w, most)
	if whole || len(left) == 0 {
		return set
	}
	for n := len(all); n > 0; n-- {
		moves := all[:n]
		if n < len(all) {
			moves = slices.Concat(f.moves(g.Moves[:n], 0, ink{move, false, middle}), f.own("…", ink{move, false, middle}))
		}
		if set, whole = f.breakLines(slices.Concat(moves, left), w, most); whole {
			return set
		}
	}
	set, _ = f.breakLines(slices.Concat(left, opening), w, most)
	return set
}

// single is the one line to expect where nothing parts, or the lines in full
// when the Report has no forks.
func (c *column) single() section {
	f := c.l.f
	all := c.side.Exits
	list := listing{fair: leastRows, more: func(n int) string { return leftOutLines(all[len(all)-n:]) }}
	for _, e := range all {
		said := f.lineTo(e.Line, 0, middle)
		said = append(said, f.own(words.OneIn(e.Reach)+"; "+exitWords(e), ink{note, false, black})...)
		said = append(said, f.own(e.Note, ink{note, false, dark})...)
		list.entries = append(list.entries, entry{6, func(lines int) block {
			p := f.para(said, c.inner(), lines)
			p.h += 4
			return p
		}})
	}
	return c.rows(section{name: "to expect", rank: linesRank, share: 36}, list)
}

func leftOutLines(list []fact.Exit) string {
	sum := 0.0
	for _, e := range list {
		sum += e.Reach
	}
	return moreLines(len(list), sum)
}

// exitWords says how a line ends.
func exitWords(e fact.Exit) string {
	switch {
	case e.Unseen:
		return "then they leave your book by a move not seen from them"
	case e.Kind == fact.TheyLeave:
		return "they leave your book"
	case e.Kind == fact.BookEnds:
		return "your book ends"
	case e.Kind == fact.GameOver:
		return "the game is over"
	}
	return "still in your book"
}
