package sheet

import (
	"strings"
	"unicode"
	"unicode/utf8"

	"golang.org/x/text/unicode/norm"

	"foreply/fetch/pgn/plain"
)

// Plain makes text from games and notes safe for a terminal and a page: composed
// (NFC), no control characters, none that turn the direction of writing, spaces
// and line ends of any kind as one space.
func Plain(s string) string {
	if isPlain(s) {
		return s
	}
	var b strings.Builder
	gap := false
	for _, r := range s {
		switch {
		case unicode.IsSpace(r):
			gap = true
			continue
		case plain.Steers(r), unicode.Is(unicode.Variation_Selector, r):
			continue
		}
		if gap && b.Len() > 0 {
			b.WriteByte(' ')
		}
		gap = false
		b.WriteRune(r)
	}
	return norm.NFC.String(b.String()) // last, since what went may have kept a mark from its letter
}

// isPlain says of nearly all text that Plain changes nothing in it, without writing it anew.
func isPlain(s string) bool {
	ascii, gap := true, true // a blank here would be the first, or one more
	for _, r := range s {
		switch {
		case r == ' ':
			if gap {
				return false
			}
			gap = true
			continue
		case r > ' ' && r < unicode.MaxASCII:
		case r < utf8.RuneSelf, r == utf8.RuneError, unicode.IsSpace(r), plain.Steers(r), unicode.Is(unicode.Variation_Selector, r):
			return false
		default:
			ascii = false
		}
		gap = false
	}
	return (s == "" || !gap) && (ascii || norm.NFC.IsNormalString(s))
}

// Reduce makes text printable with the font: what it lacks becomes the base
// letter, else a question mark, so that no box stands on the page and no
// character above U+FFFF, on which the PDF library panics, reaches it.
func (f *Face) Reduce(s string) string {
	s = Plain(s)
	lacking := strings.IndexFunc(s, func(r rune) bool { return !f.prints(r) })
	if lacking < 0 {
		return s
	}
	var b strings.Builder
	for _, r := range s {
		switch {
		case f.prints(r):
			b.WriteRune(r)
		case unicode.Is(unicode.Mn, r):
			// a mark that composes with nothing the font has: the letter stays
		default:
			b.WriteString(f.base(r))
		}
	}
	return b.String()
}

func (f *Face) prints(r rune) bool {
	if int(r) < len(f.common) { // no marks among them
		return f.common[r]
	}
	return f.Has(r) && !unicode.Is(unicode.Mn, r)
}

// base is the letter under the marks of r, or a question mark.
func (f *Face) base(r rune) string {
	d, _ := utf8.DecodeRuneInString(norm.NFKD.String(string(r)))
	if d != r && f.prints(d) {
		return string(d)
	}
	return "?"
}
