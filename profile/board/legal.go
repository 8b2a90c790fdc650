package board

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

func (p *Position) isCastling(from, to Square) bool {
	return p.squares[from&63].Kind() == King && (from == to+2 || to == from+2)
}

// guard is what the king's safety asks of the other pieces.
type guard struct {
	king   Square
	pinned uint64 // own pieces that may move only in line with their king
	block  uint64 // where a piece must go to answer a check; all if there is none
}

func (p *Position) guard() guard {
	g := guard{king: p.king(p.turn), block: ^uint64(0)}
	own, enemies := p.colors[p.turn], p.colors[p.turn^1]
	checkers := p.attackers(g.king, enemies, p.occupied())
	switch {
	case checkers&(checkers-1) != 0:
		g.block = 0
	case checkers != 0:
		g.block = checkers | between(g.king, lowest(checkers))
	}
	straight, slanted := p.kinds[Rook]|p.kinds[Queen], p.kinds[Bishop]|p.kinds[Queen]
	snipers := enemies & (straight&rookRays[g.king&63] | slanted&bishopRays[g.king&63])
	for ; snipers != 0; snipers &= snipers - 1 {
		shield := between(g.king, lowest(snipers)) & p.occupied()
		if shield&(shield-1) == 0 {
			g.pinned |= shield & own
		}
	}
	return g
}

// legalTargets are the squares that the piece on from can legally go to.
func (p *Position) legalTargets(g *guard, from Square) uint64 {
	t := p.targets(from)
	if from == g.king {
		return p.safeTargets(from, t)
	}
	allowed := g.block
	if g.pinned&bit(from) != 0 {
		allowed &= lineOf(g.king, from)
	}
	if p.ep != NoSquare && t&bit(p.ep) != 0 && p.squares[from&63].Kind() == Pawn {
		// Two pawns leave their squares at once: neither pin nor block tells.
		return t&allowed&^bit(p.ep) | p.safeTargets(from, t&bit(p.ep))
	}
	return t & allowed
}

// safeTargets tries each target; castling is known to be safe.
func (p *Position) safeTargets(from Square, t uint64) uint64 {
	for rest := t; rest != 0; rest &= rest - 1 {
		if to := lowest(rest); !p.isCastling(from, to) && !p.safe(from, to) {
			t &^= bit(to)
		}
	}
	return t
}

// Legal appends the legal moves to buf, ordered by from square, then by target
// square, then by promotion from knight to queen. NullMove isn't among them.
func (p *Position) Legal(buf []Move) []Move {
	g := p.guard()
	for own := p.colors[p.turn]; own != 0; own &= own - 1 {
		from := lowest(own)
		t := p.legalTargets(&g, from)
		if t&endRanks != 0 && p.squares[from&63].Kind() == Pawn {
			buf = appendPromotions(buf, from, t)
			continue
		}
		for ; t != 0; t &= t - 1 {
			buf = append(buf, newMove(from, lowest(t), NoKind))
		}
	}
	return buf
}

func appendPromotions(buf []Move, from Square, t uint64) []Move {
	for ; t != 0; t &= t - 1 {
		for k := Knight; k <= Queen; k++ {
			buf = append(buf, newMove(from, lowest(t), k))
		}
	}
	return buf
}

// stuck says that the side to move has no legal move: mate or stalemate.
func (p *Position) stuck() bool {
	g := p.guard()
	for own := p.colors[p.turn]; own != 0; own &= own - 1 {
		if p.legalTargets(&g, lowest(own)) != 0 {
			return false
		}
	}
	return true
}

// legal says whether a move given by its squares and promotion, from knight to queen, is
// legal.
func (p *Position) legal(from, to Square, promotion Kind) bool {
	if p.colors[p.turn]&bit(from) == 0 || p.targets(from)&bit(to) == 0 {
		return false
	}
	promotes := p.squares[from&63].Kind() == Pawn && lastRank(to)
	if promotes != (promotion != NoKind) {
		return false
	}
	return p.isCastling(from, to) || p.safe(from, to)
}

// endRanks are the first and the last rank, where no pawn can stay.
const endRanks = 0xff | 0xff<<56

func lastRank(s Square) bool { return bit(s)&endRanks != 0 }
