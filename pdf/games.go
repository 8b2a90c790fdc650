package pdf

import (
	"fmt"
	"slices"
	"strconv"

	"foreply/compare/fact"
	"foreply/compare/words"
	"foreply/pdf/sheet"
	"foreply/profile"
)

// games lists the games when they are too few to count.
func (c *column) games() sheet.Part {
	f := c.l.f
	s := sheet.Part{Title: "their games", Rank: linesRank, Share: 36, Even: true}
	s.More = func(n int) string { return words.Thousands(n) + " more games left out" }
	if len(c.side.List) == 0 {
		none := f.Own(noGames(c.side), ink(note, false, sheet.Black))
		s.Rows = append(s.Rows, sheet.Row{Most: 2, Set: func(lines int) sheet.Block { return f.Para(none, c.Inner(), lines) }})
	}
	for _, hint := range hints(c.side.Hints) { // before the games: what is left out is games
		said := say(f, hint, ink(note, false, sheet.Dark))
		s.Rows = append(s.Rows, sheet.Row{Most: 2, Set: func(lines int) sheet.Block { return f.Para(said, c.Inner(), lines) }})
	}
	for _, g := range c.side.List {
		s.Rows = append(s.Rows, sheet.Row{Most: 3, Set: func(lines int) sheet.Block { return c.game(g, lines) }})
	}
	return s
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
func (c *column) game(g fact.GameRow, lines int) sheet.Block {
	f := c.l.f
	k := ink(note, false, sheet.Black)
	timed := slices.ContainsFunc(c.side.List, func(g fact.GameRow) bool { return speed(g.Class) != "" })
	x, y := 114.0, 0.0
	switch {
	case c.Narrow:
		x, y = 0, note*sheet.Leading
	case timed:
		x = 160
	}
	p := sheet.SetLines(c.gameWords(g, c.Inner()-x, lines))
	base := note * 0.97
	if !c.Narrow {
		base = sheet.FirstBase(p, small, base)
	}
	var b sheet.Block
	b.Add(f.Label(day(g.Date), 0, base, 58, k))
	b.Add(f.Label(g.Score, 62, base, 14, ink(note, true, sheet.Black)))
	b.Add(sheet.Right(f.Label(elo(g.Elo), 0, base, 26, k), 104))
	if timed {
		b.Add(f.Label(speed(g.Class), 110, base, 46, ink(note, false, sheet.Dark)))
	}
	b.Put(p, x, y)
	b.H = max(y+p.H, note*sheet.Leading) + 2
	return b
}

// gameWords are the moves of a game, where it left the book and its opening; where
// not all goes in, as many of the first moves as leave room for how it left.
func (c *column) gameWords(g fact.GameRow, w float64, most int) []sheet.TextLine {
	f := c.l.f
	left, opening := say(f, words.HowLeft(&g).String(), ink(note, false, sheet.Black)), f.Own(g.ECO+" "+g.Opening, ink(note, false, sheet.Middle))
	all := lineTo(f, g.Moves, 0, sheet.Middle)
	set, whole := f.Break(slices.Concat(all, left, opening), w, most)
	if whole || len(left) == 0 {
		return set
	}
	for n := len(all); n > 0; n-- {
		moves := all[:n]
		if n < len(all) {
			moves = slices.Concat(moveWords(f, g.Moves[:n], 0, ink(move, false, sheet.Middle)), f.Own("…", ink(move, false, sheet.Middle)))
		}
		if set, whole = f.Break(slices.Concat(moves, left), w, most); whole {
			return set
		}
	}
	set, _ = f.Break(slices.Concat(left, opening), w, most)
	return set
}

// single is the one line to expect where nothing parts, or the lines in full
// when the Report has no forks.
func (c *column) single() sheet.Part {
	f := c.l.f
	all := c.side.Exits
	s := sheet.Part{Title: "to expect", Rank: linesRank, Share: 36, Fair: leastRows}
	s.More = func(n int) string { return leftOutLines(all[len(all)-n:]) }
	for _, e := range all {
		said := lineTo(f, e.Line, 0, sheet.Middle)
		said = append(said, f.Own(words.OneIn(e.Reach)+"; "+exitWords(e, c.side.MyColor), ink(note, false, sheet.Black))...)
		said = append(said, f.Own(e.Note, ink(note, false, sheet.Dark))...)
		s.Rows = append(s.Rows, sheet.Row{Most: 6, Set: func(lines int) sheet.Block {
			p := f.Para(said, c.Inner(), lines)
			p.H += 4
			return p
		}})
	}
	return s
}

func leftOutLines(list []fact.Exit) string {
	sum := 0.0
	for _, e := range list {
		sum += e.Reach
	}
	return moreLines(len(list), sum)
}

// exitWords says how a line ends, with the evaluation if there is one.
func exitWords(e fact.Exit, myColor string) string {
	text := exitKind(e)
	if e.Best != nil && (e.Kind == fact.BookEnds || e.Kind == fact.LimitInBook) {
		text += " at " + words.Eval(e.Best, myColor)
	}
	return text
}

func exitKind(e fact.Exit) string {
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
