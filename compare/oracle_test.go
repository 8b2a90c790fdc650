package compare

import (
	"fmt"
	"maps"
	"math"
	"math/rand/v2"
	"slices"
	"strings"
	"testing"

	"foreply/compare/book"
	"foreply/compare/fact"
	"foreply/compare/find"
	"foreply/compare/walk"
	"foreply/compare/words"
	"foreply/profile"
	"foreply/profile/board"
)

// everyPath walks every path of the book by itself, without merging what meets
// and without a threshold: DESIGN's semantics in the plainest way. It adds each
// end's probability under 'kind key ply unseen'.
func everyPath(b *book.Book, look walk.Forecaster, pos board.Position, ply, maxPly int, p float64, into map[walk.EndKey]float64) {
	at := walk.EndKey{Key: pos.Key(), Ply: ply}
	legal := pos.Legal(nil)
	switch {
	case len(legal) == 0:
		at.Kind = fact.GameOver
	case ply == maxPly:
		at.Kind = fact.LimitInBook
	case pos.Turn() == b.Mine:
		answers := b.Answers(at.Key)
		if len(answers) > 0 {
			next := pos
			next.Play(answers[0])
			everyPath(b, look, next, ply+1, maxPly, p, into)
			return
		}
		at.Kind = fact.BookEnds
	}
	if at.Kind != "" {
		into[at] += p
		return
	}
	written := b.Covered(at.Key)
	for _, l := range look.At(&pos).Moves {
		next := pos
		next.Play(l.Move)
		switch to := next.Key(); {
		case slices.Contains(written, l.Move) || b.HasAnswer(to):
			everyPath(b, look, next, ply+1, maxPly, p*l.P, into)
		case len(written) == 0:
			into[walk.EndKey{Kind: fact.BookEnds, Key: at.Key, Ply: ply}] += p * l.P
		case l.N > 0:
			into[walk.EndKey{Kind: fact.TheyLeave, Key: to, Ply: ply + 1}] += p * l.P
		default:
			into[walk.EndKey{Kind: fact.TheyLeave, Key: at.Key, Ply: ply, Unseen: true}] += p * l.P
		}
	}
}

// The walk finds the same ends with the same reach as trying every path, for
// random books and games.
func TestWalkAgreesWithEveryPath(t *testing.T) {
	for seed := range uint64(80) {
		r := rand.New(rand.NewPCG(seed, 31))
		breadth := 1 + r.IntN(3)
		p := randomGames(r, 10+r.IntN(50), 20, breadth)
		mine := board.Color(r.IntN(2))
		b := randomBook(t, r, mine, 1+r.IntN(12), 12, breadth)
		look := profile.NewForecast(p, mine.Other(), profile.ForecastOptions{}).On(today)
		const maxPly = 11
		w := walk.New(b, look, Options{MaxPly: maxPly, Threshold: 1e-15}.withDefaults().walk())
		w.Run(board.Start(), 0)
		want := map[walk.EndKey]float64{}
		everyPath(b, look, board.Start(), 0, maxPly, 1, want)
		maps.DeleteFunc(want, func(_ walk.EndKey, p float64) bool { return p < 1e-12 })
		for k, p := range want {
			if e := w.Ends[k]; e == nil || math.Abs(e.Mass-p) > 1e-12 {
				t.Errorf("seed %d: %v has %v, want %v", seed, k, e, p)
			}
		}
		for k, e := range w.Ends {
			if e.Mass > 1e-9 && want[k] == 0 {
				t.Errorf("seed %d: %v has %v, no path leads there", seed, k, e.Mass)
			}
		}
	}
}

// What a line to expect says of itself is so: the user's moves in it are the
// main choices, their moves are covered, and only the last one leaves where
// another is covered.
func TestLinesAreOfTheBook(t *testing.T) {
	for seed := range uint64(120) {
		r := rand.New(rand.NewPCG(seed, 32))
		p := randomGames(r, r.IntN(60), 24, 2)
		mine := board.Color(r.IntN(2))
		b := randomBook(t, r, mine, 1+r.IntN(12), 20, 2)
		s := Make(Input{Profile: p, Books: []*book.Book{b}}, Options{When: today, Threshold: 0.002}).Sides[0]
		ends := map[string]float64{}
		for _, x := range s.Exits {
			if fault := faultIn(b, &x); fault != "" {
				t.Errorf("seed %d: %s %s: %s", seed, x.Kind, words.Movetext(x.Line, 0), fault)
			}
			if x.Lo > x.Reach || x.Hi < x.Reach {
				t.Errorf("seed %d: %v lies outside %v to %v", seed, x.Reach, x.Lo, x.Hi)
			}
			ends[strings.Join(x.Line, " ")] += x.Reach
		}
		for _, u := range s.Unanswered {
			if p := ends[strings.Join(u.Line, " ")]; p < u.Reach-1e-12 {
				t.Errorf("seed %d: unanswered %s of %v is no line to expect", seed, words.Movetext(u.Line, 0), u.Reach)
			}
		}
		if fault := coverageFault(s.Coverage); fault != "" {
			t.Errorf("seed %d: coverage %s: %+v", seed, fault, s.Coverage)
		}
	}
}

func faultIn(b *book.Book, x *fact.Exit) string {
	line := walk.Resolved(x.Line)
	pos := board.Start()
	for i, m := range line.Moves {
		last := i == len(line.Moves)-1
		next := pos
		next.Play(m)
		switch covers := b.Moves(&pos); {
		case slices.Contains(x.WaysBack, i+1), slices.Contains(x.WaysBack, i+2): // a way back, and the move of theirs that it meets
			if len(covers) > 0 && covers[0] == m && pos.Turn() == b.Mine {
				return fmt.Sprintf("%s is of the book", line.SANs[i])
			}
		case pos.Turn() == b.Mine && (len(covers) == 0 || covers[0] != m):
			return fmt.Sprintf("%s is not the main choice", line.SANs[i])
		case pos.Turn() == b.Mine:
		case x.Kind == fact.TheyLeave && !x.Unseen && last:
			if len(covers) == 0 || slices.Contains(covers, m) {
				return "the last move does not leave the book"
			}
		case !slices.Contains(covers, m):
			return fmt.Sprintf("%s is not covered", line.SANs[i])
		}
		pos = next
	}
	goesOn := len(b.Moves(&line.End)) > 0
	if x.Kind == fact.BookEnds && x.YourMove && goesOn {
		return "the book has an answer at its end"
	}
	if x.Unseen && !goesOn {
		return "the book covers nothing at its end"
	}
	return ""
}

func coverageFault(list []fact.Coverage) string {
	last := 1.0
	for i, c := range list {
		if c.P < 0 || c.P > last+1e-9 {
			return "rises"
		}
		if i > 0 && c.Move != list[i-1].Move+1 {
			return "skips a move"
		}
		last = c.P
	}
	return ""
}

// Printed shares of 100 by largest remainder, other included: 0.335, 0.335,
// 0.324 and 0.006 make 33, 33, 32 and 0 rounded down, and the two that are
// missing go to the two largest remainders, 0.6 (other) and 0.5 (the first of
// the equal ones): 34, 33, 32, of 100 with other 1.
func TestSharesOf100ByLargestRemainder(t *testing.T) {
	b := bookOf(t, board.White, "1. e4 e5 (1... c5 2. c3) (1... e6 2. d4) 2. Nf3 *")
	w := walk.New(b, drawn{"e4": {"e5": 0.335, "c5": 0.335, "e6": 0.324, "c6": 0.006}}, Options{}.withDefaults().walk())
	w.Run(board.Start(), 0)
	p := e4Games()
	var got []int
	for _, x := range find.Exits(w, find.Games{All: p.Games, Tree: p.Tree(board.Black)}) {
		got = append(got, x.Of100)
	}
	slices.Sort(got)
	if !slices.Equal(got, []int{32, 33, 34}) || math.Abs(w.Other-0.006) > 1e-12 {
		t.Errorf("%v, other %v", got, w.Other)
	}
}

// A covered move never seen from them is marked at its ply, and its branch says
// so.
func TestCoveredMovesNeverSeen(t *testing.T) {
	b := bookOf(t, board.White, "1. e4 e5 (1... c5 2. c3) (1... e6 2. d4) 2. Nf3 *")
	s := Make(Input{Profile: e4Games(), Books: []*book.Book{b}}, Options{When: today, Threshold: 0.001}).Sides[0]
	seen := 0
	for _, x := range s.Exits {
		switch line := words.Movetext(x.Line, 0); line {
		case "1.e4 e6 2.d4":
			seen++
			if !slices.Equal(x.NotSeen, []int{2}) || x.Games != 0 {
				t.Errorf("%s: %+v", line, x)
			}
		case "1.e4 c5 2.c3":
			seen++
			if len(x.NotSeen) != 0 {
				t.Errorf("%s: %+v", line, x)
			}
		}
	}
	if seen != 2 {
		t.Fatalf("%+v", s.Exits)
	}
	for _, br := range s.Partings[0].Branches {
		if (br.Move == "e6") != (br.Share.Seen == 0) {
			t.Errorf("%s: %+v", br.Move, br.Share)
		}
	}
}

// A move that is not written at its place but meets the book is a branch that
// transposes; games that leave the book and meet it again are counted.
//
//	1.d4 ─┬─ 1...d5 2.c4 e6 3.Nc3
//	      └─ 1...e6 2.c4 (written) ── 2...d5 (not written) meets 3.Nc3
//
// The game 1.c4 e6 2.d4 d5 leaves at once (1.c4 is not yours) and comes back
// after 2...d5.
func TestTranspositionsOutAndBack(t *testing.T) {
	p := gamesOf(board.Black, slices.Concat(
		repeated(10, "1-0 5400 2000 Elm: d4 d5 c4 e6"), repeated(10, "1-0 5400 2000 Elm: d4 e6 c4 d5"),
		repeated(3, "1-0 5400 2000 Elm: c4 e6 d4 d5 Nc3"), repeated(2, "1-0 5400 2000 Elm: e4 e5"),
	)...)
	b := bookOf(t, board.White, "1. d4 d5 2. c4 e6 3. Nc3 *", "1. d4 e6 2. c4 *")
	s := Make(Input{Profile: p, Books: []*book.Book{b}}, Options{When: today}).Sides[0]
	states := map[string]string{}
	for _, f := range s.Partings {
		for _, br := range f.Branches {
			states[words.Movetext(append(slices.Clone(f.Stem), br.Move), 0)] = br.State + " " + br.Answer
		}
	}
	if states["1.d4 e6"] != "answered c4" {
		t.Errorf("%v", states)
	}
	main := s.Exits[0]
	// Nobody went on from 3.Nc3 itself.
	if main.Orders != 2 || main.Games != 0 || main.Kind != fact.BookEnds || main.Lo >= main.Hi {
		t.Errorf("%+v", main)
	}
	if s.Left.You != 5 || s.Left.Back != 3 {
		t.Errorf("%+v", s.Left)
	}
}

// The parting after 1.d4 e6 2.c4, alone: 2...d5 is not written there, but leads to
// a position of the book.
func TestBranchThatTransposes(t *testing.T) {
	p := gamesOf(board.Black, slices.Concat(
		repeated(10, "1-0 5400 2000 Elm: d4 e6 c4 d5"), repeated(9, "1-0 5400 2000 Elm: d4 e6 c4 f5"), repeated(9, "1-0 5400 2000 Elm: d4 d5 c4 c6"),
	)...)
	b := bookOf(t, board.White, "1. d4 d5 2. c4 e6 3. Nc3 *", "1. d4 e6 2. c4 f5 3. g3 *")
	s := Make(Input{Profile: p, Books: []*book.Book{b}}, Options{When: today}).Sides[0]
	for _, f := range s.Partings {
		for _, br := range f.Branches {
			if words.Movetext(f.Stem, 0) == "1.d4 e6 2.c4" && br.Move == "d5" {
				if br.State != fact.Returns || br.Answer != "Nc3" {
					t.Errorf("%+v", br)
				}
				return
			}
		}
	}
	t.Errorf("the branch is missing: %+v", s.Partings)
}
