package peerbook

import (
	"bytes"
	"errors"
	"fmt"
	"math/rand/v2"
	"reflect"
	"slices"
	"sync"
	"testing"

	"foreply/profile/board"
)

// someGames makes games up: few players, openings that repeat and meet, copies
// under other names and dates.
func someGames(seed uint64, n int) []Game {
	rnd := rand.New(rand.NewPCG(seed, 3))
	var games []Game
	for range n {
		if len(games) > 0 && rnd.IntN(10) == 0 { // a copy
			g := games[rnd.IntN(len(games))]
			g.Last += int32(rnd.IntN(3)) - 1
			g.Players[rnd.IntN(2)] = PlayerOf("copied", fmt.Sprint(rnd.IntN(4)))
			games = append(games, g)
			continue
		}
		g := Game{
			Last: int32(731163 + rnd.IntN(60)), Class: uint8(rnd.IntN(5)), Result: Result(rnd.IntN(4)), Marks: uint8(rnd.IntN(64)),
			Ratings: [2]int{rnd.IntN(3200) - 200, 1500 + rnd.IntN(400)},
		}
		for c := range g.Players {
			who := rnd.IntN(30)
			g.Players[c] = PlayerOf(fmt.Sprint("surname ", who/2), fmt.Sprint("name ", who))
		}
		pos := board.Start()
		for ply := range 6 + rnd.IntN(Depth-5) {
			legal := pos.Legal(nil)
			if len(legal) == 0 {
				break
			}
			m := legal[rnd.IntN(min(len(legal), 2+ply/8))] // mostly the same few
			g.Moves = append(g.Moves, m)
			pos.Play(m)
		}
		games = append(games, g)
	}
	return games
}

func built(t testing.TB, opt Options, workers int, games []Game, books ...*Book) []byte {
	t.Helper()
	b := NewBuilder(opt)
	defer b.Close()
	var all sync.WaitGroup
	for k, w := range b.Workers(workers) {
		all.Go(func() {
			for i := k; i < len(games); i += workers {
				w.Add(&games[i], games[i].Last-3)
			}
		})
	}
	all.Wait()
	return written(t, b, books)
}

// written is the book of what a builder has, and books.
func written(t testing.TB, b *Builder, books []*Book) []byte {
	t.Helper()
	for _, book := range books {
		if err := b.AddBook(book); err != nil {
			t.Fatal(err)
		}
	}
	var out bytes.Buffer
	if _, err := b.Write(t.Context(), &out); err != nil {
		t.Fatal(err)
	}
	return out.Bytes()
}

func opened(t testing.TB, data []byte) *Book {
	t.Helper()
	b, err := Open(bytes.NewReader(data), int64(len(data)))
	if err != nil {
		t.Fatal(err)
	}
	return b
}

// counted counts in the plainest way.
func counted(games []Game, plies int) map[uint64][]Move {
	type pass struct {
		player uint32
		cell   Cell
		result Result
	}
	kept := slices.Clone(games)
	slices.SortStableFunc(kept, func(a, b Game) int {
		return bytes.Compare(appendRecord(nil, &a, plies), appendRecord(nil, &b, plies))
	})
	kept = slices.CompactFunc(kept, func(a, b Game) bool {
		return len(b.Moves) >= alikePlies && slices.Equal(a.Moves, b.Moves)
	})
	passes := map[uint64]map[board.Move][]pass{}
	for _, g := range kept {
		pos := board.Start()
		for i, m := range g.Moves[:min(len(g.Moves), plies)] {
			at := passes[pos.Key()]
			if at == nil {
				at = map[board.Move][]pass{}
				passes[pos.Key()] = at
			}
			at[m] = append(at[m], pass{g.Players[i&1].Surname(), Cell{Day: g.Last, Band: BandOf(g.Ratings[i&1]), Class: g.Class}, g.Result})
			pos.Play(m)
		}
	}
	out := map[uint64][]Move{}
	for key, moves := range passes {
		for m, list := range moves {
			slices.SortStableFunc(list, func(a, b pass) int { return compareCells(&a.cell, &b.cell) })
			before, move := map[uint32]uint64{}, Move{Move: m}
			for _, p := range list {
				before[p.player]++
				n := before[p.player]
				p.cell.add(p.result, weightOf(n)-weightOf(n-1))
				move.Cells = append(move.Cells, p.cell)
			}
			move.Cells = together(move.Cells)
			out[key] = append(out[key], move)
		}
		slices.SortFunc(out[key], func(a, b Move) int { return int(a.Move) - int(b.Move) })
	}
	return out
}

func same(t *testing.T, b *Book, want map[uint64][]Move, from, fromTotal func(uint64, []Move) []Move) {
	t.Helper()
	r := b.Reader()
	for key, moves := range want {
		got, err := r.At(key)
		if err != nil {
			t.Fatal(err)
		}
		if from != nil {
			got = from(key, got)
		}
		if !reflect.DeepEqual(got, moves) {
			t.Fatalf("%x:\n%v, want\n%v", key, got, moves)
		}
		total, err := r.Total(key)
		if err != nil {
			t.Fatal(err)
		}
		if fromTotal != nil {
			total = fromTotal(key, total)
		}
		for i := range total {
			if !reflect.DeepEqual(total[i].Cells, moves[i].total()) || total[i].Move != moves[i].Move {
				t.Fatalf("%x: in total %v, want %v", key, total[i], moves[i].total())
			}
		}
		if got, err := r.At(key + 1); got != nil || err != nil {
			t.Fatalf("%x, which isn't there: %v, %v", key+1, got, err)
		}
	}
}

// What is counted is what a plain count gives, whatever the depth, the workers
// and the memory, and the bytes are the same.
func TestBookIsTheCount(t *testing.T) {
	games, depths := someGames(1, 2500), []int{12, 24, 40}
	if testing.Short() { // with the race detector they take over ten minutes of a busy machine
		depths = depths[:1]
	}
	for _, plies := range depths {
		data := built(t, Options{Plies: plies}, 1, games)
		b := opened(t, data)
		want := counted(games, plies)
		same(t, b, want, nil, nil)
		a := b.About()
		if int(a.Positions) != len(want) || a.Twice == 0 || a.Plies != plies || a.First >= a.Last || a.Size != int64(len(data)) {
			t.Errorf("%+v, want %d positions", a, len(want))
		}
		for i := range b.keys {
			if len(b.keys[i].blocks) == 0 && (i == len(tiers) || tiers[i] <= 1024) {
				t.Errorf("%d plies: no block of kind %d, so the test tells nothing of it", plies, i)
			}
		}
		for _, workers := range []int{1, 3} {
			if !bytes.Equal(built(t, Options{Plies: plies, Memory: 1}, workers, games), data) {
				t.Errorf("%d plies, %d workers through the disk: other bytes", plies, workers)
			}
		}
	}
}

// Merged books are the book of all their games, to the byte.
func TestMergeIsOneBuild(t *testing.T) {
	games := someGames(2, 2500)
	want := built(t, Options{}, 2, games)
	part := func(from, to int) *Book { return opened(t, built(t, Options{}, 1, games[from:to])) }
	one, two, three := part(0, 500), part(500, 501), part(501, 2500)
	if got := built(t, Options{}, 1, nil, two, three, one); !bytes.Equal(got, want) {
		t.Error("three books merged: other bytes than one build")
	}
	if got := built(t, Options{Memory: 1}, 1, games[:501], three); !bytes.Equal(got, want) {
		t.Error("a book and games: other bytes than one build")
	}
	if got := built(t, Options{}, 1, nil, opened(t, want)); !bytes.Equal(got, want) {
		t.Error("a book of a book: other bytes")
	}
	if err := NewBuilder(Options{Plies: 12}).AddBook(one); !errors.Is(err, ErrOther) {
		t.Errorf("a book of another depth: %v", err)
	}
}

// Without somebody's games the book counts as one built without them.
func TestLess(t *testing.T) {
	games := someGames(3, 1500)
	b := opened(t, built(t, Options{}, 2, games))
	me := PlayerOf("surname 4", "name 9")
	own := Own{Players: []Player{me}}
	for i := 0; i < len(games); i += 29 {
		own.Lines = append(own.Lines, games[i].Moves)
	}
	less, err := b.Less(own)
	if err != nil {
		t.Fatal(err)
	}
	mine := func(g Game) bool {
		return slices.Contains(g.Players[:], me) || slices.ContainsFunc(own.Lines, func(l []board.Move) bool { return slices.Equal(l, g.Moves) })
	}
	// Which copy of a game counts is decided before.
	kept := slices.Clone(games)
	slices.SortStableFunc(kept, func(a, b Game) int {
		return bytes.Compare(appendRecord(nil, &a, DefaultPlies), appendRecord(nil, &b, DefaultPlies))
	})
	kept = slices.CompactFunc(kept, func(a, b Game) bool {
		return len(b.Moves) >= alikePlies && slices.Equal(a.Moves, b.Moves)
	})
	all := len(kept)
	var taken []Game // in the order of the book
	for _, g := range kept {
		if mine(g) {
			taken = append(taken, g)
		}
	}
	kept = slices.DeleteFunc(kept, mine)
	if len(less.Games) != all-len(kept) || len(less.Games) < 100 {
		t.Fatalf("%d games taken out, want %d", len(less.Games), all-len(kept))
	}
	for i, g := range less.Games {
		if g.Players != taken[i].Players || g.Last != taken[i].Last || g.Marks != taken[i].Marks {
			t.Fatalf("game %d taken out is %+v, want %+v", i, g, taken[i])
		}
	}
	same(t, b, counted(kept, DefaultPlies), less.From, less.FromTotal)
	none, err := b.Less(Own{Players: []Player{PlayerOf("nobody", "nobody")}, Lines: [][]board.Move{nil}})
	if err != nil || len(none.Games) > 0 {
		t.Errorf("nobody's games: %v, %v", none, err)
	}
}

// Of games with the opponent's moves those of another day than theirs are others'.
func TestLinesOfAnotherDay(t *testing.T) {
	games := someGames(6, 40)
	line := games[0].Moves
	var list []Game
	for i, players := range [][2]string{{"Ash", "Birch"}, {"Cedar", "Dale"}} {
		list = append(list, Game{Moves: line[:min(len(line), 12)], Players: [2]Player{PlayerOf(players[0], players[0]), PlayerOf(players[1], players[1])}, Last: int32(731163 + 400*i)})
	}
	b := opened(t, built(t, Options{}, 1, list))
	less, err := b.Less(Own{Lines: [][]board.Move{nil, list[0].Moves}, Fits: func(line int, day int32) bool { return line == 1 && day == list[0].Last }})
	if err != nil || len(less.Games) != 1 || less.Games[0].Last != list[0].Last {
		t.Errorf("%v, %v", less.Games, err)
	}
}

// Positions that few games passed can be left out.
func TestLeast(t *testing.T) {
	games := someGames(4, 1000)
	b := opened(t, built(t, Options{Least: 3}, 1, games))
	want := counted(games, DefaultPlies)
	var few []uint64
	for key, moves := range want {
		passes := 0
		for _, m := range moves {
			for _, c := range m.Cells {
				passes += int(c.Passes)
			}
		}
		if passes < 3 {
			few = append(few, key)
			delete(want, key)
		}
	}
	r := b.Reader()
	for _, key := range few {
		if moves, err := r.At(key); moves != nil || err != nil {
			t.Fatalf("%x, which too few games reached: %v, %v", key, moves, err)
		}
	}
	if int(b.About().Positions) != len(want) {
		t.Errorf("%d positions, want %d", b.About().Positions, len(want))
	}
	same(t, b, want, nil, nil)
}

// A book of one move.
func TestSmallestBook(t *testing.T) {
	b := opened(t, built(t, Options{Plies: 1}, 1, []Game{{Moves: line(t, "e2e4"), Last: someDay, Result: Drawn}}))
	start := board.Start()
	moves, err := b.Reader().At(start.Key())
	if want := []Move{{line(t, "e2e4")[0], []Cell{{Day: someDay, Passes: 1, Drawn: 1, Weight: Unit}}}}; err != nil || !reflect.DeepEqual(moves, want) {
		t.Errorf("%v, %v", moves, err)
	}
}

func TestEmptyBook(t *testing.T) {
	b := opened(t, built(t, Options{}, 1, nil))
	if moves, err := b.Reader().At(5); moves != nil || err != nil || b.About().Games != 0 {
		t.Errorf("%v, %v, %+v", moves, err, b.About())
	}
	if _, err := b.Less(Own{Players: []Player{1}, Lines: [][]board.Move{nil}}); err != nil {
		t.Error(err)
	}
}

// all reads everything of a book; the error is the first.
func all(data []byte, keys []uint64) error {
	b, err := Open(bytes.NewReader(data), int64(len(data)))
	if err != nil {
		return err
	}
	if _, err := b.Rows(); err != nil {
		return err
	}
	r := b.Reader()
	for _, key := range keys {
		if _, err := r.At(key); err != nil {
			return err
		}
	}
	s := &bookSource{book: b}
	for {
		rec, err := s.next()
		if rec == nil || err != nil {
			return err
		}
	}
}

// Whatever byte is another, and wherever the file ends, it is told.
func TestDamage(t *testing.T) {
	games := someGames(6, 60)
	data := built(t, Options{}, 1, games)
	var keys []uint64
	for key := range counted(games, DefaultPlies) {
		keys = append(keys, key)
	}
	if err := all(data, keys); err != nil {
		t.Fatal(err)
	}
	rnd := rand.New(rand.NewPCG(1, 2))
	for i := range data {
		if i > 64 && i < len(data)-256 && rnd.IntN(8) > 0 { // ends at each byte, between at some
			continue
		}
		flipped := slices.Clone(data)
		flipped[i] ^= 1 << rnd.IntN(8)
		if err := all(flipped, keys); err == nil {
			t.Fatalf("byte %d of %d is another: no error", i, len(data))
		}
		if err := all(data[:i], keys); err == nil {
			t.Fatalf("cut at byte %d of %d: no error", i, len(data))
		}
	}
	for text, want := range map[string]error{
		"": ErrForeign, "[Event \"?\"]\n": ErrForeign, "foreply peers 4\nmore and more and more and more": ErrVersion,
		Head: ErrCut, string(data[:len(data)/2]): ErrCut, string(data) + "x": ErrCut,
	} {
		if err := all([]byte(text), nil); !errors.Is(err, want) {
			t.Errorf("%.20q: %v, want %v", text, err, want)
		}
	}
}
