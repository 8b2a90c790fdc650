package main

import (
	"fmt"
	"io"

	"foreply/compare"
	"foreply/compare/book"
	"foreply/compare/find"
	"foreply/compare/past"
	"foreply/fetch/pgn"
	"foreply/profile"
	"foreply/profile/board"
	"foreply/profile/stat"
)

// The protocol.
const (
	known     = 30 // earlier games of the colour before the first day
	following = 20 // games at its place, at most, by which a thing said is judged
	soon      = 10 // the same for a change
	least     = 3  // fewer judge nothing
	shortest  = 6  // plies; shorter games are left out
)

// judgeable are the games of a career that are dated and long enough.
func judgeable(p *profile.Profile) *profile.Profile {
	return p.Only(func(g *profile.Game) bool { return g.Span.Known() && len(g.Moves) >= shortest })
}

// test judges one career.
type test struct {
	career  string
	profile *profile.Profile
	books   []*book.Book
	usual   bool // a book of the usual answers of others, too
	per     int
	table   *table
	out     io.Writer      // for each thing said; may be nil
	over    map[string]int // by what was said: the first game that has not judged it
}

// run makes a Report for each day and each book of the other colour. What is said again is
// judged again once the games that judged it are over.
func (t *test) run(theirs board.Color) {
	t.over = map[string]int{}
	for c := range t.cuts(theirs) {
		n := notices{theirs: theirs, usual: usual(c.past, theirs)}
		for _, b := range c.books {
			n.of(compare.Make(compare.Input{Profile: c.past, Books: []*book.Book{b}}, compare.Options{When: c.day, Class: c.class}))
		}
		for i := range n.list {
			t.judge(&n.list[i], c.from)
		}
	}
}

// cut is a day at which a career is cut.
type cut struct {
	from  int // the first game that was still to come
	past  *profile.Profile
	day   profile.Span
	class profile.Class // of the first game
	books []*book.Book
}

// cuts yields the days of games with a colour, evenly spaced among those that have enough
// games before and after them.
func (t *test) cuts(theirs board.Color) func(yield func(cut) bool) {
	return func(yield func(cut) bool) {
		for _, from := range t.spaced(theirs) {
			first := &t.profile.Games[from]
			c := cut{from: from, class: first.Class, past: t.profile.Only(func(g *profile.Game) bool { return g.Span.Before(first.Span) })}
			if c.past.Count(theirs) < known {
				continue
			}
			c.day = c.past.NextDay()
			if first.Span.First == first.Span.Last { // else the day after what is known
				c.day = first.Span
			}
			for _, b := range t.books {
				if b.Mine != theirs {
					c.books = append(c.books, b)
				}
			}
			if b := past.Usual(c.past, theirs.Other(), c.day); t.usual && b.Positions() > 0 {
				c.books = append(c.books, b)
			}
			if !yield(c) {
				return
			}
		}
	}
}

// spaced are the games before which the career is cut.
func (t *test) spaced(theirs board.Color) []int {
	var games, out []int
	for i := range t.profile.Games {
		if t.profile.Games[i].Theirs == theirs {
			games = append(games, i)
		}
	}
	room := len(games) - known - following
	for k := range t.per {
		at := known + k*room/max(1, t.per-1)
		if room >= 0 && at < len(games) && (len(out) == 0 || games[at] > out[len(out)-1]) {
			out = append(out, games[at])
		}
	}
	return out
}

// judge holds one thing said against the following games, from one on.
func (t *test) judge(n *notice, from int) {
	key := n.row + " " + n.key
	if t.over[key] > from {
		return
	}
	o := outcome{said: n.said, silent: n.silent}
	for i := range t.following(n, from) {
		if o.games == n.most() {
			break
		}
		g := &t.profile.Games[i.Game]
		if v, ok := n.value(g, i.Move); ok {
			o.games, o.came = o.games+1, o.came+v
			t.over[key] = int(i.Game) + 1
		}
	}
	t.over[key] = max(t.over[key], from+1)
	t.table.add(n.row, o)
	if t.out != nil {
		fmt.Fprintf(t.out, "%s before %s: %s, %s: said %.0f, came %.0f in %d games\n",
			t.career, t.profile.Games[from].Date, n.row, n.key, 100*n.said, 100*o.came/float64(max(1, o.games)), o.games)
	}
}

// following yields the visits of games from one on: those at a place, or all games.
func (t *test) following(n *notice, from int) func(yield func(profile.Visit) bool) {
	return func(yield func(profile.Visit) bool) {
		if n.at == 0 {
			for i := from; i < len(t.profile.Games); i++ {
				if !yield(profile.Visit{Game: int32(i)}) {
					return
				}
			}
			return
		}
		node := t.profile.Tree(n.theirs).At(n.at)
		if node == nil {
			return
		}
		last := int32(-1)
		for _, v := range node.Visits {
			if int(v.Game) < from || v.Game == last {
				continue
			}
			last = v.Game
			if !yield(v) {
				return
			}
		}
	}
}

// usual is their mean score with a colour.
func usual(p *profile.Profile, theirs board.Color) float64 {
	sum, n := 0.0, 0.0
	for g := range p.With(theirs) {
		if g.Result != profile.NoResult {
			sum, n = sum+find.ResultPoints(g.Result), n+1
		}
	}
	if n == 0 {
		return 0.5
	}
	return sum / n
}

// edge is what the user's side scored in a game beyond what was to be expected by the
// ratings, else by their record; a part of the edge of ratings may be left.
func edge(g *profile.Game, usual, part float64) (float64, bool) {
	expected := usual
	if g.Elo > 0 && g.RivalElo > 0 {
		expected = 0.5 + part*(stat.EloExpectation(float64(g.Elo-g.RivalElo))-0.5)
	}
	return expected - find.ResultPoints(g.Result), g.Result != profile.NoResult
}

// bySpeed reports whether a game counts where only those of a speed do.
func bySpeed(g *profile.Game, speed string) bool {
	return speed == "" || g.Speed != pgn.UnknownSpeed && g.Speed.Pace() == speed
}
