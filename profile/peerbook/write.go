package peerbook

import (
	"bufio"
	"cmp"
	"encoding/binary"
	"fmt"
	"hash/crc32"
	"io"
	"maps"
	"slices"

	"foreply/profile/board"
)

const (
	// Head is what every book begins with.
	Head     = "foreply peers 1\n"
	headName = "foreply peers "
	tailMark = "endpeers"
	tailSize = 8 + 4 + 4 + len(tailMark) + 8
	sumBytes = 4
)

var castagnoli = crc32.MakeTable(crc32.Castagnoli)

// writer writes a book from its beginning to its end.
type writer struct {
	out       *bufio.Writer
	at        uint64
	err       error
	days      days
	about     About
	games     gameWriter
	positions blockWriter
	firstKey  uint64 // of the block in the making
	gameIndex []byte // for each block its length and games
	keyIndex  []byte // for each block its length and first key less that of the one before
	indexed   uint64 // first key of the newest block
	rows      map[rowKey]*rowSum
}

type rowKey struct {
	class uint8
	bands [2]uint8
}

type rowSum struct {
	days  map[uint16]uint32
	marks [1 << markBits]uint32
}

func newWriter(to io.Writer, b *Builder) *writer {
	w := &writer{out: bufio.NewWriterSize(to, 1<<18), rows: map[rowKey]*rowSum{}}
	w.days = daysFrom(b.days.first, b.days.last)
	w.about = About{Plies: b.opt.Plies, Least: b.opt.Least, Filter: b.opt.Filter, Tally: b.tally}
	if b.days.any {
		w.about.First, w.about.Last = b.first, unpackDay(b.days.last)
	}
	w.games.width = recordWidth(b.opt.Plies)
	w.bytes([]byte(Head))
	return w
}

func (w *writer) bytes(b []byte) {
	if w.err == nil {
		_, w.err = w.out.Write(b)
	}
	w.at += uint64(len(b))
}

// block writes bytes and their checksum, and returns the length of both.
func (w *writer) block(b []byte) uint64 {
	w.bytes(b)
	w.bytes(binary.BigEndian.AppendUint32(nil, crc32.Checksum(b, castagnoli)))
	return uint64(len(b) + sumBytes)
}

func (w *writer) game(r record) {
	w.about.Games++
	key := rowKey{r.classResult() >> 2, [2]uint8{r.band(board.White), r.band(board.Black)}}
	row := w.rows[key]
	if row == nil {
		row = &rowSum{days: map[uint16]uint32{}}
		w.rows[key] = row
	}
	row.days[r.day()]++
	row.marks[r.marks()]++
	w.games.add(r)
	if w.games.len() == gamesInBlock {
		w.flushGames()
	}
}

func (w *writer) flushGames() {
	n := w.games.len()
	if n == 0 {
		return
	}
	size := w.block(w.games.flush(w.days))
	w.gameIndex = binary.AppendUvarint(binary.AppendUvarint(w.gameIndex, size), uint64(n))
}

func (w *writer) endGames() {
	w.flushGames()
	w.about.positionsAt = w.at
}

func (w *writer) position(key uint64, moves []Move) {
	if len(w.positions.keys) > 0 && (w.positions.size() >= blockBytes || len(w.positions.keys) == 1<<countBits-1) {
		w.flushPositions()
	}
	if len(w.positions.keys) == 0 {
		w.firstKey = key
	}
	w.positions.add(key, moves, w.days)
	w.about.Positions++
	w.about.Moves += int64(len(moves))
	for i := range moves {
		for k := range moves[i].Cells {
			w.about.Passes += int64(moves[i].Cells[k].Passes)
		}
	}
}

func (w *writer) flushPositions() {
	size := w.block(w.positions.flush())
	w.keyIndex = binary.AppendUvarint(binary.AppendUvarint(w.keyIndex, size), w.firstKey-w.indexed)
	w.indexed = w.firstKey
}

func (w *writer) endPositions() {
	if len(w.positions.keys) > 0 {
		w.flushPositions()
	}
}

// finish writes what stands behind the blocks.
func (w *writer) finish() (*About, error) {
	a := &w.about
	a.gameIndex = w.stretch(w.gameIndex)
	a.keyIndex = w.stretch(w.keyIndex)
	a.rows = w.stretch(w.rowBytes())
	text := a.append(nil, w.days)
	at := w.at
	w.block(text)
	tail := binary.BigEndian.AppendUint64(nil, at)
	tail = binary.BigEndian.AppendUint32(tail, uint32(len(text)))
	tail = append(tail, tailMark...)
	tail = binary.BigEndian.AppendUint64(tail, w.at+uint64(tailSize))
	tail = binary.BigEndian.AppendUint32(tail, crc32.Checksum(tail, castagnoli))
	w.bytes(tail)
	if w.err == nil {
		w.err = w.out.Flush()
	}
	if w.err != nil {
		return nil, fmt.Errorf("writing the book: %w", w.err)
	}
	a.Size = int64(w.at)
	return a, nil
}

// stretch is a part of the file, its checksum left aside.
type stretch struct{ at, size uint64 }

func (w *writer) stretch(b []byte) stretch {
	s := stretch{w.at, uint64(len(b))}
	w.block(b)
	return s
}

func (w *writer) rowBytes() []byte {
	keys := slices.SortedFunc(maps.Keys(w.rows), func(a, b rowKey) int {
		return cmp.Or(cmp.Compare(a.class, b.class), slices.Compare(a.bands[:], b.bands[:]))
	})
	out := binary.AppendUvarint(nil, uint64(len(keys)))
	for _, key := range keys {
		row := w.rows[key]
		out = append(out, key.class, key.bands[0], key.bands[1])
		out = binary.AppendUvarint(out, uint64(len(row.days)))
		before := w.days.base
		for _, day := range slices.Sorted(maps.Keys(row.days)) {
			out = binary.AppendUvarint(binary.AppendUvarint(out, uint64(day-before)), uint64(row.days[day]))
			before = day
		}
		for _, n := range row.marks {
			out = binary.AppendUvarint(out, uint64(n))
		}
	}
	return out
}
