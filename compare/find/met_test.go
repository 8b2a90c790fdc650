package find

import (
	"slices"
	"testing"

	"foreply/compare/fact"
	"foreply/compare/walk"
	"foreply/profile"
)

// gapAt is what others did after a line.
func gapAt(t *testing.T, setUp []string, lineTo string, rows ...string) fact.Unanswered {
	t.Helper()
	p := gamesOf(t, rows...)
	c := compare(t, p, "1. d4 d5 *")
	u := fact.Unanswered{SetUp: setUp}
	end := walk.Resolved(fields(lineTo)).End
	tellOthers(&u, &end, c.games)
	return u
}

// 3.Nxe5 made 36 of 40, 3.exf5 8 of 20 and 3.d4 0 of 10, against equals: the first is
// set apart, and 3.d4, though usual, is no hint. Behind 3.Nxe5 went 3...Nf6 in 30 of
// 40, then 4.d4 in 20 of 30, 4...d6 in 7 of 20.
func TestOthersInsideAGap(t *testing.T) {
	stem := "e4 e5 Nf3 f5 "
	u := gapAt(t, []string{"d4", "Nc3"}, stem, slices.Concat(
		repeated(7, "1-0 300 2000: "+stem+"Nxe5 Nf6 d4 d6"), repeated(13, "1-0 300 2000: "+stem+"Nxe5 Nf6 d4"),
		repeated(10, "1-0 300 2000: "+stem+"Nxe5 Nf6 exf5"), repeated(6, "1-0 300 2000: "+stem+"Nxe5 Qf6"), repeated(4, "0-1 300 2000: "+stem+"Nxe5 Qf6"),
		repeated(8, "1-0 300 2000: "+stem+"exf5 e4"), repeated(12, "0-1 300 2000: "+stem+"exf5 e4"),
		repeated(10, "0-1 300 2000: "+stem+"d4"),
	)...)
	if !u.Apart || !slices.Equal(u.SetUp, []string{"Nc3"}) || len(u.Others) != 3 {
		t.Fatalf("%+v", u)
	}
	m := u.Others[0]
	if m.Move != "Nxe5" || m.Games != 40 || m.Score != (fact.Score{Wins: 4, Losses: 36}) || m.Expected != 20 || len(m.Then) != 3 {
		t.Fatalf("%+v", m)
	}
	want := []fact.GoesOn{
		{Move: "Nf6", Games: 30, Of: 40, Score: fact.Score{Losses: 30}, Expected: 15},
		{Move: "d4", Games: 20, Of: 30, Score: fact.Score{Losses: 20}, Expected: 10},
		{Move: "d6", Games: 7, Of: 7, Score: fact.Score{Losses: 7}, Expected: 3.5},
	}
	if !slices.Equal(m.Then, want) {
		t.Errorf("%+v", m.Then)
	}
	end := walk.Resolved(m.On(fields(stem))).End
	if m.EPD != end.EPD() || len(m.On(fields(stem))) != 8 {
		t.Errorf("behind it %s, want %s", m.EPD, end.EPD())
	}
}

// What ratings explain sets nothing apart: 2.exf5 made 18 of 20 by players rated 400
// above them, 2.d3 10 of 20 by equals. Nor does a difference that chance makes.
func TestNothingSeparatesThem(t *testing.T) {
	stem := "e4 f5 "
	for name, rows := range map[string][]string{
		"ratings": slices.Concat(
			repeated(18, "1-0 300 2400: "+stem+"exf5"), repeated(2, "0-1 300 2400: "+stem+"exf5"),
			repeated(10, "1-0 300 2000: "+stem+"d3"), repeated(10, "0-1 300 2000: "+stem+"d3")),
		"chance": slices.Concat(
			repeated(12, "1-0 300 2000: "+stem+"exf5"), repeated(8, "0-1 300 2000: "+stem+"exf5"),
			repeated(10, "1-0 300 2000: "+stem+"d3"), repeated(10, "0-1 300 2000: "+stem+"d3")),
		"few games": slices.Concat(repeated(5, "1-0 300 2000: "+stem+"exf5"), repeated(5, "0-1 300 2000: "+stem+"d3")),
	} {
		if u := gapAt(t, nil, stem, rows...); u.Apart {
			t.Errorf("%s: %+v", name, u.Others)
		}
	}
}

// Games that came by another order count where they stand, each once; five tell
// nothing of how it goes on.
func TestHowItGoesOnNeedsSixGames(t *testing.T) {
	five := gapAt(t, nil, "d4 Nf6 c4", repeated(5, "1-0 300 2000: c4 Nf6 d4 e6 Nc3 Bb4")...)
	six := gapAt(t, nil, "d4 Nf6 c4", repeated(6, "1-0 300 2000: c4 Nf6 d4 e6 Nc3 Bb4")...)
	if len(five.Others) != 1 || len(five.Others[0].Then) != 0 {
		t.Errorf("%+v", five.Others)
	}
	if len(six.Others) != 1 || six.Others[0].Move != "e6" || len(six.Others[0].Then) != 2 || six.Others[0].Then[1].Move != "Bb4" {
		t.Errorf("%+v", six.Others)
	}
}

// The more answers are tried, the less one of them may lie apart by chance: 16½ of 20 for the
// user where 10 were expected is told beside one other answer, and not beside two.
func TestAnswersTriedAreCounted(t *testing.T) {
	good := fact.Met{Score: fact.Score{Wins: 3, Draws: 1, Losses: 16}, Expected: 10}
	for n, want := range map[int]int{1: 0, 2: -1} {
		all := []fact.Met{good}
		for range n {
			all = append(all, fact.Met{Score: fact.Score{Wins: 20 / n, Losses: 20 / n}, Expected: float64(20 / n)})
		}
		if best, _ := apartMet(all, 0.25); best != want {
			t.Errorf("beside %d others: %d, want %d", n, best, want)
		}
	}
}

// What goes on from a place is what comes to an answer of the book or to a way back to it;
// where the book ends with their move nothing goes on.
func TestWhatGoesOn(t *testing.T) {
	b := bookOf(t, "1. e4 e5 (1... c5 2. Nf3) (1... e6) *")
	to := func(san string) uint64 {
		pos := walk.Resolved([]string{"e4", san}).End
		return pos.Key()
	}
	flow := func(san string, p float64, written bool, back *walk.Back) walk.Flow {
		return walk.Flow{Likely: profile.Likely{Range: profile.Range{P: p}}, To: to(san), Written: written, Back: back}
	}
	s := &walk.State{Reach: walk.Reach{Mass: 0.5}, Flows: []walk.Flow{
		flow("e5", 0.4, true, nil), flow("c5", 0.2, true, nil), flow("e6", 0.1, true, nil), flow("d6", 0.1, false, &walk.Back{}), flow("a6", 0.2, false, nil),
	}}
	if got := goesOn(s, b); got < 0.149 || got > 0.151 {
		t.Errorf("%g", got)
	}
	if got := line(ownMoves(b, fields("e4 e5 Bb5+ c6 Qh5# Ke7"))); got != "e4 Bb5 Qh5" {
		t.Errorf("own moves %q", got)
	}
}

// A line is told where a parting's row shows its last move.
func TestLinesThatAreTold(t *testing.T) {
	partings := []fact.Parting{{Stem: fields("e4 c5 Nf3"), Branches: []fact.Branch{{Move: "d6", Answer: "d4", Then: fields("cxd4")}, {Move: "e6", Answer: "d4"}}}}
	for way, want := range map[string]bool{
		"e4 c5": false, "e4 c5 Nf3": false, "e4 c5 Nf3 d6": true, "e4 c5 Nf3 d6 d4 cxd4": true, "e4 c5 Nf3 d6 d4 cxd4 Nxd4": false,
		"e4 c5 Nf3 e6 d4": true, "e4 c5 Nf3 e6 c3": false, "e4 c5 Nf3 g6": false,
	} {
		if got := tells(partings, fields(way)); got != want {
			t.Errorf("%s: told %v", way, got)
		}
	}
}

// 2.Nc3 Nf6 3.Bf4 and 2.Bf4 Nf6 3.Nc3 are one position: the games behind the one gap lead
// into the other.
func TestSameGaps(t *testing.T) {
	open := []fact.Unanswered{
		{Line: fields("d4 d5 Nc3"), Others: []fact.Met{{Move: "Nf6", Then: []fact.GoesOn{{Move: "Bf4"}, {Move: "c5"}}}, {Move: "e6"}}},
		{Line: fields("d4 d5 Bf4 Nf6 Nc3")}, {Line: fields("Nc3 d5 d4 Nf6 Bf4")},
	}
	sameGaps(open)
	if then := open[0].Others[0].Then; then[0].Gap != 2 || then[1].Gap != 0 {
		t.Errorf("%+v", then)
	}
}

// A game that came twice to the place, and went on alike, is one game of how others went on.
func TestGoesOnCountsAGameOnce(t *testing.T) {
	const twice = "1-0 300 2000: e4 d5 Nf3 Nf6 Ng1 Ng8 Nf3 Nf6 exd5"
	if five := gapAt(t, nil, "e4 d5", repeated(5, twice)...); len(five.Others) != 1 || len(five.Others[0].Then) != 0 {
		t.Errorf("five games: %+v", five.Others)
	}
	six := gapAt(t, nil, "e4 d5", repeated(6, twice)...)
	if len(six.Others) != 1 || six.Others[0].Games != 6 || len(six.Others[0].Then) == 0 || six.Others[0].Then[0].Games != 6 || six.Others[0].Then[0].Of != 6 {
		t.Errorf("six games: %+v", six.Others)
	}
}
