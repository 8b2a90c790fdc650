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
	glyphToken             // $14, !?, ±
	commentToken           // { } or ; to the end of the line
	openToken              // (
	closeToken             // )
	markToken              // a result inside a variation
	idleToken              // means nothing by itself: a check sign apart, (=), e.p., < >
	strayToken             // nothing of these
	numberToken            // 12., ...; never handed out, only remembered
)

// token is a piece of movetext b[start:end].
type token struct {
	kind       tokenKind
	open       bool // a comment without its closing brace
	fixed      bool // a move whose text is scanner.fixed: it was set in figurines or dashes
	glyph      int  // of a glyphToken
	start, end int
	line       int
	lineStart  int // place of the first byte of its line
}

// scanner cuts movetext into tokens. It is used by the parser and, to see
// whether there are moves, by split.
type scanner struct {
	b         []byte
	i         int
	line      int // of b[i]
	lineStart int
	lineTo    int       // up to here no line end comes, as pass found
	last      tokenKind // what came before, numbers too
	inside    bool      // within a variation
	fixed     []byte
}

// next returns the next token.
func (s *scanner) next() token {
	var one [1]plainMove
	if s.plain(one[:]) > 0 {
		return one[0].token()
	}
	return s.slow()
}

// slow returns the next token of any kind.
func (s *scanner) slow() token {
	for {
		s.skipSpace()
		t := token{start: s.i, end: s.i, line: s.line, lineStart: s.lineStart}
		if s.i >= len(s.b) {
			return t
		}
		switch c := s.b[s.i]; {
		case class[c]&letter != 0:
			s.word(&t)
		case class[c]&digit != 0 || dots(s.b[s.i:]) > 0:
			s.number(&t)
		case c == '{' || c == ';':
			s.comment(&t)
		default:
			s.sign(&t, c)
		}
		s.last = t.kind
		if t.kind != numberToken {
			return t
		}
	}
}

// skipSpace skips white space and commas and keeps count of the lines.
func (s *scanner) skipSpace() {
	b, i := s.b, s.i
	for i < len(b) {
		switch c := b[i]; {
		case c == '\n' && i+1 < len(b) && (class[b[i+1]]&(letter|digit) != 0 || b[i+1] == '['):
			i++
			s.line, s.lineStart = s.line+1, i
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
	if n := bytes.Count(s.b[i:j], newline); n > 0 {
		s.line += n
		s.lineStart = i + bytes.LastIndexByte(s.b[i:j], '\n') + 1
	}
}

// comment reads a brace comment or the rest of the line behind a semicolon.
func (s *scanner) comment(t *token) {
	t.kind = commentToken
	if s.b[s.i] == ';' {
		if s.inside && separates(s.b, s.i) {
			s.end(t, idleToken, s.i+1)
			return
		}
		t.end = lineEnd(s.b, s.i)
		s.i = t.end
		return
	}
	if t.end = plainComment(s.b, s.i); t.end > 0 {
		s.pass(t.end)
		return
	}
	c, _ := commentEnd(s.b, s.i, true)
	t.end, t.open = c.end, c.open
	if c.lines {
		s.countLines(s.i, t.end)
	}
	s.i = t.end
}

// pass goes to the end of a plain comment.
func (s *scanner) pass(end int) {
	if s.lineTo < s.i {
		s.lineTo = lineEnd(s.b, s.i)
	}
	if s.lineTo < end {
		s.countLines(s.i, end)
	}
	s.i = end
}

// number reads a move number with its dots, dots alone, castling with zeros, the
// null move of UCI, or a result inside a variation.
func (s *scanner) number(t *token) {
	b, i := s.b, s.i
	if b[i] == '0' {
		if n := castling(b[i:]); n > 0 {
			s.end(t, moveToken, i+n)
			return
		}
		if isFive(b[i:]) && s.result(t, i+3) {
			return
		}
	}
	for i < len(b) && class[b[i]]&digit != 0 {
		i++
	}
	if i-s.i == 1 && i < len(b) && (s.result(t, i) || s.typeset(t, i)) {
		return
	}
	switch word := string(b[s.i:i]); {
	case (word == "00" || word == "000") && !behindColon(b, s.i):
		s.castlingOf(t, i-s.i, i)
		return
	case word == "0000":
		s.end(t, moveToken, i)
		return
	}
	if i > s.i && i < len(b) && b[i] == ':' {
		i++
	}
	for n := dots(b[i:]); n > 0; n = dots(b[i:]) {
		i += n
	}
	s.end(t, numberToken, i)
}

// behindColon tells the zeros of 1:00, a time, from castling.
func behindColon(b []byte, i int) bool { return i > 0 && b[i-1] == ':' }

// dots returns the length of the dot or the ellipsis at the start of b.
func dots(b []byte) int {
	switch {
	case len(b) > 0 && b[0] == '.':
		return 1
	case len(b) > 2 && string(b[:3]) == "…":
		return 3
	}
	return 0
}

// end ends the token at b[end].
func (s *scanner) end(t *token, kind tokenKind, end int) {
	t.kind, t.end = kind, end
	s.i = end
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
	s.end(t, markToken, m.end)
	return true
}

// sign reads what starts with neither letter nor digit.
func (s *scanner) sign(t *token, c byte) {
	switch c {
	case '(':
		s.paren(t)
	case ')':
		s.end(t, closeToken, s.i+1)
	case '*':
		s.stars(t)
	case '$':
		s.nag(t)
	case '!', '?', '+', '-', '=', '#', '/':
		s.glyph(t)
	case '[':
		s.bracket(t)
	case ']':
		s.end(t, closeToken, s.i+1)
	case '&':
		s.end(t, idleToken, s.i+entity(s.b[s.i:]))
		if t.end == t.start {
			s.end(t, strayToken, s.i+1)
		}
	case '<':
		s.end(t, idleToken, bracketEnd(s.b, s.i, '>'))
	default:
		if c < utf8.RuneSelf {
			s.end(t, strayToken, s.i+1)
		} else if !s.typeset(t, s.i) {
			s.glyph(t)
		}
	}
}

// stars reads the result *, or several stars, which mean nothing.
func (s *scanner) stars(t *token) {
	n := len(s.b[s.i:]) - len(bytes.TrimLeft(s.b[s.i:], "*"))
	if n == 1 {
		s.end(t, markToken, s.i+1)
		return
	}
	s.end(t, idleToken, s.i+n)
}

// paren reads an open parenthesis or the mark of a draw offer, (=).
func (s *scanner) paren(t *token) {
	if bytes.HasPrefix(s.b[s.i:], []byte("(=)")) {
		s.end(t, idleToken, s.i+3)
		return
	}
	s.end(t, openToken, s.i+1)
}

// bracket reads the opening bracket of a variation as books print it, [3.d4 cxd4],
// or text in brackets.
func (s *scanner) bracket(t *token) {
	p := skipBlanks(s.b, s.i+1, 1)
	n := p
	for n < len(s.b) && class[s.b[n]]&digit != 0 {
		n++
	}
	if n > p && dots(s.b[n:]) > 0 {
		s.end(t, openToken, s.i+1)
		return
	}
	s.end(t, strayToken, bracketEnd(s.b, s.i, ']'))
}

// nag reads a numeric annotation glyph, $0 to $255 (PGN standard 8.2.4).
func (s *scanner) nag(t *token) {
	i, n := s.i+1, 0
	for i < len(s.b) && class[s.b[i]]&digit != 0 {
		n = min(n*10+int(s.b[i]-'0'), maxNAG+1)
		i++
	}
	if i == s.i+1 || n > maxNAG {
		s.end(t, strayToken, i)
		return
	}
	t.glyph = n
	s.end(t, glyphToken, i)
}

// stray reads a piece of text that is no move, up to white space or a sign with
// a meaning.
func (s *scanner) stray(t *token, i int) {
	for i < len(s.b) && class[s.b[i]]&stop == 0 {
		i++
	}
	s.end(t, strayToken, i)
}
