// Package board is the chess board that the rest of foreply stands on: it
// knows the rules, reads a move as people write it (Resolve), writes it as the
// PGN standard wants it (SAN), and gives a position a 64-bit key, so that
// transpositions meet in the opening tree.
//
// In come FEN or EPD text and moves in SAN or UCI notation; out go positions,
// legal moves, keys and canonical text. The package is a leaf: it imports
// nothing of the project and does no I/O. Its neighbours are package profile,
// which replays games on it, and package referee, which checks the lines that
// reach a printed page against an independent rules library.
//
// Its priorities, in order: never wrong about legality, safe on any text, fast
// on ordinary games, forgiving about how moves are written.
package board

// Color is a side, White or Black.
type Color uint8

// The two sides.
const (
	White Color = 0
	Black Color = 1
)

// Other is the opponent's colour.
func (c Color) Other() Color { return c ^ 1 }

// String is "white" or "black".
func (c Color) String() string {
	if c == White {
		return "white"
	}
	return "black"
}

// Square is a square of the board: a1 = 0, b1 = 1, ... h8 = 63.
type Square uint8

// NoSquare stands for 'no square', for instance no en-passant target.
const NoSquare Square = 64

// File is 0 for the a-file ... 7 for the h-file.
func (s Square) File() int { return int(s & 7) }

// Rank is 0 for the first rank ... 7 for the eighth.
func (s Square) Rank() int { return int(s >> 3) }

// String is the name of the square, "e4", and "-" for NoSquare.
func (s Square) String() string {
	if s >= NoSquare {
		return "-"
	}
	return string([]byte{'a' + byte(s&7), '1' + byte(s>>3)})
}

// Kind is a kind of piece, without its colour.
type Kind uint8

// The kinds of piece; NoKind is the kind of an empty square.
const (
	NoKind Kind = iota
	Pawn
	Knight
	Bishop
	Rook
	Queen
	King
)

// Letter is the English letter of the kind as used in SAN: "PNBRQK", and a
// blank for NoKind.
func (k Kind) Letter() byte {
	return " PNBRQK "[k&7]
}

// Piece is a piece with its colour; the zero value is an empty square.
//
// The value is 2*kind, plus 1 for White: the order of the Polyglot table.
type Piece uint8

// MakePiece is the piece of that colour and kind; NoKind makes the empty square.
func MakePiece(c Color, k Kind) Piece {
	if k == NoKind {
		return 0
	}
	return Piece(k)<<1 | Piece(c^1)
}

// Kind is the kind of the piece, NoKind for an empty square.
func (pc Piece) Kind() Kind { return Kind(pc >> 1) }

// Color is the colour of the piece; it means nothing on an empty square.
func (pc Piece) Color() Color { return Color(pc&1) ^ 1 }

// Letter is the letter of the piece in FEN: capital for White, small for
// Black, a blank for an empty square.
func (pc Piece) Letter() byte {
	l := pc.Kind().Letter()
	if pc != 0 && pc.Color() == Black {
		l += 'a' - 'A'
	}
	return l
}

// Move is a move in 16 bits: from | to<<6 | promotion kind<<12. Castling is
// the king's move (e1g1). The zero value is NoMove.
type Move uint16

const (
	// NoMove is the zero Move: no move at all.
	NoMove Move = 0
	// NullMove passes the turn; annotators write it "--".
	NullMove Move = 63 | 63<<6
)

func newMove(from, to Square, promotion Kind) Move {
	return Move(from) | Move(to)<<6 | Move(promotion)<<12
}

// From is the square that the piece leaves.
func (m Move) From() Square { return Square(m & 63) }

// To is the square that the piece reaches; the king's, in castling.
func (m Move) To() Square { return Square(m >> 6 & 63) }

// Promotion is the kind that a pawn becomes, NoKind for all other moves.
func (m Move) Promotion() Kind { return Kind(m >> 12) }

// UCI is the move in the notation of the UCI protocol: "e2e4", "e7e8q",
// "e1g1" for castling, "0000" for NullMove, and "" for NoMove.
func (m Move) UCI() string {
	if m == NoMove {
		return ""
	}
	if m == NullMove {
		return "0000"
	}
	b := [5]byte{
		'a' + byte(m.From()&7), '1' + byte(m.From()>>3),
		'a' + byte(m.To()&7), '1' + byte(m.To()>>3),
	}
	if k := m.Promotion(); k != NoKind {
		b[4] = k.Letter() + 'a' - 'A'
		return string(b[:])
	}
	return string(b[:4])
}
