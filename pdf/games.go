package pdf

import (
	"fmt"
	"strconv"

	"foreply/compare"
)

// games lists the games when they are too few to count.
func (c *column) games() section {
	var rows []block
	f := c.l.f
	if len(c.side.List) == 0 {
		rows = append(rows, f.para(f.own(noGames(c.side), ink{note, false, black}), c.inner(), 2))
	}
	for _, g := range c.side.List {
		rows = append(rows, c.game(g))
	}
	return c.rows(section{name: "their games", rank: 2, share: 36}, leastRows, rows, func(k int) string {
		return fmt.Sprintf("%s more games left out", compare.Thousands(k))
	})
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

// game is one row: date, rating, result, opening, where the book was left.
func (c *column) game(g compare.GameRow) block {
	f := c.l.f
	k := ink{note, false, black}
	base := note * 0.97
	var b block
	b.add(f.label(day(g.Date), 0, base, 58, k))
	b.add(f.label(g.Score, 62, base, 14, ink{note, true, black}))
	b.add(right(f.label(elo(g.Elo), 0, base, 26, k), 104))
	b.add(f.label(g.Class, 110, base, 46, ink{note, false, dark}))
	x := 160.0
	w := c.inner() - x
	if c.narrow {
		x, w = 0, c.inner()
		b.h = note * leading
	}
	words := f.lineTo(g.Moves, 0, middle)
	words = append(words, f.say(g.Left, k)...)
	words = append(words, f.own(g.ECO+" "+g.Opening, ink{note, false, middle})...)
	p := f.para(words, w, 3)
	b.put(p, x, b.h)
	b.h = max(b.h+p.h, note*leading) + 2
	return b
}

// single is the one line to expect where nothing parts, or the lines in full
// when the Report has no forks.
func (c *column) single() section {
	var rows []block
	f := c.l.f
	for _, e := range c.side.Exits {
		words := f.lineTo(e.Line, 0, middle)
		words = append(words, f.own(compare.OneIn(e.Reach)+"; "+exitWords(e), ink{note, false, black})...)
		if e.Note != "" {
			words = append(words, f.own(e.Note, ink{note, false, dark})...)
		}
		p := f.para(words, c.inner(), 6)
		p.h += 4
		rows = append(rows, p)
	}
	return c.rows(section{name: "to expect", rank: 2, share: 36}, leastRows, rows, func(k int) string {
		return leftOutLines(c.side.Exits[len(c.side.Exits)-k:])
	})
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
