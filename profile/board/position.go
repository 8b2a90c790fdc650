package board

// Castling rights, one bit each, in the order of the Polyglot table.
const (
	whiteShort uint8 = 1 << iota
	whiteLong
	blackShort
	blackLong
)

// maxCounter is where the counters of FEN stop: far beyond any game, so that
// what we write we also read.
const maxCounter = 9999

// Position is a chess position: the pieces, whose turn it is, castling rights,
// an en-passant target and the two counters of FEN. It is a plain value; a
// copy is an independent position. The zero value is no position: begin with
// Start or ParseFEN.
type Position struct {
	squares [64]Piece
	kinds   [7]uint64 // bitboards by Kind
	colors  [2]uint64 // bitboards by Color
	own     [2]uint64 // keys of each side's pieces and castling rights
	half    uint32    // half-moves since the last capture or pawn move
	full    uint32    // number of the move, from 1
	turn    Color
	rights  uint8
	ep      Square // set only if an en-passant capture is legal
}

var start = mustParse("rnbqkbnr/pppppppp/8/8/8/8/PPPPPPPP/RNBQKBNR w KQkq - 0 1")

// Start is the position at the beginning of a game.
func Start() Position { return start }

// Turn is the side to move.
func (p *Position) Turn() Color { return p.turn }

// At is the piece on a square, the zero Piece if there is none.
func (p *Position) At(s Square) Piece {
	if s >= NoSquare {
		return 0
	}
	return p.squares[s]
}

// FullMove is the number of the current move, 1 at the start of a game and 9999
// at most.
func (p *Position) FullMove() int { return int(p.full) }

// Ply is the number of half-moves before the position, by its move number.
func (p *Position) Ply() int { return 2*(p.FullMove()-1) + int(p.Turn()) }

// Key identifies the position (pieces, turn, castling rights, en passant) by
// the numbers of the Polyglot book format. Counters don't matter. The key
// departs from that format in one case: the en-passant file counts only if an
// en-passant capture is legal, as Laws 9.2.3 has it, where the format asks only
// for a pawn beside the one that moved.
func (p *Position) Key() uint64 {
	k := p.own[White] ^ p.own[Black]
	if p.turn == White {
		k ^= polyglot[polyWhite]
	}
	if p.ep != NoSquare {
		k ^= polyglot[polyEnPassant+int(p.ep&7)]
	}
	return k
}

// OwnKey identifies the set-up of one side: its pieces and its castling
// rights, whatever the other side has and whoever is to move.
func (p *Position) OwnKey(c Color) uint64 { return p.own[c&1] }

// InCheck says whether the side to move is in check.
func (p *Position) InCheck() bool {
	return p.attackers(p.king(p.turn), p.colors[p.turn^1], p.occupied()) != 0
}

func (p *Position) occupied() uint64 { return p.colors[0] | p.colors[1] }

func (p *Position) king(c Color) Square { return lowest(p.kinds[King] & p.colors[c&1]) }

func (p *Position) put(pc Piece, s Square) {
	c := pc.Color()
	p.squares[s&63] = pc
	p.kinds[pc.Kind()] |= bit(s)
	p.colors[c] |= bit(s)
	p.own[c] ^= pieceKey(pc, s)
}

func (p *Position) remove(s Square) {
	pc := p.squares[s&63]
	c := pc.Color()
	p.squares[s&63] = 0
	p.kinds[pc.Kind()] &^= bit(s)
	p.colors[c] &^= bit(s)
	p.own[c] ^= pieceKey(pc, s)
}

// Play makes a move in place. The move must be legal here, as those from
// Legal, Resolve and ParseUCI are; Play doesn't check it. NullMove passes the
// turn.
func (p *Position) Play(m Move) {
	passed := p.ep
	p.ep = NoSquare
	p.half = min(p.half+1, maxCounter)
	if m == NullMove {
		p.pass()
		return
	}
	from, to := m.From(), m.To()
	pc := p.squares[from]
	if p.squares[to] != 0 {
		p.remove(to)
		p.half = 0
	}
	p.shift(pc, from, to)
	if lost := p.rights & (rightsLost[from] | rightsLost[to]); lost != 0 {
		p.toggleRights(lost)
	}
	switch pc.Kind() {
	case Pawn:
		p.half = 0
		p.finishPawnMove(m, passed)
	case King:
		p.moveCastlingRook(from, to)
		p.pass()
	default:
		p.pass()
	}
}

// finishPawnMove does what only pawns do: promotion, taking en passant from
// beside the passed square, and passing a square themselves.
func (p *Position) finishPawnMove(m Move, passed Square) {
	from, to := m.From(), m.To()
	if k := m.Promotion(); k != NoKind {
		p.remove(to)
		p.put(MakePiece(p.turn, k), to)
	} else if to == passed {
		p.remove(to ^ 8)
	}
	p.pass()
	if from^to == 16 {
		p.setEnPassant((from + to) / 2)
	}
}

func (p *Position) pass() {
	p.full = min(p.full+uint32(p.turn), maxCounter)
	p.turn ^= 1
}

// shift moves a piece to an empty square.
func (p *Position) shift(pc Piece, from, to Square) {
	both := bit(from) | bit(to)
	c := pc.Color()
	p.squares[from&63] = 0
	p.squares[to&63] = pc
	p.kinds[pc.Kind()] ^= both
	p.colors[c] ^= both
	p.own[c] ^= pieceKey(pc, from) ^ pieceKey(pc, to)
}

// moveCastlingRook brings the rook over if the king's move was castling.
func (p *Position) moveCastlingRook(from, to Square) {
	switch {
	case to == from+2:
		p.shift(p.squares[to+1], to+1, to-1)
	case from == to+2:
		p.shift(p.squares[to-2], to-2, to+1)
	}
}

// rightsLost are the castling rights that end when something leaves a square
// or reaches it.
var rightsLost = [64]uint8{
	0: whiteLong, 4: whiteLong | whiteShort, 7: whiteShort,
	56: blackLong, 60: blackLong | blackShort, 63: blackShort,
}

// toggleRights turns rights on or off and keeps the keys in step.
func (p *Position) toggleRights(r uint8) {
	p.rights ^= r
	for i := range 4 {
		if r>>i&1 != 0 {
			p.own[i>>1] ^= polyglot[polyCastling+i]
		}
	}
}

// setEnPassant records the square that a pawn has just passed, if the side to
// move can legally capture there.
func (p *Position) setEnPassant(s Square) {
	takers := pawnAttacks[p.turn^1][s] & p.kinds[Pawn] & p.colors[p.turn]
	p.ep = s
	for ; takers != 0; takers &= takers - 1 {
		if p.safe(lowest(takers), s) {
			return
		}
	}
	p.ep = NoSquare
}
