package peerbook

import (
	"bytes"
	"errors"
	"math"
	"math/rand/v2"
	"reflect"
	"slices"
	"testing"

	"foreply/profile/board"
)

// What is written bit by bit is read again, small numbers and the largest.
func TestBits(t *testing.T) {
	rnd := rand.New(rand.NewPCG(8, 8))
	numbers := []uint64{1, 2, 3, 1 << 20, math.MaxUint32, 1<<63 + 5, math.MaxUint64}
	for range 300 {
		numbers = append(numbers, max(rnd.Uint64()>>rnd.IntN(64), 1))
	}
	var w bitWriter
	for _, v := range numbers {
		w.gamma(v)
		w.rice(v>>58, 0)
		w.rice(v, 58)
		w.wide(v, 64)
		w.below(v%31, 31)
		w.below(v%32, 32)
		w.below(0, 1)
		for range 5 {
			w.gamma(v)
		}
	}
	w.pad()
	r := bitReader{buf: w.buf}
	for _, v := range numbers {
		got := []uint64{r.gamma(), r.rice(0), r.rice(58), r.wide(64), r.below(31), r.below(32), r.below(1)}
		five := r.gammas(r.window(), 0)
		if !slices.Equal(got, []uint64{v, v >> 58, v, v, v % 31, v % 32, 0}) || five != [5]uint64{v, v, v, v, v} || r.short {
			t.Fatalf("of %d: %v, %v, short %v", v, got, five, r.short)
		}
	}
	if r.left() > 7 {
		t.Errorf("%d bits are left", r.left())
	}
}

// Without a list of players, as where there are too many, the counts are the same;
// whether there is one doesn't hang on the workers or on books between.
func TestManyPlayers(t *testing.T) {
	games := someGames(11, 800)
	const most = 20 // of 30
	build := func(workers int, games []Game, books ...*Book) []byte {
		b := NewBuilder(Options{})
		defer b.Close()
		b.players.most = most
		for i, w := range b.Workers(workers) {
			for k := i; k < len(games); k += workers {
				w.Add(&games[k], games[k].Last-3)
			}
		}
		return written(t, b, books)
	}
	data := build(1, games)
	b := opened(t, data)
	if list, err := b.players(); err != nil || list.list != nil || list.width != playerBits {
		t.Fatalf("%d players in the list, %v", len(list.list), err)
	}
	same(t, b, counted(games, DefaultPlies), nil, nil)
	few := build(1, games[:8])
	if list, err := opened(t, few).players(); err != nil || list.list == nil {
		t.Fatalf("no list of few players, %v", err)
	}
	rest := opened(t, build(1, games[8:]))
	for _, other := range [][]byte{build(3, games), build(1, nil, rest, opened(t, few)), build(1, nil, opened(t, few), rest)} {
		if !bytes.Equal(other, data) {
			t.Error("other bytes")
		}
	}
	if whole := built(t, Options{}, 1, games); len(whole) >= len(data) {
		t.Errorf("with a list %d bytes, without %d", len(whole), len(data))
	}
}

// As many players as a list may have are one, each once; with one more there is none, for good.
func TestMostPlayers(t *testing.T) {
	set := &playerSet{most: 2}
	for _, p := range []Player{9, 5, 9, 5} {
		set.add(p)
	}
	if got := set.numbered(); !slices.Equal(got.list, []Player{5, 9}) || got.width != 2 || got.number(9) != 1 {
		t.Errorf("%+v", got)
	}
	set.join(&playerSet{list: []Player{5}})
	if got := set.numbered(); len(got.list) != 2 {
		t.Errorf("joined: %+v", got)
	}
	set.join(&playerSet{list: []Player{6}})
	if got := set.numbered(); got.list != nil || got.width != playerBits || got.number(9) != 9 {
		t.Errorf("three: %+v", got)
	}
	if set.add(5); set.numbered().list != nil {
		t.Error("forgotten players are few again")
	}
	few := &playerSet{most: 2}
	few.join(&playerSet{most: -1})
	if few.numbered().list != nil {
		t.Error("joined with too many")
	}
}

func TestIllegalMove(t *testing.T) {
	b := NewBuilder(Options{})
	defer b.Close()
	g := someGames(12, 1)[0]
	g.Moves[2] = board.NullMove
	b.Workers(1)[0].Add(&g, g.Last)
	if _, err := b.Write(t.Context(), &bytes.Buffer{}); !errors.Is(err, errIllegal) {
		t.Errorf("%v", err)
	}
}

// A single pass is told by which of its player it is: the weight comes back to the
// unit, and what is no weight of a pass is written in full.
func TestWeightOfAPass(t *testing.T) {
	for n := uint64(1); n < 300000; n = n*101/100 + 1 {
		weight := weightOf(n) - weightOf(n-1)
		got, ok := passOf(weight)
		if !ok || weightOf(got)-weightOf(got-1) != weight || n < 100 && got != n {
			t.Fatalf("pass %d weighs %d: taken for pass %d, %v", n, weight, got, ok)
		}
	}
	for _, weight := range []uint64{0, Unit - 1, Unit + 1, Unit/2 + 5} {
		if n, ok := passOf(weight); ok {
			t.Errorf("weight %d: taken for pass %d", weight, n)
		}
	}
	cells := []Cell{
		{Day: 731163, Band: 3, Passes: 1, White: 1, Weight: Unit/2 + 5},
		{Day: 731163, Band: 4, Passes: 1, Drawn: 1, Weight: weightOf(9) - weightOf(8)},
		{Day: 731165, Band: 4, Passes: 2, Weight: 2 * Unit},
	}
	w := tierWriter{}
	in := daysFrom(packDay(731163), packDay(731165))
	w.add(9, []Move{{796, cells}}, in)
	w.add(11, []Move{{796, cells}, {797, cells[1:]}}, in)
	sums, details := w.flush()
	f, there, ok := findInTier(sums, 11)
	moves, taken := f.take(new(movesRoom))
	if !there || !ok || !taken || !dated(moves, details[0].bytes, f.index, 2, in) || !reflect.DeepEqual(moves, []Move{{796, cells}, {797, cells[1:]}}) {
		t.Errorf("%v %v %v: %+v", there, ok, taken, moves)
	}
}
