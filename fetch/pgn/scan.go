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
	opens              // may open a plain move: a file, an English piece letter
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
		if bytes.IndexByte([]byte("abcdefghKQRBN"), b) >= 0 {
			t[c] |= opens
		}
		if b < 0x80 && bytes.IndexByte([]byte("\n{;<[()*-:/"), b) < 0 {
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

// skipEscapes skips the escape lines at i, which is the start of a line, and what
// is set before a line and is none of its text: the marks of quoted mail, the
// bullets of a list.
func skipEscapes(b []byte, i int) int {
	if i >= len(b) || class[b[i]]&(letter|digit) != 0 || b[i] == '[' || b[i] == '\n' {
		return i // most lines
	}
	for i < len(b) && b[i] == '%' {
		i = min(lineEnd(b, i)+1, len(b))
	}
	for i < len(b) && b[i] == '>' {
		i = skipBlanks(b, i+1, 1)
	}
	if n := bullet(b[i:]); n > 0 {
		i += n
	}
	return i
}

// bullet returns the length of a bullet and its blank at the start of b: a dot, or
// a dash with a blank behind it. 0 when there is none.
func bullet(b []byte) int {
	if len(b) < 2 {
		return 0
	}
	n := hyphen(b)
	if b[0] >= utf8.RuneSelf && n == 0 {
		switch r, w := utf8.DecodeRune(b); r {
		case '•', '·', '◦', '▪', '‣', '●', '○', '■':
			n = w
		}
	}
	if n > 0 && n < len(b) && (b[n] == ' ' || b[n] == '\t') {
		return n + 1
	}
	return 0
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

// hiddenTags finds the first tag pair in c that fills a line and follows a blank
// line; 0 when there is none.
func hiddenTags(c []byte) int {
	for p := lineBracket(c, 0); p >= 0; p = lineBracket(c, p+1) {
		if startsTag(c, p) && afterBlank(c, p) {
			line := bytes.TrimSpace(c[p:lineEnd(c, p)])
			if line[len(line)-1] == ']' {
				return p
			}
		}
	}
	return 0
}

// hasTag reports whether a line of c starts with a tag pair.
func hasTag(c []byte) bool {
	for p := lineBracket(c, 0); p >= 0; p = lineBracket(c, p+1) {
		if startsTag(c, p) {
			return true
		}
	}
	return false
}

// lineBracket returns the first '[' from b[i] on that starts a line of b behind
// another, -1 when there is none.
func lineBracket(b []byte, i int) int {
	for {
		k := bytes.IndexByte(b[i:], '[')
		if k < 0 {
			return -1
		}
		if i += k; startsLine(b, i) {
			return i
		}
		i++
	}
}

// mostIndent is how many blanks may stand before a tag at the start of its line.
const mostIndent = 32

// startsLine reports whether nothing but a few blanks stands between b[i] and the
// end of the line before.
func startsLine(b []byte, i int) bool {
	least := max(0, i-1-mostIndent)
	for i--; i >= least; i-- {
		if b[i] != ' ' && b[i] != '\t' {
			return b[i] == '\n'
		}
	}
	return false
}

// afterBlank reports whether the line before the one that b[p] starts is blank.
func afterBlank(b []byte, p int) bool {
	breaks := 0
	for p--; p >= 0 && isSpace(b[p]) && breaks < 2; p-- {
		if b[p] == '\n' {
			breaks++
		}
	}
	return breaks == 2
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

// entity returns the length of a character reference of web pages at the start of
// b, as &nbsp; or &#39;, 0 for none.
func entity(b []byte) int {
	for i := 1; i < min(len(b), longestEntity); i++ {
		switch c := b[i]; {
		case c == ';' && i > 1:
			return i + 1
		case class[c]&(letter|digit) == 0 && c != '#':
			return 0
		}
	}
	return 0
}

const longestEntity = 10

// endsEntity reports whether the semicolon b[i] ends a character reference, and
// so starts no comment.
func endsEntity(b []byte, i int) bool {
	from := max(0, i-longestEntity+1)
	k := bytes.LastIndexByte(b[from:i], '&')
	return k >= 0 && entity(b[from+k:]) == i+1-from-k
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

func skipBlanks(b []byte, i, most int) int {
	for ; most > 0 && i < len(b) && b[i] == ' '; most-- {
		i++
	}
	return i
}
