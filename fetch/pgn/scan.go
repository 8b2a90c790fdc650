package pgn

import (
	"bytes"
	"unicode"
	"unicode/utf8"
)

// Classes of bytes in movetext.
const (
	space  = 1 << iota // blanks, line ends and control characters
	letter             // A-Z, a-z
	digit              // 0-9
	joint              // signs inside a move: - + # = : / @
	moveIn             // may stand in a move
	stop               // ends a piece of stray text
	quiet              // means nothing to split
)

var class = classes()

func classes() (t [256]uint8) {
	for c := range 256 {
		b := byte(c)
		switch {
		case b <= ' ' || b == 0x7f:
			t[c] |= space | stop
		case b >= '0' && b <= '9':
			t[c] |= digit | moveIn
		case b >= 'A' && b <= 'Z':
			t[c] |= letter | moveIn
		case b >= 'a' && b <= 'z':
			t[c] |= letter
		}
		if bytes.IndexByte([]byte("-+#=:/@"), b) >= 0 {
			t[c] |= joint | moveIn
		}
		if bytes.IndexByte([]byte("abcdefghxqrn"), b) >= 0 {
			t[c] |= moveIn
		}
		if bytes.IndexByte([]byte("{}();$*<>[]!?"), b) >= 0 {
			t[c] |= stop
		}
		if b < 0x80 && bytes.IndexByte([]byte("\n{;<[()*-/"), b) < 0 {
			t[c] |= quiet
		}
	}
	return t
}

func isSpace(c byte) bool { return class[c]&space != 0 }

// lineEnd returns the place of the line feed that ends the line of b[i], or
// len(b).
func lineEnd(b []byte, i int) int {
	if k := bytes.IndexByte(b[i:], '\n'); k >= 0 {
		return i + k
	}
	return len(b)
}

// skipSpace returns the place of the first byte from i on that is no white
// space, and how many lines end on the way. Escape lines, those with a percent
// sign in column 1 (PGN standard 6), are white space and their line end does not
// count. They are looked for behind a line end only: a caller at the start of a
// line uses skipEscapes.
func skipSpace(b []byte, i int) (next, breaks int) {
	for i < len(b) {
		c := b[i]
		switch {
		case c == '\n':
			breaks++
			i = skipEscapes(b, i+1)
		case isSpace(c):
			i++
		case c >= utf8.RuneSelf:
			n := spaceRune(b[i:])
			if n == 0 {
				return i, breaks
			}
			i += n
		default:
			return i, breaks
		}
	}
	return i, breaks
}

// skipEscapes skips the escape lines at i, which is the start of a line.
func skipEscapes(b []byte, i int) int {
	for i < len(b) && b[i] == '%' {
		i = min(lineEnd(b, i)+1, len(b))
	}
	return i
}

// spaceRune returns the length of the blank that is not ASCII at the start of b:
// no-break and thin spaces as pasted from pages, byte order marks between joined
// files. 0 when there is none.
func spaceRune(b []byte) int {
	r, n := utf8.DecodeRune(b)
	switch {
	case r == utf8.RuneError && n == 1:
		if b[0] == 0xA0 { // no-break space of Windows-1252
			return 1
		}
	case unicode.IsSpace(r), r == '\uFEFF', r >= '\u200B' && r <= '\u200F', r == '\u2060':
		return n
	}
	return 0
}

var newline = []byte("\n")

// commentSpan is what commentEnd finds.
type commentSpan struct {
	end   int
	open  bool // never closed
	lines bool // may hold line ends
}

// farComment is how far a comment is looked through for its end before a tag
// section in it is taken as proof that it was never closed.
const farComment = 64 << 10

// commentEnd returns the place behind the brace comment that starts at b[i].
// Braces do not nest (PGN standard 5), so it ends at the next closing brace. But
// when a tag section after a blank line comes first, and the brace found closes
// another comment opened after it or is far away, then ours was never closed; it
// ends at that tag section. Without any closing brace it ends there too, or with
// b. ok is false when b is not final and the end is not in it.
func commentEnd(b []byte, i int, final bool) (c commentSpan, ok bool) {
	near := b[i:min(len(b), i+farComment)]
	k := bytes.IndexByte(near, '}')
	if k < 0 {
		return farCommentEnd(b, i, len(near), final)
	}
	text := near[:k]
	c.end = i + k + 1
	if bytes.IndexByte(text, '\n') < 0 {
		return c, true
	}
	c.lines = true
	if t := hiddenTags(text); t > 0 && bytes.IndexByte(text[t:], '{') >= 0 {
		c.end, c.open = i+t, true
	}
	return c, true
}

// farCommentEnd is commentEnd for a comment that does not end in its first n
// bytes.
func farCommentEnd(b []byte, i, n int, final bool) (c commentSpan, ok bool) {
	if n < farComment && !final {
		return c, false
	}
	c.lines = true
	if t := hiddenTags(b[i : i+n]); t > 0 {
		c.end, c.open = i+t, true
		return c, true
	}
	k := bytes.IndexByte(b[i+n:], '}')
	switch {
	case k >= 0:
		c.end = i + n + k + 1
	case !final:
		return c, false
	default:
		c.end, c.open = len(b), true
	}
	if t := hiddenTags(b[i:c.end]); t > 0 {
		c.end, c.open = i+t, true
	}
	return c, true
}

// hiddenTags finds the first tag pair in c that fills a line and follows a blank
// line; 0 when there is none.
func hiddenTags(c []byte) int {
	for p := 0; ; {
		k := bytes.Index(c[p:], []byte("\n["))
		if k < 0 {
			return 0
		}
		p += k + 1
		if startsTag(c, p) && afterBlank(c, p) {
			line := bytes.TrimSpace(c[p:lineEnd(c, p)])
			if line[len(line)-1] == ']' {
				return p
			}
		}
	}
}

// afterBlank reports whether the line before the one that starts at b[p] is
// blank.
func afterBlank(b []byte, p int) bool {
	for p -= 2; p >= 0 && isSpace(b[p]); p-- {
		if b[p] == '\n' {
			return true
		}
	}
	return false
}

// bracketEnd returns the place behind a bracket [ ] or < > that is closed on its
// line; behind the opening sign alone when it is not.
func bracketEnd(b []byte, i int, closing byte) int {
	for p := i + 1; p < len(b); p++ {
		switch b[p] {
		case closing:
			return p + 1
		case '\n', '{', ';', '[', '<':
			return i + 1
		}
	}
	return i + 1
}

// firstNumber reports whether b[i] starts '1.' before a move of White.
func firstNumber(b []byte, i int) bool {
	p := skipBlanks(b, i+1, 1)
	if p >= len(b) || b[p] != '.' {
		return false
	}
	p = skipBlanks(b, p+1, 8)
	return p < len(b) && (class[b[p]]&letter != 0 || b[p] >= utf8.RuneSelf)
}

// mark is a termination marker: 1-0, 0-1, 1/2-1/2 or *, and what people write
// for them.
type mark struct {
	start, end int
	value      string
}

// markAt reports the marker that has its sign at b[i]: the star, the hyphen, the
// slash or the ½. It does not look before from.
func markAt(b []byte, i, from int) (m mark, ok bool) {
	switch c := b[i]; {
	case c == '*':
		return mark{i, i + 1, "*"}, true
	case c == '/':
		if i-1 < from || b[i-1] != '1' || i+1 >= len(b) || b[i+1] != '2' {
			return m, false
		}
		m = mark{i - 1, secondHalf(b, i+2), "1/2-1/2"}
	case hyphen(b[i:]) > 0:
		if m, ok = decisive(b, i, from); !ok {
			return m, false
		}
	case half(b[i:]) > 0:
		m = mark{i, secondHalf(b, i+half(b[i:])), "1/2-1/2"}
	default:
		return m, false
	}
	return m, standsAlone(b, m, from)
}

// decisive reads 1-0 or 0-1 around the hyphen b[i], at most two blanks on either
// side.
func decisive(b []byte, i, from int) (mark, bool) {
	l, r := i-1, i+hyphen(b[i:])
	if l >= from && b[l] == ' ' && r < len(b) && b[r] == ' ' {
		l, r = l-1, r+1
		if l >= from && b[l] == ' ' {
			l--
		}
		if r < len(b) && b[r] == ' ' {
			r++
		}
	}
	if l < from || r >= len(b) {
		return mark{}, false
	}
	switch {
	case b[l] == '1' && b[r] == '0':
		return mark{l, r + 1, "1-0"}, true
	case b[l] == '0' && b[r] == '1':
		return mark{l, r + 1, "0-1"}, true
	}
	return mark{}, false
}

// secondHalf returns the place behind the second half of a draw, '-1/2' or '-½'
// at b[i] with at most two blanks around the hyphen; i when there is none.
func secondHalf(b []byte, i int) int {
	p := skipBlanks(b, i, 2)
	n := 0
	if p < len(b) {
		n = hyphen(b[p:])
	}
	if n == 0 {
		return i
	}
	p = skipBlanks(b, p+n, 2)
	if bytes.HasPrefix(b[p:], []byte("1/2")) {
		return p + 3
	}
	if n := half(b[p:]); n > 0 {
		return p + n
	}
	return i
}

func skipBlanks(b []byte, i, most int) int {
	for ; most > 0 && i < len(b) && b[i] == ' '; most-- {
		i++
	}
	return i
}

// hyphen returns the length of the hyphen or dash at the start of b, 0 for none.
func hyphen(b []byte) int {
	if b[0] == '-' {
		return 1
	}
	if b[0] < utf8.RuneSelf {
		return 0
	}
	switch r, n := utf8.DecodeRune(b); {
	case r >= '\u2010' && r <= '\u2015', r == '\u2212':
		return n
	case r == utf8.RuneError && n == 1 && (b[0] == 0x96 || b[0] == 0x97): // dashes of Windows-1252
		return 1
	}
	return 0
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

// standsAlone reports whether the marker is not part of a longer word.
func standsAlone(b []byte, m mark, from int) bool {
	if m.start > from {
		c := b[m.start-1]
		if class[c]&(letter|digit) != 0 || c == '-' || c == '/' || c == '=' || c == '$' {
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
