package board

import (
	"errors"
	"fmt"
	"math/bits"
	"strconv"
	"strings"
)

// ErrFEN is wrapped by every error of ParseFEN.
var ErrFEN = errors.New("bad position")

func mustParse(fen string) Position {
	p, err := ParseFEN(fen)
	if err != nil {
		panic(err)
	}
	return p
}

// ParseFEN reads a position from FEN, or from its first four or five fields;
// missing counters are taken as 0 and 1. The error wraps ErrFEN and says what
// is wrong.
//
// It wants one king each, no pawns on the first and last rank, and the side
// that is not to move not in check. Castling rights that the king and rooks on
// the board can't have are dropped without an error, since set-up positions
// often carry stale ones. An en-passant square is kept only if a capture there
// is legal.
func ParseFEN(s string) (Position, error) {
	p := Position{ep: NoSquare, full: 1}
	fields := strings.Fields(s)
	if len(fields) < 4 || len(fields) > 6 {
		return Position{}, fenError("%d fields instead of 4 to 6", len(fields))
	}
	if err := p.readPieces(fields[0]); err != nil {
		return Position{}, err
	}
	switch fields[1] {
	case "w":
	case "b":
		p.turn = Black
	default:
		return Position{}, fenError("side to move %q, not w or b", fields[1])
	}
	if err := p.checkPieces(); err != nil {
		return Position{}, err
	}
	if err := p.readRights(fields[2]); err != nil {
		return Position{}, err
	}
	if err := p.readEnPassant(fields[3]); err != nil {
		return Position{}, err
	}
	if err := p.readCounters(fields[4:]); err != nil {
		return Position{}, err
	}
	return p, nil
}

func fenError(format string, args ...any) error {
	return fmt.Errorf("%w: %s", ErrFEN, fmt.Sprintf(format, args...))
}

func (p *Position) readPieces(field string) error {
	rank, file := 7, 0
	for _, c := range []byte(field) {
		switch {
		case c == '/':
			if file != 8 || rank == 0 {
				return fenError("rank %d has %d squares", rank+1, file)
			}
			rank, file = rank-1, 0
			continue
		case c >= '1' && c <= '8':
			file += int(c - '0')
		default:
			pc := pieceOf(c)
			if pc == 0 {
				return fenError("unknown piece %q", rune(c))
			}
			if file > 7 {
				return fenError("rank %d is too long", rank+1)
			}
			p.put(pc, Square(rank<<3+file))
			file++
		}
		if file > 8 {
			return fenError("rank %d is too long", rank+1)
		}
	}
	if rank != 0 || file != 8 {
		return fenError("the board ends on rank %d after %d squares", rank+1, file)
	}
	return nil
}

func pieceOf(c byte) Piece {
	color := White
	if c >= 'a' {
		color = Black
		c -= 'a' - 'A'
	}
	if i := strings.IndexByte("PNBRQK", c); i >= 0 {
		return MakePiece(color, Pawn+Kind(i))
	}
	return 0
}

func (p *Position) checkPieces() error {
	for _, c := range []Color{White, Black} {
		if n := bits.OnesCount64(p.kinds[King] & p.colors[c]); n != 1 {
			return fenError("%s has %d kings", c, n)
		}
	}
	if p.kinds[Pawn]&endRanks != 0 {
		return fenError("a pawn stands on the first or last rank")
	}
	other := *p
	other.turn ^= 1
	if other.InCheck() {
		return fenError("%s is to move, but %s stands in check", p.turn, p.turn.Other())
	}
	return nil
}

func (p *Position) readRights(field string) error {
	if field == "-" {
		return nil
	}
	var rights uint8
	for _, c := range []byte(field) {
		i := strings.IndexByte("KQkq", c)
		if i < 0 {
			return fenError("castling rights %q", field)
		}
		rights |= 1 << i
	}
	for i, r := range [4]struct{ king, rook Square }{{4, 7}, {4, 0}, {60, 63}, {60, 56}} {
		c := Color(i >> 1)
		if p.squares[r.king] != MakePiece(c, King) || p.squares[r.rook] != MakePiece(c, Rook) {
			rights &^= 1 << i
		}
	}
	p.toggleRights(rights)
	return nil
}

func (p *Position) readEnPassant(field string) error {
	if field == "-" {
		return nil
	}
	rank := byte('6')
	if p.turn == Black {
		rank = '3'
	}
	if len(field) != 2 || field[0] < 'a' || field[0] > 'h' || field[1] != rank {
		return fenError("en-passant square %q", field)
	}
	s := Square(field[0]-'a') + Square(field[1]-'1')<<3
	// Behind the passed square stands the pawn, and before it nothing.
	if p.squares[s^8] == MakePiece(p.turn.Other(), Pawn) && p.squares[s] == 0 && p.squares[s^24] == 0 {
		p.setEnPassant(s)
	}
	return nil
}

func (p *Position) readCounters(fields []string) error {
	for i, f := range fields {
		n, err := strconv.ParseUint(f, 10, 32)
		if err != nil || n > maxCounter {
			return fenError("counter %q, not a number up to %d", f, maxCounter)
		}
		if i == 0 {
			p.half = uint32(n)
		} else {
			p.full = uint32(max(n, 1))
		}
	}
	return nil
}

// FEN is the position in Forsyth-Edwards notation, six fields. The en-passant
// square stands there only if a capture is legal.
func (p *Position) FEN() string {
	b := p.appendEPD(make([]byte, 0, 96))
	b = append(b, ' ')
	b = strconv.AppendUint(b, uint64(p.half), 10)
	b = append(b, ' ')
	b = strconv.AppendUint(b, uint64(p.full), 10)
	return string(b)
}

// EPD is the first four fields of FEN: what makes a position the same.
func (p *Position) EPD() string {
	return string(p.appendEPD(make([]byte, 0, 80)))
}

func (p *Position) appendEPD(b []byte) []byte {
	for rank := 7; rank >= 0; rank-- {
		b = p.appendRank(b, rank)
		if rank > 0 {
			b = append(b, '/')
		}
	}
	b = append(b, ' ', "wb"[p.turn], ' ')
	if p.rights == 0 {
		b = append(b, '-')
	}
	for i := range 4 {
		if p.rights>>i&1 != 0 {
			b = append(b, "KQkq"[i])
		}
	}
	b = append(b, ' ')
	return append(b, p.ep.String()...)
}

func (p *Position) appendRank(b []byte, rank int) []byte {
	empty := byte(0)
	for file := range 8 {
		pc := p.squares[rank<<3+file]
		if pc == 0 {
			empty++
			continue
		}
		if empty > 0 {
			b = append(b, '0'+empty)
			empty = 0
		}
		b = append(b, pc.Letter())
	}
	if empty > 0 {
		b = append(b, '0'+empty)
	}
	return b
}
