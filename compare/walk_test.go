package compare

import (
	"fmt"
	"math"
	"slices"
	"strings"
	"testing"

	"foreply/compare/book"
	"foreply/compare/fact"
	"foreply/compare/walk"
	"foreply/compare/words"
	"foreply/fetch/pgn"
	"foreply/profile"
	"foreply/profile/board"
)

// drawn is a forecast worked out by hand: for a line of moves, the probability
// of each of their moves by SAN, and which of them have been played. What a
// line leaves of 1 is spread evenly over the moves it does not name, unseen.
type drawn map[string]map[string]float64

// played marks a probability as that of a move seen in games.
const seenGames = 4

func (d drawn) At(pos *board.Position) profile.Expected {
	given := map[string]float64{}
	for line, moves := range d {
		if at := after(line); at.Key() == pos.Key() {
			given = moves
		}
	}
	legal := pos.Legal(nil)
	left := 1.0
	for _, p := range given {
		left -= math.Abs(p)
	}
	var e profile.Expected
	e.Strength, e.Visits = 10, 10
	for _, m := range legal {
		l := profile.Likely{Move: m}
		p, named := given[pos.SAN(m)]
		switch {
		case !named:
			l.P = left / float64(len(legal)-len(given))
		case p < 0: // named but unseen
			l.P = -p
		default:
			l.P, l.N = p, seenGames
		}
		e.Moves = append(e.Moves, l)
	}
	slices.SortStableFunc(e.Moves, func(a, b profile.Likely) int {
		if a.P > b.P {
			return -1
		} else if a.P < b.P {
			return 1
		}
		return 0
	})
	return e
}

func (d drawn) Shares(pos *board.Position) profile.Expected { return d.At(pos) }

func after(line string) board.Position {
	pos := board.Start()
	for san := range strings.FieldsSeq(line) {
		m, err := pos.Resolve([]byte(san))
		if err != nil {
			panic(fmt.Sprintf("%s in %q: %v", san, line, err))
		}
		pos.Play(m)
	}
	return pos
}

// bookOf reads chapters of movetext as the repertoire of mine.
func bookOf(t testing.TB, mine board.Color, chapters ...string) *book.Book {
	t.Helper()
	b := book.New(mine)
	for _, text := range chapters {
		r := pgn.NewReader(strings.NewReader(text), pgn.Options{File: "book.pgn", Variations: true})
		for g := range r.All() {
			b.Add(g)
		}
	}
	for _, p := range b.Problems {
		if p.Severity == pgn.Error {
			t.Fatalf("the test's own book: %v", p)
		}
	}
	return b
}

// walked walks and prints the exits as 'kind reach line', likeliest first, and
// the rest.
func walked(b *book.Book, d walk.Forecaster, opt Options) []string {
	w := walk.New(b, d, opt.withDefaults().walk())
	w.Run(board.Start(), 0)
	var out []string
	for _, e := range w.Sorted() {
		t := walk.NewTrack(e.At.Path())
		if e.Leave != board.NoMove {
			t = t.And(e.Leave)
		}
		text := fmt.Sprintf("%s %.3f %s", e.Kind, e.Mass, strings.Join(t.SANs, " "))
		if e.Unseen {
			text += " (unseen)"
		}
		out = append(out, text)
	}
	return append(out, fmt.Sprintf("other %.3f", w.Other))
}

func TestWalkExits(t *testing.T) {
	for _, c := range []struct {
		name string
		mine board.Color
		book []string
		d    drawn
		opt  Options
		want []string
	}{
		{
			// 1.e4 ─┬─ 1...e5 0.6 ── 2.Nf3 ── the book covers nothing more
			//       ├─ 1...c5 0.3 seen, not in the book
			//       └─ 0.1 unseen and not in the book
			name: "they leave by a seen move, by an unseen one, or the book ends after your move",
			mine: board.White,
			book: []string{"1. e4 e5 2. Nf3 *"},
			d:    drawn{"e4": {"e5": 0.6, "c5": 0.3}},
			want: []string{"book_ends 0.600 e4 e5 Nf3", "they_leave 0.300 e4 c5", "they_leave 0.100 e4 (unseen)", "other 0.000"},
		},
		{
			// 1.e4 ─┬─ 1...e5 0.6: covered, but nothing prepared on your turn
			//       └─ 1...c5 0.4 ── 2.Nf3
			name: "a covered move without an answer ends the book on your turn",
			mine: board.White,
			book: []string{"1. e4 e5 (1... c5 2. Nf3) *"},
			d:    drawn{"e4": {"e5": 0.6, "c5": 0.4}},
			want: []string{"book_ends 0.600 e4 e5", "book_ends 0.400 e4 c5 Nf3", "other 0.000"},
		},
		{
			// 1.e4 ─┬─ 1...e5 0.7 ── 2.Nf3
			//       └─ 1...c5 0.3, never played by them, but covered ── 2.c3
			name: "a covered move goes on though never seen",
			mine: board.White,
			book: []string{"1. e4 e5 (1... c5 2. c3) 2. Nf3 *"},
			d:    drawn{"e4": {"e5": 0.7, "c5": -0.3}},
			want: []string{"book_ends 0.700 e4 e5 Nf3", "book_ends 0.300 e4 c5 c3", "other 0.000"},
		},
		{
			// 1...c5 against 1.e4; 1.d4 is covered with no answer written.
			name: "Black to answer from the first move",
			mine: board.Black,
			book: []string{"1. e4 c5 *", "1. d4 *"},
			d:    drawn{"": {"e4": 0.5, "d4": 0.3, "c4": 0.2}},
			want: []string{"book_ends 0.500 e4 c5", "book_ends 0.300 d4", "they_leave 0.200 c4", "other 0.000"},
		},
		{
			// 1.d4 Nf6 2.c4 and 1.d4 e6 2.c4 meet after 2...e6 and 2...Nf6:
			// 0.5*0.8 + 0.5*0.6 = 0.7 at one position, one exit after 3.Nc3.
			name: "move orders that meet are one line",
			mine: board.White,
			book: []string{"1. d4 Nf6 (1... e6 2. c4 Nf6 3. Nc3) 2. c4 e6 3. Nc3 *"},
			d: drawn{
				"d4":        {"Nf6": 0.5, "e6": 0.5},
				"d4 Nf6 c4": {"e6": 0.8, "g6": 0.2},
				"d4 e6 c4":  {"Nf6": 0.6, "d5": 0.4},
			},
			want: []string{
				"book_ends 0.700 d4 Nf6 c4 e6 Nc3", "they_leave 0.200 d4 e6 c4 d5", "they_leave 0.100 d4 Nf6 c4 g6", "other 0.000",
			},
		},
		{
			// 1.d4 d5 2.c4 is written; 1.d4 e6 2.c4 too, and ends there; from
			// there 2...d5 0.9 meets the first chapter's 2...e6 3.Nc3.
			name: "a move not written here meets a position of the book from another order",
			mine: board.White,
			book: []string{"1. d4 d5 2. c4 e6 3. Nc3 *", "1. d4 e6 2. c4 *"},
			d: drawn{
				"d4":       {"d5": 0.5, "e6": 0.5},
				"d4 d5 c4": {"e6": 0.6, "c6": 0.4},
				"d4 e6 c4": {"d5": 0.9, "f5": 0.1},
			},
			want: []string{"book_ends 0.750 d4 e6 c4 d5 Nc3", "they_leave 0.200 d4 d5 c4 c6", "book_ends 0.050 d4 e6 c4", "other 0.000"},
		},
		{
			// 2.Nc3 is written first, so 2.Nf3 takes nothing.
			name: "the main choice takes all the mass",
			mine: board.White,
			book: []string{"1. e4 e5 2. Nc3 (2. Nf3 Nc6) 2... Nf6 3. g3 *"},
			d:    drawn{"e4": {"e5": 1}, "e4 e5 Nc3": {"Nf6": 1}},
			want: []string{"book_ends 1.000 e4 e5 Nc3 Nf6 g3", "other 0.000"},
		},
		{
			// 2.Nf3 comes first in the file, but in a surprise chapter.
			name: "a main chapter comes before a surprise chapter",
			mine: board.White,
			book: []string{"[Role \"surprise\"]\n\n1. e4 e5 2. Nf3 *", "[Role \"main\"]\n\n1. e4 e5 2. Nc3 *", "[Role \"rest\"]\n\n1. e4 c5 2. b4 *"},
			d:    drawn{"e4": {"e5": 0.6, "c5": 0.4}},
			want: []string{"book_ends 0.600 e4 e5 Nc3", "they_leave 0.400 e4 c5", "other 0.000"},
		},
		{
			// 1.f3 is marked ??: no answer. The first answer left is 1.e4.
			name: "a move of yours marked as a mistake is no answer",
			mine: board.White,
			book: []string{"1. f3?? (1. e4 e5) 1... e5 2. g4 *"},
			d:    drawn{"e4": {"e5": 1}},
			want: []string{"book_ends 1.000 e4 e5", "other 0.000"},
		},
		{
			// 1...a6 0.995 then 2.d4; 1...h6 0.005 lies under 1 %.
			name: "reach under the threshold is summed as other",
			mine: board.White,
			book: []string{"1. e4 a6 (1... h6 2. d4) 2. d4 *"},
			d:    drawn{"e4": {"a6": 0.995, "h6": 0.005}},
			want: []string{"book_ends 0.995 e4 a6 d4", "other 0.005"},
		},
		{
			// Two leaving moves of 0.6 % each, and 0.4 % unseen: all cut.
			name: "exits under the threshold are summed as other too",
			mine: board.White,
			book: []string{"1. e4 e5 2. Nf3 *"},
			d:    drawn{"e4": {"e5": 0.984, "c5": 0.006, "e6": 0.006}},
			want: []string{"book_ends 0.984 e4 e5 Nf3", "other 0.016"},
		},
		{
			// The knights go out and home: the position after two full moves is
			// the first one again, two plies of four later, and the book goes on.
			name: "a cycle runs to the ply limit",
			mine: board.White,
			book: []string{"1. Nf3 Nf6 2. Ng1 Ng8 *"},
			d:    drawn{"Nf3": {"Nf6": 1}, "Nf3 Nf6 Ng1": {"Ng8": 1}},
			opt:  Options{MaxPly: 9},
			want: []string{"depth_limit 1.000 Nf3 Nf6 Ng1 Ng8 Nf3 Nf6 Ng1 Ng8 Nf3", "other 0.000"},
		},
		{
			// 1...e5 leaves a book that covers 1...c5 with mate-free lines; the
			// fool's mate is a game that ends in the book.
			name: "the game may end in the book",
			mine: board.Black,
			book: []string{"1. f3 e5 2. g4 Qh4# *"},
			d:    drawn{"": {"f3": 1}, "f3 e5": {"g4": 0.9, "e4": 0.1}},
			want: []string{"game_is_over 0.900 f3 e5 g4 Qh4#", "they_leave 0.100 f3 e5 e4", "other 0.000"},
		},
		{
			// 1.e4 ─┬─ 1...e5 0.5: no answer is written; 2.Nf3 is, from the
			//       │         order 1.Nf3 e5 2.e4, which is not walked today
			//       └─ 1...c5 0.5 ── 2.Nf3 0.8 d6 / 0.2 e6 ── the book ends
			name: "a resting chapter has no answer today",
			mine: board.White,
			book: []string{"1. e4 e5 *", "1. e4 c5 2. Nf3 d6 (2... e6 3. d4) 3. d4 *", "[Role \"rest\"]\n\n1. e4 e5 2. Nf3 *"},
			d:    drawn{"e4": {"e5": 0.5, "c5": 0.5}, "e4 c5 Nf3": {"d6": 0.8, "e6": 0.2}},
			want: []string{"book_ends 0.500 e4 e5", "book_ends 0.400 e4 c5 Nf3 d6 d4", "book_ends 0.100 e4 c5 Nf3 e6 d4", "other 0.000"},
		},
		{
			// 1.Nf3 d5 2.d4 is written with 2...Nf6 3.c4; after 1.Nf3 the book has
			// nothing against 1...Nf6, which leaves it: what follows 2.d4 would
			// meet it again, but the walk has ended. Against 1...d5 0.6 they go
			// out by 2...e6 0.3, and back by 2...Nf6.
			name: "out of the book ends the line even where a way back exists",
			mine: board.White,
			book: []string{"1. Nf3 d5 2. d4 Nf6 3. c4 *"},
			d:    drawn{"Nf3": {"d5": 0.6, "Nf6": 0.4}, "Nf3 d5 d4": {"Nf6": 0.7, "e6": 0.3}},
			want: []string{"book_ends 0.420 Nf3 d5 d4 Nf6 c4", "they_leave 0.400 Nf3 Nf6", "they_leave 0.180 Nf3 d5 d4 e6", "other 0.000"},
		},
		{
			// 1.e4 e5 2.Nf3 Nc6 3.Bb5 a6: the limit of 5 plies comes first.
			name: "the ply limit cuts a line inside the book",
			mine: board.White,
			book: []string{"1. e4 e5 2. Nf3 Nc6 3. Bb5 a6 4. Ba4 *"},
			d:    drawn{"e4": {"e5": 0.9, "c5": 0.1}, "e4 e5 Nf3": {"Nc6": 1}},
			opt:  Options{MaxPly: 5},
			want: []string{"depth_limit 0.900 e4 e5 Nf3 Nc6 Bb5", "they_leave 0.100 e4 c5", "other 0.000"},
		},
		{
			// At 20 %: 1...c5 0.15 is covered but cut, 1...e6 0.05 leaves and is cut.
			name: "a high threshold cuts covered and leaving moves alike",
			mine: board.White,
			book: []string{"1. e4 e5 (1... c5 2. c3) 2. Nf3 *"},
			d:    drawn{"e4": {"e5": 0.8, "c5": 0.15, "e6": 0.05}},
			opt:  Options{Threshold: 0.2},
			want: []string{"book_ends 0.800 e4 e5 Nf3", "other 0.200"},
		},
		{
			// The knights go home once and the book goes on with 3.e4 instead of
			// a third round: the first position, two plies apart, is two states.
			//
			// 1.Nf3 Nf6 2.Ng1 ─┬─ 2...Ng8 0.5 3.Nf3 ... to the limit
			//                  └─ 2...e5 0.5, not in the book
			name: "a cycle that they may leave loses its mass round by round",
			mine: board.White,
			book: []string{"1. Nf3 Nf6 2. Ng1 Ng8 *"},
			d:    drawn{"Nf3": {"Nf6": 1}, "Nf3 Nf6 Ng1": {"Ng8": 0.5, "e5": 0.5}},
			opt:  Options{MaxPly: 12},
			want: []string{
				"they_leave 0.500 Nf3 Nf6 Ng1 e5", "they_leave 0.250 Nf3 Nf6 Ng1 Ng8 Nf3 Nf6 Ng1 e5",
				"depth_limit 0.125 Nf3 Nf6 Ng1 Ng8 Nf3 Nf6 Ng1 Ng8 Nf3 Nf6 Ng1 Ng8",
				"they_leave 0.125 Nf3 Nf6 Ng1 Ng8 Nf3 Nf6 Ng1 Ng8 Nf3 Nf6 Ng1 e5", "other 0.000",
			},
		},
		{
			// 1...a6 and 1...h6, each 0.5, then the other, each 0.4: two equal ways
			// out to one position.
			name: "two equally likely orders out of the book are one line of one of them",
			mine: board.White,
			book: []string{"1. e4 a6 (1... h6 2. d4 e5 3. c3) 2. d4 e5 3. c3 *"},
			d: drawn{
				"e4":       {"a6": 0.5, "h6": 0.5},
				"e4 a6 d4": {"h6": 0.4, "e5": 0.6},
				"e4 h6 d4": {"a6": 0.4, "e5": 0.6},
			},
			want: []string{
				"they_leave 0.400 e4 a6 d4 h6", "book_ends 0.300 e4 h6 d4 e5 c3", "book_ends 0.300 e4 a6 d4 e5 c3", "other 0.000",
			},
		},
		{
			name: "an empty book ends at once, with White",
			mine: board.White,
			d:    drawn{},
			want: []string{"book_ends 1.000 ", "other 0.000"},
		},
		{
			name: "an empty book ends at once, with Black",
			mine: board.Black,
			d:    drawn{"": {"e4": 1}},
			want: []string{"book_ends 1.000 ", "other 0.000"},
		},
	} {
		t.Run(c.name, func(t *testing.T) {
			got := walked(bookOf(t, c.mine, c.book...), c.d, c.opt)
			if !slices.Equal(got, c.want) {
				t.Errorf("got\n  %s\nwant\n  %s", strings.Join(got, "\n  "), strings.Join(c.want, "\n  "))
			}
		})
	}
}

// Two moves of theirs with p = 0.5 at strength 10: each has E[x^2] =
// 0.5*(0.5*10+1)/11 = 0.2727, the product E = 0.25, E[x^2] = 0.07438, and the
// Beta with these moments has a+b = (0.25-0.07438)/(0.07438-0.0625) = 14.78.
func TestReachInterval(t *testing.T) {
	b := bookOf(t, board.White, "1. e4 e5 2. Nf3 Nc6 3. Bc4 *")
	d := drawn{"e4": {"e5": 0.5, "c5": 0.5}, "e4 e5 Nf3": {"Nc6": 0.5, "Nf6": 0.5}}
	w := walk.New(b, d, Options{}.withDefaults().walk())
	w.Run(board.Start(), 0)
	for _, e := range w.Sorted() {
		if e.Kind != fact.BookEnds {
			continue
		}
		if math.Abs(e.Mass-0.25) > 1e-12 || math.Abs(e.Square-0.0743801653) > 1e-9 {
			t.Errorf("moments %.6f and %.6f, want 0.25 and 0.074380", e.Mass, e.Square)
		}
		lo, hi := e.Interval()
		if lo < 0.10 || lo > 0.13 || hi < 0.38 || hi > 0.42 {
			t.Errorf("interval %.3f to %.3f lies off that of Beta(3.70, 11.09)", lo, hi)
		}
		return
	}
	t.Error("the line is missing")
}

// 1.d4 Nf6 2.c4 e6 and 1.d4 e6 2.c4 Nf6 meet: R = a*x + b*y, where a and b = 1-a
// are Nf6 and e6 of 1.d4 with Dirichlet(5, 5), x ~ Beta(8, 2), y ~ Beta(6, 4).
// E[a^2] = E[b^2] = 0.5*6/11, E[a*b] = 0.25*10/11, E[x^2] = 0.8*9/11, E[y^2] =
// 0.6*7/11: E[R] = 0.7 and E[R^2] = 0.178512 + 0.104132 + 2*0.227273*0.48 =
// 0.500826.
func TestReachIntervalWhereOrdersMeet(t *testing.T) {
	b := bookOf(t, board.White, "1. d4 Nf6 (1... e6 2. c4 Nf6 3. Nc3) 2. c4 e6 3. Nc3 *")
	w := walk.New(b, drawn{
		"d4": {"Nf6": 0.5, "e6": 0.5}, "d4 Nf6 c4": {"e6": 0.8, "g6": 0.2}, "d4 e6 c4": {"Nf6": 0.6, "d5": 0.4},
	}, Options{}.withDefaults().walk())
	w.Run(board.Start(), 0)
	if e := w.Sorted()[0]; math.Abs(e.Mass-0.7) > 1e-12 || math.Abs(e.Square-0.500826) > 1e-6 {
		t.Errorf("moments %.6f and %.6f, want 0.7 and 0.500826", e.Mass, e.Square)
	}
}

// If they must come by one of two ways, there is nothing uncertain about it.
func TestReachOfAllWaysIsCertain(t *testing.T) {
	b := bookOf(t, board.White, "1. d4 Nf6 (1... e6 2. c4 Nf6 3. Nc3) 2. c4 e6 3. Nc3 *")
	w := walk.New(b, drawn{"d4": {"Nf6": 0.5, "e6": 0.5}, "d4 Nf6 c4": {"e6": 1}, "d4 e6 c4": {"Nf6": 1}}, Options{}.withDefaults().walk())
	w.Run(board.Start(), 0)
	if e := w.Sorted()[0]; math.Abs(e.Mass-1) > 1e-12 || math.Abs(e.Square-1) > 1e-12 {
		t.Errorf("moments %.6f and %.6f, want 1 and 1", e.Mass, e.Square)
	}
}

// A chapter the user wants first today comes before main ones, even a resting
// one.
func TestChosenChapterComesFirst(t *testing.T) {
	for _, c := range []struct{ first, want string }{
		{"", "1.e4"}, {"gambit", "1.d4"}, {"old", "1.c4"},
	} {
		b := book.New(board.White)
		b.First = func(name, _ string) bool { return c.first != "" && strings.Contains(name, c.first) }
		text := "[Event \"a gambit\"]\n[Role \"surprise\"]\n\n1. d4 d5 *\n\n[Event \"slow\"]\n\n1. e4 e5 *\n\n[Event \"old\"]\n[Role \"rest\"]\n\n1. c4 e5 *\n"
		for g := range pgn.NewReader(strings.NewReader(text), pgn.Options{File: "book.pgn", Variations: true}).All() {
			b.Add(g)
		}
		start := board.Start()
		if got := words.Movetext([]string{start.SAN(b.Answers(start.Key())[0])}, 0); got != c.want {
			t.Errorf("with %q first the main choice is %s, want %s", c.first, got, c.want)
		}
	}
}
