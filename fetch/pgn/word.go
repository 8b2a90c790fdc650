package pgn

import (
	"bytes"
	"slices"
	"strings"
	"unicode/utf8"
)

// longestWord is how many bytes of a word are looked at for a move.
const longestWord = 48

// word reads what starts with a letter.
func (s *scanner) word(t *token) {
	b, i := s.b, wordEnd(s.b, s.i)
	if i < len(b) && b[i] >= utf8.RuneSelf && s.typeset(t, i) {
		return
	}
	w := b[s.i:i]
	if dots(b[i:]) > 0 {
		w = beforeNumber(w)
	}
	if signs, n := unhyphened(w); signs > 0 {
		s.castlingOf(t, signs, s.i+n)
		return
	}
	if n := s.moveIn(w); n > 0 {
		s.end(t, moveToken, s.i+n)
		s.promotion(t)
		s.skipTail()
		return
	}
	s.oddWord(t, w)
}

// wordEnd returns the end of the letters, digits and signs of moves at b[i], as far
// as they are looked at.
func wordEnd(b []byte, i int) int {
	for most := min(len(b), i+longestWord); i < most && class[b[i]]&(letter|digit|joint) != 0; {
		i++
	}
	return i
}

// beforeNumber cuts off the move number that is glued to the end of a word, as in
// e52.Nf3. The first digit belongs to the square.
func beforeNumber(w []byte) []byte {
	k := len(w)
	for k > 0 && class[w[k-1]]&digit != 0 {
		k--
	}
	if k > 0 && k < len(w) && w[k-1]-'a' < 8 {
		k++
	}
	return w[:k]
}

// moveIn returns the length of the move that the word starts with, 0 when it is
// none. What may follow in the word is an evaluation sign, a result or a move
// behind a check sign, the next move's piece, or a word such as 'ep'.
func (s *scanner) moveIn(w []byte) int {
	if len(w) == 0 {
		return 0
	}
	if n := castling(w); n > 0 {
		return n
	}
	n := gluedEnd(w)
	for g := suffixGlyph(w[:n]); g > 0; g = suffixGlyph(w[:n]) {
		n -= g
	}
	n -= tail(w[:n])
	if novel(w[:n]) {
		n--
	}
	switch {
	case isMove(w[:n]) || string(w[:n]) == "Z0" || s.brokenMove(w[:n]):
		return n
	}
	return 0
}

// novel reports whether the N at the end of a move marks a novelty, as in a6N, and is
// not what a pawn becomes.
func novel(w []byte) bool {
	n := len(w)
	if n < 3 || w[n-1] != 'N' || class[w[n-2]]&digit == 0 {
		return false
	}
	return w[0] < 'a' || !becomes(w[:n-1])
}

// gluedEnd returns where the first move of the word ends when another, or a
// result, is glued to it, as in Nf3Nc6 and Qh4#0-1; else the length of the word.
func gluedEnd(w []byte) int {
	for p := 2; p+1 < len(w); p++ {
		if nextPiece(w, p) {
			return p
		}
		if class[w[p]]&joint == 0 {
			continue // most signs
		}
		if m, ok := markAt(w, p, 0); ok && m.start > 0 {
			return m.start // before the end of a variation, where it ends no game
		}
		if w[p] != '#' && w[p] != '+' {
			continue
		}
		if rest := w[p+1:]; class[rest[0]]&letter != 0 && tail(rest) < len(rest) {
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

// nextPiece reports whether w[p] is the piece of another move, behind a square. A
// pawn on its last rank becomes the piece instead.
func nextPiece(w []byte, p int) bool {
	if !isPiece(w[p]) || w[p-1]-'1' > 7 || w[p-2]-'a' > 7 {
		return false
	}
	if w[0] >= 'a' && (w[p-1] == '1' || w[p-1] == '8') {
		return false
	}
	return w[p+1]-'a' < 8 || w[p+1] == 'x' || w[p+1]-'1' < 8
}

func isPiece(c byte) bool { return bytes.IndexByte([]byte("KQRBN"), c) >= 0 }

// tails are words set behind a move that mean nothing to a reader who sees the
// position: check, mate, the capture in passing (common practice).
var tails = []string{"e.p.", "e.p", "ep", "e", "ch", "mate", "mat"}

// tail returns the length of such a word glued to the end of a move, check signs
// behind it included, in which 'e' stands for what is left of 'e.p.'.
func tail(w []byte) int {
	n := len(w)
	for n > 0 && (w[n-1] == '+' || w[n-1] == '#') {
		n--
	}
	for _, t := range tails {
		k := n - len(t)
		if k < 0 || string(w[k:n]) != t {
			continue
		}
		if k > 0 && w[k-1] == '/' {
			k--
		}
		move := bytes.TrimRight(w[:k], "+#") // the check may stand before, as in exd6+e.p.
		if len(move) == 0 || class[move[len(move)-1]]&digit != 0 {
			return len(w) - k
		}
	}
	return 0
}

// skipTail moves on behind the word that tail left standing.
func (s *scanner) skipTail() {
	i := s.i
	if i < len(s.b) && s.b[i] == '/' {
		i++
	}
	for _, t := range tails {
		longer := uint8(letter)
		if t == "e" {
			longer |= digit // e5 is a move
		}
		if end := i + len(t); bytes.HasPrefix(s.b[i:], []byte(t)) && (end == len(s.b) || class[s.b[end]]&longer == 0) {
			s.i = end
			for s.i < len(s.b) && (s.b[s.i] == '+' || s.b[s.i] == '#') {
				s.i++
			}
			return
		}
	}
}

// promotion takes in a piece that stands behind the move in parentheses or apart:
// e8(Q), e8 = Q, e8 Q (common practice). A pawn on its last rank becomes one, so it
// can be nothing else.
func (s *scanner) promotion(t *token) {
	m, b := s.b[t.start:t.end], s.b
	if c := m[len(m)-1]; m[0] < 'a' || c != '1' && c != '8' || m[len(m)-2]-'a' > 7 {
		return
	}
	p := skipBlanks(b, t.end, 1)
	if p < len(b) && bytes.IndexByte([]byte("=/:(["), b[p]) >= 0 {
		p = skipBlanks(b, p+1, 1)
		if p < len(b) && b[p] == '(' {
			p++
		}
	}
	if p >= len(b) || bytes.IndexByte([]byte("QRBNqrbn"), b[p]) < 0 {
		return
	}
	end := p + 1
	if end < len(b) && (b[end] == ')' || b[end] == ']') {
		end++
	} else if end < len(b) && class[b[end]]&(letter|digit|joint) != 0 {
		return
	}
	if move := string(m) + "=" + string(b[p]&^0x20); isMove([]byte(move)) {
		s.fix(t, move, end)
	}
}

// fix ends a move that is handed out in other letters than it is written in.
func (s *scanner) fix(t *token, move string, end int) {
	s.fixed = append(s.fixed[:0], move...)
	t.fixed = true
	s.end(t, moveToken, end)
}

// castlingOf hands out castling written without its hyphens or with blanks, as so
// many signs for king or rook.
func (s *scanner) castlingOf(t *token, signs, end int) {
	s.fix(t, "O-O-O"[:2*signs-1], end)
}

// unhyphened reads a word that is castling without its hyphens, a check or an evaluation
// behind it; n is where the evaluation begins. 0 signs for none.
func unhyphened(w []byte) (signs, n int) {
	n = len(w) - suffixGlyph(w)
	switch bare := string(bytes.TrimRight(w[:n], "+#")); bare {
	case "OO", "OOO", "00", "000":
		return len(bare), n
	}
	return 0, 0
}

// looseCastling reads castling with blanks or a line end around its hyphens at the
// start of b; n is its length, 0 for none.
func looseCastling(b []byte) (signs, n int) {
	for p := 0; p < len(b) && b[p] == 'O'; {
		signs, n, p = signs+1, p+1, skipGap(b, p+1)
		if signs == 3 || p >= len(b) || hyphen(b[p:]) == 0 {
			break
		}
		p = skipGap(b, p+hyphen(b[p:]))
	}
	if signs < 2 || n < len(b) && class[b[n]]&(letter|digit) != 0 {
		return 0, 0
	}
	return signs, n
}

// apart reads a piece with its square apart, as in N f3 and where a line is broken
// between them.
func (s *scanner) apart(t *token, piece byte, i int) bool {
	if !isPiece(piece) || s.last == strayToken {
		return false
	}
	p := skipGap(s.b, i)
	word := append([]byte{piece}, s.b[p:wordEnd(s.b, p)]...)
	n := s.moveIn(word)
	if p == i || n == 0 || !isMove(word[:n]) || isPiece(word[1]) {
		return false
	}
	s.fix(t, string(word[:n]), p+n-1)
	s.countLines(t.start, p)
	return true
}

// oddWord reads a word that is no move: marks of the trade, text.
func (s *scanner) oddWord(t *token, w []byte) {
	i := s.i + len(w)
	// N alone behind a move is the sign of a novelty.
	if len(w) == 1 && (w[0] != 'N' || s.last == numberToken) && s.apart(t, w[0], i) {
		return
	}
	switch word := string(w); {
	case w[0] == 'O' && s.castlingApart(t):
	case word == "N" || word == "TN": // a novelty, common practice
		t.glyph = novelty
		s.end(t, glyphToken, i)
	case slices.Contains(tails[2:], strings.ToLower(word)) && word != "e":
		s.end(t, idleToken, i)
	case word == "e" && (bytes.HasPrefix(s.b[i:], []byte(".p")) || bytes.HasPrefix(s.b[i:], []byte(". p."))):
		s.end(t, idleToken, i+3)
	default:
		s.stray(t, i)
	}
}

// castlingApart reads castling with blanks in it.
func (s *scanner) castlingApart(t *token) bool {
	signs, n := looseCastling(s.b[s.i:])
	if n == 0 {
		return false
	}
	s.castlingOf(t, signs, s.i+n)
	s.countLines(t.start, t.end)
	return true
}

// brokenMove reports whether a word without a square stands where a move must:
// Bxf, Nge, exd, ed, ed:. It is handed out so that the replay stops at the right
// place.
func (s *scanner) brokenMove(w []byte) bool {
	if len(w) < 2 || len(w) > 7 || s.last == strayToken {
		return false
	}
	if filesBeside(w) {
		return s.last != endToken && s.last != commentToken
	}
	c, next := w[0], w[1]
	if strings.IndexByte("-:/", w[len(w)-1]) >= 0 || len(w) == 2 && c >= 'a' && c <= 'h' {
		return false
	}
	if c < 'A' || c > 'Z' && c < 'a' || c > 'h' || s.last != numberToken && next != 'x' {
		return false
	}
	return signsOfMove(w) && string(w[:2]) != "OO" // which is castling or nothing
}

// filesBeside reports whether a word is a pawn's capture that names its files alone,
// with its signs: ed, e:d, ed:, ed+ (common practice).
func filesBeside(w []byte) bool {
	w = bytes.TrimSuffix(bytes.TrimRight(w, "+#"), []byte(":"))
	n := len(w)
	if n != 2 && (n != 3 || w[1] != ':') {
		return false
	}
	from, to := w[0], w[n-1]
	return from-'a' < 8 && to-'a' < 8 && (from+1 == to || to+1 == from)
}

// isMove reports whether the word looks like a move in any notation with
// letters: it has a square, or what was meant to be one, and nothing that a move
// never has. Whether it can be read is for the caller to say.
func isMove(w []byte) bool {
	if len(w) < 2 || len(w) > 12 {
		return false
	}
	if c := w[0]; class[c]&letter == 0 || c > 'h' && c != 'n' && c != 'q' && c != 'r' && c != 'k' {
		return false
	}
	return signsOfMove(w[1:]) && hasSquare(w)
}

// signsOfMove reports whether all signs may stand in a move and make no result, nor the
// start of one behind a square, as in a21-.
func signsOfMove(w []byte) bool {
	if n := len(w); n > 2 && strings.IndexByte("-:", w[n-1]) >= 0 && (w[n-2] == '1' || isZero(w[n-2])) && class[w[n-3]]&digit != 0 {
		return false
	}
	for i, c := range w {
		if class[c]&moveIn == 0 || i > 0 && class[c]&digit != 0 && strings.IndexByte("-:/", w[i-1]) >= 0 {
			return false
		}
	}
	return true
}

// hasSquare reports whether a file and a digit stand in the word.
func hasSquare(w []byte) bool {
	for i := 1; i < len(w); i++ {
		if class[w[i]]&digit != 0 && w[i-1]-'a' < 8 {
			return true
		}
	}
	return false
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
	if n < len(b) && class[b[n]]&(letter|digit) != 0 && class[b[n-1]]&joint == 0 && !isPiece(b[n]) {
		return 0
	}
	return n
}
