package past

import (
	"reflect"
	"slices"
	"testing"

	"foreply/compare/walk"
	"foreply/profile"
	"foreply/profile/board"
	"foreply/profile/hindsight"
)

// At a parting each move shown counts by its share, and all others by what is left; one
// never seen that the book hasn't, and one too rare, are among the others. Right is the
// likeliest of those shown.
func TestSharesOfAParting(t *testing.T) {
	moves := map[string]board.Move{}
	at := walk.Resolved([]string{"e4"}).End
	flow := func(san string, p float64, n int, written bool) walk.Flow {
		m, err := at.Resolve([]byte(san))
		if err != nil {
			t.Fatal(err)
		}
		moves[san] = m
		return walk.Flow{Likely: profile.Likely{Move: m, Range: profile.Range{P: p}, N: n}, Written: written}
	}
	s := &walk.State{Pos: at, Reach: walk.Reach{Mass: 0.5}, Expected: profile.Expected{Strength: 1000, Visits: 9}, Flows: []walk.Flow{
		flow("a6", 0.4, 0, false), flow("c5", 0.25, 4, false), flow("e5", 0.3, 0, true), flow("h6", 0.05, 5, true),
	}}
	w := &walk.Walk{Opt: walk.Options{Threshold: 0.1}}
	for played, c := range map[string]struct {
		right      int
		c5, e5, un float64
	}{"e5": {1, 0, 1, 0}, "c5": {0, 1, 0, 0}, "a6": {0, 0, 0, 1}, "h6": {0, 0, 0, 1}} {
		p := newResult().first
		p.add(w, s, moves[played])
		want := Parting{N: 1, Right: c.right, All: []hindsight.Bin{hindsight.NewBin(0.25, c.c5, 1), hindsight.NewBin(0.3, c.e5, 1), hindsight.NewBin(1-0.25-0.3, c.un, 1)}}
		want.Told = want.All
		if got := p.parting(); !reflect.DeepEqual(got, want) {
			t.Errorf("%s: got\n  %+v\nwant\n  %+v", played, got, want)
		}
	}
	hardly := newResult().first
	s.Expected.Visits = 2
	if hardly.add(w, s, moves["e5"]); len(hardly.said.list()) != 0 || len(hardly.all.list()) != 3 {
		t.Errorf("hardly known: %+v", hardly.parting())
	}
	if !parting(w, s) {
		t.Error("two moves are shown")
	}
	if s.Mass = 0.35; parting(w, s) { // then 1...c5 comes in under one of ten
		t.Error("one move is shown")
	}
}

// Results of several tests are joined sum by sum.
func TestPooledSums(t *testing.T) {
	of := func(k int, p float64) Result {
		r := newResult()
		r.Given, r.Sheets, r.Games, r.Decided = k == 2, 1*k, 10*k, 3*k
		for i, part := range []*part{&r.first, &r.deeper} {
			part.n, part.right = (7+i)*k, (4+i)*k
			part.said.add(p, float64(i))
			part.all.add(p, float64(1-i))
			part.all.add(0.95, 1)
		}
		r.lines[2].choices = make([]sums, 1)
		for range Enough / 2 * k {
			r.lines[2].said.add(0.16, 0)
			r.lines[2].choices[0].add(0.4, 0)
		}
		r.changes = changed{told: 5 * k, n: 3 * k, held: 2 * k}
		return r
	}
	got := Pool(of(1, 0.25), of(2, 0.27))
	parting := func(i int) Parting {
		return Parting{N: 3 * (7 + i), Right: 3 * (4 + i), Told: []hindsight.Bin{hindsight.NewBin(0.25+0.27, float64(2*i), 2)},
			All: []hindsight.Bin{hindsight.NewBin(0.25+0.27, float64(2*(1-i)), 2), hindsight.NewBin(0.95+0.95, 2, 2)}}
	}
	if !got.Given || got.Sheets != 3 || got.Games != 30 || got.Decided != 9 || !reflect.DeepEqual(got.First, parting(0)) || !reflect.DeepEqual(got.Deeper, parting(1)) || got.Changes != (Changes{Told: 15, Judged: 9, Held: 6}) {
		t.Errorf("%+v", got)
	}
	if len(got.Lines) != 1 || got.Lines[0].N != 30 || got.Expect != nil {
		t.Errorf("lines %+v, expect %+v", got.Lines, got.Expect)
	}
	if few := Pool(of(1, 0.25)); len(few.Lines) != 0 {
		t.Errorf("of ten games: %+v", few.Lines)
	}
	for reach, want := range map[float64]int{0.04: 0, 0.05: 1, 0.119: 1, 0.12: 2, 0.2: 3, 0.3: 4, 0.49: 4, 0.5: 5, 1: 5} {
		if got := bin(reach); got != want {
			t.Errorf("a reach of %v is in bin %d", reach, got)
		}
	}
}

// The usual book answers with the commonest move, and covers theirs that came twice, in games
// before the day.
func TestUsualIsTheCommonest(t *testing.T) {
	p := gamesOf(t, open, open, queens, queens, queens, english, english, "1. d4 Nf6 2. c4", "1. d4 Nf6 2. c4", "1. d4 g6")
	for day, want := range map[int]string{10: "d4: Nf6 d5", 4: "e4: e5"} {
		b := Usual(p, board.White, p.Games[day-1].Span)
		start := board.Start()
		answers := b.Answers(start.Key())
		if len(answers) != 1 {
			t.Fatalf("day %d: %v", day, answers)
		}
		after := walk.Played(start, answers[0])
		var theirs []string
		for _, m := range b.Covered(after.Key()) {
			theirs = append(theirs, after.SAN(m))
		}
		slices.Sort(theirs)
		got := start.SAN(answers[0]) + ":"
		for _, san := range theirs {
			got += " " + san
		}
		if got != want {
			t.Errorf("day %d: %s, want %s", day, got, want)
		}
	}
}
