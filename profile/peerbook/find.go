package peerbook

import "encoding/binary"

// found is a position in the first part of a block of a tier.
type found struct {
	index int       // of the position in the block
	moves bitReader // at its moves
}

// findInTier finds a position in the first part of a block; there is false if it
// isn't in it. It fails on bytes that no writer wrote.
func findInTier(block []byte, key uint64) (f found, there, ok bool) {
	if len(block) < countBytes {
		return f, false, false
	}
	count := int(binary.BigEndian.Uint16(block))
	heads := block[countBytes:]
	if count == 0 || len(heads) < count*headBytes {
		return f, false, false
	}
	at, to := 0, count
	for at < to {
		if mid := (at + to) / 2; binary.BigEndian.Uint64(heads[mid*headBytes:]) < key {
			at = mid + 1
		} else {
			to = mid
		}
	}
	if f.index = at; at == count || binary.BigEndian.Uint64(heads[at*headBytes:]) != key {
		return f, false, true
	}
	f.moves.buf = heads[count*headBytes:]
	f.moves.at = int(binary.BigEndian.Uint32(heads[f.index*headBytes+8:]))
	return f, true, f.moves.at <= 8*len(f.moves.buf)
}

// cellBits is the least that a cell takes.
const cellBits = bandBits + classBits + 3

// movesRoom is room for the moves of a position, used again and again.
type movesRoom struct {
	moves []Move
	cells []Cell
	ends  []int
}

// take reads the moves with the cells of all days together, which lie in the room until
// it serves again. It fails on bytes that no writer wrote.
func (f *found) take(room *movesRoom) ([]Move, bool) {
	r := &f.moves
	n := r.gamma()
	if r.short || n > uint64(r.left()/(squareBits+1)) {
		return nil, false
	}
	moves, cells, ends := room.moves[:0], room.cells[:0], room.ends[:0]
	for range n {
		moves = append(moves, Move{Move: takeMove(r)})
		n := r.gamma()
		if r.short || n > uint64(r.left()/cellBits)+1 {
			return nil, false
		}
		for range n {
			cells = append(cells, Cell{})
			cells[len(cells)-1].take(r)
		}
		ends = append(ends, len(cells))
	}
	*room = movesRoom{moves, cells, ends}
	at := 0
	for i, end := range ends {
		moves[i].Cells = cells[at:end:end]
		at = end
	}
	return moves, !r.short
}

// dated tells the cells of the moves apart by days, from the detail that has so many
// positions, of which it is number index. It fails on bytes that no writer wrote.
func dated(moves []Move, detail []byte, index, positions int, in days) bool {
	if index < 0 || index >= positions || len(detail) < positions*offsetBytes {
		return false
	}
	r := &bitReader{buf: detail[positions*offsetBytes:]}
	r.at = int(binary.BigEndian.Uint32(detail[index*offsetBytes:]))
	for i := range moves {
		if !moves[i].date(r, in) {
			return false
		}
	}
	return !r.short
}
