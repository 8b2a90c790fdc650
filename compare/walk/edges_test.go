package walk

import (
	"fmt"
	"math"
	"slices"
	"strings"
	"testing"

	"foreply/compare/book"
	"foreply/compare/fact"
	"foreply/profile"
	"foreply/profile/board"
)

// The likeliest moves that lead on are those that the book or a way back meets, by this place's
// own way; a move that leaves leads nowhere.
func TestLikeliestGoesOn(t *testing.T) {
	s, other := &State{}, &State{}
	from := func(via *State, key uint64, mass float64) *State {
		return &State{Key: key, Ply: 1, Via: via, Reach: Reach{Mass: mass}}
	}
	next := map[Key]*State{}
	for _, to := range []*State{from(s, 1, 0.4), from(s, 2, 0.3), from(s, 3, 0.2), from(other, 4, 0.9), from(s, 5, 0.1)} {
		next[Key{to.Key, 1}] = to
	}
	flows := []Flow{{To: 5, Written: true}, {To: 3, Back: &Back{}}, {To: 1}, {To: 2, Meets: true}, {To: 4, Written: true}, {To: 6, Written: true}}
	s.Flows = flows
	best, second := Likeliest(s, next)
	if best.Key != 2 || second.Key != 3 {
		t.Errorf("%d, then %d", best.Key, second.Key)
	}
	if s.Flows = flows[2:3]; true {
		if best, second := Likeliest(s, next); best != nil || second != nil {
			t.Errorf("%+v, %+v", best, second)
		}
	}
}

// Where a game is over, at the limit or where the book ends is told of a place from which nothing
// goes on, be it by a way back or another order.
func TestStops(t *testing.T) {
	w := &Walk{Book: whiteBook("1. e4"), Ends: map[EndKey]*End{}}
	end := func(kind string, key uint64) *End {
		e := &End{EndKey: EndKey{Kind: kind, Key: key, Ply: 3}}
		w.Ends[e.EndKey] = e
		return e
	}
	over, limit, ends := end(fact.GameOver, 1), end(fact.LimitInBook, 2), end(fact.BookEnds, 3)
	for key, want := range map[uint64]*End{1: over, 2: limit, 3: ends, 4: nil} {
		if got := w.stops(&State{Key: key, Ply: 3}); got != want {
			t.Errorf("%d: %+v", key, got)
		}
	}
	for _, f := range []Flow{{Written: true}, {Meets: true}, {Back: &Back{}}} {
		if got := w.stops(&State{Key: 3, Ply: 3, Flows: []Flow{{}, f}}); got != nil {
			t.Errorf("%+v: %+v", f, got)
		}
	}
	if got := w.stops(&State{Key: 3, Ply: 3, Flows: []Flow{{}, {}}}); got != ends {
		t.Errorf("nothing goes on: %+v", got)
	}
	// Who leaves where no move is written here, though one meets the book, comes to its end.
	meets := Flow{Meets: true, Likely: profile.Likely{N: 4}}
	if got := w.left(&State{Key: 3, Ply: 3, Flows: []Flow{{}, meets}}, &Flow{To: 9, Likely: profile.Likely{N: 1}}); got != ends {
		t.Errorf("%+v", got)
	}
	ways := []way{{from: &State{}, p: 0.5}}
	from := &State{}
	// A game that goes where the walk did not follow is no open line.
	start := &State{Pos: board.Start(), Flows: []Flow{{Written: true, To: 5, Likely: profile.Likely{Move: Resolved([]string{"e4"}).Moves[0]}}}}
	if f := (&Walk{Book: w.Book, Order: []*State{start}}).Follow(nil, Resolved([]string{"e4", "e5"}).Moves); f.Open || f.End != nil || len(f.States) != 1 {
		t.Errorf("%+v", f)
	}
	if got := fromOne(append(ways, way{from, 0.2}, way{from, 0.1}), from); math.Abs(got-0.3) > near {
		t.Errorf("two ways from one place: %v", got)
	}
}

// Plies of moves never seen, and of ways back, in the order of the line.
func TestPliesInOrder(t *testing.T) {
	w := walked(whiteBook("1. d4 d5 2. c4 e6 3. Nc3 Nf6 4. Bg5"), chances{"d4": "d5 100 0", "d4 d5 c4": "e6 100 3", "d4 d5 c4 e6 Nc3": "Nf6 100 0"}, Options{MaxPly: 10, Threshold: 0.01})
	if got := NotSeen(w.Sorted()[0].At); !slices.Equal(got, []int{2, 6}) {
		t.Errorf("not seen %v", got)
	}
	white, black := Resolved([]string{"e4", "e5"}).End, Resolved([]string{"e4"}).End
	var s *State
	for ply := range 7 {
		next := &State{Ply: ply, Pos: [2]board.Position{white, black}[ply%2], Via: s, Flows: []Flow{{}, {}}}
		if ply == 2 || ply == 4 {
			next.Flows = []Flow{{Back: &Back{}}}
		}
		if ply == 5 { // their only move, which a way back meets
			next.Flows = []Flow{{Back: &Back{}}}
		}
		s = next
	}
	if got := BackAt(s, board.White); !slices.Equal(got, []int{3, 5}) {
		t.Errorf("ways back %v", got)
	}
}

// Of what they play next those moves count as answered that the book answers or a way back meets,
// not those it writes without an answer; a walk cut at once has no depth.
func TestAnsweredAndDepth(t *testing.T) {
	w := walked(whiteBook("1. d4 d5 (1... e6) 2. c4"), chances{"d4": "d5 60 6 e6 30 3 f5 10 1"}, Options{MaxPly: 10, Threshold: 0.01})
	if got := w.From(Resolved([]string{"d4"}).End, 1).AnsweredNext(); math.Abs(got-0.6) > near {
		t.Errorf("answered %v", got)
	}
	if got := (&Walk{}).Depth(); got != 0 {
		t.Errorf("no lines: depth %v", got)
	}
	// From ply 9 on: all lines end a ply later or so, not at the start.
	if got := w.From(Resolved([]string{"d4", "e6"}).End, 8).Depth(); got != 5 {
		t.Errorf("depth %v", got)
	}
}

// Of two notes on a line the later counts; a track with a move more leaves the first as it was.
func TestNearestNote(t *testing.T) {
	b := whiteBook("1. e4 { First. } e5 2. Nf3 { Last. } Nc6 3. Bb5")
	if text, ply := Resolved(strings.Fields("e4 e5 Nf3 Nc6")).Note(b); text != "Last." || ply != 3 {
		t.Errorf("%q at ply %d", text, ply)
	}
	one := Resolved([]string{"d4", "d5"})
	moves := make([]board.Move, 2, 5)
	copy(moves, one.Moves)
	track := NewTrack(moves)
	c4, nf3 := Resolved([]string{"d4", "d5", "c4"}).Moves[2], Resolved([]string{"d4", "d5", "Nf3"}).Moves[2]
	first, second := track.And(c4), track.And(nf3)
	if told(first.Moves) != "d4 d5 c4" || told(second.Moves) != "d4 d5 Nf3" {
		t.Errorf("%s and %s", told(first.Moves), told(second.Moves))
	}
	head := book.New(board.White)
	for g := range games("1. e4 *") {
		head.Add(g)
	}
	if _, line := Resolved([]string{"e4", "e5"}).Spot(head); line != 1 {
		t.Errorf("line %d", line)
	}
}

// States come heaviest first, of equals by their position; ends of the same reach the nearer first.
func TestOrderOfEquals(t *testing.T) {
	level := map[uint64]*State{}
	for key, mass := range map[uint64]float64{7: 0.2, 3: 0.2, 5: 0.6} {
		level[key] = &State{Key: key, Reach: Reach{Mass: mass}}
	}
	var got []string
	for _, s := range byMass(level) {
		got = append(got, fmt.Sprint(s.Key))
	}
	w := &Walk{Ends: map[EndKey]*End{}}
	for i, e := range []End{{EndKey: EndKey{Kind: "b", Key: 1, Ply: 4}}, {EndKey: EndKey{Kind: "a", Key: 1, Ply: 4}}, {EndKey: EndKey{Kind: "z", Key: 9, Ply: 2}}, {EndKey: EndKey{Kind: "a", Key: 8, Ply: 4}}} {
		e.Mass = 0.2
		if i == 3 {
			e.Mass = 0.4
		}
		w.Ends[e.EndKey] = &e
	}
	for _, e := range w.Sorted() {
		got = append(got, fmt.Sprint(e.Kind, e.Key))
	}
	if want := []string{"5", "3", "7", "a8", "z9", "a1", "b1"}; !slices.Equal(got, want) {
		t.Errorf("%q", got)
	}
}

// Mate at the limit is the end of the game; what the user plays by a way back is not written.
func TestEndsAndWrittenMoves(t *testing.T) {
	b := book.New(board.Black)
	for g := range games("1. f3 e5 2. g4 Qh4# *") {
		b.Add(g)
	}
	w := walked(b, chances{"": "f3 100 1", "f3 e5": "g4 100 1"}, Options{MaxPly: 4, Threshold: 0.01})
	if e := w.Sorted()[0]; len(w.Ends) != 1 || e.Kind != fact.GameOver {
		t.Errorf("%+v", e)
	}
	const text = "1. d4 d5 2. c4 e6 3. Nc3 Nf6 4. Bg5"
	look := chances{"d4": "e6 70 4 d5 30 1", "d4 e6 c4": "d5 90 3 f5 10 1", "d4 d5 c4": "e6 100 1"}
	ways := whiteBook(text)
	for from, back := range map[float64]bool{0.7: true, 0.71: false} {
		w := walked(ways, look, Options{MaxPly: 10, Threshold: 0.01, Ways: NewWays(ways, look), BackFrom: from})
		e6 := Resolved([]string{"d4", "e6"}).End
		s := w.ByPlace()[Key{e6.Key(), 2}]
		if (s != nil) != back || back && (s.Flows[0].Written || s.Flows[0].Back == nil) {
			t.Errorf("looked for from %v: %+v", from, s)
		}
	}
	only := chances{"d4": "e6 100 4", "d4 e6 c4": "d5 90 3 f5 10 1"}
	w = walked(ways, only, Options{MaxPly: 10, Threshold: 0.01, Ways: NewWays(ways, only), BackFrom: 0.01})
	if s := w.Order[1]; len(s.Flows) != 1 || s.Flows[0].Back == nil || len(w.Order) < 4 {
		t.Errorf("nothing but a way back meets them: %+v", s)
	}
}

// Where no move is written, but one meets the book, what they play else is its end, with the
// second moment of them all together; a move written here is none that comes from another order.
func TestEndBesideAnotherOrder(t *testing.T) {
	b := whiteBook("1. c4 e6 2. d4 *\n\n1. d4 d5 2. c4 e6 3. Nc3")
	w := walked(b, chances{"c4": "e6 100 9", "c4 e6 d4": "d5 50 5 Nf6 30 3 b6 20 0"}, Options{MaxPly: 10, Threshold: 0.01})
	got := map[string]*End{}
	for _, e := range w.Sorted() {
		got[e.Kind+" "+told(e.At.Path())] = e
	}
	e := got["book_ends c4 e6 d4"]
	if len(got) != 2 || e == nil || math.Abs(e.Mass-0.5) > near || math.Abs(e.Square-0.5*(0.5*10+1)/11) > near {
		t.Errorf("%+v", got)
	}
	for _, f := range state(t, w, "c4").Flows {
		if !f.Written || f.Meets {
			t.Errorf("%+v", f)
		}
	}
}

// Of equal ways to a place, or to an end, the first is told; an end's orders are those of all.
func TestFirstOfEqualWays(t *testing.T) {
	w := New(whiteBook("1. e4"), likes{"e5"}, Options{})
	w.next = map[uint64]*State{}
	after := Resolved([]string{"e4"}).End
	m := Resolved([]string{"e4", "e5"}).Moves[1]
	var from []*State
	for i := range 3 {
		s := &State{Pos: after, Key: after.Key(), Ply: 1, Reach: Reach{Mass: 0.2}, Orders: i + 1}
		from = append(from, s)
		w.goOn(s, &Flow{Likely: profile.Likely{Move: m}}, 0.5, 0.25)
		w.leave(s, &Flow{To: 77, Likely: profile.Likely{Move: m, N: i, Range: profile.Range{P: 0.5}}}, 10)
	}
	for _, to := range w.next {
		if to.Via != from[0] {
			t.Error("not by the first way")
		}
	}
	e := w.Ends[EndKey{Kind: fact.TheyLeave, Key: 77, Ply: 2}]
	if e == nil || e.At != from[0] || e.Orders != 6 || e.Leave != m || e.Likely.N != 0 {
		t.Errorf("%+v", e)
	}
}

// Of ways back that come as often, are as usual and as likely the one by the lower move is taken;
// stalemate is no mate.
func TestBackOfEquals(t *testing.T) {
	low, high := &Back{Move: 3}, &Back{Move: 4}
	if !better(low, high) || better(high, low) {
		t.Error("of equals the lower move")
	}
	usual, likelier := &Back{Move: 9, uses: 2, Range: profile.Range{P: 0.71}}, &Back{Move: 3, uses: 1, Range: profile.Range{P: 0.74}}
	if !better(usual, likelier) || better(likelier, usual) || !better(&Back{Range: profile.Range{P: 0.8}}, usual) {
		t.Error("tenths first, then what is usual")
	}
}
