package fetch

import (
	"fmt"
	"slices"
	"strings"
	"unicode"

	"foreply/fetch/pgn"
)

// garbled reports whether a name looks like one of another code page that was read as
// Windows-1252: a sign that no name has next to a letter, as in Ho©ek, or four letters
// beyond ASCII in a row, as Èâàíîâ for a name in Cyrillic letters. What repair puts
// right is not garbled.
func garbled(name string) bool {
	if !strings.ContainsFunc(name, beyondASCII) { // nearly all names, and each is seen once a block
		return false
	}
	before, row := ' ', 0
	for _, r := range repair(name) {
		switch {
		case r == unicode.ReplacementChar, latinSign(r) && unicode.IsLetter(before), latinSign(before) && unicode.IsLetter(r):
			return true
		case r >= 0xC0 && r <= 0xFF:
			row++
		default:
			row = 0
		}
		if row >= mostAccents {
			return true
		}
		before = r
	}
	return false
}

func beyondASCII(r rune) bool { return r > unicode.MaxASCII }

// mostAccents letters beyond ASCII in a row begin no name in Latin letters: Þóð, at most.
const mostAccents = 4

// latinSign tells the signs of Windows-1252 that stand where other code pages have
// letters; not the quotes and dashes that people write in names.
func latinSign(r rune) bool {
	return r > 0xA0 && r < 0xC0 && r != '´' && r != '·' && r != 'ª' && r != 'º' || r == '×' || r == '÷' || strings.ContainsRune("€‚ƒ„…†‡ˆ‰‹•˜™›", r)
}

// garbledNames collects names that look garbled from a text.
type garbledNames []string

func (g *garbledNames) see(names []sighted) {
	for i := range names {
		if name := names[i].name; len(*g) <= mostGarbled && garbled(name) && !slices.Contains(*g, name) {
			*g = append(*g, name)
		}
	}
}

// mostGarbled is how many garbled names are told of a text.
const mostGarbled = 3

// problem tells them; nil if there is none.
func (g garbledNames) problem(source, file string) []pgn.Problem {
	if len(g) == 0 {
		return nil
	}
	told, more := strings.Join(g[:min(len(g), mostGarbled)], "; "), ""
	if len(g) > mostGarbled {
		more = "; and more"
	}
	return []pgn.Problem{{
		Kind: pgn.BadEncoding, Severity: pgn.Warning, Source: source, File: file,
		Message: fmt.Sprintf("names look garbled, as of another code page than Windows-1252: %s%s", told, more),
		Hint:    "save the file as UTF-8, and the names are found as they are written",
	}}
}
