package find

import (
	"fmt"
	"math"
	"reflect"
	"slices"
	"testing"

	"foreply/compare/fact"
	"foreply/fetch/pgn"
	"foreply/profile"
	"foreply/profile/board"
)

// The trap of the c3 Sicilian: 4...Nxe4? 5.Qa4+ wins the knight.
const (
	fell    = "e4 =0.3 c5 =0.3 c3 =0.2 d6 =0.3 d4 =0.3 Nf6 =0.4 dxc5 =0.2 Nxe4 =3.9 Qa4+ =3.8 Nc6 Qxe4"
	knew    = "e4 c5 c3 d6 d4 Nf6 dxc5 Nc6"
	decided = "e4 =0.3 c5 =0.3 c3 =0.2 d6 =0.3 d4 =0.3 Nf6 =1.2 dxc5 =2.2 Nxe4 =5.9 Qa4+"
)

func trapsOf(t *testing.T, rows []string, chapters ...string) []fact.Trap {
	t.Helper()
	p := gamesOf(t, rows...)
	c := compare(t, p, chapters...)
	return Traps(c.w, p.Slips(board.Black, nil), nil, c.games)
}

// told is a trap in short: where and what, how often, from what to what, when last,
// at which speeds, what came since, whose move it is, what came of it.
func told(tr *fact.Trap) string {
	text := fmt.Sprintf("%s %s %s %d/%d %+d %+d %s %v", tr.Where, tr.Kind, tr.Line[len(tr.Line)-1], tr.Games, tr.Of, tr.Before, tr.After, tr.Last, tr.Speeds)
	if tr.Since > 0 {
		text += fmt.Sprintf(" since %d %s at %d %v", tr.Since, tr.Then, tr.ThenPly, tr.Repaired)
	}
	if tr.Kind == fact.OthersSlip {
		text += fmt.Sprintf(" yours %v %+v %.2f", tr.Yours, tr.Score, tr.Expected)
	}
	return text
}

func TestTraps(t *testing.T) {
	const book = "1. e4 c5 2. c3 d6 3. d4 Nf6 4. dxc5 Nxe4 (4... Nc6 5. cxd6) 5. Qa4+ *"
	mated := []string{"2026.01.05 0-1 300 2200: f3 =-0.6 e5 =-0.6 g4 =#-1 Qh4#", "2026.02.03 1/2-1/2 300 2000: f3 e5 e4 Nc6"}
	twice := []string{"2026.01.05 1-0 300 -: " + fell, "2026.02.03 1-0 5400 -: " + fell}
	for name, c := range map[string]struct {
		games []string
		book  string
		want  []string
	}{
		"twice, and not repaired": {twice, book, []string{"in_book their_slip Nxe4 2/2 -20 -390 2026-02-03 [slow blitz]"}},
		"repaired": {
			[]string{"2026.01.05 1-0 300 -: " + fell, "2026.02.03 0-1 300 -: " + knew, "2026.02.04 0-1 300 -: " + knew}, book,
			[]string{"in_book their_slip Nxe4 1/3 -20 -390 2026-01-05 [blitz] since 2 Nc6 at 7 true"},
		},
		"once of many times on the lines": {
			append([]string{"2026.01.05 1-0 300 -: " + fell}, slices.Repeat([]string{"2026.02.03 1-0 300 -: " + knew}, 120)...), book, nil,
		},
		"never from a decided position": {[]string{"2026.01.05 1-0 300 -: " + decided, "2026.01.06 1-0 300 -: " + decided}, book, nil},
		"no evaluations":                {[]string{"2026.01.05 1-0 300 -: " + knew, "2026.01.06 1-0 300 -: " + knew}, book, nil},
		"behind the end of the book":    {twice, "1. e4 c5 2. c3 *", []string{"past_book their_slip Nxe4 2/2 -20 -390 2026-02-03 [slow blitz]"}},
		"once, behind the end of the book": {
			[]string{"2026.01.05 1-0 300 -: " + fell, "2026.02.03 1-0 300 -: e4 c5 c3 d5"}, "1. e4 c5 2. c3 *", nil,
		},
		"behind the end of the book, once of many times": {
			append([]string{"2026.01.05 1-0 300 -: " + fell}, slices.Repeat([]string{"2026.02.03 1-0 300 -: " + knew}, 120)...), "1. e4 c5 2. c3 *", nil,
		},
		"behind another answer":       {twice, "1. e4 c5 2. Nf3 (2. c3) *", []string{"other_answer their_slip Nxe4 2/2 -20 -390 2026-02-03 [slow blitz]"}},
		"once, behind another answer": {append(twice[:1:1], "2026.02.03 1-0 300 -: "+knew), "1. e4 c5 2. Nf3 (2. c3) *", nil},
		"once, off the book":          {append(twice[:1:1], "2026.02.03 1-0 300 -: "+knew), "1. d4 d5 2. c4 *", nil},
		"off the book":                {twice, "1. d4 d5 2. c4 *", []string{"off_book their_slip Nxe4 2/2 -20 -390 2026-02-03 [slow blitz]"}},
		"others fell for it, and the book too": {mated, "1. f3 e5 2. g4 *",
			[]string{"in_book others_slip g4 1/2 -60 -1000 2026-01-05 [blitz] since 1 e4 at 2 false yours true {Wins:1 Draws:0 Losses:0 Unknown:0} 0.24"}},
		"others fell for it, and the book's second answer": {mated, "1. f3 e5 2. e4 (2. g4) *", nil},
		"others fell for it, the book does not":            {mated, "1. f3 e5 2. e4 *", nil},
		"others fell for it twice, where the book has nothing": {
			[]string{"2026.01.05 0-1 300 2200: f3 =-0.6 e5 =-0.6 g4 =#-1 Qh4#", "2026.01.06 0-1 300 2200: f3 =-0.6 e5 =-0.6 g4 =#-1 Qh4#"}, "1. f3 d5 2. e4 *",
			[]string{"past_book others_slip g4 2/2 -60 -1000 2026-01-06 [blitz] yours false {Wins:2 Draws:0 Losses:0 Unknown:0} 0.48"}},
	} {
		t.Run(name, func(t *testing.T) {
			var got []string
			for _, tr := range trapsOf(t, c.games, c.book) {
				got = append(got, told(&tr))
			}
			if !slices.Equal(got, c.want) {
				t.Errorf("%q\nwant %q", got, c.want)
			}
		})
	}
}

// What the book reaches comes before what it does not, however often that came;
// an open trap before one that was repaired. A trap stands at its branch.
func TestTrapsInOrder(t *testing.T) {
	const (
		line1 = "e4 =0.3 e5 =0.3 Nf3 =0.3 f6 =1.9 Nxe5"
		line2 = "e4 =0.3 d6 =0.3 d4 =0.3 Nf6 =0.4 Nc3 =0.4 e5 =0.5 dxe5 =0.4 Nxe4 =4.0"
		other = "d4 =0.3 e5 =1.4 dxe5"
		book  = "1. e4 e5 (1... d6 2. d4 Nf6 3. Nc3 e5 4. dxe5 dxe5 5. Qxd8+) 2. Nf3 Nc6 (2... f6 3. Nxe5) 3. Bb5 *"
	)
	rows := []string{
		"2026.01.01 1-0 300 -: " + line1, "2026.01.02 1-0 300 -: e4 e5 Nf3 Nc6", "2026.01.03 1-0 300 -: " + line2,
		"2026.01.04 1-0 300 -: " + other, "2026.01.05 1-0 300 -: " + other, "2026.01.06 1-0 300 -: " + other,
	}
	traps := trapsOf(t, rows, book)
	var got []string
	for _, tr := range traps {
		got = append(got, tr.Where+" "+tr.Line[len(tr.Line)-1])
	}
	if want := []string{"in_book Nxe4", "in_book f6", "off_book e5"}; !slices.Equal(got, want) {
		t.Fatalf("%q, want %q", got, want)
	}
	if n := traps[0].Newest; len(n) != 1 || n[0].Game != 3 || traps[2].Newest[0].Game != 6 {
		t.Errorf("%+v, %+v", n, traps[2].Newest)
	}
	c := compare(t, gamesOf(t, rows...), book)
	partings := Partings(c.w, c.games)
	Mark(partings, traps)
	marked := map[string]*fact.Trap{}
	for _, f := range partings {
		for _, b := range f.Branches {
			if b.Trap != nil {
				marked[b.Move] = b.Trap
			}
		}
	}
	if len(marked) != 2 || marked["Nxe4"] != &traps[0] || marked["f6"] != &traps[1] {
		t.Errorf("traps at %v", marked)
	}
}

// A score is no trap, however bad and however often: eight losses of eight against equals
// are told nowhere. Slips by evaluation are, and they alone, by whichever side.
func TestScoresAreNoTraps(t *testing.T) {
	rows := slices.Concat(repeated(20, "1-0 5400 2000: e4 e5 Nf3 Nc6 Bb5 a6"), repeated(20, "0-1 5400 2000: e4 c5 Nf3 d6 d4 cxd4"),
		[]string{"2026.09.01 1-0 300 2000: e4 =0.3 e5 =0.3 Nf3 =0.3 f6 =1.9 Nxe5"})
	got := trapsOf(t, rows, "1. e4 c5 2. Nf3 d6 3. d4 *", "1. e4 e5 2. Nf3 Nc6 3. Bb5 *")
	if len(got) != 1 || got[0].Kind != fact.TheirSlip || got[0].Before != -30 || got[0].After != -190 || got[0].Engine {
		t.Errorf("%+v", got)
	}
}

// A trap that two orders of moves lead to stands where the book goes, whichever came last,
// with how likely the wrong move is there.
func TestTrapOfTwoOrders(t *testing.T) {
	const book = "1. e4 c5 2. c3 d6 3. d4 Nf6 4. dxc5 Nxe4 (4... Nc6 5. cxd6) 5. Qa4+ *"
	byBook, knows := fell, knew
	odd := "c3 =0.2 c5 =0.3 e4 =0.3 d6 =0.3 d4 =0.3 Nf6 =0.4 dxc5 =0.2 Nxe4 =3.9 Qa4+ =3.8"
	for name, rows := range map[string][]string{
		"the odd one last":  {"2026.01.05 1-0 300 -: " + byBook, "2026.01.06 1-0 300 -: " + knows, "2026.02.03 1-0 300 -: " + odd},
		"the odd one first": {"2026.01.05 1-0 300 -: " + odd, "2026.01.06 1-0 300 -: " + knows, "2026.02.03 1-0 300 -: " + byBook},
	} {
		p := gamesOf(t, rows...)
		c := compare(t, p, book)
		traps := Traps(c.w, p.Slips(board.Black, nil), nil, c.games)
		if len(traps) != 1 {
			t.Fatalf("%s: %+v", name, traps)
		}
		tr := traps[0]
		if tr.Where != fact.InBook || line(tr.Line) != "e4 c5 c3 d6 d4 Nf6 dxc5 Nxe4" || tr.Games != 2 || tr.Of != 3 {
			t.Errorf("%s: %+v", name, tr)
		}
		here := lineOf("e4 c5 c3 d6 d4 Nf6 dxc5").End
		move, err := here.Resolve([]byte("Nxe4"))
		if err != nil {
			t.Fatal(err)
		}
		expected := c.look.At(&here)
		if l, _ := expected.Of(move); math.Abs(tr.Need-tr.Reach*l.P) > 1e-9 || l.P > 0.65 {
			t.Errorf("%s: reached in %.3f, needed in %.3f, expected there %.3f", name, tr.Reach, tr.Need, l.P)
		}
	}
}

// A trap whole: whose it is, where, what it is worth, of which games, and the best line behind
// it where an engine found one.
func TestTrapWhole(t *testing.T) {
	p := gamesOf(t, "2026.01.05 1-0 300 2000: e4 e5 Nf3 f6", "2026.01.06 0-1 5400 2000: e4 e5 Nf3 f6", "2026.01.07 1-0 300 2000: e4 e5 Nf3 Nc6", "2026.01.08 1-0 300 2000: e4 e5 Nf3 Nc6")
	c := compared{w: walked(bookOf(t, "1. e4 e5\n2. Nf3 Nc6 (2... f6 3. Nxe5) 3. Bb5 *"), chances{"e4": "e5 80 4", "e4 e5 Nf3": "Nc6 50 2 f6 50 2"}), games: Games{All: p.Games, Tree: p.Tree(board.Black)}}
	f := trapFinder{w: c.w, engine: oracle(t, "e4 e5 Nf3 f6: 110 Nxe5 Qe7 d4 d6"), games: c.games}
	at := lineOf("e4 e5 Nf3 f6")
	before := lineOf("e4 e5 Nf3")
	slip := &profile.Slip{Position: before.End, Move: at.Moves[3], Before: -30, After: -190, Games: []int32{0, 1}, Visits: 4, Since: []int32{2, 3}, Instead: lineOf("e4 e5 Nf3 Nc6").Moves[3], Judged: true}
	sp := trapSpot{where: fact.InBook, reach: 0.8, line: at.Moves, share: 0.5}
	want := fact.Trap{
		Kind: fact.TheirSlip, Line: fields("e4 e5 Nf3 f6"), Where: fact.InBook, Reach: 0.8, Need: 0.2, Before: -30, After: -190, Engine: true, Games: 2, Of: 4, Since: 2, Then: "Nc6", ThenPly: 3, Repaired: true,
		Best: new(value(110, 0, 18, "Nxe5 Qe7 d4")), Prepared: true, Last: pgn.ParseDate("2026.01.06"), Speeds: []string{"slow", "blitz"}, Score: fact.Score{Wins: 1, Losses: 1}, Expected: 1,
		Newest: append(refs("classical", "2 2026.01.06"), refs("blitz", "1 2026.01.05")...), File: "book.pgn", FileLine: 2,
	}
	if got := f.trap(slip, sp); !reflect.DeepEqual(got, want) {
		t.Errorf("got\n  %+v\nwant\n  %+v", got, want)
	}
	yours := &profile.Slip{Position: lineOf("e4 e5").End, Move: before.Moves[2], Games: []int32{0}, Visits: 4}
	if got := f.trap(yours, trapSpot{where: fact.InBook, reach: 0.8, line: before.Moves, share: 0.25}); got.Kind != fact.OthersSlip || !got.Yours || !near(got.Need, 0.4) || got.Best != nil || got.Repaired || got.Then != "" {
		t.Errorf("%+v", got)
	}
	// Behind the book the place comes as often as games went on to it.
	sp = trapSpot{where: fact.PastBook, reach: 0.8}
	f.weigh(&sp, &profile.Slip{Position: before.End, Games: []int32{0}, Visits: 2}, nil, &profile.TreeNode{Count: profile.Count{Games: 8}})
	if !near(sp.reach, 0.2) || !near(sp.share, 0.5) {
		t.Errorf("%+v", sp)
	}
	for _, c := range []struct {
		a, b trapSpot
		want bool
	}{
		{trapSpot{where: fact.InBook}, trapSpot{where: fact.PastBook, reach: 1}, true}, {trapSpot{where: fact.OffBook, reach: 1}, trapSpot{where: fact.OtherAnswer}, false},
		{trapSpot{where: fact.InBook, reach: 0.3}, trapSpot{where: fact.InBook, reach: 0.2}, true}, {trapSpot{where: fact.InBook, reach: 0.2}, trapSpot{where: fact.InBook, reach: 0.2}, false},
	} {
		if got := nearer(&c.a, &c.b); got != c.want {
			t.Errorf("%+v nearer than %+v: %v", c.a, c.b, got)
		}
	}
}

// A trap is none if a move of the user's on the way to it has a better one, by an engine, that
// brings all but thirty centipawns of it; an answer of the book is free of that.
func TestTrapsThatPay(t *testing.T) {
	at := lineOf("e4 e5 Nf3 f6")
	slip := &profile.Slip{Position: lineOf("e4 e5 Nf3").End, Move: at.Moves[3], After: -190}
	for best, want := range map[string]bool{"160 Bc4 f6": true, "161 Bc4 f6": false, "300 Nf3 f6": true} {
		for chapter, free := range map[string]bool{"1. e4 e5 2. Nc3 *": true, "1. e4 e5 2. Nf3 *": false} {
			f := trapFinder{w: walked(bookOf(t, chapter), chances{"e4": "e5 100 1"}), engine: oracle(t, "e4 e5: "+best)}
			if got := f.pays(slip, &trapSpot{line: at.Moves}); got != (want || !free) {
				t.Errorf("best %s, %s: pays %v", best, chapter, got)
			}
		}
	}
	theirs := lineOf("e4 e5").End
	if f := (trapFinder{w: walked(bookOf(t, "1. d4 *"), chances{})}); !f.pays(&profile.Slip{Position: theirs}, &trapSpot{line: at.Moves}) {
		t.Error("a slip of the user's side always pays")
	}
}
