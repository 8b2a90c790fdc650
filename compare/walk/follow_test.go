package walk

import (
	"fmt"
	"math"
	"strings"
	"testing"

	"foreply/compare/fact"
	"foreply/profile"
	"foreply/profile/board"
)

// A game that leaves the book comes to the end of the walk that its move leads to; one that
// leaves by a move never seen to that of all such; one that the user's side leaves to none.
func TestFollow(t *testing.T) {
	b := whiteBook("1. e4 e5 2. Nf3 Nc6")
	w := New(b, likes{"e5", "d6"}, Options{MaxPly: 10, Threshold: 0.001})
	w.Run(board.Start(), 0)
	for _, c := range []struct {
		line, kind string
		ply        int // of the end
		unseen     bool
		open       bool
	}{
		{"e4 e5 Nf3 d6 d4", fact.TheyLeave, 4, false, false},
		{"e4 e5 Nf3 f6 Nxe5", fact.TheyLeave, 3, true, false},
		{"e4 e5 Nf3 Nc6 Bb5", fact.BookEnds, 4, false, false},
		{"e4 e5 Nf3", "", 0, false, true},
		{"e4 e5 Bc4 Nc6", "", 0, false, true},
	} {
		var moves []board.Move
		pos := board.Start()
		for _, san := range strings.Fields(c.line) {
			m, err := pos.Resolve([]byte(san))
			if err != nil {
				t.Fatal(err)
			}
			moves = append(moves, m)
			pos.Play(m)
		}
		f := w.Follow(w.ByPlace(), moves)
		if f.Open != c.open || (f.End == nil) != (c.kind == "") {
			t.Errorf("%s: open %v, end %+v", c.line, f.Open, f.End)
		}
		if e := f.End; e != nil && (e.Kind != c.kind || e.Ply != c.ply || e.Unseen != c.unseen) {
			t.Errorf("%s: %s at ply %d, unseen %v", c.line, e.Kind, e.Ply, e.Unseen)
		}
	}
}

// Whether a move was seen is that of the likeliest way, also where another came first.
func TestUnseenIsThatOfTheLikeliestWay(t *testing.T) {
	w := New(whiteBook("1. e4"), likes{"e5"}, Options{})
	w.next = map[uint64]*State{}
	after := Resolved([]string{"e4"}).End
	m, err := after.Resolve([]byte("e5"))
	if err != nil {
		t.Fatal(err)
	}
	for i, c := range []struct {
		mass   float64
		n      int
		unseen bool
	}{{0.1, 0, true}, {0.4, 3, false}, {0.2, 0, false}} {
		w.goOn(&State{Pos: after, Key: after.Key(), Ply: 1, Reach: Reach{Mass: c.mass}}, &Flow{Likely: profile.Likely{Move: m, N: c.n}}, 1, 1)
		for _, to := range w.next {
			if to.unseen != c.unseen {
				t.Errorf("way %d: unseen %v", i+1, to.unseen)
			}
		}
	}
}

// A note is told with the ply of the move that it stands at.
func TestNotePly(t *testing.T) {
	b := whiteBook("1. e4 e5 2. Nf3 {Castle soon.} Nc6 3. Bb5")
	if text, ply := Resolved(strings.Fields("e4 e5 Nf3 Nc6 Bb5")).Note(b); text != "Castle soon." || ply != 3 {
		t.Errorf("%q at ply %d", text, ply)
	}
}

// uneven is an opponent who plays some moves, where they are legal, as often as said of 100
// games, and others never.
type uneven map[string]float64

func (u uneven) Shares(pos *board.Position) profile.Expected { return u.At(pos) }

func (u uneven) At(pos *board.Position) profile.Expected {
	e := profile.Expected{Strength: 100, Visits: 100}
	for _, m := range pos.Legal(nil) {
		if p := u[pos.SAN(m)]; p > 0 {
			e.Moves = append(e.Moves, profile.Likely{Move: m, Range: profile.Range{P: p}, N: int(100 * p)})
		}
	}
	return e
}

// What to expect ends with a move of theirs, and the other way told beside it is the
// likeliest that goes off the line, at whatever move.
func TestExpectAndAside(t *testing.T) {
	const book = "1. e4 e5 (1... c5 2. Nf3) (1... e6 2. d4) 2. Nf3 Nc6 (2... Nf6 3. Nxe5) (2... d6 3. d4) 3. Bb5"
	for _, c := range []struct {
		shares       uneven
		line, beside string
	}{
		{uneven{"e5": 0.6, "c5": 0.3, "e6": 0.1, "Nc6": 0.7, "Nf6": 0.2, "d6": 0.1}, "e4 e5 Nf3 Nc6", "e4 c5"},
		{uneven{"e5": 0.9, "c5": 0.08, "e6": 0.02, "Nc6": 0.6, "Nf6": 0.1, "d6": 0.3}, "e4 e5 Nf3 Nc6", "e4 e5 Nf3 d6"},
		{uneven{"e5": 0.6, "c5": 0.3, "e6": 0.1, "Nc6": 0.4, "Nf6": 0.35, "d6": 0.25}, "e4 e5", "e4 c5"},
	} {
		w := New(whiteBook(book), c.shares, Options{MaxPly: 12, Threshold: 0.001})
		w.Run(board.Start(), 0)
		s, aside := w.Expect(0.3)
		if got, want := s.Key, Resolved(strings.Fields(c.line)).End; got != want.Key() {
			t.Errorf("%v: the line ends at ply %d, %s, want after %s", c.shares, s.Ply, s.Pos.FEN(), c.line)
		}
		if want := Resolved(strings.Fields(c.beside)).End; aside == nil || aside.Key != want.Key() {
			t.Errorf("%v: beside it %+v, want after %s", c.shares, aside, c.beside)
		}
	}
}

// The orders of moves that lead to a place are those of all ways there.
func TestOrdersToAPlace(t *testing.T) {
	w := New(whiteBook("1. e4"), likes{"e5"}, Options{})
	w.next = map[uint64]*State{}
	after := Resolved([]string{"e4"}).End
	m, err := after.Resolve([]byte("e5"))
	if err != nil {
		t.Fatal(err)
	}
	for _, orders := range []int{2, 3, 1} {
		w.goOn(&State{Pos: after, Key: after.Key(), Ply: 1, Reach: Reach{Mass: 0.1}, Orders: orders}, &Flow{Likely: profile.Likely{Move: m}}, 1, 1)
	}
	for _, to := range w.next {
		if to.Orders != 6 {
			t.Errorf("%v orders, want 6", to.Orders)
		}
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
