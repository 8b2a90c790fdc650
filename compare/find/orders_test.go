package find

import (
	"maps"
	"reflect"
	"slices"
	"testing"

	"foreply/compare/fact"
	"foreply/profile/board"
)

// Their gambit after 2.c4 is gone round by the knight first. They lost all twelve
// games with it against their equals: half of the points were to be expected.
func TestOrdersOfYours(t *testing.T) {
	const book = "1. d4 Nf6 2. c4 e6 (2... g6 3. Nf3 Bg7 4. Nc3) (2... e5 3. dxe5) 3. Nf3 d5 4. Nc3 *"
	c := compare(t, gamesOf(t, slices.Concat(
		repeated(12, "1-0 5400 2000: d4 Nf6 c4 e5 dxe5 Ng4"), repeated(6, "1-0 5400 2000: d4 Nf6 c4 e6 Nf3 d5"),
		repeated(12, "1-0 5400 2000: d4 Nf6 Nf3 e6 c4 d5"))...), book)
	got := Orders(c.w, c.games)
	if len(got) != 1 {
		t.Fatalf("%+v", got)
	}
	o := got[0]
	if o.Kind != fact.YourOrder || line(o.Line) != "d4 Nf6" || o.Move != "c4" || o.Other != "Nf3" || o.Pet != "e5" || o.Games != 12 {
		t.Errorf("%+v", o)
	}
	if o.Score != (fact.Score{Losses: 12}) || o.Expected != 6 {
		t.Errorf("score %+v, expected %v", o.Score, o.Expected)
	}
}

// Against stronger players less is to be expected, and without ratings what the
// record with the colour says.
func TestExpected(t *testing.T) {
	for name, c := range map[string]struct {
		rows   []string
		lo, hi float64
	}{
		"400 points stronger": {[]string{"2026.01.01 1-0 300 2400: e4 e5", "2026.01.02 0-1 300 2400: e4 e5"}, 0.15, 0.2},
		"400 points weaker":   {[]string{"2026.01.01 1-0 300 1600: e4 e5", "2026.01.02 0-1 300 1600: e4 e5"}, 1.8, 1.85},
		"by the record":       {[]string{"2026.01.01 0-1 300 -: e4 e5", "2026.01.02 0-1 300 -: d4 d5", "2026.01.03 1-0 300 -: d4 d5"}, 0.66, 0.67},
		"without a result":    {[]string{"2026.01.01 * 300 2000: e4 e5"}, 0, 0},
	} {
		games := compare(t, gamesOf(t, c.rows...), "1. e4 e5 2. Nf3 *").games
		after := lineOf("e4")
		if got := games.Expected(games.Visits(after.End.Key())); got < c.lo || got > c.hi {
			t.Errorf("%s: %v, want %v to %v", name, got, c.lo, c.hi)
		}
	}
}

// Of two orders that go round their gambit the one is told from which more of their moves
// come back to the book.
func TestOrderThatComesBackMore(t *testing.T) {
	const book = "1. d4 Nf6 2. c4 e6 (2... g6 3. g3 Bg7 4. Bg2) (2... e5 3. dxe5) 3. Nf3 d5 4. Nc3 *"
	for name, c := range map[string]struct {
		knight, bishop int // games in which 2.Nf3 and 2.g3 came back
		want           string
	}{"the knight first": {13, 11, "Nf3"}, "the bishop first": {11, 13, "g3"}} {
		games := compare(t, gamesOf(t, slices.Concat(
			repeated(12, "1-0 5400 2000: d4 Nf6 c4 e5 dxe5 Ng4"), repeated(6, "1-0 5400 2000: d4 Nf6 c4 e6 Nf3 d5"),
			repeated(c.knight, "1-0 5400 2000: d4 Nf6 Nf3 e6 c4 d5"), repeated(13-c.knight, "1-0 5400 2000: d4 Nf6 Nf3 d6 c4"),
			repeated(c.bishop, "1-0 5400 2000: d4 Nf6 g3 g6 c4 Bg7"), repeated(13-c.bishop, "1-0 5400 2000: d4 Nf6 g3 d5 Bg2"))...), book)
		got := Orders(games.w, games.games)
		if len(got) != 1 || got[0].Other != c.want {
			t.Errorf("%s: %+v", name, got)
		}
	}
}

// Their order keeps back the move the book waits for: after 1.e4 d6 2.d4 the book waits for
// 2...Nf6 3.Nc3 g6, and they play 2...g6 3.Nc3 and then 3...Nf6 in 3 of 10 games.
func TestOrderOfTheirs(t *testing.T) {
	const book = "1. e4 d6 2. d4 Nf6 3. Nc3 g6 4. f4 *"
	look := chances{"e4": "d6 100 16", "e4 d6 d4": "g6 75 12 Nf6 25 4", "e4 d6 d4 Nf6 Nc3": "g6 100 4", "e4 d6 d4 g6 Nc3": "Bg7 70 7 Nf6 30 3"}
	for name, c := range map[string]struct {
		waits, others int // games in which they came back, and didn't, after 3.Nc3
		look          chances
		want          bool
	}{
		"three of ten": {3, 7, nil, true}, "five games": {1, 4, nil, false}, "six": {1, 5, nil, true}, "hardly ever": {0, 12, nil, false}, "mostly": {9, 1, nil, false},
		"likely to": {3, 7, chances{"e4 d6 d4 g6 Nc3": "Nf6 70 3 Bg7 30 7"}, false}, "two games": {3, 7, chances{"e4 d6 d4": "g6 75 2 Nf6 25 4"}, false},
		"rare": {3, 7, chances{"e4 d6 d4": "Nf6 99 9 g6 1 12"}, false},
	} {
		p := gamesOf(t, slices.Concat(repeated(c.waits, "1-0 300: e4 d6 d4 g6 Nc3 Nf6 f4"), repeated(c.others, "1-0 300: e4 d6 d4 g6 Nc3 Bg7 f4"), repeated(4, "1-0 300: e4 d6 d4 Nf6 Nc3 g6 f4"))...)
		with := chances{}
		for way, said := range look {
			with[way] = said
		}
		for way, said := range c.look {
			with[way] = said
		}
		got := Orders(walked(bookOf(t, book), with), Games{All: p.Games, Tree: p.Tree(board.Black)})
		if (len(got) == 1) != c.want {
			t.Errorf("%s: %+v", name, got)
		}
		if name != "three of ten" || len(got) != 1 {
			continue
		}
		want := fact.Order{Kind: fact.TheirOrder, Line: fields("e4 d6 d4"), Move: "g6", Other: "Nf6", Pet: "Nc3", Waits: "Nf6", Share: shareOf(0.3, 3, 10), Back: 0.3, Games: 12, Reach: 0.75, Met: 10}
		if !reflect.DeepEqual(got[0], want) {
			t.Errorf("got\n  %+v\nwant\n  %+v", got[0], want)
		}
	}
}

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
		"half comes back":              {chances{"d4 Nf6 Nf3": "e6 50 12 c6 9 1 d6 9 1 b6 8 1 a5 8 0 a6 8 0 h6 8 0"}, true},
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
