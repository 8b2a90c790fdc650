package peerbook

import (
	"bytes"
	"encoding/binary"
	"errors"
	"fmt"
	"hash/crc32"
	"io"
	"math"
	"sort"
	"sync"
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
	players          stretch
	gameIndex, rows  stretch
	keyIndexes       [len(tiers) + 1]stretch // of the tiers and of the places
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
	r       io.ReaderAt
	about   About
	days    days
	games   []gameBlock
	keys    [len(tiers) + 1]keyBlocks // of the tiers and of the places
	rows    func() ([]Row, error)     // read when they are wanted first, as
	players func() (playerList, error)
}

// stored is where a part of the file is, its length with the checksum.
type stored struct {
	at   uint64
	size uint32
}

// keyBlocks are blocks of a kind in order of their first keys.
type keyBlocks struct {
	first  []uint64
	blocks []keyBlock
}

// keyBlock is where the parts of a block are; one of places has no details.
type keyBlock struct {
	sums    stored
	details []detailPlace
}

type detailPlace struct {
	positions int
	stored
}

// find is the block in which a key may be, less than none if there is none.
func (k *keyBlocks) find(key uint64) int {
	return sort.Search(len(k.first), func(i int) bool { return k.first[i] > key }) - 1
}

type gameBlock struct {
	stored
	first int // number of its first game
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
	b.players = sync.OnceValues(b.readPlayers)
	b.rows = sync.OnceValues(b.readRows)
	return b, b.index(size)
}

// read reads a part of the file and compares its checksum.
func (b *Book) read(s stretch, size int64) ([]byte, error) {
	if s.at > uint64(size) || s.size > min(uint64(size), math.MaxInt32) || s.at+s.size+sumBytes > uint64(size) {
		return nil, ErrDamaged
	}
	return b.block(stored{s.at, uint32(s.size + sumBytes)}, nil)
}

// block reads a part and compares its checksum.
func (b *Book) block(s stored, room []byte) ([]byte, error) {
	size := int(s.size)
	if cap(room) < size {
		room = make([]byte, size)
	}
	room = room[:size]
	if _, err := b.r.ReadAt(room, int64(s.at)); err != nil {
		return nil, fmt.Errorf("reading at byte %d: %w", s.at, err)
	}
	body := room[:size-sumBytes]
	if crc32.Checksum(body, castagnoli) != binary.BigEndian.Uint32(room[size-sumBytes:]) {
		return nil, fmt.Errorf("%w: its checksum is another", damagedAt(s.at))
	}
	return body, nil
}

func damagedAt(at uint64) error { return fmt.Errorf("%w near byte %d", ErrDamaged, at) }

// readPlayers reads the list of players.
func (b *Book) readPlayers() (playerList, error) {
	text, err := b.read(b.about.players, b.about.Size)
	if err != nil {
		return playerList{}, err
	}
	list, ok := readPlayers(text)
	if !ok {
		return list, damagedAt(b.about.players.at)
	}
	return list, nil
}

// index reads the indexes.
func (b *Book) index(size int64) error {
	text, err := b.read(b.about.gameIndex, size)
	if err != nil {
		return err
	}
	p := &parser{b: text}
	at, games := uint64(len(Head)), 0
	for len(p.b) > 0 && !p.bad {
		block, n := p.uint(1<<31), int(p.uint(1<<16))
		p.bad = p.bad || block < sumBytes || at+block > uint64(size)
		b.games = append(b.games, gameBlock{stored{at, uint32(block)}, games})
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
		if !b.keys[i].parse(text, uint64(size)) {
			return ErrDamaged
		}
		ends = max(ends, b.keys[i].end())
	}
	if max(ends, at) != b.about.players.at {
		return ErrDamaged
	}
	return nil
}

// parse reads what keyIndex has written, of a book of a size: what it says can't take more
// memory than the book itself.
func (k *keyBlocks) parse(text []byte, size uint64) bool {
	p := &parser{b: text}
	at, key := uint64(0), uint64(0)
	part := func(from uint64) stored {
		s := stored{from, uint32(p.uint(1<<31 - 1))}
		p.bad = p.bad || s.size < sumBytes || from+uint64(s.size) > size
		return s
	}
	for len(p.b) > 0 && !p.bad {
		at += p.uint(1 << 62)
		b := keyBlock{sums: part(at)}
		next := at + uint64(b.sums.size)
		for n := p.uint(1 << countBits); n > 0 && !p.bad; n-- {
			d := detailPlace{positions: int(p.uint(1 << countBits))}
			d.stored = part(next)
			next += uint64(d.size)
			b.details = append(b.details, d)
		}
		key += p.uint(1<<64 - 1)
		k.blocks, k.first = append(k.blocks, b), append(k.first, key)
	}
	return !p.bad
}

// end is where the last block ends, 0 if there is none.
func (k *keyBlocks) end() uint64 {
	if len(k.blocks) == 0 {
		return 0
	}
	last := k.blocks[len(k.blocks)-1]
	end := last.sums
	if n := len(last.details); n > 0 {
		end = last.details[n-1].stored
	}
	return end.at + uint64(end.size)
}

func (b *Book) readRows() ([]Row, error) {
	text, err := b.read(b.about.rows, b.about.Size)
	if err != nil {
		return nil, err
	}
	p := &parser{b: text}
	var rows []Row
	for n := p.uint(1 << 20); n > 0 && !p.bad; n-- {
		row := Row{Class: p.byte(), Bands: [2]uint8{p.byte(), p.byte()}}
		p.bad = p.bad || row.Class >= 1<<classBits || max(row.Bands[0], row.Bands[1]) > lastBand
		day := uint64(b.days.base)
		for days := p.uint(1 << dayBits); days > 0 && !p.bad; days-- {
			day += p.uint(1 << dayBits)
			row.Days = append(row.Days, DayGames{unpackDay(uint16(day)), int(p.uint(1 << 40))})
		}
		for i := range row.Marks {
			row.Marks[i] = uint32(p.uint(1<<32 - 1))
		}
		rows = append(rows, row)
	}
	if p.bad || len(p.b) > 0 {
		return nil, damagedAt(b.about.rows.at)
	}
	return rows, nil
}

// About says what is in the book.
func (b *Book) About() About { return b.about }

// Rows are the games by class and bands, in order of both.
func (b *Book) Rows() ([]Row, error) { return b.rows() }

// writtenFrom is 1 January 1970 as a pgn.Day: the file counts the days of the account
// from there.
const writtenFrom = 719163

// append writes the account, for parse.
func (a *About) append(to []byte, in days) []byte {
	for _, v := range []uint64{
		uint64(a.Plies), uint64(a.Least), uint64(in.base), in.count, uint64(a.Games),
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
	out := []*stretch{&a.players, &a.gameIndex}
	for i := range a.keyIndexes {
		out = append(out, &a.keyIndexes[i])
	}
	return append(out, &a.rows)
}

func (a *About) parse(text []byte, in *days) bool {
	p := &parser{b: text}
	const most = 1<<63 - 1
	a.Plies, a.Least = int(p.uint(Depth)), int(p.uint(most))
	in.base, in.count = uint16(p.uint(1<<dayBits-1)), p.uint(1<<dayBits)
	a.Games = int(p.uint(most))
	a.First, a.Last = int32(unzigzag(p.uint(1<<33))+writtenFrom), int32(unzigzag(p.uint(1<<33))+writtenFrom)
	a.Twice, a.Undated, a.Unfit, a.Filtered = int(p.uint(most)), int(p.uint(most)), int(p.uint(most)), int(p.uint(most))
	a.Positions, a.Moves, a.Passes = int64(p.uint(most)), int64(p.uint(most)), int64(p.uint(most))
	a.positionsAt = p.uint(most)
	for _, s := range a.stretches() {
		s.at, s.size = p.uint(most), p.uint(most)
	}
	a.Filter = string(p.b)
	return !p.bad && a.Plies > 0 && in.count > 0
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
