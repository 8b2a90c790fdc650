package peerbook

import (
	"math/bits"

	"foreply/profile/board"
)

// days is the range that a book's days are told in.
type days struct {
	base  uint16
	width uint // bits
}

func daysFrom(first, last uint16) days {
	return days{first, uint(bits.Len16(last - first))}
}

const (
	// blockBytes is how large blocks are, but for a position that alone takes more.
	blockBytes  = 4 << 10
	keyBytes    = 6 // of a key as differences, about
	squareBits  = 12
	promoteBits = 3
	classBits   = 3
	countBits   = 16
	riceBits    = 6
	offsetBits  = 32
	// stride is after how many positions of a block it is told where the next
	// one's moves begin.
	stride = 32
)

// A block of positions:
//
//	16 bits  how many positions
//	6 bits   k of Rice's code
//	16 bits  the byte at which the moves begin
//	32 bits  for every 32nd position but the first, the bit at which its moves begin
//	64 bits  the first key, then the differences less one
//	from the next byte on, for each position: how many moves, a bit that says
//	whether it is a long one, and for each move
//	   12 bits its squares, 1 or 4 of promotion
//	   its cells; in a long position those of all days together, each without its day
//	in a long position then 32 bits that say how many follow, and the cells of each move
//
// Cells are how many they are, and for each
//
//	its day, the first in the book's width, others as differences
//	5 bits band, 3 bits class
//	a zero and two bits of result for a single pass of full weight, else
//	a one, passes, results and what is missing of the full weight
type blockWriter struct {
	keys    []uint64
	offsets []uint64 // in bits, of every 32nd position's moves
	body    bitWriter
	detail  bitWriter // of a long position
	whole   bitWriter
}

func (b *blockWriter) size() int { return len(b.body.buf) + keyBytes*len(b.keys) }

// add appends a position; keys come in order.
func (b *blockWriter) add(key uint64, moves []Move, in days) {
	w := &b.body
	if len(b.keys)%stride == 0 {
		b.offsets = append(b.offsets, uint64(len(w.buf))*8+uint64(w.have))
	}
	b.keys = append(b.keys, key)
	w.gamma(uint64(len(moves)))
	cells := 0
	for i := range moves {
		cells += len(moves[i].Cells)
	}
	long := cells > longCells
	w.put(uint64(bit(long)), 1)
	for i := range moves {
		m := &moves[i]
		w.put(uint64(m.Move), squareBits)
		putPromotion(w, m.Move)
		if long {
			putCells(w, m.total(), nil)
		} else {
			putCells(w, m.Cells, &in)
		}
	}
	if !long {
		return
	}
	b.detail.reset()
	for i := range moves {
		putCells(&b.detail, moves[i].Cells, &in)
	}
	size := uint64(len(b.detail.buf))*8 + uint64(b.detail.have)
	w.put(size, offsetBits)
	w.copy(&b.detail)
}

// longCells is from how many cells on a position has its sums over all days: most
// who ask want those.
const longCells = 32

func bit(v bool) int {
	if v {
		return 1
	}
	return 0
}

// putCells writes cells, with their days if there is a range of them.
func putCells(w *bitWriter, cells []Cell, in *days) {
	w.gamma(uint64(len(cells)))
	before := uint16(0)
	for k := range cells {
		c := &cells[k]
		if in != nil {
			if at := packDay(c.Day); k == 0 {
				w.put(uint64(at-in.base), in.width)
				before = at
			} else {
				w.gamma(uint64(at-before) + 1)
				before = at
			}
		}
		w.put(uint64(c.Band), bandBits)
		w.put(uint64(c.Class), classBits)
		c.write(w)
	}
}

// total are the cells of all days together, their days 0.
func (m *Move) total() []Cell {
	out := make([]Cell, len(m.Cells))
	for i, c := range m.Cells {
		c.Day = 0
		out[i] = c
	}
	return together(out)
}

func putPromotion(w *bitWriter, m board.Move) {
	if m.Promotion() == board.NoKind {
		w.put(0, 1)
		return
	}
	w.put(1, 1)
	w.put(uint64(m.Promotion()), promoteBits)
}

func takeMove(r *bitReader) board.Move {
	m := board.Move(r.take(squareBits))
	if r.take(1) == 1 {
		m |= board.Move(r.take(promoteBits)) << squareBits
	}
	return m
}

func (c *Cell) write(w *bitWriter) {
	if c.Passes == 1 && c.Weight == Unit {
		w.put(uint64(c.soleResult()), 3)
		return
	}
	w.put(1, 1)
	w.gamma(uint64(c.Passes))
	w.gamma(uint64(c.White) + 1)
	w.gamma(uint64(c.Drawn) + 1)
	w.gamma(uint64(c.Black) + 1)
	w.gamma(uint64(c.Passes)*Unit - c.Weight + 1)
}

func (c *Cell) soleResult() Result {
	switch {
	case c.White > 0:
		return WhiteWon
	case c.Drawn > 0:
		return Drawn
	case c.Black > 0:
		return BlackWon
	}
	return Unknown
}

func (c *Cell) read(r *bitReader) {
	if r.take(1) == 0 {
		c.add(Result(r.take(2)), Unit)
		return
	}
	c.Passes = uint32(r.gamma())
	c.White = uint32(r.gamma() - 1)
	c.Drawn = uint32(r.gamma() - 1)
	c.Black = uint32(r.gamma() - 1)
	c.Weight = uint64(c.Passes)*Unit - (r.gamma() - 1)
}

// flush returns the block, valid until the next one, and begins another.
func (b *blockWriter) flush() []byte {
	w := &b.whole
	w.reset()
	w.put(uint64(len(b.keys)), countBits)
	k := uint(0)
	if n := uint64(len(b.keys)); n > 1 {
		mean := (b.keys[n-1] - b.keys[0]) / (n - 1)
		k = uint(max(bits.Len64(mean)-1, 0))
	}
	w.put(uint64(k), riceBits)
	place := len(w.buf)*8 + int(w.have)
	w.put(0, countBits)
	for _, at := range b.offsets[1:] {
		w.put(at, offsetBits)
	}
	w.put(b.keys[0]>>32, 32)
	w.put(b.keys[0], 32)
	for i, key := range b.keys[1:] {
		w.rice(key-b.keys[i]-1, k)
	}
	w.pad()
	patch(w.buf, place, uint64(len(w.buf)))
	b.body.pad()
	w.buf = append(w.buf, b.body.buf...)
	b.keys, b.offsets = b.keys[:0], b.offsets[:0]
	b.body.reset()
	return w.buf
}

// patch sets countBits bits that were written as zeros.
func patch(buf []byte, at int, v uint64) {
	for i := range countBits {
		if v>>(countBits-1-i)&1 == 1 {
			buf[(at+i)/8] |= 0x80 >> ((at + i) % 8)
		}
	}
}

// findInBlock returns the moves of a position, with the cells of all days together
// if only the total is wanted; none if it isn't there. It fails on bytes that no
// writer wrote.
func findInBlock(block []byte, key uint64, in days, total bool) (moves []Move, ok bool) {
	r := &bitReader{buf: block}
	n := int(r.take(countBits))
	k := uint(r.take(riceBits))
	body := int(r.take(countBits))
	offsets := r.at
	r.skip(uint(max(n-1, 0) / stride * offsetBits))
	found, ok := findKey(r, n, k, key)
	if found < 0 || !ok || body > len(block) {
		return nil, ok && body <= len(block)
	}
	at := 0
	if found >= stride {
		r.at = offsets + (found/stride-1)*offsetBits
		at = int(r.take(offsetBits))
	}
	if r.at = 8*body + at; r.at > 8*len(block) {
		return nil, false
	}
	for range found % stride {
		if !skipPosition(r, in) {
			return nil, false
		}
	}
	return takePosition(r, in, total)
}

// findKey returns which of n keys is the one, or less than none; ok is false for
// keys that no writer wrote.
func findKey(r *bitReader, n int, k uint, key uint64) (found int, ok bool) {
	at := r.wide(64)
	for i := range n {
		if i > 0 {
			next := at + r.rice(k) + 1
			if next <= at {
				return -1, false
			}
			at = next
		}
		if at >= key {
			if at > key {
				i = -1
			}
			return i, !r.short
		}
	}
	return -1, !r.short
}

// cellBits is the least that a cell takes.
const cellBits = bandBits + classBits + 3

func takePosition(r *bitReader, in days, total bool) ([]Move, bool) {
	n := r.gamma()
	long := r.take(1) == 1
	if r.short || n > uint64(r.left()/(squareBits+1)) {
		return nil, false
	}
	moves := make([]Move, n)
	for i := range moves {
		m := &moves[i]
		m.Move = takeMove(r)
		var ok bool
		switch {
		case long:
			m.Cells, ok = takeCells(r, nil)
		default:
			if m.Cells, ok = takeCells(r, &in); ok && total {
				m.Cells = m.total()
			}
		}
		if !ok {
			return nil, false
		}
	}
	if !long || total {
		return moves, !r.short
	}
	r.skip(offsetBits)
	for i := range moves {
		var ok bool
		if moves[i].Cells, ok = takeCells(r, &in); !ok {
			return nil, false
		}
	}
	return moves, !r.short
}

// takeCells reads what putCells wrote.
func takeCells(r *bitReader, in *days) ([]Cell, bool) {
	n := r.gamma()
	if r.short || n > uint64(r.left()/cellBits)+1 {
		return nil, false
	}
	cells := make([]Cell, n)
	day := uint64(0)
	for i := range cells {
		c := &cells[i]
		if in != nil {
			if i == 0 {
				day = uint64(in.base) + r.take(in.width)
			} else {
				day += r.gamma() - 1
			}
			if day >= 1<<dayBits {
				return nil, false
			}
			c.Day = unpackDay(uint16(day))
		}
		c.Band, c.Class = uint8(r.take(bandBits)), uint8(r.take(classBits))
		c.read(r)
	}
	return cells, !r.short
}

func skipPosition(r *bitReader, in days) bool {
	n := r.gamma()
	long := r.take(1) == 1
	for ; n > 0 && !r.short; n-- {
		r.skip(squareBits)
		if r.take(1) == 1 {
			r.skip(promoteBits)
		}
		skipCells(r, in, !long)
	}
	if long {
		r.skip(uint(r.take(offsetBits)))
	}
	return !r.short
}

func skipCells(r *bitReader, in days, dated bool) {
	for cells, i := r.gamma(), uint64(0); i < cells && !r.short; i++ {
		switch {
		case !dated:
		case i == 0:
			r.skip(in.width)
		default:
			r.gamma()
		}
		if r.skip(bandBits + classBits); r.take(1) == 0 {
			r.skip(2)
			continue
		}
		for range 5 {
			r.gamma()
		}
	}
}
