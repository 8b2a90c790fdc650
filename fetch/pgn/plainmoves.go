package pgn

// Moves as nearly all are, read many at a time without a look at anything else.

// plainMove is a move as most are: letters and digits, a square at the end, at
// most one check sign, then white space; or castling.
type plainMove struct{ start, end, line, lineStart int32 }

func (m plainMove) token() token {
	return token{kind: moveToken, start: int(m.start), end: int(m.end), line: int(m.line), lineStart: int(m.lineStart)}
}

// plain reads plain moves and the numbers between them, as many as come one
// after another and dst takes. It stops before anything else, which slow reads,
// and before a line that may be the first of another game.
// It is the inner loop of reading, hence its length.
func (s *scanner) plain(dst []plainMove) (n int) {
	b, i := s.b, s.i
	line, lineStart := int32(s.line), int32(s.lineStart)
	last := s.last
loop:
	for i < len(b) {
		c := b[i]
		switch k := class[c]; {
		case k&letter != 0:
			end := endOfPlain(b, i)
			if end == 0 || n == len(dst) {
				break loop
			}
			dst[n] = plainMove{int32(i), int32(end), line, lineStart}
			n++
			i, last = end, moveToken
		case c == ' ':
			i++
		case k&digit != 0 && c > '0':
			end := plainNumber(b, i)
			if end == 0 {
				break loop
			}
			i, last = end, numberToken
		case c == '\n' || c == '\r':
			start, text := plainBreak(b, i)
			if text == 0 {
				break loop
			}
			i, line, lineStart = text, line+1, int32(start)
		default:
			break loop
		}
	}
	s.i, s.line, s.lineStart, s.last = i, int(line), int(lineStart), last
	return n
}

// plainBreak returns where the line behind the line end at b[i] starts, and where its
// text does; 0 when that is no word or number, or may be the start of another game.
func plainBreak(b []byte, i int) (start, text int) {
	if b[i] == '\r' {
		i++
	}
	if i >= len(b) || b[i] != '\n' {
		return 0, 0
	}
	start = i + 1
	text = skipTabs(b, start)
	if text >= len(b) || class[b[text]]&(letter|digit) == 0 || b[text] == '1' && firstNumber(b, text) {
		return 0, 0
	}
	return start, text
}

// longestPlain is how many letters and digits a plain move has at most.
const longestPlain = 7

// lower is the bit that small letters and digits have, and capitals don't.
const lower = 0x20

// endOfPlain returns the end of the plain move at b[i]; 0 when the word there
// needs a closer look, as does a pawn on its last rank.
func endOfPlain(b []byte, i int) int {
	first := b[i]
	all := class[first]
	low := byte(lower)
	p := i + 1
	for most := min(len(b), i+longestPlain+1); p < most; {
		k := class[b[p]]
		if k&(letter|digit) == 0 {
			break
		}
		all &= k
		low &= b[p]
		p++
	}
	if first == 'O' && p == i+1 {
		if p = i + castling(b[i:]); p > i && p < len(b) && isSpace(b[p]) {
			return p
		}
		return 0
	}
	if all&moveIn == 0 || p-i < 2 || p-i > longestPlain || class[first]&opens == 0 ||
		b[p-2]-'a' > 7 || b[p-1]-'1' > 7 || low == 0 ||
		first >= 'a' && (b[p-1] == '8' || b[p-1] == '1') {
		return 0
	}
	if p < len(b) && (b[p] == '+' || b[p] == '#') {
		p++
	}
	if p < len(b) && class[b[p]]&space == 0 {
		return 0
	}
	return p
}

// plainNumber returns the end of a move number at b[i] with its dots; 0 when it
// may be something else.
func plainNumber(b []byte, i int) int {
	p := i + 1
	for p < len(b) && class[b[p]]&digit != 0 {
		p++
	}
	dots := p
	for p < len(b) && b[p] == '.' {
		p++
	}
	if p == dots && (b[i] == '1' || p < len(b) && b[p] == ':') { // perhaps 1-0, 1/2
		return 0
	}
	return p
}
