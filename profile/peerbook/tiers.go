package peerbook

import "encoding/binary"

// tiers are how many passes make positions stand together, from so many on to those
// of the tier before, so that who walks along the moves played most reads few places
// of the file. What fewer passed is no position of a tier: the games have it.
var tiers = [...]int64{4096, 1024, 256, 64, fewPasses}

// tierOf is the tier of a position that so many games passed, at least the fewest.
func tierOf(passes int64) int {
	i := 0
	for passes < tiers[i] {
		i++
	}
	return i
}

const (
	// blockBytes is how large the first part of a block may grow, detailBytes each of
	// the others.
	blockBytes  = 96 << 10
	detailBytes = 48 << 10
	// mostDetail bounds a block whose positions have much detail.
	mostDetail  = 1 << 20
	countBits   = 16
	countBytes  = countBits / 8
	offsetBytes = 4
	headBytes   = 8 + offsetBytes
)

// A block of positions is several parts of the file, one behind the other. The first
// has what holds for all days together:
//
//	16 bits  how many positions
//	for each position its key and, in 32 bits, the bit it begins at, behind all of these
//	for each position how many moves, and for each
//	   12 bits its squares, 1 or 4 of promotion
//	   its cells: how many, and for each 5 bits band, 3 bits class, what came
//
// The others, the details, have the days of some positions each:
//
//	for each position 32 bits the bit it begins at, behind all of these
//	for each cell of the first part in its order
//	   its day, of those that the book spans, if it is of a single pass; else
//	   how many days, the first in this way, the differences of the others less one in
//	   Rice's code, and of each what came
//
// 'What came' is a zero, one to three bits of result and which pass of the player it is, for
// a single pass; else a one, results and what is missing of the full weight.
type tierWriter struct {
	heads      []positionHead
	body       bitWriter
	detail     bitWriter
	detailed   []uint64 // where the positions of the detail begin
	details    []detailPart
	detailSize int // of the finished ones
	sorted     []Cell
	sums       []byte
}

// positionHead is a key, and the bit it begins at.
type positionHead struct{ key, at uint64 }

// detailPart is the days of so many positions.
type detailPart struct {
	positions int
	bytes     []byte
}

// full tells that the block is to be written before the next position.
func (w *tierWriter) full() bool {
	return len(w.body.buf)+headBytes*len(w.heads) >= blockBytes || w.detailSize >= mostDetail
}

// add appends a position; keys come in order.
func (w *tierWriter) add(key uint64, moves []Move, in days) {
	if len(w.detail.buf) >= detailBytes {
		w.endDetail()
	}
	w.heads = append(w.heads, positionHead{key, w.body.len()})
	w.detailed = append(w.detailed, w.detail.len())
	w.body.gamma(uint64(len(moves)))
	for i := range moves {
		m := &moves[i]
		putMove(&w.body, m.Move)
		w.cells(m.Cells, in)
	}
}

func (w *tierWriter) endDetail() {
	var b []byte
	for _, at := range w.detailed {
		b = binary.BigEndian.AppendUint32(b, uint32(at))
	}
	w.detail.pad()
	b = append(b, w.detail.buf...)
	w.details = append(w.details, detailPart{len(w.detailed), b})
	w.detailSize += len(b)
	w.detail.reset()
	w.detailed = w.detailed[:0]
}

// flush returns the parts of the block, valid until the next one, and begins another.
func (w *tierWriter) flush() (sums []byte, details []detailPart) {
	w.endDetail()
	sums = binary.BigEndian.AppendUint16(w.sums[:0], uint16(len(w.heads)))
	for _, h := range w.heads {
		sums = binary.BigEndian.AppendUint64(sums, h.key)
		sums = binary.BigEndian.AppendUint32(sums, uint32(h.at))
	}
	w.body.pad()
	w.sums = append(sums, w.body.buf...)
	details = w.details
	w.heads, w.details, w.detailSize = w.heads[:0], nil, 0
	w.body.reset()
	return w.sums, details
}
