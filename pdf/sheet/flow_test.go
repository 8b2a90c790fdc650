package sheet

import (
	"bytes"
	"encoding/binary"
	"slices"
	"strings"
	"testing"
)

func testFaces(t testing.TB) *Faces {
	t.Helper()
	f, err := LoadFaces()
	if err != nil {
		t.Fatal(err)
	}
	return f
}

func TestEllipsis(t *testing.T) {
	f := testFaces(t)
	k := Ink{Size: 9}
	lines, whole := f.Break(f.Own("the quick move wins a pawn and more besides", k), 90, 2)
	if whole || len(lines) != 2 || !strings.HasSuffix(lines[1].Items[0].S, "…") || lines[1].W > 90 {
		t.Errorf("%v %+v", whole, lines)
	}
	lines, _ = f.Break(f.Own(strings.Repeat("x", 400), k), 90, 0)
	if len(lines) != 1 || lines[0].W > 90 {
		t.Errorf("a word longer than the line: %+v", lines)
	}
}

func TestReduce(t *testing.T) {
	f := testFaces(t)
	for in, want := range map[string]string{
		"Dvořák Łukasz Ağaoğlu Þórsson": "Dvořák Łukasz Ağaoğlu Þórsson",
		"Dvor\u030ca\u0301k":            "Dvořák", // NFC
		"a\u202eb\u200bc\x07d":          "abcd",   // direction, zero width, bell
		"tab\tand\nline\u00a0end":       "tab and line end",
		"\U0001F642 x \U0001D50A":       "? x G", // above U+FFFF: nothing under it; a letter under it
		"日本":                            "??",
		"が":                             "?", // the letter under the mark is not in the font
		"q\u0308\u0331":                 "q", // marks that compose with nothing
	} {
		if got := f.Regular.Reduce(in); got != want {
			t.Errorf("%q gives %q, want %q", in, got, want)
		}
	}
}

// Measured widths are the library's, so that what layout fits also prints in
// its place.
func TestWidths(t *testing.T) {
	f := testFaces(t)
	if w := f.Regular.Width("mmmm", 10); w < 30 || w > 40 {
		t.Errorf("four m at 10 points measure %g", w)
	}
	if f.Regular.Width("ř", 10) != f.Regular.Width("r", 10) {
		t.Error("a letter with an accent has another width")
	}
	for r := range solidFor {
		if !f.Regular.Has(r) || !f.Bold.Has(r) {
			t.Errorf("no glyph for %c", r)
		}
	}
}

var solidFor = map[rune]bool{'♔': true, '♕': true, '♖': true, '♗': true, '♘': true, '♙': true, '♚': true, '♛': true, '♜': true, '♝': true, '♞': true, '♟': true, '½': true, '…': true, '→': true}

func TestBrokenFont(t *testing.T) {
	for _, bad := range [][]byte{nil, []byte("not a font"), make([]byte, 200)} {
		if _, err := parseFace(bad); err == nil {
			t.Errorf("%d bytes were read as a font", len(bad))
		}
	}
	whole := testFaces(t).Regular.ttf
	if _, err := parseFace(whole[:1000]); err == nil {
		t.Error("a font cut short was read")
	}
	if _, err := parseFace(whole); err != nil {
		t.Fatal(err)
	}
	// Another table of characters, other offsets of glyphs, glyphs by a list.
	table := func(font []byte, name string) []byte {
		at := bytes.Index(font, []byte(name))
		return font[binary.BigEndian.Uint32(font[at+8:]):]
	}
	sub := func(font []byte) []byte { // of the Unicode plane 0
		cmap := table(font, "cmap")
		for i := range int(binary.BigEndian.Uint16(cmap[2:])) {
			if e := cmap[4+8*i:]; e[1] == 3 && e[3] == 1 {
				return cmap[binary.BigEndian.Uint32(e[4:]):]
			}
		}
		return nil
	}
	for name, spoil := range map[string]func(font []byte){
		"format 6": func(font []byte) { sub(font)[1] = 6 }, "no Unicode": func(font []byte) {
			cmap := table(font, "cmap")
			for i := range int(binary.BigEndian.Uint16(cmap[2:])) {
				cmap[4+8*i+1] = 1
			}
		},
		"16-bit offsets": func(font []byte) { table(font, "head")[51] = 0 },
		"a list of glyphs": func(font []byte) {
			n := int(binary.BigEndian.Uint16(sub(font)[6:])) / 2
			sub(font)[16+6*n+3] = 8
		},
	} {
		font := slices.Clone(whole)
		spoil(font)
		if _, err := parseFace(font); err != errFont {
			t.Errorf("%s: %v", name, err)
		}
	}
}

// What parts two clauses stands between them on a line; at the end or the start of one the
// line itself parts them.
func TestSeparators(t *testing.T) {
	f := testFaces(t)
	pieces := []Piece{{S: "one two"}, {S: " · "}, {S: "three four"}, {S: " · "}, {S: "five"}}
	for w := 20.0; w < 200; w += 3 {
		lines, _ := f.Break(f.Spans(pieces, Plainly(Ink{Size: 9})), w, 0)
		text := ""
		for i, l := range lines {
			s := l.Items[0].S
			if strings.HasPrefix(s, Separator) || strings.HasSuffix(s, Separator) {
				t.Errorf("width %g: a line reads %q", w, s)
			}
			if l.W > w && strings.Contains(s, " ") {
				t.Errorf("width %g: %q is %g wide", w, s, l.W)
			}
			if i > 0 {
				text += "/"
			}
			text += s
		}
		for _, bad := range []string{"two three", "four five"} {
			if strings.Contains(text, bad) {
				t.Errorf("width %g: %q", w, text)
			}
		}
	}
}
