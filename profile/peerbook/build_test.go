package peerbook

import (
	"bytes"
	"context"
	"errors"
	"io"
	"os"
	"path/filepath"
	"reflect"
	"slices"
	"strings"
	"testing"

	"foreply/profile/board"
)

// manyGames are n games of four plies, each of which leaves the others at its third ply at the latest.
func manyGames(t testing.TB, n int) []Game {
	var out []Game
	start := board.Start()
	for _, a := range start.Legal(nil) {
		one := start
		one.Play(a)
		for _, b := range one.Legal(nil) {
			two := one
			two.Play(b)
			for _, c := range two.Legal(nil) {
				if len(out) == n {
					return out
				}
				three := two
				three.Play(c)
				out = append(out, Game{Moves: []board.Move{a, b, c, three.Legal(nil)[0]}, Players: by("Ash", "Birch"), Last: someDay + int32(len(out)%7), Result: Result(len(out) % 4)})
			}
		}
	}
	t.Fatalf("only %d games", len(out))
	return nil
}

// Positions of few games are found one after the other and again, when more blocks of games
// were replayed than are kept; their places name no other blocks.
func TestMoreBlocksThanAreKept(t *testing.T) {
	games := manyGames(t, (gamesKept+1)*gamesInBlock)
	b := opened(t, built(t, Options{Plies: 4}, 1, games))
	if few := len(b.keys[len(tiers)].blocks); len(b.games) <= gamesKept || few < len(games)/placeInBlock {
		t.Fatalf("%d blocks of games, %d of places", len(b.games), few)
	}
	few := func(g *Game) (key uint64) {
		pos := board.Start()
		for _, m := range g.Moves[:3] {
			pos.Play(m)
		}
		return pos.Key()
	}
	r := b.Reader()
	for i := range 2 * len(b.games) {
		got, err := r.visits(i % len(b.games))
		fresh, e := b.Reader().visits(i % len(b.games))
		if err != nil || e != nil || !slices.Equal(got, fresh) {
			t.Fatalf("block %d: %d moves, %v, read alone %d, %v", i%len(b.games), len(got), err, len(fresh), e)
		}
	}
	for i := range 2 {
		for k := 0; k < len(games); k += gamesInBlock {
			got, err := r.At(few(&games[k]))
			if k%(16*gamesInBlock) != 0 && i == 0 {
				continue
			}
			alone := b.Reader()
			fresh, e := alone.At(few(&games[k]))
			if err != nil || e != nil || len(got) != 1 || got[0].Move != games[k].Moves[3] || !reflect.DeepEqual(got, fresh) {
				t.Fatalf("round %d, game %d: %v, %v, read alone %v, %v", i, k, got, err, fresh, e)
			}
			if len(alone.played) > int(got[0].Cells[0].Passes)+3 {
				t.Fatalf("game %d: %d blocks were read for %v", k, len(alone.played), got)
			}
		}
	}
}

// tight is a builder for which a few games are many, with one of its workers.
func tight(t *testing.T, folder string) (*Builder, *Worker) {
	t.Helper()
	b := NewBuilder(Options{Plies: 3, Folder: folder})
	t.Cleanup(b.Close)
	w := b.Workers(1)[0]
	w.most = 10 * w.width
	return b, w
}

func add(w *Worker, games []Game) {
	for i := range games {
		w.Add(&games[i], games[i].Last-3)
	}
}

// What goes through the disk lies in a file of the folder that was named, without a name, and is
// closed in the end.
func TestThroughTheDisk(t *testing.T) {
	folder := t.TempDir()
	b, w := tight(t, folder)
	games := manyGames(t, 25)
	add(w, games)
	b.opt.Memory = 400 // the rest goes through the disk, too, and the moves
	var out bytes.Buffer
	if _, err := b.Write(t.Context(), &out); err != nil {
		t.Fatal(err)
	}
	if !bytes.Equal(out.Bytes(), built(t, Options{Plies: 3}, 1, games)) {
		t.Error("other bytes than in memory")
	}
	if b.games == nil || filepath.Dir(b.games.file.Name()) != folder {
		t.Error("nothing went through the folder")
	}
	if left, err := os.ReadDir(folder); err != nil || len(left) > 0 {
		t.Errorf("%v are left, %v", left, err)
	}
	var err error
	if b.visits, err = newRuns(folder, visitBytes); err != nil {
		t.Fatal(err)
	}
	b.Close()
	for _, r := range []*runs{b.games, b.visits} {
		if _, err := r.file.Stat(); !errors.Is(err, os.ErrClosed) {
			t.Errorf("after Close: %v", err)
		}
	}
}

// A disk that fails is told in words and by its own error: the first that failed, whenever it
// did; there is no book then.
func TestDiskThatFails(t *testing.T) {
	games := manyGames(t, 25)
	fails := func(name string, b *Builder, want error, words string) {
		t.Helper()
		about, err := b.Write(t.Context(), io.Discard)
		if about != nil || !errors.Is(err, want) || !strings.HasPrefix(err.Error(), words) {
			t.Errorf("%s: %+v, %v", name, about, err)
		}
	}
	nowhere := filepath.Join(t.TempDir(), "nowhere")
	b, w := tight(t, nowhere)
	add(w, games)
	if err := b.Err(); !errors.Is(err, os.ErrNotExist) {
		t.Errorf("told early: %v", err)
	}
	fails("no folder", b, os.ErrNotExist, "making a file for the games in passing: ")

	b, w = tight(t, t.TempDir())
	add(w, games[:12])
	b.games.file.Close()
	add(w, games[12:])
	b.fail(errDisk)
	fails("written", b, os.ErrClosed, "writing games in passing: ")

	b, w = tight(t, t.TempDir())
	add(w, games[:12])
	b.games.file.Close()
	fails("read", b, os.ErrClosed, "reading games in passing: ")

	b, w = tight(t, nowhere)
	add(w, games[:5])
	sorter := newVisitSorter(b)
	sorter.most = 2
	sorter.add(visit{key: 1})
	sorter.add(visit{key: 2})
	if err := sorter.finish(); !errors.Is(err, os.ErrNotExist) || !strings.HasPrefix(err.Error(), "making a file") {
		t.Errorf("moves without a folder: %v", err)
	}

	b, _ = tight(t, t.TempDir())
	var err error
	if b.visits, err = newRuns(t.TempDir(), visitBytes); err != nil {
		t.Fatal(err)
	}
	b.visits.file.Close()
	sorter = newVisitSorter(b)
	sorter.most = 2
	sorter.add(visit{key: 1})
	sorter.add(visit{key: 2})
	if err := sorter.finish(); !errors.Is(err, os.ErrClosed) {
		t.Errorf("moves that are not written: %v", err)
	}
}

// visits through the disk come back in order, all of them.
func TestSortedVisits(t *testing.T) {
	b, _ := tight(t, t.TempDir())
	s := newVisitSorter(b)
	s.most = 3
	var want []visit
	for i := range uint64(11) {
		v := visit{key: i % 4, rest: 9 - i%5, block: uint32(i)}
		want = append(want, v)
		s.add(v)
	}
	if err := s.finish(); err != nil || s.count != 11 {
		t.Fatalf("%d, %v", s.count, err)
	}
	slices.SortFunc(want, compareVisits)
	var got []visit
	err := merge(s.sources(), func(rec []byte) error {
		got = append(got, visitOf(rec))
		return nil
	})
	if err != nil || !slices.Equal(got, want) {
		t.Errorf("%v, %v, want %v", got, err, want)
	}
}

// records is a source of records, and of an error behind them.
type records struct {
	list []string
	err  error
}

func (r *records) next() ([]byte, error) {
	if len(r.list) == 0 {
		return nil, r.err
	}
	rec := []byte(r.list[0])
	r.list = r.list[1:]
	return rec, nil
}

func TestMergeByHand(t *testing.T) {
	var got []string
	hand := func(rec []byte) error { got = append(got, string(rec)); return nil }
	list := func(texts ...string) *records { return &records{list: texts} }
	err := merge([]source{list("aaaaaaaa9", "bbbbbbbb3"), list(), list("aaaaaaaa1", "bbbbbbbb2", "cccccccc1"), list("0aaaaaaaa", "zzzzzzzzz"), list("aaaaaaaa5")}, hand)
	if want := []string{"0aaaaaaaa", "aaaaaaaa1", "aaaaaaaa5", "aaaaaaaa9", "bbbbbbbb2", "bbbbbbbb3", "cccccccc1", "zzzzzzzzz"}; err != nil || !slices.Equal(got, want) {
		t.Errorf("%v, %q, want %q", err, got, want)
	}
	if err := merge([]source{list("aaaaaaaa9"), &records{err: errDisk}}, hand); err != errDisk {
		t.Errorf("a source that fails at once: %v", err)
	}
	if err := merge([]source{list("aaaaaaaa9"), &records{[]string{"aaaaaaaa1"}, errDisk}}, hand); err != errDisk {
		t.Errorf("a source that fails later: %v", err)
	}
	if err := merge([]source{list("aaaaaaaa9", "aaaaaaaa9")}, func([]byte) error { return errDisk }); err != errDisk {
		t.Errorf("a hand that fails: %v", err)
	}
	r, err := newRuns(t.TempDir(), 8)
	if err != nil {
		t.Fatal(err)
	}
	defer r.close()
	for _, text := range []string{"aaaaaaaacccccccc", "bbbbbbbb"} {
		if err := r.add(len(text)/8, func(put func([]byte)) { put([]byte(text)) }); err != nil {
			t.Fatal(err)
		}
	}
	got = nil
	if err := merge(r.sources(), hand); err != nil || !slices.Equal(got, []string{"aaaaaaaa", "bbbbbbbb", "cccccccc"}) {
		t.Errorf("runs: %q, %v", got, err)
	}
	r.parts[1].size = 5
	if err := merge(r.sources(), hand); !errors.Is(err, io.ErrUnexpectedEOF) || !strings.HasPrefix(err.Error(), "reading games in passing: ") {
		t.Errorf("half a record: %v", err)
	}
}

// full is a place where nothing more can be written.
type full struct{ room int }

func (f *full) Write(b []byte) (int, error) {
	if f.room -= len(b); f.room < 0 {
		return 0, errDisk
	}
	return len(b), nil
}

func TestNoRoomForTheBook(t *testing.T) {
	games := manyGames(t, 1000)
	size := len(built(t, Options{Plies: 3}, 1, games))
	for _, room := range []int{0, size - 1} {
		b := NewBuilder(Options{Plies: 3})
		add(b.Workers(1)[0], games)
		about, err := b.Write(t.Context(), &full{room})
		if about != nil || !errors.Is(err, errDisk) || !strings.HasPrefix(err.Error(), "writing the book: ") {
			t.Errorf("%d bytes of %d: %+v, %v", room, size, about, err)
		}
		b.Close()
	}
}

// Who waits is told how many of all moves are summed up; who breaks off is told why, in either
// half of the work.
func TestProgressAndTheEnd(t *testing.T) {
	games := manyGames(t, 8000)
	var told [][2]int64
	var stop func()
	build := func(ctx context.Context) error {
		b := NewBuilder(Options{Plies: 3, Progress: func(done, of int64) {
			told = append(told, [2]int64{done, of})
			stop()
		}})
		defer b.Close()
		add(b.Workers(1)[0], games)
		_, err := b.Write(ctx, io.Discard)
		return err
	}
	stop = func() {}
	if err := build(t.Context()); err != nil || !slices.Equal(told, [][2]int64{{checkEvery, 24000}}) {
		t.Errorf("%v, %v", told, err)
	}
	why := errors.New("the user went home")
	ctx, cancel := context.WithCancelCause(t.Context())
	cancel(why)
	if err := build(ctx); err != why || len(told) != 1 {
		t.Errorf("%v, told %v", err, told)
	}
	line := toAndFro(t, 40)
	copies := make([]Game, checkEvery) // so many games, and next to no moves to sum up
	for i := range copies {
		copies[i] = Game{Moves: line, Last: someDay}
	}
	games = copies
	if err := build(ctx); err != why || len(told) != 1 {
		t.Errorf("in the first half: %v, told %v", err, told)
	}
}

// Of several errors the first is told.
func TestFirstOf(t *testing.T) {
	other := errors.New("another")
	if firstOf(nil, errDisk, other) != errDisk || firstOf(other, errDisk) != other || firstOf(nil, nil) != nil {
		t.Error("not the first error")
	}
}
