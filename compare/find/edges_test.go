package find

import (
	"fmt"
	"maps"
	"reflect"
	"slices"
	"strings"
	"testing"

	"foreply/compare/fact"
	"foreply/compare/walk"
	"foreply/fetch/pgn"
	"foreply/profile"
	"foreply/profile/board"
)

// The edges of an order of yours: how likely their line is, in how many games, how likely the
// place, how much comes back, how much of the line is left, and what has no answer.
func TestOrderOfYoursAtItsEdges(t *testing.T) {
	const book = "1. d4 Nf6 2. c4 e6 (2... g6 3. Nf3 Bg7 4. Nc3) (2... e5 3. dxe5) 3. Nf3 d5 4. Nc3 *"
	p := gamesOf(t, slices.Concat(repeated(12, "1-0 300: d4 Nf6 c4 e5 dxe5"), repeated(8, "1-0 300: d4 Nf6 c4 e6 Nf3"), repeated(12, "1-0 300: d4 Nf6 Nf3 e6 c4"))...)
	games := Games{All: p.Games, Tree: p.Tree(board.Black)}
	base := chances{"d4": "Nf6 100 32", "d4 Nf6 c4": "e5 40 12 e6 40 8 g6 20 0", "d4 Nf6 c4 e6 Nf3": "d5 100 8", "d4 Nf6 Nf3": "e6 60 12 g6 31 0 c6 9 0"}
	for name, c := range map[string]struct {
		with chances
		want bool
	}{
		"as it is":                     {nil, true},
		"likely in 20 of 100":          {chances{"d4 Nf6 c4": "e6 60 8 e5 20 12 g6 20 0"}, true},
		"likely in 19":                 {chances{"d4 Nf6 c4": "e6 61 8 g6 20 0 e5 19 12"}, false},
		"in four games of 20":          {chances{"d4 Nf6 c4": "e5 40 4 e6 40 16 g6 20 0"}, true},
		"in four of 21":                {chances{"d4 Nf6 c4": "e5 40 4 e6 40 17 g6 20 0"}, false},
		"in three of 15":               {chances{"d4 Nf6 c4": "e5 40 3 e6 40 12 g6 20 0"}, false},
		"reached in 5 of 100":          {chances{"d4": "d5 95 1 Nf6 5 32"}, true},
		"reached in 4":                 {chances{"d4": "d5 96 1 Nf6 4 32"}, false},
		"half comes back":              {chances{"d4 Nf6 Nf3": "e6 50 12 c6 9 1 d6 9 1 b6 8 1 g6 8 0 a6 8 0 h6 8 0"}, true},
		"less comes back":              {chances{"d4 Nf6 Nf3": "e6 40 12 c6 9 1 d6 9 1 b6 9 1 a6 9 1 h6 9 1 Nc6 9 1 g6 6 1"}, false},
		"half of their line is left":   {chances{"d4 Nf6 Nf3": "e6 80 12 e5 20 1"}, false}, // it has no answer here
		"put off, and half of it left": {chances{"d4 Nf6 Nf3": "g6 60 12 e6 40 0", "d4 Nf6 Nf3 g6 c4": "e5 30 1 Bg7 70 9"}, true},
		"put off, and more of it left": {chances{"d4 Nf6 Nf3": "g6 60 12 e6 40 0", "d4 Nf6 Nf3 g6 c4": "e5 40 1 Bg7 60 9"}, false},
		"lets in what has no answer":   {chances{"d4 Nf6 Nf3": "e6 80 12 Ne4 10 0 b5 10 0"}, false},
		"lets in too little of it":     {chances{"d4 Nf6 Nf3": "e6 80 12 b5 9 0 g6 11 0"}, true},
	} {
		look := maps.Clone(base)
		maps.Copy(look, c.with)
		got := Orders(walked(bookOf(t, book), look), games)
		if (len(got) == 1) != c.want {
			t.Errorf("%s: %+v", name, got)
		}
		if name != "as it is" || len(got) != 1 {
			continue
		}
		got[0].Back, got[0].Expected = 0, 0
		want := fact.Order{Kind: fact.YourOrder, Line: fields("d4 Nf6"), Move: "c4", Other: "Nf3", Pet: "e5", Share: shareOf(0.4, 12, 20), Games: 12, Met: 12, Reach: 1, Score: fact.Score{Losses: 12}}
		if !reflect.DeepEqual(got[0], want) {
			t.Errorf("got\n  %+v\nwant\n  %+v", got[0], want)
		}
	}
}

// A way back is told with its line, how often it comes, the way into the book, and the answer
// there; a game that went so has not left the book.
func TestWaysBackWhole(t *testing.T) {
	b := bookOf(t, "1. d4 d5\n2. c4 e6\n3. Nc3 Nf6 4. Bg5 *")
	look := chances{"d4": "e6 70 4 d5 20 1 c6 10 1", "d4 e6 c4": "d5 90 3 f5 10 1", "d4 c6 c4": "d5 80 3 f5 20 1", "d4 d5 c4": "e6 100 1", "d4 c6 c4 d5 Nc3": "e6 60 1 Nf6 40 1"}
	ways := walk.NewWays(b, look)
	w := walk.New(b, look, walk.Options{MaxPly: 10, Threshold: 0.01, Ways: ways, BackFrom: 0.01})
	w.Run(board.Start(), 0)
	got := WaysBack(w)
	if len(got) == 0 {
		t.Fatal("no way back")
	}
	first := got[0]
	if !near(first.P, 0.9) || !near(first.Reach, 0.7) || first.Lo >= first.P || first.Hi <= first.P {
		t.Errorf("%+v", first)
	}
	first.Chance, first.Reach = fact.Chance{}, 0
	if want := (fact.WayBack{Line: fields("d4 e6"), Back: fact.Back{Into: fields("c4 d5"), Answer: "Nc3", File: "book.pgn", FileLine: 3}}); !reflect.DeepEqual(first, want) {
		t.Errorf("got %+v, want %+v", first, want)
	}
	if len(got) > 1 && got[1].Reach > got[0].Reach {
		t.Errorf("%+v", got)
	}
	for moves, want := range map[string]string{"d4 e6 c4 d5 Nc3 Nf6 Bg5": "end 7", "d4 e6 e4 d5": "you 2", "d4 e6 c4 f5": "them 3"} {
		by, ply := follow(b, ways, &gamesOf(t, "2026.01.05 1-0 300: "+moves).Games[0])
		if got := fmt.Sprint(by, " ", ply); got != want && !(moves == "d4 e6 c4 f5" && by != fact.LeftByYou && ply == 3) {
			t.Errorf("%s: left by %s, want %s", moves, got, want)
		}
	}
	if by, ply := follow(b, nil, &gamesOf(t, "2026.01.05 1-0 300: d4 e6 c4 d5 Nc3").Games[0]); by != fact.LeftByThem || ply != 1 {
		t.Errorf("without ways back: %s %d", by, ply)
	}
	for _, p := range Partings(w, Games{Tree: gamesOf(t, "2026.01.05 1-0 300: d4 e6").Tree(board.Black)}) {
		for _, br := range p.Branches {
			if br.Move == "e6" && len(p.Stem) == 1 && (br.State != fact.ByWayBack || br.Back == nil || br.Answer != "c4" || line(br.Back.Into) != "c4 d5") {
				t.Errorf("%+v", br)
			}
		}
	}
}

// A share of a place that more games came to than went to it by the line is one by any order;
// so is a reach that orders add to.
func TestAnyOrder(t *testing.T) {
	for second, want := range map[string]bool{"5 5": true, "5 3": false, "9 9": false} {
		onward, here, _ := strings.Cut(second, " ")
		w := walked(bookOf(t, "1. d4 d5 2. c4 e6 3. Nc3 *"), chances{"d4": "d5 100 " + map[string]string{"5 5": "4", "5 3": "3", "9 9": "9"}[second], "d4 d5 c4": "e6 50 " + here + " c6 50 0"})
		i := slices.IndexFunc(w.Order, func(s *walk.State) bool { return s.Ply == 3 })
		if s := shareAt(w.Order[i], profile.Range{P: 0.5, Lo: 0.4, Hi: 0.6}, 2); s.AnyOrder != want || s.Of != number(here) || s.Seen != 2 {
			t.Errorf("%s of %s: %+v", here, onward, s)
		}
	}
	way := []walk.Choice{{P: 0.5}, {P: 0.4}}
	for reach, want := range map[float64]bool{0.2: false, 0.239: false, 0.241: true} {
		if got := anyOrder(reach, way); got != want {
			t.Errorf("%v of 0.2 along the line: %v", reach, got)
		}
	}
	if got := ScoreOf(&profile.Count{Games: 10, Wins: 4, Draws: 3, Losses: 2, Unknown: 1}); got != (fact.Score{Wins: 4, Draws: 3, Losses: 2, Unknown: 1}) {
		t.Errorf("%+v", got)
	}
}

// Up to which move they play at once, of fast games with clocks: told from six on, the most
// unusual first. Fifteen of sixteen go beyond the usual six; sixteen stop short of it.
func TestPlayedAtOnce(t *testing.T) {
	game := func(pauses ...int) string {
		text := ":"
		for n := 1; n <= 15; n++ {
			seconds := map[bool]string{true: "20", false: "1"}[slices.Contains(pauses, n)]
			text += " " + [2]string{"Nf3 Nf6", "Ng1 Ng8"}[(n-1)%2] + " {[%emt " + seconds + "]}"
		}
		return text
	}
	told := func(rows ...string) (out []fact.About) {
		for _, a := range About(gamesOf(t, rows...), profile.Blitz, nil) {
			if a.Kind == fact.AtOnce {
				out = append(out, a)
			}
		}
		return out
	}
	fast := append(repeated(15, "1-0 300"+game(10, 13)), repeated(1, "1-0 300"+game(3, 7))...)
	for name, c := range map[string]struct {
		rows []string
		want []fact.About
	}{
		"far":        {fast, []fact.About{{Kind: fact.AtOnce, N: 16, Above: true, Move: 12, UsualMove: 6}}},
		"not far":    {repeated(16, "1-0 300"+game(2, 3)), []fact.About{{Kind: fact.AtOnce, N: 16, Move: 2, UsualMove: 6}}},
		"as others":  {repeated(16, "1-0 300"+game(3, 7)), nil},
		"five games": {repeated(5, "1-0 300"+game(10, 13)), nil},
		"slow games": {repeated(16, "1-0 5400"+game(10, 13)), nil},
	} {
		if got := told(c.rows...); !reflect.DeepEqual(got, c.want) {
			t.Errorf("%s: %+v", name, got)
		}
	}
}

// Habits beside what is usual, or what peers do; of some only what is often is told, and the
// most unusual comes first.
func TestHabits(t *testing.T) {
	p := &profile.Profile{}
	for i := range 40 { // of sixty moves and more, but ten drawn early
		g := profile.Game{Moves: make([]board.Move, 120), Result: profile.Win}
		if i < 10 {
			g.Moves, g.Result = g.Moves[:30], profile.Draw
		}
		p.Games = append(p.Games, g)
	}
	set := comparableGames(p, profile.Blitz)
	var kinds []string
	for _, o := range set.habits(nil) {
		kinds = append(kinds, fmt.Sprintf("%s %d of %d, %v, usual %.4f %v", o.Kind, o.K, o.N, o.Above, o.Usual, o.Peers))
	}
	long, drawn := "long_game 30 of 40, true, usual 0.1200 false", "short_draw 10 of 40, true, usual 0.0365 false"
	if !slices.Contains(kinds, long) || !slices.Contains(kinds, drawn) {
		t.Errorf("%q", kinds)
	}
	peers := &profile.Peers{}
	peers.Habits[profile.LongGame].K, peers.Habits[profile.LongGame].N = 150, 200
	peers.Habits[profile.ShortDraw].K, peers.Habits[profile.ShortDraw].N = 0, 199
	kinds = nil
	for _, o := range set.habits(peers) {
		kinds = append(kinds, fmt.Sprintf("%s %v %.4f", o.Kind, o.Peers, o.Usual))
	}
	if slices.ContainsFunc(kinds, func(k string) bool { return strings.HasPrefix(k, "long_game") }) || !slices.Contains(kinds, "short_draw false 0.0365") {
		t.Errorf("beside peers %q", kinds)
	}
	facts := About(p, profile.Blitz, nil)
	if len(facts) == 0 || len(facts) > aboutShown || facts[0].Kind == fact.ShortDraw {
		t.Errorf("%+v", facts)
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
