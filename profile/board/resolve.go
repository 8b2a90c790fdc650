package board

import "errors"

// The three ways in which Resolve refuses a move; ParseUCI uses the first two.
var (
	// ErrUnreadable: the text isn't a move in any notation we know.
	ErrUnreadable = errors.New("unreadable move")
	// ErrIllegal: the text is a move, but not one that can be played here.
	ErrIllegal = errors.New("illegal move")
	// ErrAmbiguous: several pieces can make that move and nothing says which.
	ErrAmbiguous = errors.New("ambiguous move")
)

// form tells what kind of thing the text of a move is.
type form uint8

const (
	ordinary form = iota
	castleShort
	castleLong
	null
)

const noCoord = 0xff

// notation is what the text of a move says, before the position is asked.
type notation struct {
	form      form
	kind      Kind // NoKind if no piece letter was written
	promotion Kind
	capture   bool
	fromFile  uint8 // noCoord if not written
	fromRank  uint8
	file      uint8 // of the target
	rank      uint8
}

// Resolve finds the legal move that san means. It takes SAN and what people
// write instead of it:
//
//   - long algebraic and UCI moves: Nb8-c6, N1xf3, e2-e4, e2e4, e1g1, e7e8q
//   - castling with O, o or zero
//   - promotion as e8=Q, e8Q, e8(Q), e8/Q, with a small letter too
//   - any or no check mark, capture sign or 'e.p.', needless disambiguation,
//     trailing ! and ?
//   - -- , Z0 and 0000 for a null move, which is illegal in check
//   - small piece letters; a small b is a pawn of the b-file if such a pawn
//     could go there (pinned or not), else a bishop
//
// The error is ErrUnreadable, ErrIllegal or ErrAmbiguous itself. A piece that
// may not move for its king's sake makes nothing ambiguous. A pawn that
// reaches the last rank without a promotion piece is illegal, since the piece
// can't be guessed. Resolve doesn't allocate.
func (p *Position) Resolve(san []byte) (Move, error) {
	var n notation
	if !n.read(san) {
		// A lower-case typist may also mean a bishop: "bbd7".
		if len(san) > 0 && san[0] == 'b' && n.readPiece(Bishop, san[1:]) {
			return p.resolve(&n)
		}
		return NoMove, ErrUnreadable
	}
	m, err := p.resolve(&n)
	if err == ErrIllegal && san[0] == 'b' && n.fromRank == noCoord && !p.pawnReading(&n) {
		var bishop notation
		if bishop.readPiece(Bishop, san[1:]) {
			return p.resolve(&bishop)
		}
	}
	return m, err
}

// pawnReading says whether some pawn could make the move but for its king.
func (p *Position) pawnReading(n *notation) bool {
	return p.candidates(n, Pawn) != 0
}

func (p *Position) resolve(n *notation) (Move, error) {
	switch n.form {
	case null:
		if p.InCheck() {
			return NoMove, ErrIllegal
		}
		return NullMove, nil
	case castleShort, castleLong:
		return p.resolveCastling(n.form)
	}
	if n.fromFile != noCoord && n.fromRank != noCoord {
		return p.resolveSquares(n)
	}
	kind := n.kind
	if kind == NoKind {
		kind = Pawn
	}
	to := Square(n.rank<<3 | n.file)
	if (kind == Pawn && lastRank(to)) != (n.promotion != NoKind) {
		return NoMove, ErrIllegal
	}
	var found uint64
	for c := p.candidates(n, kind); c != 0; c &= c - 1 {
		if p.safe(lowest(c), to) {
			found |= c & -c
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
	to := Square(n.rank<<3 | n.file)
	var c uint64
	if kind == Pawn {
		sideways := n.fromFile != noCoord && n.fromFile != n.file
		if n.capture && n.fromFile == n.file {
			return 0
		}
		c = p.pawnReachers(to, n.capture || sideways)
	} else {
		c = p.reachers(kind, to)
	}
	if n.fromFile != noCoord {
		c &= fileMask(Square(n.fromFile))
	}
	if n.fromRank != noCoord {
		c &= rankMask(Square(n.fromRank << 3))
	}
	return c
}

// resolveSquares handles moves that name both squares, with or without the
// piece.
func (p *Position) resolveSquares(n *notation) (Move, error) {
	from, to := Square(n.fromRank<<3|n.fromFile), Square(n.rank<<3|n.file)
	if n.kind != NoKind && p.squares[from&63].Kind() != n.kind {
		return NoMove, ErrIllegal
	}
	if !p.legal(from, to, n.promotion) {
		return NoMove, ErrIllegal
	}
	return newMove(from, to, n.promotion), nil
}

func (p *Position) resolveCastling(f form) (Move, error) {
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
// ErrUnreadable or ErrIllegal.
func (p *Position) ParseUCI(s string) (Move, error) {
	if s == "0000" {
		return p.resolve(&notation{form: null})
	}
	if len(s) != 4 && len(s) != 5 {
		return NoMove, ErrUnreadable
	}
	n := notation{
		fromFile: s[0] - 'a', fromRank: s[1] - '1',
		file: s[2] - 'a', rank: s[3] - '1',
	}
	if n.fromFile|n.fromRank|n.file|n.rank > 7 {
		return NoMove, ErrUnreadable
	}
	if len(s) == 5 {
		if n.promotion = promotionOf(s[4]); n.promotion == NoKind || s[4] < 'a' {
			return NoMove, ErrUnreadable
		}
	}
	return p.resolveSquares(&n)
}

// read takes the text apart; false if it is no move.
func (n *notation) read(s []byte) bool {
	if len(s) < 2 {
		return false
	}
	switch s[0] {
	case 'N', 'n':
		return n.readPiece(Knight, s[1:])
	case 'B':
		return n.readPiece(Bishop, s[1:])
	case 'R', 'r':
		return n.readPiece(Rook, s[1:])
	case 'Q', 'q':
		return n.readPiece(Queen, s[1:])
	case 'K', 'k':
		return n.readPiece(King, s[1:])
	case 'P':
		return n.readPiece(Pawn, s[1:])
	case 'O', 'o', '0', '-', 'Z':
		return n.readSpecial(s)
	}
	return n.readPiece(NoKind, s)
}

// readPiece reads coordinates and what follows them.
func (n *notation) readPiece(kind Kind, s []byte) bool {
	*n = notation{kind: kind, fromFile: noCoord, fromRank: noCoord, file: noCoord, rank: noCoord}
	for i, c := range s {
		if f := c - 'a'; f < 8 {
			if n.rank != noCoord && n.file != noCoord && !rankAt(s, i+1) {
				// Not a square: the promotion "e8b", or "e.p.".
				return n.readSuffix(s[i:])
			}
			if !n.shift() {
				return false
			}
			n.file = f
		} else if r := c - '1'; r < 8 {
			if n.rank != noCoord {
				return false
			}
			n.rank = r
		} else if c == 'x' || c == ':' {
			n.capture = true
		} else if c != '-' {
			return n.readSuffix(s[i:])
		}
	}
	return n.complete()
}

// complete says whether the target square is known.
func (n *notation) complete() bool { return n.file != noCoord && n.rank != noCoord }

// shift turns the coordinates read so far into those of the origin.
func (n *notation) shift() bool {
	if n.file == noCoord && n.rank == noCoord {
		return true
	}
	if n.fromFile != noCoord || n.fromRank != noCoord {
		return false
	}
	n.fromFile, n.fromRank = n.file, n.rank
	n.file, n.rank = noCoord, noCoord
	return true
}

func rankAt(s []byte, i int) bool { return i < len(s) && s[i]-'1' < 8 }

// readSuffix reads what follows the target: promotion, 'e.p.', marks.
func (n *notation) readSuffix(s []byte) bool {
	if !n.complete() {
		return false
	}
	closed := false
	switch s[0] {
	case '=', '/':
		s = s[1:]
	case '(':
		s, closed = s[1:], true
	case '+', '#', '!', '?', ' ', 'e':
		return onlyMarks(skipEnPassant(s))
	}
	if len(s) == 0 {
		return false
	}
	n.promotion = promotionOf(s[0])
	s = s[1:]
	if closed {
		if len(s) == 0 || s[0] != ')' {
			return false
		}
		s = s[1:]
	}
	return n.promotion != NoKind && onlyMarks(s)
}

func promotionOf(c byte) Kind {
	switch c {
	case 'Q', 'q':
		return Queen
	case 'R', 'r':
		return Rook
	case 'B', 'b':
		return Bishop
	case 'N', 'n':
		return Knight
	}
	return NoKind
}

// skipEnPassant passes over "e.p.", "e.p" or "ep", with a blank before it.
func skipEnPassant(s []byte) []byte {
	rest := s
	if rest[0] == ' ' {
		rest = rest[1:]
	}
	for _, want := range []byte("e.p.") {
		switch {
		case len(rest) > 0 && rest[0] == want:
			rest = rest[1:]
		case want != '.':
			return s
		}
	}
	return rest
}

func onlyMarks(s []byte) bool {
	for _, c := range s {
		switch c {
		case '+', '#', '!', '?':
		default:
			return false
		}
	}
	return true
}

// readSpecial reads castling and null moves.
func (n *notation) readSpecial(s []byte) bool {
	*n = notation{}
	switch {
	case hasPrefix(s, "--"):
		n.form = null
		return onlyMarks(s[2:])
	case hasPrefix(s, "Z0"):
		n.form = null
		return onlyMarks(s[2:])
	case hasPrefix(s, "0000"):
		n.form = null
		return onlyMarks(s[4:])
	}
	wings := 0
	for len(s) > 0 && (s[0] == 'O' || s[0] == 'o' || s[0] == '0') {
		wings++
		s = s[1:]
		if len(s) < 2 || s[0] != '-' {
			break
		}
		s = s[1:]
	}
	n.form = castleShort
	if wings == 3 {
		n.form = castleLong
	}
	return (wings == 2 || wings == 3) && onlyMarks(s)
}

func hasPrefix(s []byte, prefix string) bool {
	return len(s) >= len(prefix) && string(s[:len(prefix)]) == prefix
}
