package board

import "math/bits"

// Steps are the moves of one piece of the side to move as far as the way it moves
// goes: those that would leave its king in check are among them, castling only where
// it is legal. They are found in a fraction of the time of Legal, for who packs moves
// of games in few bits.
type Steps struct {
	from    Square
	each    uint8 // moves to a target: four of a pawn that promotes
	targets uint64
}

// Pieces is how many pieces the side to move has.
func (p *Position) Pieces() int { return bits.OnesCount64(p.colors[p.turn]) }

// PieceOn is the number of the piece on a square, in order of the squares; a number
// between those of others if it is none of the side to move.
func (p *Position) PieceOn(s Square) int { return bits.OnesCount64(p.colors[p.turn] & (bit(s) - 1)) }

// Steps of the piece of a number; none if there is no such piece.
func (p *Position) Steps(piece int) Steps {
	own := p.colors[p.turn]
	for ; piece > 0; piece-- {
		own &= own - 1
	}
	if own == 0 {
		return Steps{}
	}
	s := Steps{from: lowest(own), each: 1}
	s.targets = p.targets(s.from)
	if s.targets&endRanks != 0 && p.squares[s.from&63].Kind() == Pawn {
		s.each = 4
	}
	return s
}

// Count is how many they are.
func (s *Steps) Count() int { return bits.OnesCount64(s.targets) * int(s.each) }

// Of is the number of a move, in the order of Legal, less than 0 if it isn't among
// them.
func (s *Steps) Of(m Move) int {
	promotes := m.Promotion() >= Knight && m.Promotion() <= Queen
	if m.From() != s.from || s.targets&bit(m.To()) == 0 || promotes != (s.each == 4) || !promotes && m.Promotion() != NoKind {
		return -1
	}
	n := bits.OnesCount64(s.targets&(bit(m.To())-1)) * int(s.each)
	if promotes {
		n += int(m.Promotion() - Knight)
	}
	return n
}

// Move is the move of a number less than Count.
func (s *Steps) Move(n int) Move {
	promotion := NoKind
	if s.each == 4 {
		promotion = Knight + Kind(n&3)
		n >>= 2
	}
	targets := s.targets
	for range n {
		targets &= targets - 1
	}
	return newMove(s.from, lowest(targets), promotion)
}

// Apart compares the men of a side with those of another position: squares on which they
// differ, one that another kind of man stands on counted twice, how many fewer the other
// has, and whether the king stands elsewhere. A move makes at most two differences,
// castling four, a capture one on the other side.
func (p *Position) Apart(o *Position, c Color) (squares, fewer int, king bool) {
	fewer = bits.OnesCount64(p.colors[c&1]) - bits.OnesCount64(o.colors[c&1])
	for k := Pawn; k <= King; k++ {
		differ := p.kinds[k]&p.colors[c&1] ^ o.kinds[k]&o.colors[c&1]
		squares += bits.OnesCount64(differ)
		king = differ != 0 // of the last kind
	}
	return squares, fewer, king
}
