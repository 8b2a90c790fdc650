package pdf

import (
	"fmt"
	"strings"

	"foreply/pdf/sheet"
)

// lines is the section of what to expect: the forks; the games themselves when
// they are few; the one line when it never parts.
func (c *column) lines() sheet.Part {
	switch tellBy(c.side) {
	case byGames:
		return c.games()
	case byExits:
		return c.single()
	}
	return c.forks()
}

// How much a row of the forks tells.
const (
	oneLine = iota // move, frequency, how it goes on as far as there is room, answer
	twoLines
	allOfIt
)

// linesOf is the most lines a branch may take.
func linesOf(tell int) int {
	if tell == allOfIt {
		return 5
	}
	return 1 + tell
}

// How many rows a fair height has if there are as many, and how many are enough
// to begin telling all of each.
const (
	leastRows  = 10
	narrowRows = 7
	manyRows   = 18
	fairNotes  = 3 // second lines that a fair height has room for
)

// fewest is leastRows, or what is enough in a narrow column.
func (c *column) fewest() int {
	if c.Narrow {
		return narrowRows
	}
	return leastRows
}

// tree draws ranked forks in a column.
type tree struct {
	ranked
	c    *column
	rows map[rowKey]sheet.Block // drawn before, since choices are tried many times
	wide map[at]widths          // measured before
}

// choice is which branches stand on the page, and how much each tells.
type choice struct {
	n    int // the first in order
	tell map[at]int
}

func (t *tree) choose(n, tell int) choice {
	ch := choice{n: n, tell: map[at]int{}}
	for _, a := range t.order[:n] {
		ch.tell[a] = tell
	}
	return ch
}

// with is the choice and one branch more.
func (ch choice) with(a at) choice {
	out := choice{n: ch.n + 1, tell: map[at]int{a: oneLine}}
	for k, v := range ch.tell {
		out.tell[k] = v
	}
	return out
}

func (ch choice) shows(a at) bool {
	_, ok := ch.tell[a]
	return ok
}

func (c *column) forks() sheet.Part {
	t := &tree{ranked: rank(c.side.Forks), c: c, rows: map[rowKey]sheet.Block{}, wide: map[at]widths{}}
	s := sheet.Part{Title: "forks", Rank: linesRank, Share: 36, Beside: true}
	n := len(t.order)
	over := c.Over(s)
	tail, more := t.reach()
	// More rows than a page holds need not be drawn to know that they want it all.
	s.Want = t.draw(t.choose(min(60, n), allOfIt)).H + tail.H + more.H + over
	s.Least = min(s.Want, t.draw(t.choose(min(1, n), oneLine)).H+over)
	s.Enough = min(s.Want, t.draw(t.choose(min(c.fewest(), n), oneLine)).H+fairNotes*note*sheet.Leading+tail.H+over)
	s.Enough = max(s.Enough, s.Least)
	s.At = func(h float64) sheet.Block {
		ch, rest := t.best(h-over+0.01, tail.H)
		b := t.draw(ch)
		for _, p := range []sheet.Block{tail, more} {
			if rest >= p.H {
				b.Put(p, 0, b.H)
				b.H += p.H
				rest -= p.H
			}
		}
		return c.Frame(s, b)
	}
	return s
}

// best fills a height: first with enough rows, then, when there is room for the
// tail, it keeps that; then by finishing what is cut short; then with more rows,
// and by telling all, the likeliest first. It returns what is left.
func (t *tree) best(h, tail float64) (ch choice, rest float64) {
	ch = t.grow(t.choose(1, oneLine), t.c.fewest(), h)
	room := h
	if t.draw(ch).H+tail <= h {
		room -= tail
	}
	t.tellMore(ch, twoLines, room, t.isCut)
	t.tellMore(ch, allOfIt, room, t.isCut)
	ch = t.grow(ch, manyRows, room)
	for _, tell := range []int{twoLines, allOfIt} {
		t.tellMore(ch, tell, room, func(at, choice) bool { return true })
	}
	ch = t.grow(ch, len(t.order), room)
	return ch, h - t.draw(ch).H
}

// grow adds branches while they fit.
func (t *tree) grow(ch choice, limit int, h float64) choice {
	for ch.n < min(limit, len(t.order)) {
		next := ch.with(t.order[ch.n])
		if t.draw(next).H > h {
			break
		}
		ch = next
	}
	return ch
}

// tellMore raises what the branches that want it tell, as far as it fits.
func (t *tree) tellMore(ch choice, tell int, h float64, wants func(at, choice) bool) {
	for _, a := range t.order[:ch.n] {
		before := ch.tell[a]
		if before >= tell || !wants(a, ch) {
			continue
		}
		if ch.tell[a] = tell; t.draw(ch).H > h {
			ch.tell[a] = before
		}
	}
}

// draw sets the chosen branches in reading order: a fork hangs on the branch it
// continues, the others begin with their way in grey.
func (t *tree) draw(ch choice) sheet.Block {
	var b sheet.Block
	cols := t.grid(ch)
	for _, i := range t.roots {
		if len(t.shown(i, ch)) == 0 {
			continue
		}
		var top sheet.Block
		switch {
		case b.H == 0 && !t.c.Narrow:
			top = t.headed(i, cols)
		case b.H == 0:
			top = t.stem(i, cols, true)
		default:
			top = t.stem(i, cols, false)
			b.H += 4
		}
		b.Put(top, 0, b.H)
		b.H += top.H
		t.hang(&b, b.H-2, i, 0, ch, cols)
	}
	f := t.c.l.f
	if s := t.missing(ch.n); s != "" {
		p := f.Para(f.Own(s, ink(note, false, sheet.Black)), t.c.Inner(), 2)
		b.Put(p, 0, b.H+3)
		b.H += p.H + 3
	}
	return b
}

// hang draws a fork under what it continues: a spine from the top, and a tine for each of
// its branches, with what hangs on that.
func (t *tree) hang(b *sheet.Block, top float64, i, depth int, ch choice, cols grid) {
	x := cols.spine(depth)
	end := top
	shown := t.shown(i, ch)
	for k, a := range shown {
		others := ""
		if k == len(shown)-1 {
			others = t.others(i, shown)
		}
		row := t.row(t.key(a, others, ch, cols))
		end = b.H + move*sheet.Leading/2
		b.Add(stroke(x, end, x+tine, end, 0.7, sheet.Black))
		under := b.H + move*sheet.Leading - 0.5
		b.Put(row, 0, b.H)
		b.H += row.H
		if t.hangs(a, ch) {
			t.hang(b, under, t.branch(a).Next, depth+1, ch, cols)
		}
	}
	if end > top {
		b.Add(stroke(x, top, x, end, 0.7, sheet.Black))
	}
}

// shown are a fork's branches that stand on the page.
func (t *tree) shown(i int, ch choice) []at {
	var list []at
	for j := range t.forks[i].Branches {
		if a := (at{i, j}); ch.shows(a) {
			list = append(list, a)
		}
	}
	return list
}

// others is what of ten games goes by none of the moves that are shown.
func (t *tree) others(i int, shown []at) string {
	ten := 10
	for _, a := range shown {
		ten -= t.branch(a).Share.Ten
	}
	if ten <= 0 {
		return ""
	}
	return fmt.Sprintf("others %d in 10", ten)
}

// hangs says whether what a branch leads to stands under it.
func (t *tree) hangs(a at, ch choice) bool {
	return t.continues(a) && len(t.shown(t.branch(a).Next, ch)) > 0
}

// joins is the branch under which stands what another branch leads to by another
// order of moves; fork -1 for none.
func (t *tree) joins(a at, ch choice) at {
	next := t.branch(a).Next
	if next < 0 || next >= len(t.forks) || t.continues(a) || len(t.shown(next, ch)) == 0 {
		return at{-1, -1}
	}
	return t.parent[next]
}

// reach is how far the book goes on these lines, and how far it went.
func (t *tree) reach() (goes, went sheet.Block) {
	return t.told(coverage(t.c.side)), t.told(leftWords(&t.c.side.Left))
}

// told sets a sentence in two lines, without its last parts where it is longer.
func (t *tree) told(s string) sheet.Block {
	if s == "" {
		return sheet.Block{}
	}
	f := t.c.l.f
	p := f.Para(clauses(f, strings.Split(s, "; "), ink(note, false, sheet.Dark), t.c.Inner(), 2), t.c.Inner(), 2)
	b := sheet.Block{H: p.H + 2}
	b.Put(p, 0, 2)
	return b
}
