package pgn

import (
	"bytes"
	"unicode/utf8"
)

// tokenKind says what a token is.
type tokenKind uint8

const (
	endToken     tokenKind = iota
	moveToken              // Nf3, O-O, --
	numberToken            // 12, 12., ...
	glyphToken             // $14, !?, ±
	commentToken           // { } or ; to the end of the line
	openToken              // (
	closeToken             // )
	markToken              // a result inside a variation
	strayToken             // nothing of these
)

// token is a piece of movetext b[start:end].
type token struct {
	kind       tokenKind
	open       bool // a comment without its closing brace
	start, end int
	glyph      int // -1: a sign of check or a draw offer, to be passed over
	line       int
	lineStart  int // place of the first byte of its line
}

// scanner cuts movetext into tokens. It keeps the line of the next token.
type scanner struct {
	b         []byte
	i         int
	line      int
	lineStart int
	last      tokenKind // kind of the token before
}

// next returns the next token.
func (s *scanner) next() token {
	s.skipSpace()
	t := token{start: s.i, line: s.line, lineStart: s.lineStart}
	if s.i >= len(s.b) {
		return t
	}
	c := s.b[s.i]
	switch {
	case class[c]&letter != 0:
		s.word(&t)
	case class[c]&digit != 0 || c == '.':
		s.number(&t)
	case c == '{' || c == ';':
		s.comment(&t)
	default:
		s.sign(&t, c)
	}
	s.last = t.kind
	return t
}

// skipSpace skips white space and commas and keeps count of the lines.
func (s *scanner) skipSpace() {
	b, i := s.b, s.i
	for i < len(b) {
		switch c := b[i]; {
		case c == '\n' || c >= utf8.RuneSelf:
			j, _ := skipSpace(b, i)
			if j == i {
				s.i = i
				return
			}
			s.countLines(i, j)
			i = j
		case isSpace(c) || c == ',':
			i++
		default:
			s.i = i
			return
		}
	}
	s.i = i
}

// countLines takes note of the line ends in b[i:j].
func (s *scanner) countLines(i, j int) {
	if k := bytes.LastIndexByte(s.b[i:j], '\n'); k >= 0 {
		s.line += bytes.Count(s.b[i:j], []byte("\n"))
		s.lineStart = i + k + 1
	}
}

// comment reads a brace comment or the rest of the line behind a semicolon.
func (s *scanner) comment(t *token) {
	t.kind = commentToken
	if s.b[s.i] == ';' {
		s.i = lineEnd(s.b, s.i)
	} else {
		end, open, _ := commentEnd(s.b, s.i, true)
		t.open = open
		s.countLines(s.i, end)
		s.i = end
	}
	t.end = s.i
}

// number reads a move number with its dots, dots alone, castling with zeros, or
// a result inside a variation.
func (s *scanner) number(t *token) {
	b, i := s.b, s.i
	if b[i] == '0' {
		if n := castling(b[i:]); n > 0 {
			s.move(t, i+n)
			return
		}
	}
	for i < len(b) && class[b[i]]&digit != 0 {
		i++
	}
	if i < len(b) && i-s.i == 1 && s.result(t, i) {
		return
	}
	for i < len(b) && b[i] == '.' {
		i++
	}
	s.i = i
	t.kind, t.end = numberToken, i
}

// result reads a result whose sign is expected at b[i] or behind blanks.
func (s *scanner) result(t *token, i int) bool {
	p := skipBlanks(s.b, i, 2)
	if p >= len(s.b) || class[s.b[p]]&(letter|digit|space) != 0 {
		return false
	}
	m, ok := markAt(s.b, p, t.start)
	if !ok || m.start != t.start {
		return false
	}
	s.i = m.end
	t.kind, t.end = markToken, m.end
	return true
}

// move ends a move at b[end].
func (s *scanner) move(t *token, end int) {
	t.kind, t.end = moveToken, end
	s.i = end
}

// word reads what starts with a letter.
func (s *scanner) word(t *token) {
	b, i := s.b, s.i
	for i < len(b) && class[b[i]]&(letter|digit) != 0 {
		i++
	}
	if i < len(b) && class[b[i]]&joint != 0 {
		s.longWord(t, i)
		return
	}
	if isMove(b[s.i:i]) {
		s.move(t, enPassant(b, s.i, i))
		s.skipEnPassant(t.end, i)
		return
	}
	s.oddWord(t, i)
}

// longWord reads a word with signs in it: Qxf7+, e8=Q, O-O, e2-e4, e4+-.
func (s *scanner) longWord(t *token, i int) {
	b := s.b
	for i < len(b) && class[b[i]]&(letter|digit|joint) != 0 {
		i++
	}
	if m, ok := s.glued(i); ok {
		i = m
	}
	w := b[s.i:i]
	if n := castling(w); n > 0 {
		s.move(t, s.i+n)
		return
	}
	n := len(w) - suffixGlyph(w)
	if end := s.i + n; isMove(w[:n]) {
		s.move(t, enPassant(b, s.i, end))
		s.skipEnPassant(t.end, end)
		return
	}
	s.oddWord(t, i)
}

// glued looks for a result glued to a sign of check: Qh4#0-1. It returns where
// the move ends.
func (s *scanner) glued(end int) (int, bool) {
	for p := s.i; p < end; p++ {
		if c := s.b[p]; (c == '-' || c == '/') && p-2 > s.i && (s.b[p-2] == '#' || s.b[p-2] == '+') {
			if m, ok := markAt(s.b, p, s.i); ok {
				return m.start, true
			}
		}
	}
	return 0, false
}

// skipEnPassant moves on behind an 'e.p.' glued to the move that ends at end.
func (s *scanner) skipEnPassant(end, i int) {
	if end == i {
		return
	}
	s.i = i
	if bytes.HasPrefix(s.b[i:], []byte(".p.")) {
		s.i = i + 3
	} else if bytes.HasPrefix(s.b[i:], []byte(".p")) {
		s.i = i + 2
	}
}

// enPassant returns the end of the move b[start:end] without a glued 'ep' or
// 'e.p.', the common practice of marking the capture in passing.
func enPassant(b []byte, start, end int) int {
	switch {
	case end-start > 2 && b[end-1] == 'e' && class[b[end-2]]&digit != 0 && bytes.HasPrefix(b[end:], []byte(".p")):
		return end - 1
	case end-start > 3 && b[end-1] == 'p' && b[end-2] == 'e' && class[b[end-3]]&digit != 0:
		return end - 2
	}
	return end
}

// oddWord reads a word that has not the look of a move: null moves, marks of the
// trade, a broken move right behind its number, text.
func (s *scanner) oddWord(t *token, i int) {
	w := s.b[s.i:i]
	switch {
	case string(w) == "Z0" || s.brokenMove(w):
		s.move(t, i)
	case string(w) == "N":
		t.kind, t.glyph, t.end = glyphToken, 146, i
		s.i = i
	case string(w) == "e" && bytes.HasPrefix(s.b[i:], []byte(".p")):
		i += 2
		if i < len(s.b) && s.b[i] == '.' {
			i++
		}
		t.kind, t.glyph, t.end = glyphToken, -1, i
		s.i = i
	case string(w) == "ep":
		t.kind, t.glyph, t.end = glyphToken, -1, i
		s.i = i
	default:
		s.stray(t, i)
	}
}

// brokenMove reports whether a word without a square stands where a move must:
// Bxf, Nge, exd, ed. Handing it out lets the replay stop at the right place.
func (s *scanner) brokenMove(w []byte) bool {
	if len(w) < 2 || len(w) > 7 || s.last != numberToken && s.last != moveToken {
		return false
	}
	c, next := w[0], w[1]
	if c >= 'a' && c <= 'h' && len(w) == 2 {
		return next+1 == c || c+1 == next
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

// isMove reports whether the word looks like a move of any notation with
// letters: it has a square or what was meant to be one, and nothing that a move
// never has. Whether it can be read is for the caller to say.
func isMove(w []byte) bool {
	if len(w) < 2 || len(w) > 12 {
		return false
	}
	if c := w[0]; c > 'h' || c > 'Z' && c < 'a' {
		return false
	}
	square := false
	for i, c := range w {
		k := class[c]
		if k&moveIn == 0 {
			// 'e' and 'p' of a glued mark for the capture in passing
			return square && i == len(w)-1 && c == 'p' && w[i-1] == 'e'
		}
		if k&digit != 0 && i > 0 && w[i-1] >= 'a' && w[i-1] <= 'h' {
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
	for n < len(b) && (b[n] == '+' || b[n] == '#') && suffixGlyph(b[n:]) == 0 {
		n++
	}
	if n < len(b) && class[b[n]]&(letter|digit) != 0 {
		return 0
	}
	return n
}

// stray reads a piece of text that is no move, up to white space or a sign with
// a meaning.
func (s *scanner) stray(t *token, i int) {
	for i < len(s.b) && class[s.b[i]]&stop == 0 {
		i++
	}
	t.kind, t.end = strayToken, i
	s.i = i
}

// sign reads what starts with neither letter nor digit.
func (s *scanner) sign(t *token, c byte) {
	switch c {
	case '(':
		s.paren(t)
	case ')':
		s.one(t, closeToken)
	case '*':
		s.one(t, markToken)
	case '$':
		s.nag(t)
	case '!', '?', '+', '-', '=', '#', '/':
		s.glyph(t)
	case '[':
		t.kind, t.end = strayToken, bracketEnd(s.b, s.i, ']')
		s.i = t.end
	case '<':
		t.kind, t.glyph, t.end = glyphToken, -1, bracketEnd(s.b, s.i, '>')
		s.i = t.end
	default:
		if c >= utf8.RuneSelf {
			s.glyph(t)
			return
		}
		s.stray(t, s.i+1)
	}
}

func (s *scanner) one(t *token, kind tokenKind) {
	s.i++
	t.kind, t.end = kind, s.i
}

// paren reads an open parenthesis or the mark of a draw offer, (=).
func (s *scanner) paren(t *token) {
	if bytes.HasPrefix(s.b[s.i:], []byte("(=)")) {
		s.i += 3
		t.kind, t.glyph, t.end = glyphToken, -1, s.i
		return
	}
	s.one(t, openToken)
}

// nag reads a numeric annotation glyph, $0 to $255 (PGN standard 8.2.4).
func (s *scanner) nag(t *token) {
	i, n := s.i+1, 0
	for i < len(s.b) && class[s.b[i]]&digit != 0 && n <= maxNAG {
		n = n*10 + int(s.b[i]-'0')
		i++
	}
	if i == s.i+1 || n > maxNAG {
		s.stray(t, i)
		return
	}
	t.kind, t.glyph, t.end = glyphToken, n, i
	s.i = i
}
