package pgn

import (
	"bytes"
	"strings"
)

const (
	maxNAG  = 255 // highest numeric annotation glyph (PGN standard 8.2.4)
	novelty = 146 // beyond the standard's table; common practice
)

// glyphs are the signs written for numeric annotation glyphs, longest first
// where one starts another. The six suffixes are the standard's (8.2.3.8); the
// other signs are common practice for the meanings in its table (section 10).
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
	{"+/–", 16}, {"–/+", 17}, {"+/−", 16}, {"−/+", 17}, {"+–", 18}, {"–+", 19}, {"+−", 18}, {"−+", 19},
	{"±", 16}, {"∓", 17}, {"⩲", 14}, {"⩱", 15}, {"∞", 13}, {"□", 7},
	{"！", 1}, {"？", 2}, {"‼", 3}, {"⁇", 4}, {"⁉", 5}, {"⁈", 6},
}

// suffixGlyph returns the length of an evaluation sign at the end of the word,
// as in Qf3+- or e4=; 0 when there is none. A plus alone is a check.
func suffixGlyph(w []byte) int {
	k := len(w)
	for k > 0 && strings.IndexByte("+-=/", w[k-1]) >= 0 {
		k--
	}
	tail := w[k:]
	if len(tail) > 4 {
		return 0
	}
	for _, g := range glyphs {
		if bytes.HasSuffix(tail, []byte(g.sign)) {
			return len(g.sign)
		}
	}
	return 0
}

// glyph reads an annotation sign, a sign of check apart from its move, a null
// move, or a draw written ½ inside a variation.
func (s *scanner) glyph(t *token) {
	b := s.b[s.i:]
	if bytes.HasPrefix(b, []byte("--")) && (len(b) < 3 || class[b[2]]&(joint|letter|digit) == 0) {
		s.end(t, moveToken, s.i+2)
		return
	}
	if h := hyphen(b); h > 1 && (len(b) == h || isSpace(b[h])) && s.behindDot() {
		s.fix(t, "--", s.i+h) // what word processors make of it
		return
	}
	if half(b) > 0 {
		if m, ok := markAt(s.b, s.i, s.i); ok {
			s.end(t, markToken, m.end)
			return
		}
	}
	for _, g := range glyphs {
		if bytes.HasPrefix(b, []byte(g.sign)) && !goesOn(b, len(g.sign)) {
			t.glyph = g.nag
			s.end(t, glyphToken, s.i+len(g.sign))
			return
		}
	}
	n := 0
	for n < len(b) && (b[n] == '+' || b[n] == '#') {
		n++
	}
	if n > 0 && !goesOn(b, n) {
		s.end(t, idleToken, s.i+n)
		return
	}
	s.stray(t, s.i+1)
}

// behindDot reports whether the dot of a move number comes before.
func (s *scanner) behindDot() bool {
	k := len(bytes.TrimRight(s.b[:s.i], " "))
	return s.last == numberToken && k > 0 && s.b[k-1] == '.'
}

// goesOn reports whether the sign b[:n] is only the start of a longer one.
func goesOn(b []byte, n int) bool {
	if n >= len(b) {
		return false
	}
	next := b[n]
	if b[0] == '!' || b[0] == '?' {
		return next == '!' || next == '?'
	}
	return b[0] < 0x80 && class[next]&joint != 0
}
