package board

import "math/bits"

// attackers are the pieces among enemies that attack a square, given the
// occupied squares.
func (p *Position) attackers(s Square, enemies, occupied uint64) uint64 {
	s &= 63
	// A pawn of the other colour attacks s from where a pawn of ours on s
	// would attack; the enemies of the side to move are the other colour.
	a := knightAttacks[s]&p.kinds[Knight] |
		kingAttacks[s]&p.kinds[King] |
		pawnAttacks[p.turn][s]&p.kinds[Pawn]
	a &= enemies
	if d := (p.kinds[Bishop] | p.kinds[Queen]) & enemies; d&bishopRays[s] != 0 {
		a |= bishopAttacks(s, occupied) & d
	}
	if d := (p.kinds[Rook] | p.kinds[Queen]) & enemies; d&rookRays[s] != 0 {
		a |= rookAttacks(s, occupied) & d
	}
	return a
}

// safe says whether the mover's king is out of check after a move that obeys
// the way the piece moves. Castling is judged in castlingTargets.
func (p *Position) safe(from, to Square) bool {
	king := p.king(p.turn)
	enemies := p.colors[p.turn^1] &^ bit(to)
	occupied := p.occupied()&^bit(from) | bit(to)
	if from == king {
		king = to
	} else if to == p.ep && p.squares[from&63].Kind() == Pawn {
		enemies &^= bit(to ^ 8)
		occupied &^= bit(to ^ 8)
	}
	return p.attackers(king, enemies, occupied) == 0
}

// targets are the squares that the piece on from, of the side to move, could
// go to if its king's safety didn't matter; castling only where it is legal.
func (p *Position) targets(from Square) uint64 {
	own := p.colors[p.turn]
	switch p.squares[from&63].Kind() {
	case Pawn:
		return p.pawnTargets(from)
	case Knight:
		return knightAttacks[from&63] &^ own
	case Bishop:
		return bishopAttacks(from, p.occupied()) &^ own
	case Rook:
		return rookAttacks(from, p.occupied()) &^ own
	case Queen:
		return (bishopAttacks(from, p.occupied()) | rookAttacks(from, p.occupied())) &^ own
	case King:
		return kingAttacks[from&63]&^own | p.castlingTargets()
	}
	return 0
}

func (p *Position) pawnTargets(from Square) uint64 {
	const thirdRank, sixthRank = 0xff << 16, 0xff << 40
	empty := ^p.occupied()
	prey := p.colors[p.turn^1]
	if p.ep != NoSquare {
		prey |= bit(p.ep)
	}
	captures := pawnAttacks[p.turn][from&63] & prey
	if p.turn == White {
		one := bit(from) << 8 & empty
		return captures | one | one&thirdRank<<8&empty
	}
	one := bit(from) >> 8 & empty
	return captures | one | one&sixthRank>>8&empty
}

// castlingTargets are the squares that the king of the side to move reaches by
// legal castling.
func (p *Position) castlingTargets() uint64 {
	rights := p.rights >> (2 * p.turn) & 3
	if rights == 0 {
		return 0
	}
	home := Square(4 + 56*p.turn)
	var t uint64
	if rights&whiteShort != 0 && p.occupied()&(0x60<<(home-4)) == 0 && p.quiet(home, home+1, home+2) {
		t |= bit(home + 2)
	}
	if rights&whiteLong != 0 && p.occupied()&(0x0e<<(home-4)) == 0 && p.quiet(home, home-1, home-2) {
		t |= bit(home - 2)
	}
	return t
}

// quiet says that the other side attacks none of the squares of the king's way.
func (p *Position) quiet(way ...Square) bool {
	for _, s := range way {
		if p.attackers(s, p.colors[p.turn^1], p.occupied()) != 0 {
			return false
		}
	}
	return true
}

// legalTargets are the squares that the piece on from can legally go to.
func (p *Position) legalTargets(from Square, inCheck bool) uint64 {
	t := p.targets(from)
	king := p.king(p.turn)
	bound := inCheck || from == king || (bishopRays[king&63]|rookRays[king&63])&bit(from) != 0
	if !bound && (p.ep == NoSquare || p.squares[from&63].Kind() != Pawn) {
		return t
	}
	for rest := t; rest != 0; rest &= rest - 1 {
		if to := lowest(rest); !p.isCastling(from, to) && !p.safe(from, to) {
			t &^= bit(to)
		}
	}
	return t
}

func (p *Position) isCastling(from, to Square) bool {
	return p.squares[from&63].Kind() == King && (from == to+2 || to == from+2)
}

// Legal appends the legal moves to buf, ordered by from square, then by target
// square, then by promotion from knight to queen. NullMove isn't among them.
func (p *Position) Legal(buf []Move) []Move {
	inCheck := p.InCheck()
	for own := p.colors[p.turn]; own != 0; own &= own - 1 {
		from := lowest(own)
		pawn := p.squares[from].Kind() == Pawn
		for t := p.legalTargets(from, inCheck); t != 0; t &= t - 1 {
			to := Square(bits.TrailingZeros64(t))
			if pawn && lastRank(to) {
				for k := Knight; k <= Queen; k++ {
					buf = append(buf, newMove(from, to, k))
				}
				continue
			}
			buf = append(buf, newMove(from, to, NoKind))
		}
	}
	return buf
}

// stuck says that the side to move has no legal move: mate or stalemate.
func (p *Position) stuck() bool {
	inCheck := p.InCheck()
	for own := p.colors[p.turn]; own != 0; own &= own - 1 {
		if p.legalTargets(lowest(own), inCheck) != 0 {
			return false
		}
	}
	return true
}

// legal says whether a move given by its squares and promotion is legal.
func (p *Position) legal(from, to Square, promotion Kind) bool {
	if p.colors[p.turn]&bit(from) == 0 || p.targets(from)&bit(to) == 0 {
		return false
	}
	promotes := p.squares[from&63].Kind() == Pawn && lastRank(to)
	if promotes != (promotion >= Knight && promotion <= Queen) || !promotes && promotion != NoKind {
		return false
	}
	return p.isCastling(from, to) || p.safe(from, to)
}

func lastRank(s Square) bool { return s < 8 || s >= 56 }
