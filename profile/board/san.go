package board

import "math/bits"

// SAN is the move in standard algebraic notation as PGN exports it: the
// shortest disambiguation that does, 'x' for captures, "=Q" for promotions, +
// for check and # for mate. NullMove is "--". The move must be legal here.
func (p *Position) SAN(m Move) string {
	if m == NullMove {
		return "--"
	}
	var buf [8]byte
	b := p.appendMove(buf[:0], m)
	after := *p
	after.Play(m)
	if after.InCheck() {
		if after.stuck() {
			b = append(b, '#')
		} else {
			b = append(b, '+')
		}
	}
	return string(b)
}

func (p *Position) appendMove(b []byte, m Move) []byte {
	from, to := m.From(), m.To()
	kind := p.squares[from].Kind()
	if p.isCastling(from, to) {
		if to > from {
			return append(b, "O-O"...)
		}
		return append(b, "O-O-O"...)
	}
	capture := p.squares[to] != 0
	if kind == Pawn {
		capture = capture || from&7 != to&7
		if capture {
			b = append(b, 'a'+byte(from&7))
		}
	} else {
		b = append(b, kind.Letter())
		b = p.appendOrigin(b, kind, from, to)
	}
	if capture {
		b = append(b, 'x')
	}
	b = append(b, 'a'+byte(to&7), '1'+byte(to>>3))
	if k := m.Promotion(); k != NoKind {
		b = append(b, '=', k.Letter())
	}
	return b
}

// appendOrigin adds the file, the rank or both (PGN standard 8.2.3.4, in this
// order of preference) if another piece of the kind can legally go there too.
func (p *Position) appendOrigin(b []byte, kind Kind, from, to Square) []byte {
	rivals := p.reachers(kind, to) &^ bit(from)
	for r := rivals; r != 0; r &= r - 1 {
		if s := lowest(r); !p.safe(s, to) {
			rivals &^= bit(s)
		}
	}
	if rivals == 0 {
		return b
	}
	sameFile := rivals&fileMask(from) != 0
	sameRank := rivals&rankMask(from) != 0
	if !sameFile || sameRank {
		b = append(b, 'a'+byte(from&7))
	}
	if sameFile {
		b = append(b, '1'+byte(from>>3))
	}
	return b
}

// reachers are the pieces of a kind (no pawns) of the side to move that could
// go to a square if their king's safety didn't matter; no castling.
func (p *Position) reachers(kind Kind, to Square) uint64 {
	if p.colors[p.turn]&bit(to) != 0 {
		return 0
	}
	pieces := p.kinds[kind] & p.colors[p.turn]
	switch kind {
	case Knight:
		return pieces & knightAttacks[to&63]
	case Bishop:
		return pieces & bishopAttacks(to, p.occupied())
	case Rook:
		return pieces & rookAttacks(to, p.occupied())
	case Queen:
		return pieces & (bishopAttacks(to, p.occupied()) | rookAttacks(to, p.occupied()))
	case King:
		return pieces & kingAttacks[to&63]
	}
	return 0
}

// pawnReachers are the pawns of the side to move that could go to a square, by
// a capture or by a push.
func (p *Position) pawnReachers(to Square, capture bool) uint64 {
	pawns := p.kinds[Pawn] & p.colors[p.turn]
	if capture {
		if p.colors[p.turn^1]&bit(to) == 0 && to != p.ep {
			return 0
		}
		return pawns & pawnAttacks[p.turn^1][to&63]
	}
	empty := ^p.occupied()
	if empty&bit(to) == 0 {
		return 0
	}
	back, double := 8, 3
	step := bit(to)
	if p.turn == Black {
		back, double = -8, 4
	}
	one := bits.RotateLeft64(step, -back)
	if one&pawns != 0 || int(to>>3) != double {
		return one & pawns
	}
	if one&empty == 0 {
		return 0
	}
	return bits.RotateLeft64(one, -back) & pawns
}
