package board

import "bytes"

// form tells what kind of thing the text of a move is.
type form uint8

const (
	ordinary form = iota
	castleShort
	castleLong
	null
	fileTakesFile // ed, exd: a pawn's capture that names files only
)

// unwritten marks a file or a rank that the text doesn't give.
const unwritten = 0xff

// notation is what the text of a move says, before the position is asked.
type notation struct {
	form      form
	kind      Kind // NoKind if no piece letter was written
	promotion Kind
	capture   bool // a capture sign was written
	from      place
	to        place // complete in an ordinary move
}

// place is a square, of which the file, the rank or both may be unwritten.
type place struct{ file, rank uint8 }

func (l place) complete() bool { return l.file|l.rank < 8 }

// square is the square of a complete place.
func (l place) square() Square { return Square(l.rank<<3|l.file) & 63 }

// mask are all the squares that a place allows.
func (l place) mask() uint64 {
	m := ^uint64(0)
	if l.file != unwritten {
		m &= fileMask(Square(l.file))
	}
	if l.rank != unwritten {
		m &= rankMask(Square(l.rank << 3))
	}
	return m
}

// read takes the text of a move apart; false if it is no move.
func (n *notation) read(s []byte) bool {
	if len(s) < 2 {
		return false
	}
	switch s[0] {
	case 'N', 'n':
		return n.readSquares(Knight, s[1:])
	case 'B':
		return n.readSquares(Bishop, s[1:])
	case 'R', 'r':
		return n.readSquares(Rook, s[1:])
	case 'Q', 'q':
		return n.readSquares(Queen, s[1:])
	case 'K', 'k':
		return n.readSquares(King, s[1:])
	case 'P':
		return n.readSquares(Pawn, s[1:])
	case 'O', 'o', '0', '-', 'Z':
		return n.readSpecial(s)
	}
	return n.readSquares(NoKind, s)
}

// readSquares reads '[origin] [x] target' and what follows. An origin may be a
// file, a rank or both.
func (n *notation) readSquares(kind Kind, s []byte) bool {
	first, s := readPlace(s)
	*n = notation{kind: kind, from: place{unwritten, unwritten}, to: first}
	separated := len(s) > 0 && (s[0] == 'x' || s[0] == 'X' || s[0] == '-' || s[0] == ':' && len(s) > 1 && s[1]-'a' < 8)
	if !separated && first.complete() && !startsSquare(s) {
		return len(s) == 0 || n.readSuffix(s)
	}
	if separated {
		n.capture = s[0] != '-'
		s = s[1:]
	}
	n.from = first
	n.to, s = readPlace(s)
	if kind == NoKind && n.filesOnly() && len(skipMarks(bytes.TrimPrefix(s, []byte(":")))) == 0 {
		n.form = fileTakesFile
		return true
	}
	if kind == NoKind && first.file == unwritten || !n.to.complete() {
		return false // "xd5" and "4d5" name no pawn
	}
	return len(s) == 0 || n.readSuffix(s)
}

// filesOnly reports whether two files beside each other are all that is written.
func (n *notation) filesOnly() bool {
	return n.from.rank == unwritten && n.to.rank == unwritten && n.from.file < 8 && n.to.file < 8 &&
		(n.from.file+1 == n.to.file || n.to.file+1 == n.from.file)
}

// readPlace reads a file and a rank, each if it is there, and returns the rest.
func readPlace(s []byte) (place, []byte) {
	l := place{unwritten, unwritten}
	if len(s) > 0 && s[0]-'a' < 8 {
		l.file, s = s[0]-'a', s[1:]
	}
	if len(s) > 0 && s[0]-'1' < 8 {
		l.rank, s = s[0]-'1', s[1:]
	}
	return l, s
}

// startsSquare tells a square from the promotion "b" and from "e.p.".
func startsSquare(s []byte) bool {
	return len(s) > 1 && s[0]-'a' < 8 && s[1]-'1' < 8
}

// readSuffix reads what follows the target, at least one byte: promotion or
// 'e.p.', and marks.
func (n *notation) readSuffix(s []byte) bool {
	switch s[0] {
	case '+', '#', '!', '?', ' ', 'e':
		return len(skipMarks(skipEnPassant(skipMarks(s)))) == 0
	case ':': // a capture with its sign at the end, ed5:
		n.capture = true
		return len(skipMarks(skipEnPassant(s[1:]))) == 0
	case '=', '/':
		s = s[1:]
	case '(':
		if len(s) < 3 || s[2] != ')' {
			return false
		}
		n.promotion = promotionOf(s[1])
		return n.promotion != NoKind && len(skipMarks(s[3:])) == 0
	}
	if len(s) == 0 {
		return false
	}
	n.promotion = promotionOf(s[0])
	return n.promotion != NoKind && len(skipMarks(s[1:])) == 0
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

// skipEnPassant passes over "e.p.", "e.p" or "ep", with or without a blank
// before it.
func skipEnPassant(s []byte) []byte {
	rest := s
	if hasPrefix(rest, " ") {
		rest = rest[1:]
	}
	for _, form := range [...]string{"e.p.", "e.p", "ep"} {
		if hasPrefix(rest, form) {
			return rest[len(form):]
		}
	}
	return s
}

// skipMarks passes over signs of check, mate, praise and blame.
func skipMarks(s []byte) []byte {
	for len(s) > 0 && (s[0] == '+' || s[0] == '#' || s[0] == '!' || s[0] == '?') {
		s = s[1:]
	}
	return s
}

// readSpecial reads null moves and castling.
func (n *notation) readSpecial(s []byte) bool {
	for _, text := range [...]string{"--", "Z0", "0000"} {
		if hasPrefix(s, text) {
			*n = notation{form: null}
			return len(skipMarks(s[len(text):])) == 0
		}
	}
	*n = notation{form: castleShort}
	if len(s) < 3 || !isO(s[0]) || s[1] != '-' || !isO(s[2]) {
		return false
	}
	s = s[3:]
	if len(s) >= 2 && s[0] == '-' && isO(s[1]) {
		n.form = castleLong
		s = s[2:]
	}
	return len(skipMarks(s)) == 0
}

func isO(c byte) bool { return c == 'O' || c == '0' || c == 'o' }

func hasPrefix(s []byte, prefix string) bool {
	return len(s) >= len(prefix) && string(s[:len(prefix)]) == prefix
}
