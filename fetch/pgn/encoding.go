package pgn

import (
	"encoding/binary"
	"unicode/utf8"
)

// isASCII reports whether no byte has its high bit set.
func isASCII(b []byte) bool {
	const high = 0x8080808080808080
	for len(b) >= 32 {
		v := binary.LittleEndian.Uint64(b) | binary.LittleEndian.Uint64(b[8:]) |
			binary.LittleEndian.Uint64(b[16:]) | binary.LittleEndian.Uint64(b[24:])
		if v&high != 0 {
			return false
		}
		b = b[32:]
	}
	for _, c := range b {
		if c >= utf8.RuneSelf {
			return false
		}
	}
	return true
}

// windows1252 are the characters of the bytes 0x80 to 0x9F; the others are those
// of Latin-1. Five bytes have none (code page 1252 of the Unicode consortium's
// mapping tables, from memory).
var windows1252 = [32]rune{
	'€', utf8.RuneError, '‚', 'ƒ', '„', '…', '†', '‡', 'ˆ', '‰', 'Š', '‹', 'Œ', utf8.RuneError, 'Ž', utf8.RuneError,
	utf8.RuneError, '‘', '’', '“', '”', '•', '–', '—', '˜', '™', 'š', '›', 'œ', utf8.RuneError, 'ž', 'Ÿ',
}

// convert turns the lines of a game that are not UTF-8 from Windows-1252 into
// it. Each part of the span is converted by itself, so that its borders stay.
func (p *parser) convert() {
	out := p.utf8[:0]
	from := 0
	for _, border := range []*int{&p.sp.tags, &p.sp.body, &p.sp.bodyEnd, &p.sp.markEnd, &p.sp.end} {
		if *border > from {
			out = appendUTF8(out, p.b[from:*border])
			from = *border
		}
		*border = len(out)
	}
	p.utf8, p.b, p.sc.b, p.sc.lineTo = out, out, out, 0
	p.pairs = nil
	p.converted = true
}

func appendUTF8(out, text []byte) []byte {
	for len(text) > 0 {
		n := min(lineEnd(text, 0)+1, len(text))
		out = appendLine(out, text[:n])
		text = text[n:]
	}
	return out
}

// appendLine appends one line, converted if it is not UTF-8.
func appendLine(out, line []byte) []byte {
	if utf8.Valid(line) {
		return append(out, line...)
	}
	for _, c := range line {
		switch {
		case c < utf8.RuneSelf:
			out = append(out, c)
		case c < 0xA0:
			out = utf8.AppendRune(out, windows1252[c-0x80])
		default:
			out = utf8.AppendRune(out, rune(c))
		}
	}
	return out
}
