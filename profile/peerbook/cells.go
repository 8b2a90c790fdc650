package peerbook

import (
	"cmp"
	"math"
	"math/bits"
	"slices"

	"foreply/profile/board"
)

const (
	squareBits  = 12
	promoteBits = 3
	classBits   = 3
)

func putMove(w *bitWriter, m board.Move) {
	w.put(uint64(m), squareBits)
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

// cells writes the cells of a move: what holds for all days to the moves, the days
// to the detail.
func (w *tierWriter) cells(cells []Cell, in days) {
	list := append(w.sorted[:0], cells...)
	w.sorted = list
	slices.SortFunc(list, func(a, b Cell) int {
		return cmp.Or(cmp.Compare(a.Band, b.Band), cmp.Compare(a.Class, b.Class), cmp.Compare(a.Day, b.Day))
	})
	groups := uint64(0)
	for i := range list {
		if i == 0 || list[i].Band != list[i-1].Band || list[i].Class != list[i-1].Class {
			groups++
		}
	}
	w.body.gamma(groups)
	for len(list) > 0 {
		n := 1
		sum := list[0]
		for n < len(list) && list[n].Band == sum.Band && list[n].Class == sum.Class {
			sum.join(&list[n])
			n++
		}
		w.body.put(uint64(sum.Band), bandBits)
		w.body.put(uint64(sum.Class), classBits)
		sum.putCame(&w.body)
		putDays(&w.detail, list[:n], in)
		list = list[n:]
	}
}

// dayRice is the k that suits the differences of so many days.
func (in days) dayRice(n uint64) uint {
	return uint(max(0, bits.Len64(in.count-1)-bits.Len64(n)))
}

// putDays writes when the passes of one band and class were, in order.
func putDays(w *bitWriter, cells []Cell, in days) {
	before := packDay(cells[0].Day)
	if len(cells) == 1 && cells[0].Passes == 1 {
		in.put(w, before)
		return
	}
	n := uint64(len(cells))
	w.gamma(n)
	for i := range cells {
		day := packDay(cells[i].Day)
		if i == 0 {
			in.put(w, day)
		} else {
			w.rice(uint64(day-before)-1, in.dayRice(n))
		}
		before = day
		cells[i].putCame(w)
	}
}

// date puts the cells of each day in the place of those of all days. It fails on
// bytes that no writer wrote.
func (m *Move) date(r *bitReader, in days) bool {
	var out []Cell
	for i := range m.Cells {
		c := m.Cells[i]
		if c.Passes == 1 {
			if c.Day = dayAt(in.take(r)); c.Day < 0 {
				return false
			}
			out = append(out, c)
			continue
		}
		n, day := r.gamma(), uint64(0)
		for k := uint64(0); k < n && !r.short; k++ {
			if k == 0 {
				day = in.take(r)
			} else {
				day += r.rice(in.dayRice(n)) + 1
			}
			of := Cell{Day: dayAt(day), Band: c.Band, Class: c.Class}
			if of.Day < 0 {
				return false
			}
			of.readCame(r, r.window(), 0)
			out = append(out, of)
		}
	}
	slices.SortFunc(out, func(a, b Cell) int { return compareCells(&a, &b) })
	m.Cells = out
	return !r.short
}

// dayAt is a day out of the file, less than 0 if it can be none.
func dayAt(day uint64) int32 {
	if day >= 1<<dayBits {
		return -1
	}
	return unpackDay(uint16(day))
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

// putCame writes what came: results and weight.
func (c *Cell) putCame(w *bitWriter) {
	if rank, ok := passOf(c.Weight); ok && c.Passes == 1 {
		w.put(0, 1)
		putResult(w, c.soleResult())
		w.gamma(rank)
		return
	}
	w.put(1, 1)
	for _, n := range c.results() {
		w.gamma(uint64(n) + 1)
	}
	w.gamma(uint64(c.Passes)*Unit - c.Weight + 1)
}

// results are how many passes had which Result.
func (c *Cell) results() [4]uint32 {
	return [...]uint32{Unknown: c.Passes - c.White - c.Drawn - c.Black, WhiteWon: c.White, Drawn: c.Drawn, BlackWon: c.Black}
}

// A single result takes a bit if White won, two if Black did, else three.
func putResult(w *bitWriter, r Result) {
	switch r {
	case WhiteWon:
		w.put(0b0, 1)
	case BlackWon:
		w.put(0b10, 2)
	case Drawn:
		w.put(0b110, 3)
	default:
		w.put(0b111, 3)
	}
}

// resultAt is the result at the top of a window, and how many bits it takes.
func resultAt(w uint64) (Result, uint) {
	switch {
	case w>>63 == 0b0:
		return WhiteWon, 1
	case w>>62 == 0b10:
		return BlackWon, 2
	case w>>61 == 0b110:
		return Drawn, 3
	}
	return Unknown, 3
}

// take reads a cell of all days together.
func (c *Cell) take(r *bitReader) {
	w := r.window()
	c.Band, c.Class = uint8(w>>(64-bandBits)), uint8(w>>(64-bandBits-classBits)&(1<<classBits-1))
	c.readCame(r, w<<(bandBits+classBits), bandBits+classBits)
}

// passWeight is what a player's pass of a rank weighs.
func passWeight(rank uint64) uint64 {
	if rank == 1 {
		return Unit
	}
	return weightOf(rank) - weightOf(rank-1)
}

// readCame reads what putCame wrote, out of a window of which so many bits are used.
func (c *Cell) readCame(r *bitReader, w uint64, used uint) {
	single := w>>63 == 0
	w, used = w<<1, used+1
	if single {
		result, n := resultAt(w)
		rank := r.gammaIn(w<<n, used+n)
		c.add(result, passWeight(rank))
		return
	}
	n := r.gammas(w, used)
	c.White, c.Drawn, c.Black = uint32(n[WhiteWon]-1), uint32(n[Drawn]-1), uint32(n[BlackWon]-1)
	c.Passes = c.White + c.Drawn + c.Black + uint32(n[Unknown]-1)
	c.Weight = uint64(c.Passes)*Unit - (n[len(n)-1] - 1)
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

// passOf is which pass of a player weighs so much: the first weighs most. Of late
// ones that weigh the same it is one of them.
func passOf(weight uint64) (n uint64, ok bool) {
	if weight == Unit {
		return 1, true
	}
	if weight == 0 || weight > Unit {
		return 0, false
	}
	// sqrt(n) - sqrt(n-1) is about 1/(2 sqrt(n-1/2)).
	near := Unit / (2 * float64(weight))
	from := uint64(max(1, math.Floor(near*near)-1))
	for n := from; n < from+4; n++ {
		if passWeight(n) == weight {
			return n, true
		}
	}
	return 0, false
}
