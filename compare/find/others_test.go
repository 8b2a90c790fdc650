package find

import (
	"reflect"
	"slices"
	"testing"

	"foreply/compare/fact"
	"foreply/compare/walk"
	"foreply/profile"
	"foreply/profile/board"
)

// How others went on is told for four plies, as far as six games went on and two alike, each in
// the games that came so far; of equally common moves always the same. Games without a result count.
func TestHowOthersWentOn(t *testing.T) {
	const stem = "e4 e5 Nf3 f5 "
	u := gapAt(t, nil, stem, slices.Concat(
		repeated(7, "* 300: "+stem+"Nxe5 Nf6 d4 d6 Nf3 Nxe4 Bd3"), repeated(2, "1-0 300: "+stem+"Nxe5 Qf6 d3 d6"), repeated(1, "1-0 300: "+stem+"Nxe5"))...)
	m := u.Others[0]
	want := []fact.GoesOn{{Move: "Nf6", Games: 7, Of: 9}, {Move: "d4", Games: 7, Of: 7}, {Move: "d6", Games: 7, Of: 7}, {Move: "Nf3", Games: 7, Of: 7}}
	for i := range m.Then {
		m.Then[i].Score, m.Then[i].Expected = fact.Score{}, 0
	}
	end := lineOf(stem + "Nxe5 Nf6 d4 d6 Nf3").End
	if m.Games != 10 || m.Score != (fact.Score{Losses: 3, Unknown: 7}) || !slices.Equal(m.Then, want) || m.EPD != end.EPD() {
		t.Errorf("%+v", m)
	}
	// Six games went on with six moves: none twice. Seven with two alike: told.
	var rows []string
	for _, move := range fields("Nf6 Nc6 d6 Qe7 Qf6 h6") {
		rows = append(rows, "2026.01.05 1-0 300: "+stem+"exf5 "+move)
	}
	if u := gapAt(t, nil, stem, rows...); len(u.Others[0].Then) != 0 || u.Others[0].EPD != "" {
		t.Errorf("all different: %+v", u.Others)
	}
	if u := gapAt(t, nil, stem, append(rows, "2026.01.06 1-0 300: "+stem+"exf5 h6")...); len(u.Others[0].Then) != 1 || u.Others[0].Then[0].Move != "h6" || u.Others[0].Then[0].Games != 2 || u.Others[0].Then[0].Of != 7 {
		t.Errorf("two alike: %+v", u.Others)
	}
	// Three each way: the move of the lower number, as moves are ordered everywhere.
	first, second := lineOf(stem + "exf5 Nf6").Moves[5], lineOf(stem + "exf5 d6").Moves[5]
	common := map[bool]string{true: "Nf6", false: "d6"}[first < second]
	for range 8 {
		u := gapAt(t, nil, stem, append(repeated(3, "1-0 300: "+stem+"exf5 Nf6"), repeated(3, "1-0 300: "+stem+"exf5 d6")...)...)
		if u.Others[0].Then[0].Move != common {
			t.Fatalf("of equals %+v", u.Others[0].Then)
		}
	}
}

// An answer is weighed from six games with a result, beside six of all others, the small ones
// among them, and if two are; without spread of results nothing is set apart, but one is worst.
func TestAnswersWeighed(t *testing.T) {
	met := func(yours, theirs, open int) fact.Met {
		n := yours + theirs
		return fact.Met{Score: fact.Score{Wins: theirs, Losses: yours, Unknown: open}, Expected: float64(n) / 2}
	}
	for name, c := range map[string]struct {
		all         []fact.Met
		spread      float64
		best, worst int
	}{
		"six against six":          {[]fact.Met{met(0, 6, 0), met(6, 0, 0)}, 0.25, 1, 0},
		"five with a result":       {[]fact.Met{met(0, 6, 0), met(5, 0, 9)}, 0.25, -1, -1},
		"one alone":                {[]fact.Met{met(20, 0, 0), met(0, 5, 0), met(0, 5, 0)}, 0.25, -1, -1},
		"beside small ones as bad": {[]fact.Met{met(9, 1, 0), met(5, 5, 0), met(0, 5, 0), met(0, 5, 0), met(0, 5, 0)}, 0.25, 0, 1},
		"as good as the small":     {[]fact.Met{met(9, 1, 0), met(2, 8, 0), met(5, 0, 0), met(5, 0, 0), met(5, 0, 0), met(5, 0, 0)}, 0.25, -1, 1},
		"no spread":                {[]fact.Met{met(6, 0, 0), met(0, 6, 0)}, 0, -1, 1},
		"of two as bad the first":  {[]fact.Met{met(9, 0, 0), met(0, 9, 0), met(0, 9, 0)}, 0.25, 0, 1},
		"of two as good the first": {[]fact.Met{met(9, 9, 0), met(9, 9, 0)}, 0.25, -1, 0},
	} {
		if best, worst := apartMet(c.all, c.spread); best != c.best || worst != c.worst {
			t.Errorf("%s: best %d, worst %d", name, best, worst)
		}
	}
	if mean, games := edge(&fact.Met{Score: fact.Score{Wins: 1, Draws: 2, Losses: 5, Unknown: 4}, Expected: 6}); mean != 0.5 || games != 8 {
		t.Errorf("%v in %v games", mean, games)
	}
	if mean, games := edge(&fact.Met{Score: fact.Score{Unknown: 4}}); mean != 0 || games != 0 {
		t.Errorf("%v in %v games", mean, games)
	}
}

// What the user usually plays is no hint where it did worst, be it a check; an answer is set
// apart among all, not among the three told.
func TestWorstIsNoHint(t *testing.T) {
	const stem = "e4 d6 "
	rows := slices.Concat(repeated(8, "1-0 300 2000: "+stem+"d4"), repeated(8, "0-1 300 2000: "+stem+"Bb5+"))
	if u := gapAt(t, fields("Bb5 d4"), stem, rows...); !slices.Equal(u.SetUp, fields("d4")) || !u.Apart {
		t.Errorf("%+v", u)
	}
	rows = slices.Concat(repeated(4, "1-0 300 2000: "+stem+"d4"), repeated(4, "0-1 300 2000: "+stem+"d4"), repeated(4, "1-0 300 2000: "+stem+"Nf3"), repeated(4, "0-1 300 2000: "+stem+"Nf3"),
		repeated(4, "1-0 300 2000: "+stem+"Nc3"), repeated(4, "0-1 300 2000: "+stem+"Nc3"), repeated(7, "0-1 300 2000: "+stem+"g4"))
	u := gapAt(t, fields("g4 d4"), stem, rows...)
	if len(u.Others) != 3 || !slices.Equal(u.SetUp, fields("d4")) {
		t.Errorf("%+v", u)
	}
}

// A game that met the book again has come back, be it with the very move that left it, but not
// with its last position; ways out by the same moves are told apart by who left.
func TestLeftAndCameBack(t *testing.T) {
	b := bookOf(t, "1. d4 d5 2. c4 e6 3. Nc3 *", "1. Nf3 d5 2. d4 Nf6 *")
	for moves, c := range map[string]struct {
		left int
		want bool
	}{"d4 e6 c4 d5 Nf3": {1, true}, "d4 e6 c4 d5": {1, false}, "d4 e6 c4 Nf6 Nc3": {1, false}, "d4 d5 Nf3 Nf6": {2, true}, "d4 d5 Nc3 Nf6": {2, false}} {
		g := gamesOf(t, "2026.01.01 1-0 300: "+moves).Games[0]
		if got := comesBack(b, &g, c.left); got != c.want {
			t.Errorf("%s: came back %v", moves, got)
		}
	}
	ways := map[string]*fact.WayOut{}
	g := gamesOf(t, "2026.01.01 1-0 300: e4 c5").Games[0]
	addWay(ways, &g, fact.LeftByThem, 1)
	addWay(ways, &g, fact.BookOver, 2)
	if len(ways) != 2 {
		t.Errorf("%v", ways)
	}
}

// Mistakes that nobody made, reached or expects come by how many games were near, which are
// those that came to the place at least.
func TestMistakesByNearness(t *testing.T) {
	const one, two = "e4 e5 Nf3 Nc6 Bb5 a6 Ba4 Nf6", "d4 d5 c4 e6 Nc3 Nf6 Bg5 Be7"
	c := compare(t, gamesOf(t, slices.Concat(repeated(2, "1-0 300: "+one), repeated(3, "1-0 300: "+two))...), "1. c4 *", "1. "+one+" 5. Nc3 d6? *", "1. "+two+" 5. e3 h6? *")
	var got []string
	for _, m := range Mistakes(c.w, c.games) {
		got = append(got, m.Line[len(m.Line)-1])
	}
	if !slices.Equal(got, fields("h6 d6")) {
		t.Errorf("%q", got)
	}
	b := bookOf(t, "1. "+one+" 5. O-O? *")
	marked := &b.Mistakes[0]
	// Reached by another order than the line's, so that nobody passed two plies before.
	p := gamesOf(t, repeated(2, "1-0 300: e4 e5 Bb5 a6 Ba4 Nf6 Nf3 Nc6 O-O")...)
	m := mistakeOf(b, marked, walk.NewTrack(marked.Line), Games{All: p.Games, Tree: p.Tree(board.Black)})
	if m.Games != 2 || m.Reached != 2 || m.Near != 2 {
		t.Errorf("%+v", m)
	}
}

// Style and ratings after an answer: who castled where, each game once, and how much of the
// points the others' ratings explain, held against the weight of what is usual.
func TestStyleAndRatings(t *testing.T) {
	const long = "e4 e5 Nc3 Nf6 d3 Bc5 Be3 d6 Qd2 Be6 O-O-O Nc6 Kb1 Qd7 f3 O-O-O a3 Kb8 Nge2 a6 h3 h6 g4 g5 Ng3 Bxe3 Qxe3 Ne7 Be2 Ng6 Qd2 Ka8 Qe3 Kb8 Qd2 Ka8 Qe3 Kb8 Qd2 Ka8 Qe3 Kb8"
	count := func(moves string) fact.Style {
		g := gamesOf(t, "2026.01.01 1-0 300: "+moves).Games[0]
		var s fact.Style
		enterStyle(&s, &g)
		return s
	}
	if got := count(long); got != (fact.Style{Of: 1}) {
		t.Errorf("both long: %+v", got)
	}
	p := gamesOf(t, "2026.01.01 1-0 300 1600: e4 e5", "2026.01.02 0-1 300 -: e4 e5", "2026.01.03 * 300 1600: e4 e5", "2026.01.04 1/2-1/2 300 1600: e4 e5")
	at := lineOf("e4").End
	// Two games of three with a result against a player 400 points below: 10/11 each.
	want := 2 * (10.0/11 - 0.5) / (3 + profile.ResultsPrior)
	if got := ratingsExplain(Games{All: p.Games, Tree: p.Tree(board.Black)}, at.Key()); !near(got, want) {
		t.Errorf("ratings explain %v, want %v", got, want)
	}
	white := gamesAs(t, board.White, "2026.01.01 1/2-1/2 300: e4 e5")
	both := slices.Concat(white.Games, gamesOf(t, "2026.01.02 1/2-1/2 300: e4 e5", "2026.01.03 1/2-1/2 300: d4 d5").Games)
	if got := UsualStyle(Games{All: both, Tree: &profile.Tree{Theirs: board.Black}}); got != (fact.Style{Of: 2, ShortDraws: 2}) {
		t.Errorf("%+v", got)
	}
}

// An answer is recommended for each reason that speaks for it, by results only if they are apart
// as they came and with ratings taken into account; intervals that touch are not apart, and each
// holds what it is of.
func TestJudgeReasons(t *testing.T) {
	of := func(score, rated, lo, hi float64) option {
		return option{rated: rated, Option: fact.Option{Score: fact.Share{P: score, Lo: score - 0.1, Hi: score + 0.1}, CoveredLo: lo, CoveredHi: hi}}
	}
	for name, c := range map[string]struct {
		options []option
		want    []string
	}{
		"both":               {[]option{of(0.8, 0.8, 0.6, 0.9), of(0.5, 0.5, 0.1, 0.5)}, []string{fact.ByResults, fact.ByBook}},
		"by ratings alone":   {[]option{of(0.5, 0.8, 0, 1), of(0.5, 0.5, 0, 1)}, nil},
		"without ratings":    {[]option{of(0.8, 0.5, 0, 1), of(0.5, 0.5, 0, 1)}, nil},
		"they touch":         {[]option{of(0.5, 0.5, 0.5, 0.9), of(0.5, 0.5, 0.1, 0.5)}, nil},
		"one is not as good": {[]option{of(0.5, 0.5, 0.6, 0.9), of(0.5, 0.5, 0.1, 0.7), of(0.5, 0.5, 0.1, 0.2)}, nil},
	} {
		if judge(c.options); !slices.Equal(c.options[0].Reasons, c.want) || len(c.options[1].Reasons) > 0 {
			t.Errorf("%s: %q", name, c.options[0].Reasons)
		}
	}
	for r, want := range map[profile.Range][2]float64{{P: 0.1, Lo: 0.2, Hi: 0.3}: {0.1, 0.3}, {P: 0.9, Lo: 0.6, Hi: 0.8}: {0.6, 0.9}, {P: 0.5, Lo: 0.4, Hi: 0.6}: {0.4, 0.6}} {
		if lo, hi := around(r); [2]float64{lo, hi} != want {
			t.Errorf("%+v: %v to %v", r, lo, hi)
		}
	}
	if !reflect.DeepEqual(Best(nil, board.Start(), 1), []fact.Evaluated(nil)) {
		t.Error("no engine was asked")
	}
}
