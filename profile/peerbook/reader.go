package peerbook

import (
	"fmt"
	"sort"

	"foreply/profile/board"
)

// Reader looks positions up. It keeps what it read last, up to keptBytes, so one
// Reader serves one goroutine.
type Reader struct {
	b     *Book
	kept  map[uint64][]byte // parts of the file by their place
	size  int               // of all of them
	room  []byte            // for a block of games
	cells []Cell
}

// keptBytes bounds what a Reader keeps of the file: on a walk along the moves
// played most, the blocks of the first tiers are wanted again and again.
const keptBytes = 8 << 20

// Reader returns a new one.
func (b *Book) Reader() *Reader { return &Reader{b: b, kept: map[uint64][]byte{}} }

// At returns the moves played at the position with the key, in order of the
// moves; none if the book doesn't have it. They are valid until the next call.
func (r *Reader) At(key uint64) ([]Move, error) { return r.at(key, false) }

// Total is At with the cells of all days together, their days 0; it reads less.
// What it returns is valid until the next call.
func (r *Reader) Total(key uint64) ([]Move, error) { return r.at(key, true) }

func (r *Reader) at(key uint64, total bool) ([]Move, error) {
	for i := range tiers {
		if moves, err := r.inTier(i, key, total); moves != nil || err != nil {
			return moves, err
		}
	}
	moves, err := r.sole(key)
	if total {
		for i := range moves {
			moves[i].Cells[0].Day = 0
		}
	}
	return moves, err
}

// part reads a part of the file with its checksum, or has it already.
func (r *Reader) part(at uint64, size uint32) ([]byte, error) {
	if part, ok := r.kept[at]; ok {
		return part, nil
	}
	part, err := r.b.block(at, int(size), nil)
	if err != nil {
		return nil, err
	}
	if r.size += int(size); r.size > keptBytes {
		clear(r.kept)
		r.size = int(size)
	}
	r.kept[at] = part
	return part, nil
}

// inTier returns the moves of a position that stands in a tier.
func (r *Reader) inTier(i int, key uint64, total bool) ([]Move, error) {
	blocks := &r.b.keys[i]
	n := blocks.find(key)
	if n < 0 {
		return nil, nil
	}
	at, sizes := blocks.at[n], blocks.sizes[n]
	sums, err := r.part(at, sizes[0])
	if err != nil {
		return nil, err
	}
	f, there, ok := findInTier(sums, tiers[i], key, !total)
	if ok && !there {
		return nil, nil
	}
	var moves []Move
	if ok {
		moves, ok = f.take(&r.cells)
	}
	if ok && !total {
		detail, err := r.part(at+uint64(sizes[0]), sizes[1])
		if err != nil {
			return nil, err
		}
		ok = f.dated(moves, detail, r.b.days)
	}
	if !ok || len(moves) == 0 {
		return nil, fmt.Errorf("%w near byte %d", ErrDamaged, at)
	}
	return moves, nil
}

// sole returns the move at a position that a single game passed.
func (r *Reader) sole(key uint64) ([]Move, error) {
	blocks := &r.b.keys[len(tiers)]
	n := blocks.find(key)
	if n < 0 {
		return nil, nil
	}
	block, err := r.part(blocks.at[n], blocks.sizes[n][0])
	if err != nil {
		return nil, err
	}
	games, ok := findSole(block, key)
	if !ok {
		return nil, fmt.Errorf("%w near byte %d", ErrDamaged, blocks.at[n])
	}
	for _, game := range games {
		if moves, err := r.ofGame(int(game), key); moves != nil || err != nil {
			return moves, err
		}
	}
	return nil, nil
}

// ofGame returns the move of a game at a position, none if it didn't pass there.
func (r *Reader) ofGame(number int, key uint64) (moves []Move, err error) {
	b := r.b
	i := sort.Search(len(b.games), func(i int) bool { return b.games[i].first > number }) - 1
	if i < 0 {
		return nil, fmt.Errorf("%w: there is no game %d", ErrDamaged, number)
	}
	body, err := b.gamesOf(i, r.room)
	if err != nil {
		return nil, err
	}
	r.room = body[:0]
	there := false
	ok := eachGame(body, b.about.Plies, b.days, func(k int, rec record) bool {
		if there = b.games[i].first+k == number; there {
			moves = moveAt(rec, key)
		}
		return !there
	})
	if !ok || !there {
		return nil, fmt.Errorf("%w near byte %d", ErrDamaged, b.games[i].at)
	}
	return moves, nil
}

// moveAt goes through a game to a position and returns its move there.
func moveAt(r record, key uint64) []Move {
	pos := board.Start()
	for i := range r.kept() {
		if pos.Key() == key {
			c := Cell{Day: unpackDay(r.day()), Band: r.band(board.Color(i & 1)), Class: r.classResult() >> 2}
			c.add(Result(r.classResult()&3), Unit)
			return []Move{{r.move(i), []Cell{c}}}
		}
		pos.Play(r.move(i))
	}
	return nil
}
