package board

import "math/bits"

// A bitboard is a uint64 with one bit a square, a1 the lowest. Sliding pieces
// use the o^(o-2r) subtraction trick on a line and on its mirror image
// ('hyperbola quintessence', common practice in chess programming): its masks
// are small enough to stay in the fastest cache and to be filled at start.

type lineMasks struct {
	diagonal, antidiagonal, file uint64 // without the square itself
}

var (
	knightAttacks = leaperTable([][2]int{{1, 2}, {2, 1}, {2, -1}, {1, -2}, {-1, -2}, {-2, -1}, {-2, 1}, {-1, 2}})
	kingAttacks   = leaperTable([][2]int{{1, 1}, {1, 0}, {1, -1}, {0, -1}, {-1, -1}, {-1, 0}, {-1, 1}, {0, 1}})
	// pawnAttacks has the squares that a pawn of the colour takes on.
	pawnAttacks = [2][64]uint64{
		leaperTable([][2]int{{-1, 1}, {1, 1}}),
		leaperTable([][2]int{{-1, -1}, {1, -1}}),
	}
	lines = lineTable()
	// rankAttacks holds, for a file and the six inner squares of a rank, the
	// squares of that rank that a rook on that file reaches.
	rankAttacks = rankTable()
	// bishopRays and rookRays are the attacks on an empty board.
	bishopRays, rookRays = rayTables()
)

func bit(s Square) uint64 { return 1 << (s & 63) }

func lowest(b uint64) Square { return Square(bits.TrailingZeros64(b)) }

func leaperTable(steps [][2]int) (t [64]uint64) {
	for s := range t {
		for _, d := range steps {
			f, r := s&7+d[0], s>>3+d[1]
			if f >= 0 && f < 8 && r >= 0 && r < 8 {
				t[s] |= 1 << (r<<3 + f)
			}
		}
	}
	return t
}

func lineTable() (t [64]lineMasks) {
	for s := range t {
		for o := range 64 {
			df, dr := o&7-s&7, o>>3-s>>3
			if o == s {
				continue
			}
			if df == dr {
				t[s].diagonal |= 1 << o
			}
			if df == -dr {
				t[s].antidiagonal |= 1 << o
			}
			if df == 0 {
				t[s].file |= 1 << o
			}
		}
	}
	return t
}

func rankTable() (t [512]uint8) {
	for f := range 8 {
		for inner := range 64 {
			occupied := inner << 1
			var reach int
			for x := f + 1; x < 8; x++ {
				reach |= 1 << x
				if occupied>>x&1 != 0 {
					break
				}
			}
			for x := f - 1; x >= 0; x-- {
				reach |= 1 << x
				if occupied>>x&1 != 0 {
					break
				}
			}
			t[inner<<3+f] = uint8(reach)
		}
	}
	return t
}

func rayTables() (bishop, rook [64]uint64) {
	for s := range bishop {
		l := lines[s]
		bishop[s] = l.diagonal | l.antidiagonal
		rook[s] = l.file | uint64(0xff)<<(s&^7)&^(1<<s)
	}
	return bishop, rook
}

// along is what a slider on s reaches on one line that crosses each rank once.
func along(s Square, occupied, line uint64) uint64 {
	forward := occupied & line
	backward := bits.ReverseBytes64(forward)
	forward -= bit(s)
	backward -= bits.ReverseBytes64(bit(s))
	return (forward ^ bits.ReverseBytes64(backward)) & line
}

func bishopAttacks(s Square, occupied uint64) uint64 {
	l := &lines[s&63]
	return along(s, occupied, l.diagonal) | along(s, occupied, l.antidiagonal)
}

func rookAttacks(s Square, occupied uint64) uint64 {
	shift := s & 56
	inner := occupied >> shift >> 1 & 63
	rank := uint64(rankAttacks[inner<<3+uint64(s&7)]) << shift
	return along(s, occupied, lines[s&63].file) | rank
}

// lineOf is the whole rank, file or diagonal on which two squares lie, less
// the first of them.
func lineOf(s, other Square) uint64 {
	l, b := &lines[s&63], bit(other)
	for _, line := range [...]uint64{l.diagonal, l.antidiagonal, l.file} {
		if line&b != 0 {
			return line
		}
	}
	return rankMask(s) &^ bit(s)
}

// between are the squares strictly between a king and a piece that attacks it,
// or would if nothing stood there. A knight has none: it stands on the other
// colour, so that no diagonals of the two squares meet.
func between(king, piece Square) uint64 {
	if rookRays[king&63]&bit(piece) != 0 {
		return rookAttacks(king, bit(piece)) & rookAttacks(piece, bit(king))
	}
	return bishopAttacks(king, bit(piece)) & bishopAttacks(piece, bit(king))
}

func fileMask(s Square) uint64 { return 0x0101010101010101 << (s & 7) }

func rankMask(s Square) uint64 { return 0xff << (s & 56) }
