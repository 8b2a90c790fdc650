package pgn

import (
	"bytes"
	"strings"
)

// maxNAG is the highest numeric annotation glyph (PGN standard 8.2.4).
const maxNAG = 255

// glyphs are the signs written for numeric annotation glyphs, longest first
// where one starts another. The six suffixes are the standard's (8.2.3.8); the
// other signs are common practice for the meanings of its table (section 10).
// Signs that serve both sides (zugzwang, initiative, attack) are not here, since
// the number would depend on who moved.
var glyphs = []struct {
	sign string
	nag  int
}{
	{"!!!", 3}, {"???", 4},
	{"!!", 3}, {"??", 4}, {"!?", 5}, {"?!", 6}, {"!", 1}, {"?", 2},
	{"+/-", 16}, {"-/+", 17}, {"+/=", 14}, {"=/+", 15},
	{"+-", 18}, {"-+", 19}, {"+=", 14}, {"=+", 15}, {"=", 10},
	{"±", 16}, {"∓", 17}, {"⩲", 14}, {"⩱", 15}, {"∞", 13}, {"□", 7},
	{"‼", 3}, {"⁇", 4}, {"⁉", 5}, {"⁈", 6},
}

// suffixGlyph returns the length of an evaluation sign at the end of the word,
// as in Qf3+- or e4=; 0 when there is none. A plus alone is a check.
func suffixGlyph(w []byte) int {
	k := len(w)
	for k > 0 && strings.IndexByte("+-=/", w[k-1]) >= 0 {
		k--
	}
	tail := w[k:]
	if k == 0 && len(tail) < 2 || len(tail) > 4 {
		return 0
	}
	for _, g := range glyphs {
		if len(g.sign) <= len(tail) && bytes.HasSuffix(tail, []byte(g.sign)) {
			return len(g.sign)
		}
	}
	return 0
}

// glyph reads an annotation sign, a sign of check apart from its move, a null
// move or a dash.
func (s *scanner) glyph(t *token) {
	b := s.b[s.i:]
	switch {
	case bytes.HasPrefix(b, []byte("--")) && (len(b) < 3 || class[b[2]]&joint == 0):
		s.move(t, s.i+2)
		return
	case s.draw(t):
		return
	}
	for _, g := range glyphs {
		if bytes.HasPrefix(b, []byte(g.sign)) && !longer(b[len(g.sign):], g.sign) {
			t.kind, t.glyph = glyphToken, g.nag
			s.i += len(g.sign)
			t.end = s.i
			return
		}
	}
	n := 0
	for n < len(b) && (b[n] == '+' || b[n] == '#') {
		n++
	}
	if n > 0 && (n == len(b) || class[b[n]]&joint == 0) {
		t.kind, t.glyph = glyphToken, -1
		s.i += n
		t.end = s.i
		return
	}
	s.stray(t, s.i+1)
}

// draw reads a result inside a variation that starts with ½.
func (s *scanner) draw(t *token) bool {
	if half(s.b[s.i:]) == 0 {
		return false
	}
	m, ok := markAt(s.b, s.i, s.i)
	if ok {
		t.kind, t.end = markToken, m.end
		s.i = m.end
	}
	return ok
}

// longer reports whether the sign goes on in b, so that it is another one.
func longer(b []byte, sign string) bool {
	if len(b) == 0 {
		return false
	}
	if sign[0] == '!' || sign[0] == '?' {
		return b[0] == '!' || b[0] == '?'
	}
	return class[b[0]]&joint != 0 && sign[0] < 0x80
}
