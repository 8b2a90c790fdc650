package pgn

import (
	"bytes"
	"strings"
)

// mark is a termination marker: 1-0, 0-1, 1/2-1/2 or *, and what people write
// for them.
type mark struct {
	start, end int
	value      string
}

// markAt reports the marker that has its sign at b[i]: the star, the hyphen or
// colon, the slash or the ½. It does not look before from.
func markAt(b []byte, i, from int) (m mark, ok bool) {
	switch c := b[i]; {
	case c == '*': // several are emphasis or a line across the page
		alone := (i == from || b[i-1] != '*') && (i+1 == len(b) || b[i+1] != '*')
		return mark{i, i + 1, "*"}, alone
	case c == '/':
		if i-1 < from || b[i-1] != '1' || i+1 >= len(b) || b[i+1] != '2' {
			return m, false
		}
		m = mark{i - 1, secondHalf(b, i+2), "1/2-1/2"}
	case versus(b[i:]) > 0:
		if m, ok = points(b, i, from); !ok {
			return m, false
		}
	case half(b[i:]) > 0:
		m = mark{i, secondHalf(b, i+half(b[i:])), "1/2-1/2"}
	default:
		return m, false
	}
	return m, standsAlone(b, m, from)
}

// points reads 1-0, 0-1 or 0.5-0.5 around the hyphen or colon b[i], at most two
// blanks on either side. A zero may be the letter O.
func points(b []byte, i, from int) (mark, bool) {
	behind := i + versus(b[i:])
	l, r := i-1, skipGap(b, behind)
	for n := 0; r > behind && n < 2 && l >= from && b[l] == ' '; n++ {
		l--
	}
	if l < from || r >= len(b) {
		return mark{}, false
	}
	switch {
	case b[l] == '1' && isZero(b[r]):
		return mark{l, r + 1, "1-0"}, true
	case isZero(b[l]) && b[r] == '1':
		return mark{l, r + 1, "0-1"}, true
	case l-2 >= from && isFive(b[l-2:]) && isFive(b[r:]):
		return mark{l - 2, r + 3, "1/2-1/2"}, true
	}
	return mark{}, false
}

func isZero(c byte) bool { return c == '0' || c == 'O' || c == 'o' }

// isFive reports whether b starts with half a point as 0.5 or 0,5.
func isFive(b []byte) bool {
	return len(b) >= 3 && b[0] == '0' && (b[1] == '.' || b[1] == ',') && b[2] == '5'
}

// secondHalf returns the place behind the second half of a draw, '-1/2' or '-½'
// at b[i] with at most two blanks around the hyphen; i when there is none.
func secondHalf(b []byte, i int) int {
	p := skipBlanks(b, i, 2)
	n := 0
	if p < len(b) {
		n = versus(b[p:])
	}
	if n == 0 {
		return i
	}
	p = skipGap(b, p+n)
	if bytes.HasPrefix(b[p:], []byte("1/2")) {
		return p + 3
	}
	if n := half(b[p:]); n > 0 {
		return p + n
	}
	return i
}

// skipGap skips at most two blanks, or the end of the line as mail programs
// break it.
func skipGap(b []byte, i int) int {
	if i < len(b) && b[i] == '\r' {
		i++
	}
	if i < len(b) && b[i] == '\n' {
		return i + 1
	}
	return skipBlanks(b, i, 2)
}

// versus returns the length of the sign between the points of the two players, a
// hyphen, a dash or a colon, at the start of b; 0 for none.
func versus(b []byte) int {
	if b[0] == ':' {
		return 1
	}
	return hyphen(b)
}

// half returns the length of a ½ at the start of b, 0 for none.
func half(b []byte) int {
	if len(b) >= 2 && b[0] == 0xC2 && b[1] == 0xBD {
		return 2
	}
	if len(b) >= 1 && b[0] == 0xBD { // Windows-1252
		return 1
	}
	return 0
}

// standsAlone reports whether the marker is not part of a longer word. A move may
// be glued to it: Nf31-0.
func standsAlone(b []byte, m mark, from int) bool {
	if m.start > from {
		c := b[m.start-1]
		glued := m.start-2 >= from && b[m.start-2]-'a' < 8 && c-'1' < 8
		if class[c]&(letter|digit) != 0 && !glued || c == '-' || c == '/' || c == '=' || c == '$' {
			return false
		}
	}
	if m.end < len(b) {
		c := b[m.end]
		if class[c]&(letter|digit) != 0 || c == '-' || c == '/' || c == ':' {
			return false
		}
	}
	return true
}

// ResultValue is what a Result tag means: the four values of the standard and
// what people write for them; empty for anything else.
func ResultValue(tag string) string {
	switch tag {
	case "1-0", "0-1", "1/2-1/2", "*":
		return tag
	}
	tag = strings.TrimSpace(tag)
	for i := range len(tag) {
		if m, ok := markAt([]byte(tag), i, 0); ok && m.start == 0 && m.end == len(tag) {
			return m.value
		}
	}
	return ""
}
