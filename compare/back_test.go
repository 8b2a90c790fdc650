package compare

import (
	"fmt"
	"math"
	"math/rand/v2"
	"slices"
	"strings"
	"testing"

	"foreply/compare/book"
	"foreply/compare/fact"
	"foreply/compare/walk"
	"foreply/compare/words"
	"foreply/profile"
	"foreply/profile/board"
)

// backTo prints the best way back after a line: 'c4 0.75 into c4 d5'; 'none'.
func backTo(b *book.Book, d walk.Forecaster, line string) string {
	pos := after(line)
	w := walk.NewWays(b, d).From(&pos)
	if w == nil {
		return "none"
	}
	t := walk.NewTrack(append(walk.Resolved(strings.Fields(line)).Moves, w.Into...))
	return fmt.Sprintf("%s %.2f into %s", pos.SAN(w.Move), w.P, strings.Join(t.SANs[len(strings.Fields(line)):], " "))
}

// The book plays 1.d4 d5 2.c4 e6 3.Nc3 Nf6 4.Bg5; 1.d4 e6 is not in it.
func TestWayBack(t *testing.T) {
	queens := "1. d4 d5 2. c4 e6 3. Nc3 Nf6 4. Bg5 *"
	for _, c := range []struct {
		name string
		mine board.Color
		book []string
		d    drawn
		line string
		want string
	}{
		{
			name: "one move: 2.c4 d5 is the main line by another order",
			book: []string{queens}, line: "d4 e6", want: "c4 0.90 into c4 d5",
			d: drawn{"d4 e6 c4": {"d5": 0.9}},
		},
		{
			// 2.c4 d5 comes back at once (0.5), 2.c4 Nf6 3.Nc3 d5 a move later (0.4 of 0.8).
			name: "two moves, weighed with the forecast",
			book: []string{queens}, line: "d4 e6", want: "c4 0.82 into c4 d5",
			d: drawn{"d4 e6 c4": {"d5": 0.5, "Nf6": 0.4}, "d4 e6 c4 Nf6 Nc3": {"d5": 0.8}},
		},
		{
			name: "their likeliest move does not come back: a rare one makes no way back",
			book: []string{queens}, line: "d4 e6", want: "none",
			d: drawn{"d4 e6 c4": {"f5": 0.6, "d5": 0.3}},
		},
		{
			name: "the likeliest comes back, but most do not",
			book: []string{queens}, line: "d4 e6", want: "none",
			d: drawn{"d4 e6 c4": {"d5": 0.4, "f5": 0.3, "Bb4+": 0.3}},
		},
		{
			// The Sicilian by 2...e6 and 3...a6: behind 4.d4 come two captures, the last by
			// White, before the book has its answer.
			name: "captures on the way", mine: board.Black,
			book: []string{"1. e4 c5 2. Nf3 e6 3. d4 cxd4 4. Nxd4 a6 5. Nc3 Qc7 *"}, line: "e4 c5 Nf3 e6 Nc3", want: "a6 0.72 into a6 d4 cxd4 Nxd4",
			d: drawn{"e4 c5 Nf3 e6 Nc3 a6": {"d4": 0.8}, "e4 c5 Nf3 e6 Nc3 a6 d4 cxd4": {"Nxd4": 0.9}},
		},
		{
			// 2.Nc3 e6 comes back by 3.Nf3, and so does 2...Nc6 by 3.Nf3; the book plays
			// ...Nc6 in two places, ...e6 in one.
			name: "of equals the user's usual kind of move", mine: board.Black,
			book: []string{"1. e4 c5 2. Nf3 e6 3. Nc3 d6 *", "1. e4 c5 2. Nf3 Nc6 3. Nc3 g6 *", "1. d4 Nc6 *", "[Role \"surprise\"]\n\n1. e4 c5 2. Nf3 Nc6 *"},
			line: "e4 c5 Nc3", want: "Nc6 0.82 into Nc6 Nf3",
			d: drawn{"e4 c5 Nc3 e6": {"Nf3": 0.84}, "e4 c5 Nc3 Nc6": {"Nf3": 0.82}},
		},
		{
			name: "back to where the line came from is no way back",
			book: []string{"1. e4 e5 2. Nf3 Nc6 *"}, line: "e4 e5 Nf3 Nc6", want: "none",
			d: drawn{"e4 e5 Nf3 Nc6 Ng1": {"Nb8": 1}},
		},
		{
			// 2...Qg5 3.Bc4 Nc6 is the book's 2...Nc6 3.Bc4 Qg5, but 3.Nxg5 wins the queen.
			name: "a way back that passes a queen by is none",
			book: []string{"1. e4 e5 2. Nf3 Nc6 3. Bc4 Qg5 4. Bb5 *"}, line: "e4 e5 Nf3 Qg5", want: "none",
			d: drawn{"e4 e5 Nf3 Qg5 Bc4": {"Nc6": 1}},
		},
		{
			// 2...Nf6 3.Bc4 Nc6 is the book's 2...Nc6 3.Bc4 Nf6 4.Qxf7#, but 3...Nxh5 comes
			// first, whatever the forecast says.
			name: "a way back that leaves the queen to be taken is none",
			book: []string{"1. e4 e5 2. Qh5 Nc6 3. Bc4 Nf6 4. Qxf7# *"}, line: "e4 e5 Qh5 Nf6", want: "none",
			d: drawn{"e4 e5 Qh5 Nf6 Bc4": {"Nc6": 1}},
		},
	} {
		t.Run(c.name, func(t *testing.T) {
			if got := backTo(bookOf(t, c.mine, c.book...), c.d, c.line); got != c.want {
				t.Errorf("%s, want %s", got, c.want)
			}
		})
	}
}

// 1...e6 is no exit: 2.c4 goes on, and what does not come back is the exit.
//
//	1.d4 ─┬─ 1...d5 0.5 2.c4 ── 2...e6 ── 3.Nc3
//	      └─ 1...e6 0.5 2.c4 (way back) ─┬─ 2...d5 0.9 ── 3.Nc3
//	                                     └─ 2...f5 0.1
func TestWalkGoesOnThroughAWayBack(t *testing.T) {
	b := bookOf(t, board.White, "1. d4 d5 2. c4 e6 3. Nc3 *")
	d := drawn{"d4": {"d5": 0.5, "e6": 0.5}, "d4 d5 c4": {"e6": 1}, "d4 e6 c4": {"d5": 0.9, "f5": 0.1}}
	w := walk.New(b, d, walk.Options{MaxPly: 20, Threshold: 0.01, BackFrom: 0.01, Ways: walk.NewWays(b, d)})
	w.Run(board.Start(), 0)
	total := w.Other
	got := map[string]float64{}
	for _, e := range w.Sorted() {
		total += e.Mass
		tr := walk.NewTrack(e.At.Path())
		got[e.Kind+" "+strings.Join(tr.SANs, " ")] = e.Mass
		if want := map[string][]int{"book_ends": {3}}[e.Kind]; e.Mass > 0.5 && !slices.Equal(walk.BackAt(e.At, board.White), nil) && !slices.Equal(walk.BackAt(e.At, board.White), want) {
			t.Errorf("ways back at %v", walk.BackAt(e.At, board.White))
		}
	}
	if math.Abs(total-1) > 1e-12 || math.Abs(got["book_ends d4 d5 c4 e6 Nc3"]-0.95) > 1e-12 || math.Abs(got["book_ends d4 e6 c4"]-0.05) > 1e-12 {
		t.Errorf("%v, together %v", got, total)
	}
}

// What the Report says of it: the branch has the answer with its place in the book,
// nothing is unanswered but what does not come back, no task is made of it, and a
// game that went so has not left the book.
func TestReportOfAWayBack(t *testing.T) {
	p := gamesOf(board.Black, slices.Concat(
		repeated(20, "1-0 5400 2000 Elm: d4 d5 c4 e6 Nc3 Nf6"), repeated(20, "1-0 5400 2000 Elm: d4 e6 c4 d5 Nc3 Nf6"),
	)...)
	b := bookOf(t, board.White, "1. d4 d5 2. c4 e6 3. Nc3 Nf6 4. Bg5 *")
	s := Make(Input{Profile: p, Books: []*book.Book{b}}, Options{When: today}).Sides[0]
	var br *fact.Branch
	for i := range s.Partings {
		for j := range s.Partings[i].Branches {
			if at := &s.Partings[i].Branches[j]; at.Move == "e6" && len(s.Partings[i].Stem) == 1 {
				br = at
			}
		}
	}
	if br == nil || br.State != fact.ByWayBack || br.Answer != "c4" || br.Back == nil || br.Back.P < 0.85 || br.Back.FileLine != 1 ||
		br.Back.File != "book.pgn" || br.Back.Answer != "Nc3" || !slices.Equal(br.Back.Into, []string{"c4", "d5"}) {
		t.Fatalf("%+v", br)
	}
	for _, u := range s.Unanswered {
		if len(u.Line) == 2 {
			t.Errorf("unanswered %v", u.Line)
		}
	}
	for _, task := range s.Tonight {
		if task.Lead == "answer" && len(task.Moves) == 2 {
			t.Errorf("a task of it: %+v", task)
		}
	}
	if len(s.WaysBack) != 1 || words.Movetext(s.WaysBack[0].Line, 0) != "1.d4 e6" || len(s.Surprise.Returns) != 0 { // the lines tell it
		t.Errorf("%+v", s.WaysBack)
	}
	if s.Left.Them != 0 {
		t.Errorf("they left in %d games", s.Left.Them)
	}
	for _, x := range s.Exits {
		back := strings.HasPrefix(words.Movetext(x.Line, 0), "1.d4 e6 2.c4")
		if back != (len(x.WaysBack) > 0) || back && !slices.Equal(x.WaysBack, []int{3}) {
			t.Errorf("%v: ways back at %v", x.Line, x.WaysBack)
		}
	}
}

// anyOrder is a queen's pawn game whose moves come in any order.
func anyOrder(r *rand.Rand) []string {
	sets := [2][]string{{"d4", "c4", "Nc3", "Nf3", "e3"}, {"d5", "e6", "Nf6", "Be7", "c6"}}
	pos := board.Start()
	var line []string
	for range 2 * len(sets[0]) {
		set := &sets[pos.Turn()]
		r.Shuffle(len(*set), func(i, j int) { (*set)[i], (*set)[j] = (*set)[j], (*set)[i] })
		i := slices.IndexFunc(*set, func(san string) bool {
			m, err := pos.Resolve([]byte(san))
			if err == nil {
				pos.Play(m)
			}
			return err == nil
		})
		if i < 0 {
			break
		}
		line = append(line, (*set)[i])
		*set = slices.Delete(*set, i, i+1)
	}
	return line
}

// Whatever the book and the games: with ways back nothing is lost, and no line that
// a way back meets is unanswered.
func TestWaysBackLoseNothing(t *testing.T) {
	met := 0
	for seed := range uint64(12) {
		r := rand.New(rand.NewPCG(seed, 77))
		var rows, chapters []string
		for range 40 {
			rows = append(rows, "2026.01.01 1-0 5400 2000 Elm: "+strings.Join(anyOrder(r), " "))
		}
		for range 4 {
			chapters = append(chapters, words.Movetext(anyOrder(r), 0)+" *")
		}
		mine := board.Color(r.IntN(2))
		p, b := gamesOf(mine.Other(), rows...), bookOf(t, mine, chapters...)
		look := profile.NewForecast(p, mine.Other(), profile.ForecastOptions{}).On(today)
		ways := walk.NewWays(b, look)
		w := walk.New(b, look, walk.Options{MaxPly: 14, Threshold: 0.002, BackFrom: 0.01, Ways: ways})
		w.Run(board.Start(), 0)
		total := w.Other
		for _, e := range w.Sorted() {
			total += e.Mass
		}
		if math.Abs(total-1) > 1e-9 {
			t.Errorf("seed %d: exits and other make %v", seed, total)
		}
		for _, s := range w.Order {
			if len(s.Flows) != 1 || s.Flows[0].Back == nil {
				continue
			}
			met++
			if at := w.Ends[walk.EndKey{Kind: fact.TheyLeave, Key: s.Key, Ply: s.Ply}]; at != nil && at.Mass >= 0.01 {
				t.Errorf("seed %d: %v goes on and is left, too", seed, walk.SAN(s.Path()))
			}
			if back := s.Flows[0].Back; back.P < 0.5 || len(back.Into)%2 != 0 || len(back.Into) > 4 {
				t.Errorf("seed %d: %+v", seed, back)
			}
		}
	}
	if met == 0 {
		t.Error("no way back in any of the books: the test shows nothing")
	}
}
