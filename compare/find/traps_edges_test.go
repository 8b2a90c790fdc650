package find

import (
	"slices"
	"testing"

	"foreply/compare/fact"
	"foreply/compare/walk"
	"foreply/profile"
	"foreply/profile/board"
)

// slipAt is a slip by the last move of a line, of two centipawns' depth, in some games of so many
// that came there.
func slipAt(way string, visits int, games ...int32) profile.Slip {
	moves := fields(way)
	before := lineOf(line(moves[:len(moves)-1]))
	return profile.Slip{Position: before.End, Move: lineOf(way).Moves[len(moves)-1], Before: 0, After: -200, Games: games, Visits: visits}
}

// finder is what traps of a book are found with, among games.
func finder(t *testing.T, book string, look chances, rows ...string) trapFinder {
	t.Helper()
	p := gamesOf(t, rows...)
	f := trapFinder{w: walked(bookOf(t, book), look), games: Games{All: p.Games, Tree: p.Tree(board.Black)}}
	f.reach, f.at = f.w.ByPosition()
	return f
}

// Six traps are told, of those that the book cannot reach one; of two as needed the one that came
// more often first.
func TestTrapsCounted(t *testing.T) {
	var rows []string
	var slips []profile.Slip
	for i, reply := range fields("e5 c5 e6 c6 d6 g6 b6") {
		rows = append(rows, "2026.01.01 1-0 300: e4 "+reply+" d4", "2026.01.02 1-0 300: d4 "+[...]string{"d5", "f5", "e5", "c5", "e6", "d6", "g6"}[i]+" c4")
		slips = append(slips, slipAt("e4 "+reply, 7, int32(i)))
	}
	p := gamesOf(t, rows...)
	games := Games{All: p.Games, Tree: p.Tree(board.Black)}
	w := walked(bookOf(t, "1. e4 e5 2. Nf3 *"), chances{"e4": "e5 22 1 c5 20 1 e6 18 1 c6 16 1 d6 10 1 g6 8 1 b6 6 1"})
	told := func(slips []profile.Slip) (out []string) {
		for _, tr := range Traps(w, slips, nil, games) {
			out = append(out, line(tr.Line))
		}
		return out
	}
	if got, want := told(slips), []string{"e4 e5", "e4 c5", "e4 e6", "e4 c6", "e4 d6", "e4 g6"}; !slices.Equal(got, want) {
		t.Errorf("%q", got)
	}
	off := []profile.Slip{slipAt("d4 d5", 7, 7, 7), slipAt("d4 f5", 7, 8, 8, 8), slips[0]}
	if got, want := told(off), []string{"e4 e5", "d4 f5"}; !slices.Equal(got, want) {
		t.Errorf("off the book %q", got)
	}
	few, more := slipAt("e4 e5", 2, 0), slipAt("e4 c5", 4, 1, 1)
	even := walked(bookOf(t, "1. e4 e5 2. Nf3 *"), chances{"e4": "e5 50 1 c5 50 1"})
	if got := Traps(even, []profile.Slip{few, more}, nil, games); len(got) != 2 || got[0].Games != 2 {
		t.Errorf("%+v", got)
	}
}

// What is worth telling: on the lines to expect what they are likely to do again, and always what
// the book does, too; behind its end what came twice, is likely, and pays; elsewhere only theirs.
func TestTrapsWorthTelling(t *testing.T) {
	f := finder(t, "1. e4 e5 2. Nf3 Nc6 3. Bb5 *", chances{"e4": "e5 100 4", "e4 e5 Nf3": "Nc6 100 4"}, repeated(4, "1-0 300: e4 e5 Nf3 Nc6 Bb5 a6 Ba4 b5")...)
	theirs, mine, alone, free := slipAt("e4 e5", 4, 0, 1), slipAt("e4 e5 Nf3", 4, 0, 1), slipAt("e4 e5", 4, 0), slipAt("e4 e5 Nf3 Nc6 Bb5 a6 Ba4", 4, 0, 1)
	judged, other := mine, slipAt("e4 e5 Bc4", 4, 0, 1)
	judged.Judged = true
	spot := func(where string, reach float64) trapSpot {
		return trapSpot{where: where, reach: reach, share: 0.5, line: theirs.Position.Legal(nil)[:0]}
	}
	for name, c := range map[string]struct {
		slip profile.Slip
		spot trapSpot
		want bool
	}{
		"theirs, likely": {theirs, spot(fact.InBook, 0.02), true}, "theirs, unlikely": {theirs, spot(fact.InBook, 0.019), false},
		"the book's, however rare": {mine, spot(fact.InBook, 0.0001), true}, "what an engine finds wrong with the book": {judged, spot(fact.InBook, 1), false}, "not the book's": {other, spot(fact.InBook, 1), false},
		"past the book": {theirs, spot(fact.PastBook, 0.02), true}, "past the book, unlikely": {theirs, spot(fact.PastBook, 0.019), false}, "past the book, once": {alone, spot(fact.PastBook, 1), false},
		"others' past the book": {free, spot(fact.PastBook, 1), true}, "others' behind another answer": {free, spot(fact.OtherAnswer, 1), false}, "others' off the book": {free, spot(fact.OffBook, 1), false},
		"theirs off the book": {theirs, spot(fact.OffBook, 0), true}, "theirs off the book, once": {alone, spot(fact.OffBook, 1), false},
	} {
		if got := f.worthTelling(&c.slip, &c.spot); got != c.want {
			t.Errorf("%s: %v", name, got)
		}
	}
	// An engine has a better move on the way than one that no book has: only past the book it matters.
	f.engine = oracle(t, ": 10 d4; 5 c4", "c4: 300 e5; 0 c5")
	way := lineOf("c4 e5").Moves
	for where, want := range map[string]bool{fact.InBook: true, fact.PastBook: false, fact.OffBook: false, fact.OtherAnswer: false} {
		slip := slipAt("c4 e5", 4, 0, 1)
		slip.After = 40 // in all not worth as much as 1.d4 with thirty more
		sp := trapSpot{where: where, reach: 1, share: 1, line: way}
		if got := f.worthTelling(&slip, &sp); got != want {
			t.Errorf("%s: %v", where, got)
		}
	}
}

// A trap pays if no move of the user's on the way to it that is none of the book's has a better
// one: what they play on the way may be as bad as they like. A slip of the user's side always does.
func TestTrapsPayOnTheWay(t *testing.T) {
	f := finder(t, "1. d4 *", chances{})
	way := lineOf("e4 e5 Nf3").Moves
	slip := slipAt("e4 e5 Nf3 f6", 4, 0)
	f.engine = oracle(t, "e4: 500 a6; 100 e5")
	if !f.pays(&slip, &trapSpot{line: way}) {
		t.Error("what they could have played is no better move of the user's")
	}
	f.engine = oracle(t, ": 500 c4; 0 e4")
	if f.pays(&slip, &trapSpot{line: way}) {
		t.Error("1.c4 is better")
	}
	mine := slipAt("e4 e5 Nf3", 4, 0)
	if !f.pays(&mine, &trapSpot{line: way}) {
		t.Error("a slip of the user's side pays")
	}
}

// Where a slip lies is told by the game that the user can follow furthest, of equals the newest;
// behind the walk the reach is that of its last place, times how many games went on to the slip,
// all at most.
func TestTrapsPlaced(t *testing.T) {
	look := chances{"e4": "e5 60 6 c5 40 4", "e4 e5 Nf3": "Nc6 100 6"}
	f := finder(t, "1. e4 e5 (1... c5 2. Nf3) 2. Nf3 *", look,
		"2026.01.01 1-0 300: d4 d5 c4 e6 Nc3 c6", "2026.01.02 1-0 300: c4 d5 d4 e6 Nc3 c6", "2026.01.03 1-0 300: e4 e5 Nf3 Nc6 Bb5 a6", "2026.01.04 1-0 300: e4 e5 Nf3 Nc6 Bb5 d6")
	off := slipAt("d4 d5 c4 e6 Nc3 c6", 2, 0, 1)
	if sp := f.place(&off); sp.where != fact.OffBook || line(walk.SAN(sp.line)) != "c4 d5 d4 e6 Nc3 c6" {
		t.Errorf("%+v", sp)
	}
	past := slipAt("e4 e5 Nf3 Nc6 Bb5 a6", 2, 2)
	if sp := f.place(&past); sp.where != fact.PastBook || !near(sp.reach, 0.6) || !near(sp.share, 0.5) {
		t.Errorf("%+v", sp)
	}
	in := slipAt("e4 e5 Nf3 Nc6", 2, 2)
	if sp := f.place(&in); sp.where != fact.InBook || !near(sp.reach, 0.6) || sp.share != 1 {
		t.Errorf("%+v", sp)
	}
	sp := trapSpot{where: fact.PastBook, reach: 0.5}
	f.weigh(&sp, &profile.Slip{Position: past.Position, Games: []int32{2}, Visits: 8}, nil, &profile.TreeNode{Count: profile.Count{Games: 4}})
	if sp.reach != 0.5 {
		t.Errorf("more games than went on: %v", sp.reach)
	}
	b := f.w.Book
	for way, want := range map[string]string{"e4 e5 Nf3": fact.OtherAnswer, "e4 e5 d4": fact.OffBook, "e4 e5 Nf3 d6": fact.PastBook, "e4 e5 Nf3 Nc6 Bb5": fact.PastBook, "d4": fact.OffBook} {
		if got := howParted(b, lineOf(way).Moves); got != want {
			t.Errorf("%s: %s", way, got)
		}
	}
}

// The best line by an engine is prepared if the book's main choice begins it; what was to be
// expected is that of the games of the trap.
func TestTrapPrepared(t *testing.T) {
	const book = "1. e4 e5 2. Nf3 f6 3. Nxe5 (3. Bc4) *"
	f := finder(t, book, chances{"e4": "e5 100 4", "e4 e5 Nf3": "f6 100 4"}, "2026.01.01 1-0 300 1600: d4 d5", "2026.01.02 1-0 300 2400: e4 e5 Nf3 f6 d4")
	slip := slipAt("e4 e5 Nf3 f6", 1, 1)
	for best, want := range map[string]bool{"Nxe5": true, "Bc4": false} {
		f.engine = oracle(t, "e4 e5 Nf3 f6: 110 "+best)
		tr := f.trap(&slip, f.place(&slip))
		if tr.Prepared != want || tr.Best == nil || !near(tr.Expected, 1.0/11) {
			t.Errorf("%s: %+v", best, tr)
		}
	}
}

// orderFinder looks for orders of moves among games with Black.
func orderFinder(t *testing.T, book string, look chances, rows ...string) *orders {
	t.Helper()
	p := gamesOf(t, rows...)
	b := bookOf(t, book)
	return &orders{w: walked(b, look), book: b, games: Games{All: p.Games, Tree: p.Tree(board.Black)}}
}

// The parts by which orders are found: whether two places are apart, where games ended, what the
// book's main line has, and what it goes on to.
func TestPartsOfOrders(t *testing.T) {
	first, second := lineOf("d4 Nf6 c4").End, lineOf("d4 Nf6 Nf3").End
	pet := lineOf("d4 Nf6 c4 e5").Moves[3]
	for games, want := range map[[2]int]bool{{12, 6}: true, {12, 5}: false, {6, 6}: true, {4, 6}: true, {1, 6}: false} {
		c := orderFinder(t, "1. d4 *", nil, slices.Concat(repeated(games[0], "1-0 300: d4 Nf6 c4 e5"), repeated(games[1], "1-0 300: d4 Nf6 Nf3 e6"))...)
		if got := c.setsApart(&first, &second, pet); got != want {
			t.Errorf("%v games: apart %v", games, got)
		}
	}
	b := bookOf(t, "1. e4 e5 (1... c5) (1... e6) 2. Nf3 (2. Bc4) Nc6 3. Bb5 (3. d4) *")
	c := &orders{book: b}
	at := lineOf("e4 e5 Nf3").End
	var later []string
	for _, m := range c.laterMoves(&at) {
		later = append(later, m.UCI())
	}
	if !slices.Equal(later, []string{"f1b5"}) {
		t.Errorf("%q", later)
	}
	at = lineOf("e4").End
	for san, want := range map[string][2]bool{"e5": {true, true}, "c5": {false, false}, "e6": {false, false}, "d5": {false, false}} {
		m := lineOf("e4 " + san).Moves[1]
		if got := [2]bool{expects(b, at.Key(), m), coversBook(b, &at, m)}; got != want {
			t.Errorf("1...%s: expected and covered %v", san, got)
		}
	}
	at = lineOf("e4 e5").End // 2.Nf3 Nc6, behind which the book has answers, but none to 2...Nc6 3.a3
	for way, want := range map[string]bool{"Bc4 Nc6": false, "Nf3 Nc6": true} {
		next := lineOf("e4 e5 " + way)
		before := lineOf("e4 e5 " + fields(way)[0])
		if got := coversBook(b, &before.End, next.Moves[3]); got != want {
			t.Errorf("%s: %v", way, got)
		}
	}
}
