package walk

import (
	"fmt"
	"math"
	"slices"
	"strconv"
	"strings"
	"testing"

	"foreply/compare/book"
	"foreply/compare/fact"
	"foreply/profile"
	"foreply/profile/board"
)

// chances is a forecast by hand: behind a line their moves, each with its probability in
// hundredths and the games it was seen in. The strength is 10.
type chances map[string]string

func (c chances) At(pos *board.Position) profile.Expected {
	e := profile.Expected{Strength: 10}
	for way, said := range c {
		at := Resolved(strings.Fields(way)).End
		if at.Key() != pos.Key() {
			continue
		}
		f := strings.Fields(said)
		for i := 0; i < len(f); i += 3 {
			m, err := at.Resolve([]byte(f[i]))
			p, err2 := strconv.Atoi(f[i+1])
			n, err3 := strconv.Atoi(f[i+2])
			if err != nil || err2 != nil || err3 != nil {
				panic(said)
			}
			e.Moves = append(e.Moves, profile.Likely{Move: m, Range: profile.Range{P: float64(p) / 100}, N: n})
			e.Visits += n
		}
	}
	return e
}

func (c chances) Shares(pos *board.Position) profile.Expected { return c.At(pos) }

func walked(b *book.Book, c chances, opt Options) *Walk {
	w := New(b, c, opt)
	w.Run(board.Start(), 0)
	return w
}

func told(moves []board.Move) string { return strings.Join(SAN(moves), " ") }

// state is the one that a line leads to.
func state(t *testing.T, w *Walk, line string) *State {
	t.Helper()
	end := Resolved(strings.Fields(line))
	s := w.ByPlace()[Key{end.End.Key(), len(end.Moves)}]
	if s == nil {
		t.Fatalf("%s was not followed", line)
	}
	return s
}

const (
	orders = "1. d4 d5 (1... Nf6 2. c4 d5 3. Nc3) 2. c4 Nf6 3. Nc3"
	near   = 1e-9
)

// twoOrders: 2...Nf6 after 1...d5, never seen, in 42 of 100, and 2...d5 after 1...Nf6 in 30
// lead to one position; 1...f5 leaves in 10, and something never seen in 18.
var twoOrders = chances{"d4": "d5 60 6 Nf6 30 3 f5 10 1", "d4 d5 c4": "Nf6 70 0 e6 20 0 c6 10 0", "d4 Nf6 c4": "d5 100 3"}

// What comes of a walk: each end with its reach, its line, why, and by how many orders.
func TestEnds(t *testing.T) {
	w := walked(whiteBook(orders), twoOrders, Options{MaxPly: 10, Threshold: 0.1})
	var got []string
	for _, e := range w.Sorted() {
		leave := ""
		if e.Leave != board.NoMove {
			leave = " by " + e.At.Pos.SAN(e.Leave)
		}
		got = append(got, fmt.Sprintf("%s %s%s %.2f at %d, unseen %v, %d orders, seen %d", e.Kind, told(e.At.Path()), leave, e.Mass, e.Ply, e.Unseen, e.Orders, e.Likely.N))
	}
	want := []string{"book_ends d4 d5 c4 Nf6 Nc3 0.72 at 5, unseen false, 2 orders, seen 0", "they_leave d4 d5 c4 0.18 at 3, unseen true, 1 orders, seen 0", "they_leave d4 by f5 0.10 at 2, unseen false, 1 orders, seen 1"}
	if !slices.Equal(got, want) || w.Other != 0 {
		t.Errorf("got\n%s\nother %v", strings.Join(got, "\n"), w.Other)
	}
	if w := walked(whiteBook(orders), twoOrders, Options{MaxPly: 10, Threshold: 0.11, BackFrom: 0.01}); len(w.Ends) != 2 || math.Abs(w.Other-0.1) > near {
		t.Errorf("%d ends, other %v", len(w.Ends), w.Other)
	}
	// 0.72 at move 3, 0.18 at 2, 0.1 at 2.
	if got := w.Depth(); math.Abs(got-(0.72*3+0.28*2)) > near {
		t.Errorf("depth %v", got)
	}
	if got := NotSeen(w.Sorted()[0].At); !slices.Equal(got, []int{4}) {
		t.Errorf("not seen: %v", got)
	}
	// Behind the first move, of d5, Nf6 and f5 the book answers the first two.
	if got := w.From(Resolved([]string{"d4"}).End, 1).AnsweredNext(); math.Abs(got-0.9) > near {
		t.Errorf("answered next %v", got)
	}
}

// The interval of a reach: of one choice of 0.1 at strength 10 it is that of Beta(1, 9); the
// second moment of two orders has a part for both together.
func TestReachInterval(t *testing.T) {
	w := walked(whiteBook(orders), twoOrders, Options{MaxPly: 10, Threshold: 0.01})
	lo, hi := w.Sorted()[2].Interval()
	if math.Abs(lo-(1-math.Pow(0.9, 1.0/9))) > 1e-6 || math.Abs(hi-(1-math.Pow(0.1, 1.0/9))) > 1e-6 {
		t.Errorf("%v to %v", lo, hi)
	}
	moment := func(p float64) float64 { return p * (10*p + 1) / 11 }
	both := 2 * (0.6 * 0.3 * 10 / 11) * 0.7 * 1
	s := state(t, w, "d4 d5 c4 Nf6")
	if want := moment(0.6)*moment(0.7) + moment(0.3) + both; math.Abs(s.Square-want) > near || math.Abs(s.Mass-0.72) > near || s.Orders != 2 {
		t.Errorf("%v, want %v; mass %v", s.Square, want, s.Mass)
	}
	often := s.Often(7, 9)
	if lo, hi := s.Interval(); often.P != s.Mass || often.Lo != lo || often.Hi != hi || often.Games != 7 || often.Of != 9 || lo >= s.Mass || hi <= s.Mass {
		t.Errorf("%+v", often)
	}
	if lo, hi := w.Order[0].Interval(); lo != 1 || hi != 1 {
		t.Errorf("the start comes in %v to %v", lo, hi)
	}
}

// Their choices on the way to an end: 1...d5 in 60, 2...Nf6 in 70; what they leave by is one.
func TestWays(t *testing.T) {
	w := walked(whiteBook(orders), twoOrders, Options{MaxPly: 10, Threshold: 0.01})
	said := func(list []Choice) string {
		var out []string
		for _, c := range list {
			to := "-"
			if c.To != nil {
				to = SAN(c.To.Path())[c.To.Ply-1]
			}
			out = append(out, fmt.Sprintf("%d %s %.2f", c.At.Ply, to, c.P))
		}
		return strings.Join(out, ", ")
	}
	ends := w.Sorted()
	for i, want := range []string{"1 d5 0.60, 3 Nf6 0.70", "1 d5 0.60, 3 - 0.30", "1 - 0.10"} {
		if got := said(w.Way(ends[i])); got != want {
			t.Errorf("%d: %s, want %s", i, got, want)
		}
	}
	if s := AfterTheirs(ends[0].At, board.White); told(s.Path()) != "d4 d5 c4 Nf6" {
		t.Errorf("after theirs: %s", told(s.Path()))
	}
	if s := AfterTheirs(state(t, w, "d4"), board.White); s != w.Order[0] {
		t.Errorf("after none of theirs: %s", told(s.Path()))
	}
	reach, at := w.ByPosition()
	twice := walked(whiteBook("1. d4 Nf6 2. Nf3 Ng8 3. Ng1"), chances{"d4": "Nf6 80 1 d5 20 1", "d4 Nf6 Nf3": "Ng8 50 1 d5 50 1"}, Options{MaxPly: 5, Threshold: 0.01})
	if key := ends[0].At.Key; math.Abs(reach[key]-0.72) > near || at[key] != ends[0].At {
		t.Errorf("reach by position %v", reach[key])
	}
	reach, at = twice.ByPosition()
	if s := state(t, twice, "d4"); math.Abs(reach[s.Key]-1.4) > near || at[s.Key] != s {
		t.Errorf("a position twice on the way: %v at ply %d", reach[s.Key], at[s.Key].Ply)
	}
}

// The line to expect stops under the reach asked for and names the likeliest other way; and
// where hardly any of many games were, though the forecast goes on.
func TestExpect(t *testing.T) {
	w := walked(whiteBook(orders), twoOrders, Options{MaxPly: 10, Threshold: 0.01})
	for from, want := range map[float64]string{0.3: "d4 d5 c4 Nf6", 0.72: "", 0.6: "d4 d5 c4 Nf6", 0.61: "", 0.73: ""} {
		s, aside := w.Expect(from)
		if got := told(s.Path()); got != want || aside == nil || told(aside.Path()) != "d4 Nf6" {
			t.Errorf("from %v: %s, aside %+v", from, got, aside)
		}
	}
	for games, want := range map[string]string{"20 0": "d4 d5", "20 1": "d4 d5 c4 Nf6", "19 0": "d4 d5 c4 Nf6"} {
		first, second, _ := strings.Cut(games, " ")
		look := chances{"d4": "d5 60 " + first + " Nf6 40 0", "d4 d5 c4": "Nf6 100 " + second, "d4 d5 c4 Nf6 Nc3": ""}
		w := walked(whiteBook("1. d4 d5 2. c4 Nf6 3. Nc3"), look, Options{MaxPly: 10, Threshold: 0.01})
		hardly := state(t, w, "d4 d5 c4 Nf6")
		hardly.Square = 0.5 // of which hardly anything is known
		if s, _ := w.Expect(0.3); told(s.Path()) != want {
			t.Errorf("%s games: %s, want %s", games, told(s.Path()), want)
		}
	}
	sure := walked(whiteBook("1. d4 d5 2. c4 Nf6 3. Nc3"), chances{"d4": "d5 90 20 Nf6 10 0", "d4 d5 c4": "Nf6 100 0"}, Options{MaxPly: 10, Threshold: 0.01})
	if s, _ := sure.Expect(0.3); told(s.Path()) != "d4 d5 c4 Nf6" {
		t.Errorf("well known: %s", told(s.Path()))
	}
}

// A walk ends where the game is over, at the limit, and where the book has no answer; a line
// as likely as the threshold is followed.
func TestKindsOfEnds(t *testing.T) {
	black := func(text string) *book.Book {
		b := book.New(board.Black)
		for g := range games(text + " *") {
			b.Add(g)
		}
		return b
	}
	for name, c := range map[string]struct {
		b    *book.Book
		look chances
		opt  Options
		want string
	}{
		"mate":           {black("1. f3 e5 2. g4 Qh4#"), chances{"": "f3 100 1", "f3 e5": "g4 100 1"}, Options{MaxPly: 10, Threshold: 0.01}, "game_is_over f3 e5 g4 Qh4# 1.00"},
		"the limit":      {whiteBook("1. d4 d5 2. c4 e6 3. Nc3"), chances{"d4": "d5 100 1", "d4 d5 c4": "e6 100 1"}, Options{MaxPly: 3, Threshold: 0.01}, "limit d4 d5 c4 1.00"},
		"no answer":      {whiteBook("1. d4 d5"), chances{"d4": "d5 100 1"}, Options{MaxPly: 10, Threshold: 0.01}, "book_ends d4 d5 1.00"},
		"the threshold":  {whiteBook("1. d4 d5 2. c4"), chances{"d4": "d5 25 1 e6 75 1"}, Options{MaxPly: 10, Threshold: 0.25}, "they_leave d4 0.75, book_ends d4 d5 c4 0.25"},
		"by another way": {whiteBook("1. d4 d5 2. c4 e6 3. Nc3 *\n\n1. c4 e6 2. d4"), chances{"d4": "e6 100 1"}, Options{MaxPly: 10, Threshold: 0.01}, "book_ends d4 1.00"},
	} {
		w := walked(c.b, c.look, c.opt)
		var got []string
		for _, e := range w.Sorted() {
			kind := e.Kind
			if kind == fact.LimitInBook {
				kind = "limit"
			}
			got = append(got, fmt.Sprintf("%s %s %.2f", kind, told(e.At.Path()), e.Mass))
		}
		if text := strings.Join(got, ", "); text != c.want {
			t.Errorf("%s: %s, want %s", name, text, c.want)
		}
	}
}

// A way back goes on in a walk and is told of its line.
func TestWalkGoesBack(t *testing.T) {
	b, look := whiteBook("1. d4 d5 2. c4 e6 3. Nc3 Nf6 4. Bg5"), chances{"d4": "e6 80 4 d5 20 1", "d4 e6 c4": "d5 90 3 f5 10 1", "d4 e6 c4 d5 Nc3": "Nf6 100 3", "d4 d5 c4": "e6 100 1"}
	w := walked(b, look, Options{MaxPly: 10, Threshold: 0.01, Ways: NewWays(b, look), BackFrom: 0.01})
	e := w.Sorted()[0]
	if told(e.At.Path()) != "d4 e6 c4 d5 Nc3 Nf6 Bg5" || math.Abs(e.Mass-0.92) > near || !slices.Equal(BackAt(e.At), []int{3}) || e.Orders != 2 {
		t.Errorf("%s %v, back at %v", told(e.At.Path()), e.Mass, BackAt(e.At))
	}
	if got := w.From(Resolved([]string{"d4"}).End, 1).AnsweredNext(); math.Abs(got-1) > near {
		t.Errorf("answered next %v", got)
	}
	back := state(t, w, "d4 e6").Flows[0].Back
	if back == nil || told(append(Resolved([]string{"d4", "e6"}).Moves, back.Into...)) != "d4 e6 c4 d5" || math.Abs(back.P-0.9) > near {
		t.Errorf("%+v", back)
	}
}

// Of ways back the one that comes back more often in tenths is better, then the usual kind of
// move, then the likelier.
func TestBetter(t *testing.T) {
	of := func(p float64, uses int) *Back { return &Back{Range: profile.Range{P: p}, uses: uses} }
	for _, c := range []struct {
		a, b *Back
		want bool
	}{{of(0.9, 1), of(0.8, 5), true}, {of(0.81, 5), of(0.84, 2), true}, {of(0.84, 2), of(0.81, 2), true}, {of(0.81, 2), of(0.84, 2), false}, {of(0.86, 1), of(0.84, 5), true}, {of(0.8, 2), of(0.8, 2), false}} {
		if got := better(c.a, c.b); got != c.want {
			t.Errorf("%v (%d) before %v (%d): %v", c.a.P, c.a.uses, c.b.P, c.b.uses, got)
		}
	}
}

// Along a line: its name, its nearest note, its place in the book, where the last move came
// from, and the positions passed.
func TestTrack(t *testing.T) {
	b := whiteBook("{ Head. }\n1. d4 d5\n2. c4 { Gambit. } e6\n3. Nc3")
	for line, want := range map[string]string{
		"": "Head. 0 :2 ", "d4": "Head. 0 :2 d2", "d4 d5 c4": "Gambit. 3 :3 c2", "d4 d5 c4 e6": "Gambit. 3 :4 e7", "d4 d5 c4 e6 Nc3 Nf6": "Gambit. 3 :4 g8", "e4": "Head. 0 :2 e2",
	} {
		track := Resolved(strings.Fields(line))
		note, ply := track.Note(b)
		file, at := track.Spot(b)
		if got := fmt.Sprintf("%s %d %s:%d %s", note, ply, file, at, track.Origin()); got != want {
			t.Errorf("%q: %q, want %q", line, got, want)
		}
		if len(track.Keys) != len(track.Moves)+1 || track.Keys[len(track.Moves)] != track.End.Key() {
			t.Errorf("%q: %d keys", line, len(track.Keys))
		}
	}
	if file, at := (Track{Keys: []uint64{1}}).Spot(b); file != "" || at != 0 {
		t.Errorf("%s:%d", file, at)
	}
	one := Resolved([]string{"d4", "d5"})
	if two := one.And(Resolved([]string{"d4", "d5", "c4"}).Moves[2]); told(two.Moves) != "d4 d5 c4" || len(one.Moves) != 2 || two.Opening().Name != "Queen's Gambit" {
		t.Errorf("%s, %q", told(two.Moves), two.Opening().Name)
	}
}
