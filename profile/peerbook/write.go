package peerbook

import (
	"bufio"
	"cmp"
	"encoding/binary"
	"errors"
	"fmt"
	"hash/crc32"
	"io"
	"maps"
	"slices"

	"foreply/profile/board"
)

const (
	// Head is what every book begins with; AnyHead, what those of other versions do.
	Head     = AnyHead + "3\n"
	AnyHead  = "foreply peers "
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
	players   playerList
	games     gameWriter
	gameIndex []byte // for each block its length and games
	blocks    int    // of games
	tiers     [len(tiers)]tierWriter
	places    placeWriter
	indexes   [len(tiers) + 1]keyIndex // of the tiers and of the places
	rows      map[rowKey]*rowSum
}

// keyIndex says where the blocks of a kind are: of each how far behind the one before
// it begins, how long its first part is, how many others there are and of each its
// positions and its length; and its first key less that of the one before.
type keyIndex struct {
	text []byte
	at   uint64 // of the newest block
	key  uint64
}

func (x *keyIndex) add(at, key, size uint64, details ...uint64) {
	x.text = binary.AppendUvarint(x.text, at-x.at)
	x.text = binary.AppendUvarint(x.text, size)
	x.text = binary.AppendUvarint(x.text, uint64(len(details)/2))
	for _, v := range details {
		x.text = binary.AppendUvarint(x.text, v)
	}
	x.text = binary.AppendUvarint(x.text, key-x.key)
	x.at, x.key = at, key
}

type rowKey struct {
	class uint8
	bands [2]uint8
}

// rowSum has its days by the page, so that it takes as much for many games as for
// more.
type rowSum struct {
	days  map[uint16]*[dayPage]uint32
	marks [1 << markBits]uint32
}

const dayPage = 64

func newWriter(to io.Writer, b *Builder) *writer {
	w := &writer{out: bufio.NewWriterSize(to, 1<<18), rows: map[rowKey]*rowSum{}}
	w.days = daysFrom(b.days.first, b.days.last)
	w.about = About{Plies: b.opt.Plies, Least: b.opt.Least, Filter: b.opt.Filter, Tally: b.tally}
	if b.days.any {
		w.about.First, w.about.Last = b.first, unpackDay(b.days.last)
	}
	w.players = b.players.numbered()
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

// game takes a game and its positions before each move.
func (w *writer) game(r record, pos []board.Position) {
	w.about.Games++
	key := rowKey{r.classResult() >> 2, [2]uint8{r.band(board.White), r.band(board.Black)}}
	row := w.rows[key]
	if row == nil {
		row = &rowSum{days: map[uint16]*[dayPage]uint32{}}
		w.rows[key] = row
	}
	page := row.days[r.day()/dayPage]
	if page == nil {
		page = new([dayPage]uint32)
		row.days[r.day()/dayPage] = page
	}
	page[r.day()%dayPage]++
	row.marks[r.marks()]++
	if !w.games.add(r, pos, w.players, w.days) && w.err == nil {
		w.err = errIllegal
	}
	if w.games.count == gamesInBlock {
		w.flushGames()
	}
}

func (w *writer) flushGames() {
	n := w.games.count
	if n == 0 {
		return
	}
	size := w.block(w.games.flush(w.players.width))
	w.gameIndex = binary.AppendUvarint(binary.AppendUvarint(w.gameIndex, size), uint64(n))
	w.blocks++
}

// errIllegal breaks what Game.Moves asks.
var errIllegal = errors.New("a game has a move that no piece can make")

func (w *writer) endGames() {
	w.flushGames()
	w.about.positionsAt = w.at
}

// position takes a position that so many games passed, fewer than fewPasses only to be
// counted: place tells where they are.
func (w *writer) position(key uint64, passes int64, moves []Move) {
	w.about.Positions++
	w.about.Moves += int64(len(moves))
	w.about.Passes += passes
	if passes < fewPasses {
		return
	}
	i := tierOf(passes)
	if w.tiers[i].full() {
		w.flushTier(i)
	}
	w.tiers[i].add(key, moves, w.days)
}

func (w *writer) flushTier(i int) {
	first, at := w.tiers[i].heads[0].key, w.at
	sums, details := w.tiers[i].flush()
	size := w.block(sums)
	var list []uint64
	for _, d := range details {
		list = append(list, uint64(d.positions), w.block(d.bytes))
	}
	w.indexes[i].add(at, first, size, list...)
}

// place takes a position that few games passed, and the blocks of these.
func (w *writer) place(key uint64, blocks []uint32) {
	if w.places.full() {
		w.flushPlaces()
	}
	w.places.add(key, blocks)
}

func (w *writer) flushPlaces() {
	first, at := w.places.keys[0], w.at
	w.indexes[len(tiers)].add(at, first, w.block(w.places.flush(w.blocks)))
}

func (w *writer) endPositions() {
	for i := range w.tiers {
		if len(w.tiers[i].heads) > 0 {
			w.flushTier(i)
		}
	}
	if len(w.places.keys) > 0 {
		w.flushPlaces()
	}
}

// finish writes what stands behind the blocks.
func (w *writer) finish() (*About, error) {
	a := &w.about
	a.players = w.stretch(w.players.append(nil))
	a.gameIndex = w.stretch(w.gameIndex)
	for i := range w.indexes {
		a.keyIndexes[i] = w.stretch(w.indexes[i].text)
	}
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
		out = append(out, row.dayBytes(w.days.base)...)
		for _, n := range row.marks {
			out = binary.AppendUvarint(out, uint64(n))
		}
	}
	return out
}

// dayBytes are how many days there are, and for each how far behind the one before it
// is, and its games.
func (s *rowSum) dayBytes(base uint16) []byte {
	var list []byte
	n, before := uint64(0), base
	for _, page := range slices.Sorted(maps.Keys(s.days)) {
		for i, games := range s.days[page] {
			if games > 0 {
				day := page*dayPage + uint16(i)
				list = binary.AppendUvarint(binary.AppendUvarint(list, uint64(day-before)), uint64(games))
				before = day
				n++
			}
		}
	}
	return append(binary.AppendUvarint(nil, n), list...)
}
