package walk

import (
	"math"
	"math/rand/v2"
	"slices"
	"testing"

	"foreply/compare/book"
	"foreply/profile"
	"foreply/profile/board"
)

// likes is an opponent who plays one of some moves nine times in ten where it is legal, the
// first of them that is.
type likes []string

func (l likes) Shares(pos *board.Position) profile.Expected { return l.At(pos) }

func (l likes) At(pos *board.Position) profile.Expected {
	legal := pos.Legal(nil)
	for _, san := range l {
		if m, err := pos.Resolve([]byte(san)); err == nil {
			legal = slices.DeleteFunc(legal, func(o board.Move) bool { return o == m })
			e := profile.Expected{Strength: 20, Moves: []profile.Likely{{Move: m, Range: profile.Range{P: 0.9}, N: 9}}}
			for _, o := range legal {
				e.Moves = append(e.Moves, profile.Likely{Move: o, Range: profile.Range{P: 0.1 / float64(len(legal))}})
			}
			return e
		}
	}
	e := profile.Expected{Strength: 20}
	for _, o := range legal {
		e.Moves = append(e.Moves, profile.Likely{Move: o, Range: profile.Range{P: 1 / float64(len(legal))}})
	}
	return e
}

// A way back is looked for only where lines come often enough; what was found once is known
// for rarer ones, too. At the first move there is none.
func TestBackFrom(t *testing.T) {
	b, look := whiteBook("1. d4 d5 2. c4 e6 3. Nc3"), likes{"d5"}
	w := New(b, look, Options{MaxPly: 10, Threshold: 0.01, Ways: NewWays(b, look), BackFrom: 0.1})
	start, pos := board.Start(), Resolved([]string{"d4", "e6"}).End
	if back := w.back(&pos, 0.09); back != nil {
		t.Errorf("a rare line: %+v", back)
	}
	back := w.back(&pos, 0.1)
	if back == nil || pos.SAN(back.Move) != "c4" || back.P < 0.9 {
		t.Fatalf("a likely line: %+v", back)
	}
	if again := w.back(&pos, 0.01); again != back {
		t.Errorf("a rare line, found before: %+v", again)
	}
	if first := w.back(&start, 1); first != nil {
		t.Errorf("the first move: %+v", first)
	}
}

// What a capture wins: what it takes, less what takes it if that can be taken back.
func TestGain(t *testing.T) {
	for _, c := range []struct {
		fen, move string
		want      int
	}{
		{"4k3/8/8/3n4/4P3/8/8/4K3 w - - 0 1", "exd5", 3}, {"4k3/2p5/3n4/4P3/8/8/8/4K3 w - - 0 1", "exd6", 2},
		{"4k3/2p5/3b4/8/8/8/8/3RK3 w - - 0 1", "Rxd6", -2}, {"4k3/8/3b4/8/8/8/8/3RK3 w - - 0 1", "Rxd6", 3}, {"4k3/8/3b4/8/8/8/8/3RK3 w - - 0 1", "Rd2", 0},
	} {
		pos, err := board.ParseFEN(c.fen)
		if err != nil {
			t.Fatal(err)
		}
		m, err := pos.Resolve([]byte(c.move))
		if err != nil {
			t.Fatal(err)
		}
		if got := gain(&pos, m); got != c.want {
			t.Errorf("%s in %s wins %d, want %d", c.move, c.fen, got, c.want)
		}
	}
}

// A line that ends early, under the threshold, is part of what is not followed; where the
// lines leave is counted in full moves.
func TestDepth(t *testing.T) {
	b := whiteBook("1. e4 e5 2. Nf3")
	w := New(b, likes{"e5", "Nc6"}, Options{MaxPly: 10, Threshold: 0.01})
	w.Run(board.Start(), 0)
	sum := w.Other
	for _, e := range w.Sorted() {
		sum += e.Mass
	}
	if sum < 1-1e-9 || sum > 1+1e-9 || w.Other > 0.11 {
		t.Errorf("ends and others are %v, others alone %v", sum, w.Other)
	}
	// Nine in ten leave at their second move, 2...; the others at their first.
	if got := w.Depth(); got < 1.85 || got > 2 {
		t.Errorf("depth %.2f", got)
	}
}

// All that is too rare to be told is summed: 0.18 behind 1...d5 2.c4 and 0.1 behind 1...f5.
func TestOtherIsTheSum(t *testing.T) {
	w := walked(whiteBook(orders), twoOrders, Options{MaxPly: 10, Threshold: 0.2})
	if len(w.Ends) != 1 || math.Abs(w.Other-0.28) > near || math.Abs(w.Sorted()[0].Mass-0.72) > near {
		t.Errorf("%d ends, other %v", len(w.Ends), w.Other)
	}
}

// mayComeBackPlainly is mayComeBack by trying all moves.
func (w *Ways) mayComeBackPlainly(met *board.Position, deep int) bool {
	return slices.ContainsFunc(met.Legal(nil), func(r board.Move) bool {
		next := Played(*met, r)
		return w.comesHome(&next) || deep > 1 && w.stands(met, r) && slices.ContainsFunc(next.Legal(nil), func(m board.Move) bool {
			then := Played(next, m)
			set, takes := w.own[then.OwnKey(w.book.Mine)], next.At(m.To()).Kind() != board.NoKind
			return w.stands(&next, m) && slices.ContainsFunc(then.Legal(nil), func(r board.Move) bool {
				home := Played(then, r)
				return (set || takes && r.To() == m.To()) && w.comesHome(&home)
			})
		})
	})
}

// Looking only where men stand near enough misses no way back: random books, and positions a
// few random moves off them, with captures, castling and promotions.
func TestNearMissesNothing(t *testing.T) {
	r := rand.New(rand.NewPCG(16, 3))
	found, none := 0, 0
	for range 12 {
		mine := board.Color(r.IntN(2))
		var lines [][]board.Move
		for range 6 {
			lines = append(lines, anyMoves(r, 50))
		}
		lines = append(lines, shuffledMoves(r, lines[0]), shuffledMoves(r, lines[1]))
		w := NewWays(book.Of(mine, lines), nil)
		for _, line := range lines {
			pos := board.Start()
			for _, m := range line {
				pos.Play(m)
				away := pos
				for range r.IntN(4) {
					if legal := away.Legal(nil); len(legal) > 0 {
						away.Play(legal[r.IntN(len(legal))])
					}
				}
				if away.Turn() == mine {
					continue
				}
				for deep := 1; deep <= backDeep; deep++ {
					got, want := w.mayComeBack(&away, deep), w.mayComeBackPlainly(&away, deep)
					if got != want {
						t.Fatalf("%s, %d moves: %v, want %v", away.FEN(), deep, got, want)
					}
					if want {
						found++
					} else {
						none++
					}
				}
			}
		}
	}
	if found < 100 || none < 100 {
		t.Errorf("%d come back and %d don't: the test tells nothing of one", found, none)
	}
}

// Whatever a game came to by a few moves could be reached from before, castling too.
func TestReachable(t *testing.T) {
	r := rand.New(rand.NewPCG(16, 4))
	for range 200 {
		positions := []board.Position{board.Start()}
		for i, m := range anyMoves(r, 60) {
			positions = append(positions, Played(positions[i], m))
		}
		for i := range positions {
			from := &positions[i]
			for plies := 0; plies <= 3 && i+plies < len(positions); plies++ {
				to, mover := &positions[i+plies], from.Turn()
				if first, second := (plies+1)/2, plies/2; !reachable(from, to, mover, first, second) || !reachable(from, to, mover.Other(), second, first) {
					t.Fatalf("%d plies from %s: %s", plies, from.FEN(), to.FEN())
				}
			}
		}
	}
}

// anyMoves are random moves, those that take, castle or promote more often than others.
func anyMoves(r *rand.Rand, plies int) (line []board.Move) {
	pos := board.Start()
	for range plies {
		legal := pos.Legal(nil)
		if len(legal) == 0 {
			break
		}
		m := legal[r.IntN(len(legal))]
		for _, other := range legal {
			castles := pos.At(other.From()).Kind() == board.King && max(other.From(), other.To())-min(other.From(), other.To()) == 2
			if special := castles || other.Promotion() != board.NoKind || pos.At(other.To()).Kind() != board.NoKind; special && r.IntN(6) == 0 {
				m = other
			}
		}
		line = append(line, m)
		pos.Play(m)
	}
	return line
}

// shuffledMoves changes places of moves of a side in a line as far as they can be played.
func shuffledMoves(r *rand.Rand, line []board.Move) (out []board.Move) {
	line = slices.Clone(line)
	for range 6 {
		if i := r.IntN(len(line)); i+2 < len(line) {
			line[i], line[i+2] = line[i+2], line[i]
		}
	}
	pos := board.Start()
	for _, m := range line {
		if !slices.Contains(pos.Legal(nil), m) {
			break
		}
		out = append(out, m)
		pos.Play(m)
	}
	return out
}

// A way back goes on in a walk and is told of its line.
func TestWalkGoesBack(t *testing.T) {
	b, look := whiteBook("1. d4 d5 2. c4 e6 3. Nc3 Nf6 4. Bg5"), chances{"d4": "e6 80 4 d5 20 1", "d4 e6 c4": "d5 90 3 f5 10 1", "d4 e6 c4 d5 Nc3": "Nf6 100 3", "d4 d5 c4": "e6 100 1"}
	w := walked(b, look, Options{MaxPly: 10, Threshold: 0.01, Ways: NewWays(b, look), BackFrom: 0.01})
	e := w.Sorted()[0]
	if told(e.At.Path()) != "d4 e6 c4 d5 Nc3 Nf6 Bg5" || math.Abs(e.Mass-0.92) > near || !slices.Equal(BackAt(e.At, board.White), []int{3}) || e.Orders != 2 {
		t.Errorf("%s %v, back at %v", told(e.At.Path()), e.Mass, BackAt(e.At, board.White))
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
