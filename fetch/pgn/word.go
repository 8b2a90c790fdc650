package pgn

import (
	"bytes"
	"unicode/utf8"
)

// word reads what starts with a letter.
func (s *scanner) word(t *token) {
	b, i := s.b, s.i
	for i < len(b) && class[b[i]]&(letter|digit|joint) != 0 {
		i++
	}
	if i < len(b) && b[i] >= utf8.RuneSelf && s.typeset(t, i) {
		return
	}
	w := b[s.i:i]
	if n := s.moveIn(w); n > 0 {
		s.end(t, moveToken, s.i+n)
		s.promotion(t)
		s.skipEnPassant()
		return
	}
	s.oddWord(t, w)
}

// moveIn returns the length of the move that the word starts with, 0 when it is
// none. What may follow in the word is an evaluation sign, a result behind a
// check sign, or the mark of a capture in passing.
func (s *scanner) moveIn(w []byte) int {
	if n := castling(w); n > 0 {
		return n
	}
	n := gluedEnd(w)
	for g := suffixGlyph(w[:n]); g > 0; g = suffixGlyph(w[:n]) {
		n -= g
	}
	n -= enPassant(w[:n])
	switch {
	case isMove(w[:n]) || string(w[:n]) == "Z0" || s.brokenMove(w[:n]):
		return n
	}
	return 0
}

// gluedEnd returns where the word ends with a check sign to which a result or the
// next move is glued, as in Qh4#0-1; the length of the word when there is none.
func gluedEnd(w []byte) int {
	for p := 2; p+1 < len(w); p++ {
		if w[p] != '#' && w[p] != '+' {
			continue
		}
		if class[w[p+1]]&letter != 0 {
			return p + 1
		}
		if p+2 >= len(w) {
			break
		}
		if m, ok := markAt(w, p+2, p+1); ok && m.start == p+1 {
			return p + 1
		}
	}
	return len(w)
}

// enPassant returns the length of a mark for the capture in passing, 'ep' or the
// 'e' of 'e.p.', glued to the move: common practice, without a meaning for us.
func enPassant(w []byte) int {
	switch n := len(w); {
	case n > 2 && w[n-1] == 'e' && class[w[n-2]]&digit != 0:
		return 1
	case n > 3 && w[n-1] == 'p' && w[n-2] == 'e' && class[w[n-3]]&digit != 0:
		return 2
	}
	return 0
}

// skipEnPassant moves on behind the mark that enPassant left standing.
func (s *scanner) skipEnPassant() {
	for _, mark := range []string{"e.p.", "e.p", "ep", "e"} {
		if bytes.HasPrefix(s.b[s.i:], []byte(mark)) {
			s.i += len(mark)
			return
		}
	}
}

// promotion takes in a piece in parentheses, e8(Q): common practice.
func (s *scanner) promotion(t *token) {
	r := s.b[t.end:]
	if len(r) < 3 || r[0] != '(' || r[2] != ')' || bytes.IndexByte([]byte("QRBNqrbn"), r[1]) < 0 {
		return
	}
	if c := s.b[t.end-1]; c == '1' || c == '8' {
		s.end(t, moveToken, t.end+3)
	}
}

// oddWord reads a word that is no move: marks of the trade, text.
func (s *scanner) oddWord(t *token, w []byte) {
	i := s.i + len(w)
	switch {
	case string(w) == "N": // a novelty, common practice
		t.glyph = novelty
		s.end(t, glyphToken, i)
	case string(w) == "ep":
		s.end(t, idleToken, i)
	case string(w) == "e" && bytes.HasPrefix(s.b[i:], []byte(".p")):
		s.skipEnPassant()
		s.end(t, idleToken, s.i)
	default:
		s.stray(t, i)
	}
}

// brokenMove reports whether a word without a square stands where a move must:
// Bxf, Nge, exd, ed. It is handed out so that the replay stops at the right
// place.
func (s *scanner) brokenMove(w []byte) bool {
	if len(w) < 2 || len(w) > 7 || s.last == strayToken {
		return false
	}
	c, next := w[0], w[1]
	if c >= 'a' && c <= 'h' && len(w) == 2 {
		return (next+1 == c || c+1 == next) && next <= 'h' && s.last != endToken && s.last != commentToken
	}
	if c < 'A' || c > 'Z' && c < 'a' || c > 'h' || s.last != numberToken && next != 'x' {
		return false
	}
	for _, c := range w {
		if class[c]&moveIn == 0 {
			return false
		}
	}
	return true
}

// isMove reports whether the word looks like a move in any notation with
// letters: it has a square, or what was meant to be one, and nothing that a move
// never has. Whether it can be read is for the caller to say.
func isMove(w []byte) bool {
	if len(w) < 2 || len(w) > 12 {
		return false
	}
	if c := w[0]; c > 'h' || c > 'Z' && c < 'a' || c < 'A' {
		return false
	}
	square := false
	for i, c := range w {
		if class[c]&moveIn == 0 {
			return false
		}
		if i > 0 && class[c]&digit != 0 && w[i-1] >= 'a' && w[i-1] <= 'h' {
			square = true
		}
	}
	return square
}

// castling returns the length of a castling move at the start of b with its
// check signs, written with letters or zeros; 0 when there is none.
func castling(b []byte) int {
	c := b[0]
	if c != 'O' && c != '0' && c != 'o' {
		return 0
	}
	n := 1
	for n+1 < len(b) && b[n] == '-' && b[n+1] == c && n < 5 {
		n += 2
	}
	if n < 3 {
		return 0
	}
	for n < len(b) && (b[n] == '+' || b[n] == '#') {
		if n+1 < len(b) && (b[n+1] == '-' || b[n+1] == '=' || b[n+1] == '/') {
			break // an evaluation sign
		}
		n++
	}
	if n < len(b) && class[b[n]]&(letter|digit) != 0 && class[b[n-1]]&joint == 0 {
		return 0
	}
	return n
}

// typeset reads a move as it comes from print or a word processor: figurines,
// dashes, the sign of multiplication. The plain letters of the move are left in
// s.fixed. i is a place up to which the word is plain; nothing is read when no
// such sign stands there.
func (s *scanner) typeset(t *token, i int) bool {
	if _, n := plainLetter(s.b[i:]); n == 0 {
		return false
	}
	word := s.fixed[:0]
	for p := s.i; p < len(s.b); {
		c, n := plainLetter(s.b[p:])
		if n == 0 {
			if class[s.b[p]]&(letter|digit|joint) == 0 {
				break
			}
			c, n = s.b[p], 1
		}
		word = append(word, c)
		p += n
	}
	s.fixed = word
	if len(word) == 0 {
		return false
	}
	n := s.moveIn(word)
	if n == 0 {
		return false
	}
	s.fixed = word[:n]
	p := s.i
	for range n {
		_, n := plainLetter(s.b[p:])
		p += max(n, 1)
	}
	t.fixed = true
	s.end(t, moveToken, p)
	s.skipEnPassant()
	return true
}

// plainLetter returns the ASCII letter for a typeset sign at the start of b and
// the sign's length, 0 when there is none.
func plainLetter(b []byte) (byte, int) {
	if len(b) == 0 || b[0] < utf8.RuneSelf {
		return 0, 0
	}
	switch r, n := utf8.DecodeRune(b); {
	case r >= '♔' && r <= '♙':
		return "KQRBNP"[r-'♔'], n
	case r >= '♚' && r <= '♟':
		return "KQRBNP"[r-'♚'], n
	case r == '×':
		return 'x', n
	case r == '†':
		return '+', n
	case hyphen(b) > 0:
		return '-', n
	}
	return 0, 0
}
