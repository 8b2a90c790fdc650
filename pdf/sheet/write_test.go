package sheet

import (
	"bytes"
	"compress/zlib"
	"io"
	"regexp"
	"strconv"
	"strings"
	"testing"
	"time"
)

// drawnOn are the contents of a document's pages, one operation a line.
func drawnOn(t *testing.T, doc []byte, pages int) []string {
	t.Helper()
	var list []string
	for _, part := range bytes.Split(doc, []byte("\nstream\n"))[1 : pages+1] {
		r, err := zlib.NewReader(bytes.NewReader(part))
		if err != nil {
			t.Fatal(err)
		}
		text, err := io.ReadAll(r)
		if err != nil {
			t.Fatal(err)
		}
		list = append(list, string(text))
	}
	return list
}

type twoDots struct{ Dot }

func (d twoDots) Parts() []Item { return []Item{d.Dot, d.Moved(10, 0)} }
func (d twoDots) Alt() string   { return "é𝔊" }

// What the lists hold is drawn, each at its place (from below, as PDF counts), with its
// width, tone and dashes, on its own page; the operators are those of ISO 32000-1, annex A.
func TestRender(t *testing.T) {
	pages := []*Page{
		{W: 200, H: 100, Title: "Prép", Items: []Item{
			Line{X1: 1, Y1: 2, X2: 30, Y2: 40, Width: 0.5, Gray: Pale},
			Line{X1: 3, Y1: 4, X2: 50, Y2: 60, Width: 2, Dotted: true},
			Rect{Box: Box{10, 20, 33, 44}, Width: 1.5, Stroke: Middle},
			Rect{Box: Box{11, 21, 31, 41}, Filled: true, Fill: White, Stroke: Middle},
			Rect{Box: Box{12, 22, 32, 42}, Width: 0.75, Filled: true, Fill: Black, Stroke: White},
			Rect{Box: Box{7, 7, 7, 7}},
			Poly{[][2]float64{{5, 20}, {1, 30}, {9, 26}}, Pale},
		}},
		{W: 200, H: 100, Items: []Item{
			Run{X: 5, Y: 30, Size: 9, S: "AB"}, Run{X: 6, Y: 31, Size: 10, S: "C", Bold: true, Gray: White},
			Run{X: 7, Y: 32, Size: 11, S: "D", Slant: true, Gray: Middle, Edge: 0.25}, Run{X: 8, Y: 33, Size: 12, S: "E"},
			twoDots{Dot{50, 60, 4, Black}},
		}},
	}
	doc, err := Render(pages, time.Date(2026, 11, 5, 0, 0, 0, 0, time.UTC), "en")
	if err != nil {
		t.Fatal(err)
	}
	got := drawnOn(t, doc, 2)
	holdsInOrder(t, got[0],
		"0.50 w", "0.502 G", "1.00 98.00 m 30.00 60.00 l S",
		"2.00 w", "0.000 G", "[2.00 6.00] 0.00 d", "3.00 96.00 m 50.00 40.00 l S", "[] 0.00 d",
		"1.50 w", "0.302 G", "10.00 80.00 33.00 -44.00 re S",
		"1.000 g", "11.00 79.00 31.00 -41.00 re f",
		"0.000 g", "0.75 w", "1.000 G", "12.00 78.00 32.00 -42.00 re B",
		"0.502 g", "5.00 80.00 m", "1.00000 70.00000 l", "9.00000 74.00000 l", "5.00000 80.00000 l", "f")
	if strings.Contains(got[0], "7.00 93.00") || strings.Contains(got[0], "Tj") || strings.Count(got[0], " re ") != 3 {
		t.Errorf("page 1 has more: %s", got[0])
	}
	fonts := regexp.MustCompile(`BT /(\S+) (\S+) Tf ET`).FindAllStringSubmatch(got[1], -1)
	if len(fonts) != 4 || fonts[0][1] == fonts[1][1] || fonts[1][1] == fonts[2][1] || fonts[0][1] == fonts[2][1] || fonts[0][1] != fonts[3][1] {
		t.Errorf("fonts %q", fonts)
	}
	for i, size := range []string{"9.00", "10.00", "11.00", "12.00"} {
		if fonts[i][2] != size {
			t.Errorf("text %d has size %s, want %s", i, fonts[i][2], size)
		}
	}
	holdsInOrder(t, got[1],
		"5.00 70.00 Td (\x00A\x00B) Tj", "1.000 g BT 6.00 69.00 Td (\x00C) Tj",
		"0.25 w", "0.302 G", "2 Tr", "0.302 g BT 7.00 68.00 Td (\x00D) Tj", "0 Tr", "8.00 67.00 Td (\x00E) Tj",
		"/Span <</ActualText <FEFF00E9D835DD0A>>> BDC", "54.00 40.00 m", "c\nf\n", "64.00 40.00 m", "c\nf\n", "EMC")
	text := string(doc)
	for _, want := range []string{
		"/Lang (en)", "/Creator (foreply)", "/CreationDate (D:20261105000000)", "/ModDate (D:20261105000000)", "/Title (\xfe\xff\x00P\x00r\x00\xe9\x00p)", "/MediaBox [0 0 200.00 100.00]",
	} {
		if strings.Count(text, want) != 1 {
			t.Errorf("%d times %q", strings.Count(text, want), want)
		}
	}
	if n := strings.Count(text, "/FontName "+partName); n < 3 || strings.Contains(text, fontName) {
		t.Errorf("%d parts of fonts are named as such", n)
	}
	place, err := strconv.Atoi(strings.TrimSpace(strings.TrimSuffix(text[strings.LastIndex(text, "startxref\n")+10:], "%%EOF\n")))
	if err != nil || !strings.HasPrefix(text[place:], "xref\n") {
		t.Errorf("the table is said to be at %d, %v", place, err)
	}
	if plain, err := Render(pages[:1], time.Time{}, "en"); err != nil || strings.Count(string(plain), "/FontFile2") >= strings.Count(text, "/FontFile2") {
		t.Errorf("the oblique font is in a document without oblique text, %v", err)
	}
}

// holdsInOrder wants parts behind each other in a text.
func holdsInOrder(t *testing.T, text string, parts ...string) {
	t.Helper()
	for _, p := range parts {
		_, behind, ok := strings.Cut(text, p)
		if !ok {
			t.Errorf("no %q in %q", p, text)
			return
		}
		text = behind
	}
}

// What the library panics on is an error; so is a document without a catalog or a table.
func TestRenderErrors(t *testing.T) {
	if doc, err := Render(nil, time.Time{}, "en"); err == nil || doc != nil {
		t.Errorf("no page: %q, %v", doc, err)
	}
	if doc, err := Render([]*Page{{W: 100, H: 100, Items: []Item{Run{S: "\U0001F642", Size: 9}}}}, time.Time{}, "en"); err == nil || doc != nil {
		t.Errorf("what no font has: %v", err)
	}
	for doc, want := range map[string]string{
		"1 0 obj\n/Type /Catalog\n>>\nxref\nstartxref\n26\n%%EOF\n": "",
		"startxref\n26\n%%EOF\n":                                    "no catalog",
		"/Type /Catalog\n":                                          "no catalog",
		"startxref\n4\n/Type /Catalog\n":                            "no catalog",
		"/Type /Catalog\nstartxref\nx\n":                            "reading the place",
		"xxxxx /Type /Catalog\nstartxref\n3\n":                      "stands before",
	} {
		got, err := inLanguage([]byte(doc), "de")
		if want == "" {
			if err != nil || string(got) != "1 0 obj\n/Type /Catalog\n/Lang (de)\n>>\nxref\nstartxref\n37\n%%EOF\n" {
				t.Errorf("%q, %v", got, err)
			}
			continue
		}
		if err == nil || !strings.Contains(err.Error(), want) {
			t.Errorf("%q: %v, want %q", doc, err, want)
		}
	}
}
