// Package plain is what text from files must be to stand in a terminal, on a page or in a
// file of ours: which characters steer instead of being read, how many columns a text
// takes, and how it is broken into lines. It is a leaf.
package plain

import (
	"unicode"

	"golang.org/x/text/width"
)

// Steers reports whether a character could steer a terminal, turn the direction of writing
// or part lines, or has no meaning of its own: control and format characters, separators
// of lines, private use.
func Steers(r rune) bool {
	return unicode.In(r, unicode.Cc, unicode.Cf, unicode.Co, unicode.Cs, unicode.Zl, unicode.Zp)
}

// Columns is how many places a text takes in a terminal.
func Columns(s string) int {
	n := 0
	for _, r := range s {
		n += columnsOf(r)
	}
	return n
}

func columnsOf(r rune) int {
	if unicode.In(r, unicode.Mn, unicode.Me) { // a mark on the letter before it
		return 0
	}
	switch width.LookupRune(r).Kind() {
	case width.EastAsianWide, width.EastAsianFullwidth:
		return 2
	}
	return 1
}

// Wrap sets words behind a head in lines of so many columns, all but the first with an
// indent. A longer word has a line of its own.
func Wrap(head, indent string, words []string, columns int) []string {
	var out []string
	line, bare := head, true
	for _, word := range words {
		if !bare && Columns(line)+1+Columns(word) > columns {
			out = append(out, line)
			line, bare = indent, true
		}
		if !bare {
			line += " "
		}
		line += word
		bare = false
	}
	return append(out, line)
}
