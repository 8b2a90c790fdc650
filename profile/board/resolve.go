package board

import "errors"

// The three ways in which Resolve refuses a move; ParseUCI knows the first two.
var (
	// ErrUnreadable says that the text isn't a move in any notation we know.
	ErrUnreadable = errors.New("unreadable move")
	// ErrIllegal says that the text is a move, but none that can be played here.
	ErrIllegal = errors.New("illegal move")
	// ErrAmbiguous says that several pieces can make the move and that the text
	// doesn't tell which.
	ErrAmbiguous = errors.New("ambiguous move")
)

// Resolve finds the legal move that san means. It takes SAN and what people
// write instead of it:
//
//   - long algebraic and UCI moves: Nb8-c6, Ng1xf3, e2-e4, e2e4, e1g1, e7e8q
//   - castling with O, o or zero: O-O, o-o, 0-0-0
//   - promotion as e8=Q, e8Q, e8(Q) or e8/Q, also with a small letter
//   - any check mark, any capture sign or none, "e.p.", needless
//     disambiguation, a P before a pawn move, trailing ! and ?
//   - a pawn's capture by its files, ed or exd, if only one is legal
//   - "--", "Z0" and "0000" for the null move, which is illegal in check
//   - small piece letters. A small b is a pawn of the b-file if one could go
//     there, pinned or not, and a bishop else: in "bc4", take first, then move.
//
// The error is ErrUnreadable, ErrIllegal or ErrAmbiguous itself, and the move
// then NoMove. A piece that may not move for its king's sake makes nothing
// ambiguous. A pawn move to the last rank that doesn't say which piece it
// becomes is illegal: no rule lets us guess. Resolve doesn't allocate.
func (p *Position) Resolve(san []byte) (Move, error) {
	var n notation
	m, err := NoMove, ErrUnreadable
	if n.read(san) {
		m, err = p.resolve(&n)
	}
	if err != nil && len(san) > 0 && san[0] == 'b' {
		return p.resolveSmallBishop(&n, san, err)
	}
	return m, err
}

// resolveSmallBishop reads san, which failed as a move of the b-pawn, as one of
// a bishop, unless the text is plainly about a pawn or the square b-something.
func (p *Position) resolveSmallBishop(pawn *notation, san []byte, err error) (Move, error) {
	if err != ErrUnreadable && (pawn.from.complete() || p.candidates(pawn, Pawn) != 0) {
		return NoMove, err
	}
	var bishop notation
	if !bishop.readSquares(Bishop, san[1:]) {
		return NoMove, err
	}
	if bishop.capture && p.squares[bishop.to.square()] == 0 {
		return NoMove, ErrIllegal
	}
	return p.resolve(&bishop)
}

func (p *Position) resolve(n *notation) (Move, error) {
	switch {
	case n.form == fileTakesFile:
		return p.resolveFiles(n)
	case n.form != ordinary:
		return p.resolveSpecial(n.form)
	case n.from.complete():
		return p.resolveSquares(n)
	}
	kind := max(n.kind, Pawn)
	to := n.to.square()
	if (kind == Pawn && lastRank(to)) != (n.promotion != NoKind) {
		return NoMove, ErrIllegal
	}
	found := p.candidates(n, kind)
	for c := found; c != 0; c &= c - 1 {
		if from := lowest(c); !p.safe(from, to) {
			found &^= bit(from)
		}
	}
	if found == 0 {
		return NoMove, ErrIllegal
	}
	if found&(found-1) != 0 {
		return NoMove, ErrAmbiguous
	}
	return newMove(lowest(found), to, n.promotion), nil
}

// candidates are the pieces that fit the notation, their king's safety aside.
func (p *Position) candidates(n *notation, kind Kind) uint64 {
	if kind != Pawn {
		return p.reachers(kind, n.to.square()) & n.from.mask()
	}
	sideways := n.from.file != unwritten && n.from.file != n.to.file
	return p.pawnReachers(n.to.square(), n.capture || sideways) & n.from.mask()
}

// resolveSquares handles moves that name both squares, with or without the
// piece.
func (p *Position) resolveSquares(n *notation) (Move, error) {
	from, to := n.from.square(), n.to.square()
	if n.kind != NoKind && p.squares[from].Kind() != n.kind || !p.legal(from, to, n.promotion) {
		return NoMove, ErrIllegal
	}
	return newMove(from, to, n.promotion), nil
}

// resolveFiles handles captures of a pawn that name no rank. Which piece a pawn
// would become on the last one isn't said, so that isn't looked at.
func (p *Position) resolveFiles(n *notation) (Move, error) {
	found, err := NoMove, ErrIllegal
	for rank := uint8(1); rank < 7; rank++ {
		to := place{n.to.file, rank}.square()
		for c := p.pawnReachers(to, true) & n.from.mask(); c != 0; c &= c - 1 {
			from := lowest(c)
			switch {
			case !p.safe(from, to):
			case found != NoMove:
				return NoMove, ErrAmbiguous
			default:
				found, err = newMove(from, to, NoKind), nil
			}
		}
	}
	return found, err
}

// resolveSpecial handles castling and the null move.
func (p *Position) resolveSpecial(f form) (Move, error) {
	if f == null {
		if p.InCheck() {
			return NoMove, ErrIllegal
		}
		return NullMove, nil
	}
	from := Square(4 + 56*p.turn)
	to := from + 2
	if f == castleLong {
		to = from - 2
	}
	if p.castlingTargets()&bit(to) == 0 {
		return NoMove, ErrIllegal
	}
	return newMove(from, to, NoKind), nil
}

// ParseUCI reads a move as the UCI protocol writes it, and only so: "e2e4",
// "e7e8q", "e1g1" for castling, "0000" for the null move. The error is
// ErrUnreadable or ErrIllegal itself.
func (p *Position) ParseUCI(s string) (Move, error) {
	if s == "0000" {
		return p.resolveSpecial(null)
	}
	if len(s) != 4 && len(s) != 5 {
		return NoMove, ErrUnreadable
	}
	n := notation{from: place{s[0] - 'a', s[1] - '1'}, to: place{s[2] - 'a', s[3] - '1'}}
	if !n.from.complete() || !n.to.complete() {
		return NoMove, ErrUnreadable
	}
	if len(s) == 5 {
		n.promotion = promotionOf(s[4])
		if n.promotion == NoKind || s[4] < 'a' {
			return NoMove, ErrUnreadable
		}
	}
	return p.resolveSquares(&n)
}
