package pdf

import (
	"bytes"
	"encoding/binary"
	"errors"
	"io"
	"os"
	"os/exec"
	"path/filepath"
	"reflect"
	"regexp"
	"slices"
	"strconv"
	"strings"
	"testing"
	"unicode/utf16"

	"github.com/go-fonts/dejavu/dejavusanscondensed"
	"github.com/pdfcpu/pdfcpu/pkg/api"
	"github.com/pdfcpu/pdfcpu/pkg/pdfcpu"
	"github.com/pdfcpu/pdfcpu/pkg/pdfcpu/model"
	"github.com/pdfcpu/pdfcpu/pkg/pdfcpu/types"

	"foreply/compare/fact"
	"foreply/compare/words"
	"foreply/fetch/pgn"
	"foreply/pdf/sheet"
)

// limit is how large a page may be, in bytes.
const limit = 250_000

// checkDocument has an independent reader (pdfcpu, strict) judge the PDF.
func checkDocument(t *testing.T, doc []byte, pages int) *model.Context {
	t.Helper()
	conf := model.NewDefaultConfiguration()
	conf.ValidationMode = model.ValidationStrict
	ctx, err := api.ReadValidateAndOptimize(bytes.NewReader(doc), conf)
	if err != nil {
		t.Fatalf("the PDF does not validate: %v", err)
	}
	if ctx.PageCount != pages {
		t.Errorf("%d pages", ctx.PageCount)
	}
	if len(doc) > limit {
		t.Errorf("%d bytes", len(doc))
	}
	return ctx
}

func written(t *testing.T, rep *fact.Report, opt Options) []byte {
	t.Helper()
	var b bytes.Buffer
	if _, err := Write(&b, rep, opt); err != nil {
		t.Fatal(err)
	}
	return b.Bytes()
}

func TestDocument(t *testing.T) {
	model.ConfigPath = "disable" // pdfcpu keeps no files of its own
	for _, s := range append(samples(), styled()...) {
		for _, paper := range []string{"a4", "letter"} {
			t.Run(s.name+"-"+paper, func(t *testing.T) {
				s.opt.Paper = paper
				doc := written(t, s.rep, s.opt)
				pages := mustPages(t, s.rep, s.opt)
				ctx := checkDocument(t, doc, len(pages))
				if !bytes.Equal(doc, written(t, s.rep, s.opt)) {
					t.Error("the same Report gives other bytes")
				}
				checkProperties(t, ctx, s.rep)
				checkFonts(t, ctx)
				checkContent(t, ctx, pages)
			})
		}
	}
}

func checkProperties(t *testing.T, ctx *model.Context, rep *fact.Report) {
	t.Helper()
	if ctx.Author != "" {
		t.Errorf("author %q", ctx.Author)
	}
	if want := words.SheetTitle(sheet.Plain(rep.Opponent.Name)); ctx.Title != want {
		t.Errorf("title %q, want %q", ctx.Title, want)
	}
	catalog, err := ctx.Catalog()
	if err != nil {
		t.Fatal(err)
	}
	if lang := catalog.StringEntry("Lang"); lang == nil || *lang != "en" {
		t.Errorf("language %v", lang)
	}
}

// checkFonts wants every font embedded, in part only, and with a map back to
// Unicode.
func checkFonts(t *testing.T, ctx *model.Context) {
	t.Helper()
	fonts, embedded := 0, 0
	for _, e := range ctx.Table {
		d, ok := e.Object.(types.Dict)
		if !ok {
			continue
		}
		if d.Subtype() != nil && *d.Subtype() == "Type0" {
			fonts++
			if name := d.NameEntry("BaseFont"); name == nil || !partOfFont.MatchString(*name) {
				t.Errorf("a font embedded in part has the name %v", name)
			}
			if _, ok := d.Find("ToUnicode"); !ok {
				t.Error("a font without ToUnicode")
			}
		}
		if file := d.IndirectRefEntry("FontFile2"); file != nil {
			embedded++
			sd, _, err := ctx.DereferenceStreamDict(*file)
			if err != nil {
				t.Fatal(err)
			}
			if n := len(sd.Raw); n > len(dejavusanscondensed.TTF)/8 {
				t.Errorf("%d bytes of a font: not a subset", n)
			}
		}
	}
	if fonts == 0 || embedded < fonts {
		t.Errorf("%d fonts, %d embedded", fonts, embedded)
	}
}

var partOfFont = regexp.MustCompile(`^[A-Z]{6}\+`)

// checkContent wants every text of the drawing list back from the PDF, names
// with all their letters and moves with their figurines, and no colour in it.
func checkContent(t *testing.T, ctx *model.Context, pages []*sheet.Page) {
	t.Helper()
	toUnicode := unicodeMap(t, ctx)
	for i, p := range pages {
		raw := content(t, ctx, i+1)
		text := "\n" + strings.Join(shownText(raw, toUnicode), "\n") + "\n"
		for _, r := range texts(p) {
			if r.S != "" && !strings.Contains(text, "\n"+r.S+"\n") {
				t.Errorf("%q does not come back from the PDF", r.S)
			}
		}
		for _, m := range coloured.FindAllSubmatch(raw, -1) {
			if !bytes.Equal(m[1], m[2]) || !bytes.Equal(m[2], m[3]) {
				t.Errorf("a colour: %s", m[0])
			}
		}
		if bytes.Contains(raw, []byte(" k\n")) || bytes.Contains(raw, []byte(" scn\n")) {
			t.Error("a colour of another kind")
		}
	}
}

var (
	shown    = regexp.MustCompile(`(?s)\(((?:\\.|[^\\()])*)\) Tj`)
	coloured = regexp.MustCompile(`([\d.]+) ([\d.]+) ([\d.]+) (?:rg|RG)\b`)
	ranges   = regexp.MustCompile(`<([0-9A-Fa-f]{4})> *<([0-9A-Fa-f]{4})> *<([0-9A-Fa-f]{4})>`)
)

func content(t *testing.T, ctx *model.Context, page int) []byte {
	t.Helper()
	r, err := pdfcpu.ExtractPageContent(ctx, page)
	if err != nil {
		t.Fatal(err)
	}
	raw, err := io.ReadAll(r)
	if err != nil {
		t.Fatal(err)
	}
	return raw
}

// unicodeMap reads the ToUnicode table of the fonts, all of which must agree: it
// maps the codes of the page's content to characters.
func unicodeMap(t *testing.T, ctx *model.Context) func(uint16) uint16 {
	t.Helper()
	var table [][3]uint16
	for _, e := range ctx.Table {
		d, ok := e.Object.(types.Dict)
		if !ok || d.IndirectRefEntry("ToUnicode") == nil {
			continue
		}
		sd, _, err := ctx.DereferenceStreamDict(*d.IndirectRefEntry("ToUnicode"))
		if err != nil {
			t.Fatal(err)
		}
		if err := sd.Decode(); err != nil {
			t.Fatal(err)
		}
		var here [][3]uint16
		for _, m := range ranges.FindAllSubmatch(sd.Content, -1) {
			var row [3]uint16
			for i := range row {
				n, _ := strconv.ParseUint(string(m[i+1]), 16, 16)
				row[i] = uint16(n)
			}
			here = append(here, row)
		}
		if table != nil && !slices.Equal(table, here) {
			t.Error("the fonts' tables differ")
		}
		table = here
	}
	return func(code uint16) uint16 {
		for _, row := range table {
			if code >= row[0] && code <= row[1] {
				return row[2] + code - row[0]
			}
		}
		return '?'
	}
}

// shownText decodes the strings that the page's content shows.
func shownText(raw []byte, toUnicode func(uint16) uint16) []string {
	var list []string
	for _, m := range shown.FindAllSubmatch(raw, -1) {
		s := unescape(m[1])
		units := make([]uint16, len(s)/2)
		for i := range units {
			units[i] = toUnicode(binary.BigEndian.Uint16(s[2*i:]))
		}
		list = append(list, string(utf16.Decode(units)))
	}
	return list
}

func unescape(s []byte) []byte {
	var out []byte
	for i := 0; i < len(s); i++ {
		if s[i] == '\\' && i+1 < len(s) {
			i++
			if s[i] == 'r' {
				out = append(out, '\r')
				continue
			}
		}
		out = append(out, s[i])
	}
	return out
}

// contentText is all that the first page shows.
func contentText(t *testing.T, ctx *model.Context) string {
	t.Helper()
	return strings.Join(shownText(content(t, ctx, 1), unicodeMap(t, ctx)), "\n")
}

// A second reader, poppler's pdftotext where it is installed, finds names and
// moves with their figurines.
func TestTextForAnotherReader(t *testing.T) {
	tool, err := exec.LookPath("pdftotext")
	if err != nil {
		t.Skip("pdftotext is not installed")
	}
	file := filepath.Join(t.TempDir(), "sheet.pdf")
	if err := os.WriteFile(file, written(t, richReport(), Options{}), 0o644); err != nil {
		t.Fatal(err)
	}
	text, err := exec.Command(tool, "-layout", file, "-").Output()
	if err != nil {
		t.Fatal(err)
	}
	for _, want := range []string{"Ondřej Dvořák-Ağaoğlu", "5...♞c6", "6.♝g5", "1.e4 c5 2.♞f3 d6 3.d4 cxd4 4.♞xd4 ♞f6 5.♞c3"} {
		if !bytes.Contains(text, []byte(want)) {
			t.Errorf("%q does not come back from the PDF", want)
		}
	}
}

// A panic of the PDF library becomes an error.
func TestLibraryPanicIsAnError(t *testing.T) {
	p := mustLayout(t, emptyReport(), Options{})
	p.Items = append(p.Items, sheet.Run{S: "\U0001D50A", Size: 9}) // above U+FFFF: reduce has let it through
	if _, err := sheet.Render([]*sheet.Page{p}, made(pgn.Date{}), "en"); err == nil {
		t.Error("no error")
	}
}

type fullDisk struct{}

func (fullDisk) Write([]byte) (int, error) { return 0, errFull }

var errFull = errors.New("disk full")

func TestWriteError(t *testing.T) {
	if _, err := Write(fullDisk{}, emptyReport(), Options{}); !errors.Is(err, errFull) || !strings.HasPrefix(err.Error(), "writing the page: ") {
		t.Errorf("got %v", err)
	}
	if _, err := Write(io.Discard, emptyReport(), Options{Paper: "a3"}); !errors.Is(err, ErrPaper) || !strings.HasPrefix(err.Error(), "laying out the page: ") {
		t.Errorf("got %v", err)
	}
	rep := emptyReport()
	rep.Sides = make([]fact.Side, 2)
	_, want, err := Layout(rep, Options{})
	if err != nil {
		t.Fatal(err)
	}
	var doc bytes.Buffer
	if told, err := Write(&doc, rep, Options{}); err != nil || !reflect.DeepEqual(told, want) || len(told) != 2 {
		t.Errorf("%d pages told, want %d, %v", len(told), len(want), err)
	}
	for day, want := range map[string]string{"2026-03-09": "20260309", "2026-03": "20000101"} {
		doc.Reset()
		rep.Basis.AsOf = pgn.ParseDate(day)
		if _, err := Write(&doc, rep, Options{}); err != nil || !strings.Contains(doc.String(), "/CreationDate (D:"+want+"000000)") {
			t.Errorf("made for %s: the document is of another day than %s, %v", day, want, err)
		}
	}
}
