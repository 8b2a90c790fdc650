package peerbook

import (
	"bytes"
	"encoding/binary"
	"errors"
	"fmt"
	"hash/crc32"
	"io"
	"sort"
)

// About says what is in a book.
type About struct {
	Tally                  // games that are not in it
	Games            int   // each once
	First, Last      int32 // from the earliest to the latest possible day of the games, as pgn.Day
	Plies, Least     int   // as in Options
	Filter           string
	Positions, Moves int64 // positions; moves of all of them
	Passes           int64 // of games through positions
	Size             int64 // bytes of the file
	positionsAt      uint64
	gameIndex, rows  stretch
	keyIndexes       [len(tiers) + 1]stretch // of the tiers and of the soles
}

// ErrDamaged is what the errors of a book wrap that isn't whole or isn't one.
var (
	ErrDamaged = errors.New("the file is damaged")
	ErrForeign = errors.New("no book of peers")
	ErrVersion = errors.New("a book of peers of another version")
	ErrCut     = errors.New("the book is cut short")
)

// Book is a book open for reading, by several goroutines if its ReaderAt allows.
type Book struct {
	r     io.ReaderAt
	about About
	days  days
	games []gameBlock
	keys  [len(tiers) + 1]keyBlocks // of the tiers and of the soles
	rows  []Row
}

// keyBlocks are blocks of a kind in order of their first keys.
type keyBlocks struct {
	first []uint64
	at    []uint64
	sizes [][2]uint32 // of their parts with the checksums; a block of soles has one
}

// find is the block in which a key may be, less than none if there is none.
func (k *keyBlocks) find(key uint64) int {
	return sort.Search(len(k.first), func(i int) bool { return k.first[i] > key }) - 1
}

type gameBlock struct {
	at    uint64
	size  uint32 // with the checksum
	first int    // number of its first game
}

// Row counts games by class and by the bands of White and Black.
type Row struct {
	Class uint8
	Bands [2]uint8
	Days  []DayGames // by latest possible day, in order
	Marks [1 << markBits]uint32
}

// DayGames counts games of a day, as pgn.Day.
type DayGames struct {
	Day   int32
	Games int
}

// Is tells whether a file begins as a book does, of whatever version.
func Is(r io.ReaderAt) bool {
	head := make([]byte, len(AnyHead))
	n, _ := r.ReadAt(head, 0)
	return n == len(AnyHead) && string(head) == AnyHead
}

// Open opens a book of so many bytes. It reads the index, not the positions.
func Open(r io.ReaderAt, size int64) (*Book, error) {
	b := &Book{r: r}
	head := make([]byte, min(size, int64(len(Head))))
	if _, err := r.ReadAt(head, 0); err != nil && err != io.EOF {
		return nil, err
	}
	switch {
	case !bytes.HasPrefix(head, []byte(AnyHead)):
		return nil, ErrForeign
	case string(head) != Head && len(head) == len(Head):
		return nil, ErrVersion
	case size < int64(len(Head)+tailSize):
		return nil, ErrCut
	}
	tail := make([]byte, tailSize)
	if _, err := r.ReadAt(tail, size-int64(tailSize)); err != nil {
		return nil, err
	}
	mark := tail[12:][:len(tailMark)]
	if string(mark) != tailMark {
		return nil, ErrCut
	}
	body := tail[:tailSize-sumBytes]
	if crc32.Checksum(body, castagnoli) != binary.BigEndian.Uint32(tail[tailSize-sumBytes:]) ||
		binary.BigEndian.Uint64(body[len(body)-8:]) != uint64(size) {
		return nil, ErrDamaged
	}
	text, err := b.read(stretch{binary.BigEndian.Uint64(tail), uint64(binary.BigEndian.Uint32(tail[8:]))}, size)
	if err != nil {
		return nil, err
	}
	if !b.about.parse(text, &b.days) {
		return nil, ErrDamaged
	}
	b.about.Size = size
	return b, b.index(size)
}

// read reads a part of the file and compares its checksum.
func (b *Book) read(s stretch, size int64) ([]byte, error) {
	if s.at > uint64(size) || s.size > uint64(size) || s.at+s.size+sumBytes > uint64(size) {
		return nil, ErrDamaged
	}
	return b.block(s.at, int(s.size)+sumBytes, nil)
}

// block reads so many bytes, the last of which are their checksum.
func (b *Book) block(at uint64, size int, room []byte) ([]byte, error) {
	if cap(room) < size {
		room = make([]byte, size)
	}
	room = room[:size]
	if _, err := b.r.ReadAt(room, int64(at)); err != nil {
		return nil, fmt.Errorf("reading at byte %d: %w", at, err)
	}
	body := room[:size-sumBytes]
	if crc32.Checksum(body, castagnoli) != binary.BigEndian.Uint32(room[size-sumBytes:]) {
		return nil, fmt.Errorf("%w near byte %d: its checksum is another", ErrDamaged, at)
	}
	return body, nil
}

// index reads the indexes and the rows.
func (b *Book) index(size int64) error {
	text, err := b.read(b.about.gameIndex, size)
	if err != nil {
		return err
	}
	p := &parser{b: text}
	at, games := uint64(len(Head)), 0
	for len(p.b) > 0 && !p.bad {
		block, n := p.uint(1<<31), int(p.uint(1<<16))
		b.games = append(b.games, gameBlock{at, uint32(block), games})
		at, games = at+block, games+n
	}
	if p.bad || games != b.about.Games || at != b.about.positionsAt {
		return ErrDamaged
	}
	ends := uint64(0)
	for i := range b.keys {
		if text, err = b.read(b.about.keyIndexes[i], size); err != nil {
			return err
		}
		parts := 2
		if i == len(tiers) {
			parts = 1
		}
		if !b.keys[i].parse(text, parts) {
			return ErrDamaged
		}
		ends = max(ends, b.keys[i].end())
	}
	if max(ends, at) != b.about.gameIndex.at {
		return ErrDamaged
	}
	if text, err = b.read(b.about.rows, size); err != nil {
		return err
	}
	return b.readRows(&parser{b: text})
}

// parse reads what keyIndex has written.
func (k *keyBlocks) parse(text []byte, parts int) bool {
	p := &parser{b: text}
	at, key := uint64(0), uint64(0)
	for len(p.b) > 0 && !p.bad {
		at += p.uint(1 << 62)
		var sizes [2]uint32
		for i := range parts {
			sizes[i] = uint32(p.uint(1<<31 - 1))
			p.bad = p.bad || sizes[i] < sumBytes
		}
		key += p.uint(1<<64 - 1)
		k.at, k.first, k.sizes = append(k.at, at), append(k.first, key), append(k.sizes, sizes)
	}
	return !p.bad
}

// end is where the last block ends, 0 if there is none.
func (k *keyBlocks) end() uint64 {
	last := len(k.at) - 1
	if last < 0 {
		return 0
	}
	return k.at[last] + uint64(k.sizes[last][0]) + uint64(k.sizes[last][1])
}

func (b *Book) readRows(p *parser) error {
	for n := p.uint(1 << 20); n > 0 && !p.bad; n-- {
		row := Row{Class: p.byte(), Bands: [2]uint8{p.byte(), p.byte()}}
		day := uint64(b.days.base)
		for days := p.uint(1 << dayBits); days > 0 && !p.bad; days-- {
			day += p.uint(1 << dayBits)
			row.Days = append(row.Days, DayGames{unpackDay(uint16(day)), int(p.uint(1 << 40))})
		}
		for i := range row.Marks {
			row.Marks[i] = uint32(p.uint(1<<32 - 1))
		}
		b.rows = append(b.rows, row)
	}
	if p.bad || len(p.b) > 0 {
		return ErrDamaged
	}
	return nil
}

// About says what is in the book.
func (b *Book) About() About { return b.about }

// Rows are the games by class and bands, in order of both.
func (b *Book) Rows() []Row { return b.rows }

// gamesOf reads a block of games.
func (b *Book) gamesOf(i int, room []byte) ([]byte, error) {
	return b.block(b.games[i].at, int(b.games[i].size), room)
}

// bookSource hands the games of a book out as records.
type bookSource struct {
	book  *Book
	block int
	games []byte
	at    int
	room  []byte
}

func (s *bookSource) next() ([]byte, error) {
	width := recordWidth(s.book.about.Plies)
	if s.at == len(s.games) {
		if s.block == len(s.book.games) {
			return nil, nil
		}
		body, err := s.book.gamesOf(s.block, s.room)
		if err != nil {
			return nil, err
		}
		s.room = body[:0]
		s.games, s.at = s.games[:0], 0
		ok := eachGame(body, s.book.about.Plies, s.book.days, func(_ int, r record) bool {
			s.games = append(s.games, r...)
			return true
		})
		if !ok {
			return nil, fmt.Errorf("%w near byte %d", ErrDamaged, s.book.games[s.block].at)
		}
		s.block++
	}
	s.at += width
	return s.games[s.at-width : s.at], nil
}

// writtenFrom is 1 January 1970 as a pgn.Day: the file counts the days of the account
// from there.
const writtenFrom = 719163

// append writes the account, for parse.
func (a *About) append(to []byte, in days) []byte {
	for _, v := range []uint64{
		uint64(a.Plies), uint64(a.Least), uint64(in.base), uint64(in.width), uint64(a.Games),
		zigzag(int64(a.First) - writtenFrom), zigzag(int64(a.Last) - writtenFrom),
		uint64(a.Twice), uint64(a.Undated), uint64(a.Unfit), uint64(a.Filtered),
		uint64(a.Positions), uint64(a.Moves), uint64(a.Passes), a.positionsAt,
	} {
		to = binary.AppendUvarint(to, v)
	}
	for _, s := range a.stretches() {
		to = binary.AppendUvarint(binary.AppendUvarint(to, s.at), s.size)
	}
	return append(to, a.Filter...)
}

// stretches are the parts behind the blocks, in order.
func (a *About) stretches() []*stretch {
	out := []*stretch{&a.gameIndex}
	for i := range a.keyIndexes {
		out = append(out, &a.keyIndexes[i])
	}
	return append(out, &a.rows)
}

func (a *About) parse(text []byte, in *days) bool {
	p := &parser{b: text}
	const most = 1<<63 - 1
	a.Plies, a.Least = int(p.uint(Depth)), int(p.uint(most))
	in.base, in.width = uint16(p.uint(1<<dayBits-1)), uint(p.uint(dayBits))
	a.Games = int(p.uint(most))
	a.First, a.Last = int32(unzigzag(p.uint(1<<33))+writtenFrom), int32(unzigzag(p.uint(1<<33))+writtenFrom)
	a.Twice, a.Undated, a.Unfit, a.Filtered = int(p.uint(most)), int(p.uint(most)), int(p.uint(most)), int(p.uint(most))
	a.Positions, a.Moves, a.Passes = int64(p.uint(most)), int64(p.uint(most)), int64(p.uint(most))
	a.positionsAt = p.uint(most)
	for _, s := range a.stretches() {
		s.at, s.size = p.uint(most), p.uint(most)
	}
	a.Filter = string(p.b)
	return !p.bad && a.Plies > 0
}

func zigzag(v int64) uint64   { return uint64(v<<1 ^ v>>63) }
func unzigzag(v uint64) int64 { return int64(v>>1) ^ -int64(v&1) }

// parser reads numbers; bad is set at the first that can't be.
type parser struct {
	b   []byte
	bad bool
}

func (p *parser) uint(most uint64) uint64 {
	v, n := binary.Uvarint(p.b)
	if n <= 0 || v > most {
		p.bad = true
		return 0
	}
	p.b = p.b[n:]
	return v
}

func (p *parser) byte() byte {
	if len(p.b) == 0 {
		p.bad = true
		return 0
	}
	v := p.b[0]
	p.b = p.b[1:]
	return v
}
