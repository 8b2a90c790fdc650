package pgn

import (
	"encoding/binary"
	"io"
	"unicode/utf16"
	"unicode/utf8"
)

// utf16Sniff is how many bytes utf16Order wants to see, if there are so many.
const utf16Sniff = 16

// utf16Order returns the byte order of UTF-16, nil for other texts, and the length
// of its byte order mark. Some editors save 'Unicode' like that, and not all set
// the mark: then the first letters tell, which are ASCII in PGN.
func utf16Order(b []byte) (order binary.ByteOrder, mark int) {
	switch {
	case len(b) < 2:
	case b[0] == 0xFF && b[1] == 0xFE:
		return binary.LittleEndian, 2
	case b[0] == 0xFE && b[1] == 0xFF:
		return binary.BigEndian, 2
	case len(b) < 4:
	case wideASCII(b, 0):
		return binary.LittleEndian, 0
	case wideASCII(b, 1):
		return binary.BigEndian, 0
	}
	return nil, 0
}

// wideASCII reports whether of each two bytes the first or the second, as at says,
// is ASCII and the other zero.
func wideASCII(b []byte, at int) bool {
	for i := 0; i+1 < min(len(b), utf16Sniff); i += 2 {
		if c := b[i+at]; c == 0 || c >= utf8.RuneSelf || b[i+1-at] != 0 {
			return false
		}
	}
	return true
}

// utf16Reader turns UTF-16 into UTF-8.
type utf16Reader struct {
	src   io.Reader
	order binary.ByteOrder
	raw   [4096]byte
	rest  int // bytes at the start of raw that are no whole character yet
	out   []byte
	spent int // bytes of out handed out
	err   error
}

func (u *utf16Reader) Read(p []byte) (int, error) {
	for u.spent == len(u.out) {
		if u.err != nil {
			return 0, u.err
		}
		n, err := u.src.Read(u.raw[u.rest:])
		u.err = err
		u.decode(u.raw[:u.rest+n])
	}
	n := copy(p, u.out[u.spent:])
	u.spent += n
	return n, nil
}

// pair decodes two surrogates, or one that stands alone as a replacement.
func (u *utf16Reader) pair(raw []byte) (r rune, n int) {
	if len(raw) >= 4 {
		r = utf16.DecodeRune(rune(u.order.Uint16(raw)), rune(u.order.Uint16(raw[2:])))
		if r != utf8.RuneError {
			return r, 4
		}
	}
	return utf8.RuneError, 2
}

// decode puts the characters of raw into out and keeps what is left over.
func (u *utf16Reader) decode(raw []byte) {
	u.out, u.spent = u.out[:0], 0
	for len(raw) >= 2 {
		r, n := rune(u.order.Uint16(raw)), 2
		if utf16.IsSurrogate(r) {
			if len(raw) < 4 && u.err == nil {
				break
			}
			r, n = u.pair(raw)
		}
		u.out = utf8.AppendRune(u.out, r)
		raw = raw[n:]
	}
	if u.err != nil && len(raw) > 0 {
		u.out = utf8.AppendRune(u.out, utf8.RuneError)
		raw = nil
	}
	u.rest = copy(u.raw[:], raw)
}
