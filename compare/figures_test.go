package compare

import (
	"math/rand/v2"
	"regexp"
	"slices"
	"strings"
	"testing"

	"foreply/compare/book"
	"foreply/compare/fact"
	"foreply/compare/words"
	"foreply/profile/board"
)

// toldOf are all sentences of a side in which frequencies stand.
func toldOf(s *fact.Side) []words.Sentence {
	var list []words.Sentence
	add := func(more ...words.Sentence) { list = append(list, more...) }
	for i := range s.Tonight {
		t := &s.Tonight[i]
		add(words.Task(t), words.Expect(t, nil))
	}
	for i := range s.Exits {
		add(words.ExitWhole(&s.Exits[i], s.MyColor))
	}
	for i := range s.Unanswered {
		u := &s.Unanswered[i]
		add(words.Gap(u, s.Counted(), s.MyColor), words.Sentence{{words.HowLikely(u, s.Counted())}})
	}
	for i := range s.Orders {
		add(words.Order(&s.Orders[i]))
	}
	for i := range s.Mistakes {
		add(words.Mistake(&s.Mistakes[i], s.Counted()))
	}
	for i := range s.Boards {
		add(words.Sentence{{words.BoardOften(&s.Boards[i])}})
	}
	add(words.Options(s)...)
	add(words.FirstChoices(s), words.Gaps(s))
	if len(s.Exits) > 0 {
		add(words.MainLine(s))
	}
	for _, list := range [][]fact.Parting{s.Partings, s.Further} {
		for i := range list {
			for j := range list[i].Branches {
				add(words.Sentence{{words.MoveOdds(slices.Concat(list[i].Stem, []string{list[i].Branches[j].Move}), &list[i].Branches[j])}})
			}
		}
	}
	return list
}

var interval = regexp.MustCompile(` \(\d+–\d+\)`)

// figures are what is said of each event, without intervals.
func figures(list []words.Sentence) map[string][]string {
	of := map[string][]string{}
	for _, s := range list {
		for _, span := range s.Spans() {
			text := interval.ReplaceAllString(span.Text, "")
			if span.Of != "" && !slices.Contains(of[span.Of], text) {
				of[span.Of] = append(of[span.Of], text)
			}
		}
	}
	return of
}

// One event has one figure in all that is said of it.
func TestOneFigure(t *testing.T) {
	twice := 0
	check := func(name string, s *fact.Side) {
		list := toldOf(s)
		for event, texts := range figures(list) {
			if len(texts) > 1 {
				t.Errorf("%s: %s is told as %q", name, event, texts)
			}
		}
		seen := map[string]bool{}
		for _, s := range list {
			for _, span := range s.Spans() {
				if span.Of != "" && seen[span.Of] {
					twice++
				}
				seen[span.Of] = true
			}
		}
	}
	s := e4Side(t)
	check("1.e4", &s)
	for seed := range uint64(60) {
		r := rand.New(rand.NewPCG(seed, 8))
		p := randomGames(r, 5+r.IntN(60), 14, 3)
		theirs := board.White
		if start := board.Start(); p.Tree(theirs).At(start.Key()) == nil {
			theirs = board.Black
		}
		b := randomBook(t, r, theirs.Other(), 1+r.IntN(8), 10, 3)
		rep := Make(Input{Profile: p, Books: []*book.Book{b}}, Options{When: today, Minutes: 200})
		check("random", &rep.Sides[0])
	}
	if twice < 500 {
		t.Errorf("only %d events are told again", twice)
	}
}

// The opponent has White and comes to 1.d4 d5 2.Nf3 by 1.Nf3 d5 2.d4, too: nine games
// come there, of which six began with 1.d4, and what comes there is more often than the
// shares of 1.d4 and 2.Nf3 give.
func TestByAnyOrder(t *testing.T) {
	p := gamesOf(board.White, slices.Concat(
		repeated(8, "1-0 5400 2000 Elm: d4 d5 Nf3 Nf6 c4"), repeated(8, "1-0 5400 2000 Elm: Nf3 d5 d4 Nf6 Bf4"),
		repeated(8, "1-0 5400 2000 Elm: d4 d5 c4 e6"))...)
	b := bookOf(t, board.Black, "1. d4 d5 2. Nf3 (2. c4 e6) Nf6 3. c4 e6 *", "1. Nf3 d5 2. d4 Nf6 *")
	s := Make(Input{Profile: p, Books: []*book.Book{b}}, Options{When: today}).Sides[0]
	found := false
	for _, f := range s.Partings {
		for _, br := range f.Branches {
			line := strings.Join(append(slices.Clone(f.Stem), br.Move), " ")
			if want := strings.HasSuffix(line, "d5 Nf3 Nf6 c4") || strings.HasSuffix(line, "d5 Nf3 Nf6 Bf4") || strings.HasSuffix(line, "d5 d4 Nf6 c4") || strings.HasSuffix(line, "d5 d4 Nf6 Bf4"); br.Share.AnyOrder != want {
				t.Errorf("%s: %+v", line, br.Share)
			}
			if br.Share.AnyOrder {
				found = true
				if br.Share.Of != 16 {
					t.Errorf("%s: of %d games", line, br.Share.Of)
				}
			}
		}
	}
	for i := range s.Exits {
		x := &s.Exits[i]
		if want := len(x.Line) >= 4 && x.Line[3] == "Nf6"; x.AnyOrder != want || x.Often().AnyOrder != want {
			t.Errorf("%v: by any order %v", x.Line, x.AnyOrder)
		}
	}
	if !found {
		t.Error("no place is reached by two orders")
	}
}
