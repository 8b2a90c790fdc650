package pgn

import (
	"bytes"
	"unicode/utf8"
)

// typeset reads a move as it comes from print or a word processor: figurines,
// dashes, the sign of multiplication, letters that only look like ours, signs that
// are not seen. The plain letters of the move are left in s.fixed. i is a place up
// to which the word is plain; nothing is read when no such sign stands there.
func (s *scanner) typeset(t *token, i int) bool {
	if _, n := plainLetter(s.b[i:]); n == 0 {
		return false
	}
	word, p := s.plainWord(s.fixed[:0], longestWord)
	s.fixed = word
	if len(word) == 1 && s.apart(t, word[0], p) {
		return true
	}
	if signs, n := unhyphened(word); signs > 0 { // its hyphens are not seen
		_, end := s.plainWord(s.fixed[:0], n)
		s.castlingOf(t, signs, end)
		return true
	}
	n := s.moveIn(word)
	if n == 0 {
		return false
	}
	_, end := s.plainWord(s.fixed[:0], n)
	s.fixed = word[:n]
	t.fixed = true
	s.end(t, moveToken, end)
	s.skipTail()
	return true
}

// plainWord appends the plain letters of the word that is to be read, so many at
// most, and returns where it ends.
func (s *scanner) plainWord(word []byte, most int) ([]byte, int) {
	p := s.i
	for p < len(s.b) && len(word) < most && p < s.i+4*longestWord {
		c, n := plainLetter(s.b[p:])
		if n == 0 {
			if class[s.b[p]]&(letter|digit|joint) == 0 {
				break
			}
			c, n = s.b[p], 1
		}
		if c != unseen {
			word = append(word, c)
		}
		p += n
	}
	return word, p
}

// unseen stands for signs that are not seen: soft hyphens, joiners, the choice
// between the forms of a figurine.
const unseen = 0

// otherLetters are signs of print for ours, letters of another alphabet that look
// like ours, and the pieces of Russian, whose king is Кр (common practice).
var otherLetters = map[rune]byte{
	'×': 'x', '†': '+', '‡': '#',
	'а': 'a', 'с': 'c', 'е': 'e', 'х': 'x', 'О': 'O', 'о': 'o',
	'К': 'N', 'С': 'B', 'Л': 'R', 'Ф': 'Q',
	'\u00AD': unseen, '\u200B': unseen, '\u200C': unseen, '\u200D': unseen, '\u2060': unseen, '\uFE0E': unseen, '\uFE0F': unseen,
}

// plainLetter returns the ASCII letter for a typeset sign at the start of b and
// the sign's length, 0 when there is none.
func plainLetter(b []byte) (byte, int) {
	if len(b) == 0 || b[0] < utf8.RuneSelf {
		return 0, 0
	}
	r, n := utf8.DecodeRune(b)
	if c, ok := otherLetters[r]; ok && !bytes.HasPrefix(b, []byte("Кр")) {
		return c, n
	}
	switch {
	case r == 'К':
		return 'K', len("Кр")
	case r >= '♔' && r <= '♙':
		return "KQRBNP"[r-'♔'], n
	case r >= '♚' && r <= '♟':
		return "KQRBNP"[r-'♚'], n
	case r > '\uFF00' && r <= '\uFF5E' && class[byte(r-0xFF00+' ')]&(letter|digit|joint) != 0: // full-width forms
		return byte(r - 0xFF00 + ' '), n
	case hyphen(b) > 0:
		return '-', hyphen(b)
	}
	return 0, 0
}
