package pgn

import (
	"strings"
	"testing"
)

// What is white space before a move, and how many lines end in it.
func TestSkipSpace(t *testing.T) {
	for _, c := range []struct {
		text   string
		breaks int
	}{
		{"", 0}, {" \t\v\x00\x7f", 0}, {" \n\n ", 2}, {"\r\n\r\n\r\n", 3}, {"\n% a\n%b\n", 1}, {"\n% a\n\n", 2}, {"\n>", 1}, {"\n>> > ", 1}, {"\n- ", 1}, {"\n–\t", 1},
		{"\n• ", 1}, {"\n> · ", 1}, {"\u00a0\ufeff\u2060\u200b\u200f\u2009\xa0", 0},
	} {
		next, breaks := skipSpace([]byte(c.text+"x"), 0)
		if next != len(c.text) || breaks != c.breaks {
			t.Errorf("%q: to %d over %d line ends, want %d over %d", c.text, next, breaks, len(c.text), c.breaks)
		}
	}
	for text, want := range map[string]int{"\n-x": 1, "\n•x": 1, "\n  %x": 3, "\n- > x": 3, "\n= x": 1, "x": 0} {
		if next, _ := skipSpace([]byte(text), 0); next != want {
			t.Errorf("%q: to %d, want %d", text, next, want)
		}
	}
}

// A tag starts its line though a few blanks stand before it.
func TestStartsLine(t *testing.T) {
	for text, want := range map[string]bool{
		"\n[": true, "x\n \t[": true, "\n" + strings.Repeat(" ", 32) + "[": true, "\n" + strings.Repeat(" ", 33) + "[": false, "\nx [": false, "[": false, " [": false,
	} {
		if got := startsLine([]byte(text), len(text)-1); got != want {
			t.Errorf("%q: %v", text, got)
		}
	}
}

// A tag section hidden in a comment fills a line behind a blank one; in nested comments a
// line that starts with a tag is enough.
func TestTagsInComments(t *testing.T) {
	for text, want := range map[string]struct {
		hidden int
		has    bool
	}{
		"{a\n\n[B \"x\"]\n}": {4, true}, "{a\n \r\n [B \"x\"] \r\n}": {7, true}, "{a\n[B \"x\"]\n}": {0, true}, "{a\n\n[B \"x\"] c\n}": {0, true}, "{a\n\n[b\n\n[B \"x\"]": {8, true},
		"{a\n\n[B x]\n}": {0, false}, "{[B \"x\"]}": {0, false}, "{a [B \"x\"]\n}": {0, false},
	} {
		if got := hiddenTags([]byte(text)); got != want.hidden || hasTag([]byte(text)) != want.has {
			t.Errorf("%q: hidden at %d, has %v, want %v", text, got, hasTag([]byte(text)), want)
		}
	}
}

// Signs at the start of a text and how long they are.
func TestLengthsOfSigns(t *testing.T) {
	for text, want := range map[string]int{"-": 1, "‐": 3, "‑": 3, "–": 3, "—": 3, "―": 3, "−": 3, "\x96": 1, "\x97": 1, "‖": 0, "\u200f": 0, "\x95": 0, "\x98": 0, "=": 0, "é": 0} {
		if got := hyphen([]byte(text)); got != want {
			t.Errorf("hyphen(%q) = %d, want %d", text, got, want)
		}
	}
	for text, want := range map[string]int{"&amp;": 5, "&#39; x": 5, "&thetasym;": 10, "&abcdefghi;": 0, "&;": 0, "& b;": 0, "&amp": 0, "&a-b;": 0, "&": 0} {
		if got := entity([]byte(text)); got != want {
			t.Errorf("entity(%q) = %d, want %d", text, got, want)
		}
	}
	for text, want := range map[string]bool{"e4 &amp;": true, "&#39;": true, "x &thetasym;": true, "&amp x;": false, "&amp;;": false, "e4;": false, "&;": false} {
		if got := endsEntity([]byte(text), len(text)-1); got != want {
			t.Errorf("%q ends a reference: %v", text, got)
		}
	}
	for text, want := range map[string]int{"<a>b": 3, "<a {b>": 1, "<a;b>": 1, "<a\n>": 1, "<a[b>": 1, "<a<b>": 1, "<a": 1, "<>": 2} {
		if got := bracketEnd([]byte(text), 0, '>'); got != want {
			t.Errorf("%q ends at %d, want %d", text, got, want)
		}
	}
}

// The number 1 before a move of White, not before one of Black.
func TestFirstNumber(t *testing.T) {
	for text, want := range map[string]bool{
		"1. e4": true, "1.e4": true, "1 . e4": true, "1.♘f3": true, "1.   e4": true, "1... e5": false, "1. ... e5": false, "1.. e5": false, "1  . e4": false, "1 e4": false, "1.": false, "1": false, "12. e4": false, "1. 5": false,
	} {
		if got := firstNumber([]byte(text), 0); got != want {
			t.Errorf("%q: %v", text, got)
		}
	}
}
