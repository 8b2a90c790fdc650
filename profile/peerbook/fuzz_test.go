package peerbook

import (
	"bytes"
	"encoding/binary"
	"hash/crc32"
	"testing"

	"foreply/profile/board"
)

// resum puts right the checksums of a book whose bytes were changed, as far as
// its parts still stand where they stood, so that what lies behind them is
// reached.
func resum(data []byte, whole *Book) {
	sum := func(at, size uint64) {
		if end := at + size; end+sumBytes <= uint64(len(data)) {
			binary.BigEndian.PutUint32(data[end:], crc32.Checksum(data[at:end], castagnoli))
		}
	}
	for _, g := range whole.games {
		sum(g.at, uint64(g.size)-sumBytes)
	}
	for i := range whole.keys {
		for _, block := range whole.keys[i].blocks {
			sum(block.sums.at, uint64(block.sums.size)-sumBytes)
			for _, d := range block.details {
				sum(d.at, uint64(d.size)-sumBytes)
			}
		}
	}
	about := whole.about
	for _, s := range about.stretches() {
		sum(s.at, s.size)
	}
	end := about.rows.at + about.rows.size + sumBytes
	sum(end, uint64(about.Size)-uint64(tailSize)-sumBytes-end)
	sum(uint64(about.Size)-uint64(tailSize), uint64(tailSize)-sumBytes)
}

// A book whose bytes were changed gives an error or something, but never a panic;
// with its checksums as they were it gives an error.
func FuzzBook(f *testing.F) {
	games := someGames(7, 40)
	whole := built(f, Options{}, 1, games)
	book := opened(f, whole)
	var keys []uint64
	for key := range counted(games, DefaultPlies) {
		keys = append(keys, key)
	}
	f.Add(uint16(100), []byte{1}, true)
	f.Add(uint16(len(whole)-60), []byte{0x80, 0xff}, true)
	f.Add(uint16(len(whole)/2), []byte{0xff, 0xff, 0xff, 0xff}, false)
	f.Fuzz(func(t *testing.T, at uint16, flips []byte, sums bool) {
		data := bytes.Clone(whole)
		for i, flip := range flips {
			data[(int(at)+i)%len(data)] ^= flip
		}
		if bytes.Equal(data, whole) {
			return
		}
		if sums {
			resum(data, book)
		}
		if err := all(data, keys); err == nil && !sums {
			t.Error("changed, and no error")
		}
		if b, err := Open(bytes.NewReader(data), int64(len(data))); err == nil {
			b.Less(Own{Players: []Player{games[0].Players[0]}, Lines: [][]board.Move{games[1].Moves}})
		}
	})
}

// No bytes make a part of a book panic.
func FuzzBlock(f *testing.F) {
	in := daysFrom(37000, 38000)
	w := tierWriter{}
	w.add(7, []Move{{Move: 796, Cells: []Cell{
		{Day: 731163, Band: 3, Class: 2, Passes: 1, White: 1, Weight: Unit},
		{Day: 731164, Band: 3, Class: 2, Passes: 1, White: 1, Weight: Unit},
	}}}, in)
	w.add(1<<60, []Move{{Move: 796, Cells: []Cell{{Day: 731164, Passes: 4, Black: 1, Weight: 2 * Unit}}}}, in)
	sums, details := w.flush()
	f.Add(bytes.Clone(sums), bytes.Clone(details[0].bytes), uint64(1<<60))
	places := placeWriter{}
	places.add(5, []uint32{1})
	places.add(1<<62, []uint32{0, 2, 0})
	f.Add(bytes.Clone(places.flush(2)), []byte(nil), uint64(1<<62))
	book := opened(f, built(f, Options{}, 1, someGames(9, 30)))
	games, err := book.block(book.games[0].stored, nil)
	if err != nil {
		f.Fatal(err)
	}
	list, err := book.players()
	if err != nil {
		f.Fatal(err)
	}
	f.Add(games, list.append(nil), uint64(1))
	f.Fuzz(func(t *testing.T, block, other []byte, key uint64) {
		if f, there, ok := findInTier(block, key); there && ok {
			if moves, ok := f.take(new(movesRoom)); ok {
				dated(moves, other, f.index, f.index+1, in)
			}
		}
		findPlaces(block, key)
		lists := []playerList{list}
		if list, ok := readPlayers(other); ok {
			lists = append(lists, list)
		}
		for _, list := range lists {
			var g blockGames
			var visits []visit
			for g.open(block, DefaultPlies, list, book.days); g.next(); {
				visits = g.visits(visits)
			}
		}
	})
}
