package peerbook

import (
	"cmp"
	"encoding/binary"
	"math"
	"slices"

	"foreply/profile/board"
)

// visit is one move of one game: the key of the position, then from the highest
// bit the move, the surname of the player who made it, the day, their band, and
// class with result; and the block that the game stands in.
type visit struct {
	key, rest uint64
	block     uint32
}

const (
	visitBytes      = 8 + 8 + 4
	classResultBits = 5
)

func newVisit(key uint64, m board.Move, player uint32, day uint16, band, classResult uint8) visit {
	rest := uint64(m)
	rest = rest<<surnameBits | uint64(player)
	rest = rest<<dayBits | uint64(day)
	rest = rest<<bandBits | uint64(band)
	return visit{key: key, rest: rest<<classResultBits | uint64(classResult)}
}

func (v visit) class() uint8   { return uint8(v.rest>>2) & 7 }
func (v visit) result() Result { return Result(v.rest & 3) }
func (v visit) band() uint8    { return uint8(v.rest>>classResultBits) & (1<<bandBits - 1) }
func (v visit) day() uint16    { return uint16(v.rest >> (classResultBits + bandBits)) }

// player is the move with who made it.
func (v visit) player() uint64 { return v.rest >> (classResultBits + bandBits + dayBits) }

func (v visit) move() board.Move { return board.Move(v.player() >> surnameBits) }

func compareVisits(a, b visit) int {
	if a.key != b.key {
		return cmp.Compare(a.key, b.key)
	}
	return cmp.Compare(a.rest, b.rest)
}

func (v visit) append(to []byte) []byte {
	to = binary.BigEndian.AppendUint64(binary.BigEndian.AppendUint64(to, v.key), v.rest)
	return binary.BigEndian.AppendUint32(to, v.block)
}

func visitOf(b []byte) visit {
	return visit{binary.BigEndian.Uint64(b), binary.BigEndian.Uint64(b[8:]), binary.BigEndian.Uint32(b[16:])}
}

// Move is a move played from a position.
type Move struct {
	Move  board.Move
	Cells []Cell // in order of days, bands and classes
}

// Cell sums up the passes of one move, latest possible day, band of who made it,
// and class.
type Cell struct {
	Day                 int32 // as pgn.Day
	Band, Class         uint8
	Passes              uint32 // of games; a game that repeats the position passes again
	White, Drawn, Black uint32 // results, the others are unknown
	// Weight is the passes weighed, in Units: a player's n passes with the move
	// up to a day weigh sqrt(n) together, the newest of them sqrt(n)-sqrt(n-1).
	Weight uint64
}

// Unit is the weight of a player's first pass.
const Unit = 1 << 16

// weightOf is the weight of n passes of one player together, rounded once, so
// that sums of steps are exact.
func weightOf(n uint64) uint64 { return uint64(math.Round(Unit * math.Sqrt(float64(n)))) }

func (c *Cell) add(r Result, weight uint64) {
	c.Passes++
	c.Weight += weight
	switch r {
	case WhiteWon:
		c.White++
	case Drawn:
		c.Drawn++
	case BlackWon:
		c.Black++
	}
}

func compareCells(a, b *Cell) int {
	if a.Day != b.Day {
		return cmp.Compare(a.Day, b.Day)
	}
	return cmp.Or(cmp.Compare(a.Band, b.Band), cmp.Compare(a.Class, b.Class))
}

// summing sums up visits of one position, which come in order.
type summing struct {
	moves  []Move
	player uint64 // of the newest visit
	passes uint64 // of that player with that move
	tidy   int
}

// roughCells is how many cells of a move are gathered before they are put
// together: a move of the whole archive must not keep one for each game.
const roughCells = 1 << 15

func (s *summing) reset() {
	s.moves = s.moves[:0]
}

func (s *summing) add(v visit) {
	if len(s.moves) == 0 || v.player() != s.player {
		if k := len(s.moves); k == 0 || s.moves[k-1].Move != v.move() {
			s.close()
			s.open(v.move())
		}
		s.player, s.passes = v.player(), 0
	}
	s.passes++
	m := &s.moves[len(s.moves)-1]
	c := Cell{Day: unpackDay(v.day()), Band: v.band(), Class: v.class()}
	c.add(v.result(), weightOf(s.passes)-weightOf(s.passes-1))
	m.Cells = append(m.Cells, c)
	if len(m.Cells) > 2*s.tidy+roughCells {
		m.Cells = together(m.Cells)
		s.tidy = len(m.Cells)
	}
}

// open begins a move, in the room of an earlier position if there is any.
func (s *summing) open(m board.Move) {
	k := len(s.moves)
	s.moves = slices.Grow(s.moves, 1)[:k+1]
	s.moves[k].Move, s.moves[k].Cells = m, s.moves[k].Cells[:0]
	s.tidy = 0
}

// close puts the cells of the newest move together.
func (s *summing) close() {
	if k := len(s.moves); k > 0 {
		s.moves[k-1].Cells = together(s.moves[k-1].Cells)
	}
}

// together sorts cells and adds up those of one day, band and class.
func together(cells []Cell) []Cell {
	if len(cells) < 2 {
		return cells
	}
	slices.SortFunc(cells, func(a, b Cell) int { return compareCells(&a, &b) })
	out := cells[:1]
	for _, c := range cells[1:] {
		last := &out[len(out)-1]
		if compareCells(last, &c) != 0 {
			out = append(out, c)
			continue
		}
		last.join(&c)
	}
	return out
}

// join adds the counts of another cell.
func (c *Cell) join(o *Cell) {
	c.Passes += o.Passes
	c.White += o.White
	c.Drawn += o.Drawn
	c.Black += o.Black
	c.Weight += o.Weight
}
