package peerbook

import (
	"encoding/binary"
	"math/bits"
)

// tier is how often games passed the positions that stand together, so that who
// walks along the moves played most reads few places of the file.
type tier struct {
	from   int64 // passes
	stride int   // positions that are gone through to find one
}

// tiers begin with the most passed positions. What a single game passed is no
// position of a tier: the games have it.
var tiers = [...]tier{{128, 1}, {16, 2}, {2, 16}}

func tierOf(passes int64) int {
	for i := range tiers {
		if passes >= tiers[i].from {
			return i
		}
	}
	return len(tiers)
}

const (
	// blockBytes is how large a block may grow, detailBytes its detail.
	blockBytes  = 32 << 10
	detailBytes = 64 << 10
	countBytes  = 2
	riceBits    = 6
	headBytes   = 8 + offsetBytes
	offsetBytes = 4
)

// A block of positions is two parts of the file, one behind the other. The first
// has what holds for all days together:
//
//	16 bits  how many positions
//	for each group of the tier's stride of positions
//	   64 bits its first key, 32 bits the bit it begins at, behind all of these
//	for each group
//	   6 bits k of Rice's code, the differences of its keys less one
//	   for each position: how many moves, and for each
//	      12 bits its squares, 1 or 4 of promotion
//	      its cells: how many, and for each 5 bits band, 3 bits class, what came
//
// The second, the detail, has the days:
//
//	for each group 32 bits the bit it begins at, behind all of these
//	for each cell of the first part in its order
//	   its day in the book's width, if it is of a single pass; else
//	   how many days, the first in the book's width, others as differences, and of
//	   each what came
//
// 'What came' is a zero, two bits of result and which pass of the player it is, for
// a single pass; else a one, passes, results and what is missing of the full weight.
type tierWriter struct {
	tier         tier
	group        []uint64 // keys of the group in the making
	moves        bitWriter
	count        int // positions of the block, without those of the group
	heads        []groupHead
	body, detail bitWriter
	details      []uint64 // where the groups' details begin
	sorted       []Cell
	parts        [2][]byte
}

// groupHead is a group's first key, and the bit it begins at.
type groupHead struct{ key, at uint64 }

func (w *tierWriter) empty() bool { return w.count+len(w.group) == 0 }

// full tells that the block is to be written before the next position.
func (w *tierWriter) full() bool {
	return len(w.group) == 0 && w.count > 0 &&
		(len(w.body.buf) >= blockBytes || len(w.detail.buf) >= detailBytes || w.count+w.tier.stride >= 1<<(8*countBytes))
}

// first is the first key of the block.
func (w *tierWriter) first() uint64 {
	if len(w.heads) > 0 {
		return w.heads[0].key
	}
	return w.group[0]
}

// add appends a position; keys come in order.
func (w *tierWriter) add(key uint64, moves []Move, in days) {
	if len(w.group) == 0 {
		w.details = append(w.details, w.detail.len())
	}
	w.group = append(w.group, key)
	w.moves.gamma(uint64(len(moves)))
	for i := range moves {
		m := &moves[i]
		putMove(&w.moves, m.Move)
		w.cells(m.Cells, in)
	}
	if len(w.group) == w.tier.stride {
		w.endGroup()
	}
}

func (w *tierWriter) endGroup() {
	n := len(w.group)
	if n == 0 {
		return
	}
	w.heads = append(w.heads, groupHead{w.group[0], w.body.len()})
	k := riceFor(w.group)
	w.body.put(uint64(k), riceBits)
	for i, key := range w.group[1:] {
		w.body.rice(key-w.group[i]-1, k)
	}
	w.body.copy(&w.moves)
	w.moves.reset()
	w.count += n
	w.group = w.group[:0]
}

// riceFor is the k that suits the differences of sorted keys.
func riceFor(keys []uint64) uint {
	n := uint64(len(keys))
	if n < 2 {
		return 0
	}
	return uint(max(bits.Len64((keys[n-1]-keys[0])/(n-1))-1, 0))
}

// flush returns both parts of the block, valid until the next one, and begins
// another.
func (w *tierWriter) flush() (sums, detail []byte) {
	w.endGroup()
	sums = binary.BigEndian.AppendUint16(w.parts[0][:0], uint16(w.count))
	for _, h := range w.heads {
		sums = binary.BigEndian.AppendUint64(sums, h.key)
		sums = binary.BigEndian.AppendUint32(sums, uint32(h.at))
	}
	detail = w.parts[1][:0]
	for _, at := range w.details {
		detail = binary.BigEndian.AppendUint32(detail, uint32(at))
	}
	w.body.pad()
	w.detail.pad()
	w.parts = [2][]byte{append(sums, w.body.buf...), append(detail, w.detail.buf...)}
	w.count, w.heads, w.details = 0, w.heads[:0], w.details[:0]
	w.body.reset()
	w.detail.reset()
	return w.parts[0], w.parts[1]
}
