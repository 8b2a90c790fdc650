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
)

// A block of positions:
//
//	16 bits  how many positions
//	6 bits   k of Rice's code
//	64 bits  the first key, then the differences less one
//	from the next byte on, for each position: how many moves, and for each move
//	12 bits its squares, 1 or 4 of promotion, how many cells, and for each cell
//	   its day, the first in the book's width, others as differences
//	   5 bits band, 3 bits class
//	   a zero and two bits of result for a single pass of full weight, else
//	   a one, passes, results and what is missing of the full weight
type blockWriter struct {
	keys  []uint64
	body  bitWriter
	whole bitWriter
}

func (b *blockWriter) size() int { return len(b.body.buf) + keyBytes*len(b.keys) }

// add appends a position; keys come in order.
func (b *blockWriter) add(key uint64, moves []Move, in days) {
	b.keys = append(b.keys, key)
	w := &b.body
	w.gamma(uint64(len(moves)))
	for i := range moves {
		m := &moves[i]
		w.put(uint64(m.Move), squareBits)
		putPromotion(w, m.Move)
		w.gamma(uint64(len(m.Cells)))
		day := in.base
		for k := range m.Cells {
			c := &m.Cells[k]
			if at := packDay(c.Day); k == 0 {
				w.put(uint64(at-day), in.width)
				day = at
			} else {
				w.gamma(uint64(at-day) + 1)
				day = at
			}
			w.put(uint64(c.Band), bandBits)
			w.put(uint64(c.Class), classBits)
			c.write(w)
		}
	}
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
	w.put(b.keys[0]>>32, 32)
	w.put(b.keys[0], 32)
	for i, key := range b.keys[1:] {
		w.rice(key-b.keys[i]-1, k)
	}
	w.pad()
	b.body.pad()
	w.buf = append(w.buf, b.body.buf...)
	b.keys = b.keys[:0]
	b.body.reset()
	return w.buf
}

// findInBlock returns the moves of a position; none if it isn't there. It fails
// on bytes that no writer wrote.
func findInBlock(block []byte, key uint64, in days) (moves []Move, ok bool) {
	r := &bitReader{buf: block}
	n := int(r.take(countBits))
	k := uint(r.take(riceBits))
	at, found := r.wide(64), -1
	for i := range n {
		if i > 0 {
			next := at + r.rice(k) + 1
			if next <= at {
				return nil, false
			}
			at = next
		}
		if at == key {
			found = i
		}
	}
	if found < 0 || r.short {
		return nil, !r.short
	}
	r.align()
	for range found {
		if !skipPosition(r, in) {
			return nil, false
		}
	}
	return takePosition(r, in)
}

// cellBits is the least that a cell takes.
const cellBits = bandBits + classBits + 3

func takePosition(r *bitReader, in days) ([]Move, bool) {
	n := r.gamma()
	if r.short || n > uint64(r.left()/(squareBits+1)) {
		return nil, false
	}
	moves := make([]Move, 0, n)
	for range n {
		m := Move{Move: takeMove(r)}
		cells := r.gamma()
		if r.short || cells > uint64(r.left()/cellBits)+1 {
			return nil, false
		}
		m.Cells = make([]Cell, cells)
		day := uint64(in.base)
		for i := range m.Cells {
			c := &m.Cells[i]
			if i == 0 {
				day += r.take(in.width)
			} else {
				day += r.gamma() - 1
			}
			if day >= 1<<dayBits {
				return nil, false
			}
			c.Day = unpackDay(uint16(day))
			c.Band, c.Class = uint8(r.take(bandBits)), uint8(r.take(classBits))
			c.read(r)
		}
		moves = append(moves, m)
	}
	return moves, !r.short
}

func skipPosition(r *bitReader, in days) bool {
	for n := r.gamma(); n > 0; n-- {
		r.skip(squareBits)
		if r.take(1) == 1 {
			r.skip(promoteBits)
		}
		for cells, i := r.gamma(), uint64(0); i < cells; i++ {
			if i == 0 {
				r.skip(in.width)
			} else {
				r.gamma()
			}
			if r.skip(bandBits + classBits); r.take(1) == 0 {
				r.skip(2)
			} else {
				r.gamma()
				r.gamma()
				r.gamma()
				r.gamma()
				r.gamma()
			}
			if r.short {
				return false
			}
		}
		if r.short {
			return false
		}
	}
	return true
}
