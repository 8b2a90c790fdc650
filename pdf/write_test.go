package pdf

import (
	"bytes"
	"encoding/binary"
	"errors"
	"io"
	"regexp"
	"strings"
	"testing"
	"unicode/utf16"

	"github.com/pdfcpu/pdfcpu/pkg/api"
	"github.com/pdfcpu/pdfcpu/pkg/pdfcpu"
	"github.com/pdfcpu/pdfcpu/pkg/pdfcpu/model"
	"github.com/pdfcpu/pdfcpu/pkg/pdfcpu/types"

	"foreply/compare"
)

// limit is how large a page may be, in bytes.
const limit = 250_000

// checkDocument has an independent reader (pdfcpu, strict) judge the PDF.
func checkDocument(t *testing.T, doc []byte) *model.Context {
	t.Helper()
	conf := model.NewDefaultConfiguration()
	conf.ValidationMode = model.ValidationStrict
	ctx, err := api.ReadValidateAndOptimize(bytes.NewReader(doc), conf)
	if err != nil {
		t.Fatalf("the PDF does not validate: %v", err)
	}
	if ctx.PageCount != 1 {
		t.Errorf("%d pages", ctx.PageCount)
	}
	if len(doc) > limit {
		t.Errorf("%d bytes", len(doc))
	}
	return ctx
}

func written(t *testing.T, rep *compare.Report, opt Options) []byte {
	t.Helper()
	var b bytes.Buffer
	if err := Write(&b, rep, opt); err != nil {
		t.Fatal(err)
	}
	return b.Bytes()
}

func TestDocument(t *testing.T) {
	model.ConfigPath = "disable" // pdfcpu keeps no files of its own
	for _, s := range samples() {
		for _, paper := range []string{"a4", "letter"} {
			t.Run(s.name+"-"+paper, func(t *testing.T) {
				doc := written(t, s.rep, Options{Paper: paper})
				ctx := checkDocument(t, doc)
				if !bytes.Equal(doc, written(t, s.rep, Options{Paper: paper})) {
					t.Error("the same Report gives other bytes")
				}
				if ctx.Author != "" {
					t.Errorf("author %q", ctx.Author)
				}
				if want := title(s.rep); ctx.Title != want {
					t.Errorf("title %q, want %q", ctx.Title, want)
				}
				checkFonts(t, ctx)
			})
		}
	}
}

// checkFonts wants every font embedded and with a map back to Unicode.
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
			if _, ok := d.Find("ToUnicode"); !ok {
				t.Error("a font without ToUnicode")
			}
		}
		if _, ok := d.Find("FontFile2"); ok {
			embedded++
		}
	}
	if fonts == 0 || embedded < fonts {
		t.Errorf("%d fonts, %d embedded", fonts, embedded)
	}
}

// The text of the page can be got back from the PDF: names with all their
// letters, moves unbroken.
func TestTextComesBack(t *testing.T) {
	ctx := checkDocument(t, written(t, richReport(), Options{}))
	text := contentText(t, ctx)
	for _, want := range []string{"Ondřej Dvořák-Ağaoğlu", "5...♞c6", "6.♝g5", "FIDE Laws of Chess 11.3.1", "river_knight77"} {
		if !strings.Contains(text, want) {
			t.Errorf("%q does not come back from the PDF", want)
		}
	}
}

var shown = regexp.MustCompile(`(?s)\(((?:\\.|[^\\()])*)\) Tj`)

// contentText decodes the strings that the page's content shows. The library
// writes UTF-16 codes, its fonts map them to glyphs and back.
func contentText(t *testing.T, ctx *model.Context) string {
	t.Helper()
	r, err := pdfcpu.ExtractPageContent(ctx, 1)
	if err != nil {
		t.Fatal(err)
	}
	raw, err := io.ReadAll(r)
	if err != nil {
		t.Fatal(err)
	}
	var b strings.Builder
	for _, m := range shown.FindAllSubmatch(raw, -1) {
		s := unescape(m[1])
		units := make([]uint16, len(s)/2)
		for i := range units {
			units[i] = binary.BigEndian.Uint16(s[2*i:])
		}
		b.WriteString(string(utf16.Decode(units)) + "\n")
	}
	return b.String()
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

// A panic of the PDF library becomes an error.
func TestLibraryPanicIsAnError(t *testing.T) {
	p := mustLayout(t, emptyReport(), Options{})
	p.Items = append(p.Items, Run{S: "\U0001D50A", Size: 9}) // above U+FFFF: reduce has let it through
	if _, err := render(p, made("")); err == nil {
		t.Error("no error")
	}
}

type fullDisk struct{}

func (fullDisk) Write([]byte) (int, error) { return 0, errFull }

var errFull = errors.New("disk full")

func TestWriteError(t *testing.T) {
	if err := Write(fullDisk{}, emptyReport(), Options{}); !errors.Is(err, errFull) {
		t.Errorf("got %v", err)
	}
}

func BenchmarkWrite(b *testing.B) {
	for _, s := range samples() {
		b.Run(s.name, func(b *testing.B) {
			for b.Loop() {
				if err := Write(io.Discard, s.rep, Options{}); err != nil {
					b.Fatal(err)
				}
			}
		})
	}
}
