package compare

import (
	"reflect"
	"slices"
	"strings"
	"testing"

	"foreply/compare/book"
	"foreply/compare/fact"
	"foreply/compare/words"
	"foreply/profile"
	"foreply/profile/board"
)

// Two answers to 1.e4 e5 2.Nf3 Nc6, the main one called solid, the other sharp.
var labelled = []string{
	"[Character \"solid\"]\n\n1. e4 e5 2. Nf3 Nc6 3. Bb5 *",
	"[Character \"Sharp\"]\n\n1. e4 e5 2. Nf3 Nc6 3. Bc4 *",
	"1. e4 e5 2. Nf3 Nc6 3. d4 *",
}

func situation(t *testing.T, opt Options, p *profile.Profile, chapters ...string) *fact.Side {
	t.Helper()
	opt.When, opt.FewGames = today, 1
	r := Make(Input{Profile: p, Books: []*book.Book{bookOf(t, board.White, chapters...)}}, opt)
	return &r.Sides[0]
}

func optionMoves(s *fact.Side) string {
	var moves []string
	for i := range s.Options {
		moves = append(moves, s.Options[i].Move)
	}
	return strings.Join(moves, " ")
}

func TestOptionsBySituation(t *testing.T) {
	p := gamesOf(board.Black, repeated(20, "1-0 5400 2000 Elm: e4 e5 Nf3 Nc6")...)
	for name, c := range map[string]struct {
		opt  Options
		want string
		aim  string
	}{
		"any":  {Options{}, "Bb5 Bc4 d4", ""},
		"win":  {Options{Need: fact.NeedWin}, "Bc4 d4 Bb5", fact.ForWin},
		"draw": {Options{Need: fact.NeedDraw, DoubleRound: true}, "Bb5 d4 Bc4", fact.ForDraw},
	} {
		t.Run(name, func(t *testing.T) {
			s := situation(t, c.opt, p, labelled...)
			if got := optionMoves(s); got != c.want {
				t.Errorf("%s, want %s", got, c.want)
			}
			if s.Aim != c.aim {
				t.Errorf("for %q, want %q", s.Aim, c.aim)
			}
		})
	}
}

// A label asks for another answer than the main choice among tonight's work, and
// is named.
func TestSituationTask(t *testing.T) {
	p := gamesOf(board.Black, repeated(20, "1-0 5400 2000 Elm: e4 e5 Nf3 Nc6")...)
	find := func(need fact.Need) (texts []string) {
		for _, task := range situation(t, Options{Need: need}, p, labelled...).Tonight {
			if task.Lead == "choose" {
				texts = append(texts, words.Task(&task).String())
			}
		}
		return texts
	}
	if got := find(fact.NeedWin); !slices.Equal(got, []string{"3.Bc4 for a win: you call it sharp"}) {
		t.Errorf("%q", got)
	}
	if got := find(fact.NeedDraw); len(got) > 0 { // the main choice is the solid one
		t.Errorf("%q", got)
	}
	if got := find(fact.AnyResult); len(got) > 0 {
		t.Errorf("%q", got)
	}
}

// Without labels the style of their games orders the options: early exchanges
// and short draws against opposite castling; results alone never.
func TestOptionsByStyle(t *testing.T) {
	chapters := []string{"1. e4 e5 2. Nf3 *", "1. e4 e5 2. d4 *"}
	lively := shuffled("e4 e5 Nf3 Nc6 Bc4 Bc5 Nc3 d6", 30)
	quiet := shuffled(queensOff, 30)
	p := gamesOf(board.Black, slices.Concat(repeated(20, "1-0 5400 2000 Elm: "+lively), repeated(20, "1-0 5400 2000 Elm: "+quiet))...)
	for need, want := range map[fact.Need]string{fact.NeedWin: "Nf3 d4", fact.NeedDraw: "d4 Nf3"} {
		s := situation(t, Options{Need: need}, p, chapters...)
		if got := optionMoves(s); got != want {
			t.Errorf("%v: %s, want %s", need, got, want)
		}
		for _, o := range s.Options {
			if want := map[string]fact.Style{"Nf3": {Of: 20}, "d4": {Of: 20, QueensOff: 20}}[o.Move]; o.Style != want {
				t.Errorf("%s: %+v, want %+v", o.Move, o.Style, want)
			}
		}
	}
	lost := gamesOf(board.Black, slices.Concat(repeated(20, "0-1 5400 2000 Elm: "+lively), repeated(20, "1-0 5400 2000 Elm: "+shuffled("e4 e5 d4 exd4 Nf3 Nc6 Nxd4 Nxd4 Nc3 Nc6", 30)))...)
	if got := optionMoves(situation(t, Options{Need: fact.NeedWin}, lost, chapters...)); got != "Nf3 d4" {
		t.Errorf("by results alone: %s", got)
	}
}

// With a fast clock, or two rounds a day, what the book holds longest comes
// first.
func TestOptionsWhereTimeIsShort(t *testing.T) {
	chapters := []string{"1. e4 e5 2. Nf3 *", "1. e4 e5 2. d4 exd4 3. Qxd4 Nc6 4. Qe3 Nf6 5. Nc3 *"}
	p := gamesOf(board.Black, repeated(20, "1-0 300 2000 Elm: e4 e5 d4 exd4 Qxd4 Nc6 Qe3 Nf6")...)
	for name, c := range map[string]struct {
		opt  Options
		want string
		aim  string
	}{
		"slow":       {Options{Class: profile.Classical}, "Nf3 d4", ""},
		"blitz":      {Options{Class: profile.Blitz}, "d4 Nf3", fact.ForFast},
		"two rounds": {Options{Class: profile.Classical, DoubleRound: true}, "d4 Nf3", fact.ForTwoRounds},
	} {
		s := situation(t, c.opt, p, chapters...)
		if got := optionMoves(s); got != c.want || s.Aim != c.aim {
			t.Errorf("%s: %s for %q, want %s", name, got, s.Aim, c.want)
		}
	}
}

// A move that chapters of both characters give has none.
func TestMixedCharacter(t *testing.T) {
	b := bookOf(t, board.White, labelled...)
	start := board.Start()
	if got := b.Character(start.Key(), 0); got != "" {
		t.Errorf("1.e4 is called %q", got)
	}
	unknown := bookOf(t, board.White, "[Character \"wild\"]\n\n1. e4 *")
	if len(unknown.Problems) != 1 || unknown.Problems[0].Hint == "" {
		t.Errorf("%v", unknown.Problems)
	}
}

// What the user named says what it changed: which answers it put before the main choice,
// that these stay, or that the lines leave nothing to choose.
func TestSituationSaysWhatItChanged(t *testing.T) {
	p := gamesOf(board.Black, repeated(20, "1-0 5400 2000 Elm: e4 e5 Nf3 Nc6")...)
	alone := []string{"1. e4 e5 2. Nf3 Nc6 3. Bb5 *"}
	for name, c := range map[string]struct {
		opt      Options
		chapters []string
		want     *fact.Situation
	}{
		"nothing named":       {Options{}, labelled, nil},
		"a fast game":         {Options{Class: profile.Blitz}, labelled, nil},
		"another comes first": {Options{Need: fact.NeedWin}, labelled, &fact.Situation{Aim: fact.ForWin, Places: 1, First: [][]string{{"e4", "e5", "Nf3", "Nc6", "Bc4"}}}},
		"the main one stays":  {Options{Need: fact.NeedDraw}, labelled, &fact.Situation{Aim: fact.ForDraw, Places: 1, First: [][]string{}}},
		"nothing to choose":   {Options{DoubleRound: true}, alone, &fact.Situation{Aim: fact.ForTwoRounds, First: [][]string{}}},
	} {
		if got := situation(t, c.opt, p, c.chapters...).Situation; !reflect.DeepEqual(got, c.want) {
			t.Errorf("%s: %+v, want %+v", name, got, c.want)
		}
	}
}
