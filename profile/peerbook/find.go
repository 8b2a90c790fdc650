package peerbook

import "encoding/binary"

// found is a position in a block of a tier.
type found struct {
	moves         bitReader // at its moves
	group, groups int
	// single are the cells of the positions before it in its group: whether each is
	// of a single pass. Known if they were asked for.
	single []bool
}

// findInTier finds a position in the first part of a block; there is false if it
// isn't in it. It fails on bytes that no writer wrote.
func findInTier(block []byte, t tier, key uint64, singles bool) (f found, there, ok bool) {
	if len(block) < countBytes {
		return f, false, false
	}
	count := int(binary.BigEndian.Uint16(block))
	groups := (count + t.stride - 1) / t.stride
	heads := block[countBytes:]
	if count == 0 || len(heads) < groups*headBytes {
		return f, false, false
	}
	group, first, at := groupOf(heads[:groups*headBytes], key)
	if group < 0 {
		return f, false, true
	}
	f.group, f.groups, f.moves.buf = group, groups, heads[groups*headBytes:]
	if at > 8*len(f.moves.buf) {
		return f, false, false
	}
	f.moves.at = at
	index, ok := findKey(&f.moves, min(t.stride, count-group*t.stride), first, key)
	if index < 0 || !ok {
		return f, false, ok
	}
	for range index {
		if !f.skipPosition(singles) {
			return f, false, false
		}
	}
	return f, true, true
}

// groupOf is the last group that begins with a key or one before it, less than none
// if there is no such; with its first key, and the bit at which it begins.
func groupOf(heads []byte, key uint64) (group int, first uint64, at int) {
	lo, hi := 0, len(heads)/headBytes
	for lo < hi {
		if mid := (lo + hi) / 2; binary.BigEndian.Uint64(heads[mid*headBytes:]) <= key {
			lo = mid + 1
		} else {
			hi = mid
		}
	}
	if lo == 0 {
		return -1, 0, 0
	}
	head := heads[(lo-1)*headBytes:]
	return lo - 1, binary.BigEndian.Uint64(head), int(binary.BigEndian.Uint32(head[8:]))
}

// findKey reads the keys of a group and returns which of them is the one, or less
// than none; ok is false for keys that no writer wrote.
func findKey(r *bitReader, n int, first, key uint64) (index int, ok bool) {
	k := uint(r.take(riceBits))
	index = -1
	for i, at := 0, first; i < n; i++ {
		if i > 0 {
			next := at + r.rice(k) + 1
			if next <= at {
				return -1, false
			}
			at = next
		}
		if at == key {
			index = i
		}
	}
	return index, !r.short
}

func (f *found) skipPosition(singles bool) bool {
	r := &f.moves
	for n := r.gamma(); n > 0 && !r.short; n-- {
		takeMove(r)
		for cells := r.gamma(); cells > 0 && !r.short; cells-- {
			r.skip(bandBits + classBits)
			single := skipCame(r)
			if singles {
				f.single = append(f.single, single)
			}
		}
	}
	return !r.short
}

// cellBits is the least that a cell takes.
const cellBits = bandBits + classBits + resultBits + 2

// take reads the moves with the cells of all days together, which lie in the room until
// it serves again. It fails on bytes that no writer wrote.
func (f *found) take(room *[]Cell) ([]Move, bool) {
	r := &f.moves
	n := r.gamma()
	if r.short || n > uint64(r.left()/(squareBits+1)) {
		return nil, false
	}
	moves := make([]Move, n)
	ends := make([]int, n)
	cells := (*room)[:0]
	for i := range moves {
		moves[i].Move = takeMove(r)
		n := r.gamma()
		if r.short || n > uint64(r.left()/cellBits)+1 {
			return nil, false
		}
		for range n {
			cells = append(cells, Cell{})
			cells[len(cells)-1].take(r)
		}
		ends[i] = len(cells)
	}
	*room = cells
	at := 0
	for i, end := range ends {
		moves[i].Cells = cells[at:end:end]
		at = end
	}
	return moves, !r.short
}

// dated tells the cells of the moves apart by days, from the second part of the
// block. It fails on bytes that no writer wrote.
func (f *found) dated(moves []Move, detail []byte, in days) bool {
	if len(detail) < f.groups*offsetBytes {
		return false
	}
	r := &bitReader{buf: detail[f.groups*offsetBytes:]}
	at := int(binary.BigEndian.Uint32(detail[f.group*offsetBytes:]))
	if at > 8*len(r.buf) {
		return false
	}
	r.at = at
	for _, single := range f.single {
		skipDays(r, single, in)
	}
	for i := range moves {
		if !moves[i].date(r, in) {
			return false
		}
	}
	return !r.short
}
