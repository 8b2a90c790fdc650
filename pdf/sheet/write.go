package sheet

import (
	"bytes"
	"errors"
	"fmt"
	"slices"
	"time"
	"unicode/utf16"

	"github.com/jung-kurt/gofpdf"
)

// The library names a font utf8 and the family. A font embedded in part must have
// a name that begins with six capitals and a plus sign (ISO 32000-1, 9.6.4), so
// another of the same length is put in its place, which moves nothing.
const (
	family   = "sheetfonts"
	fontName = "/utf8" + family
	partName = "/SHEETS+DVSansC"
)

// Creator stands in every document as the program that made it.
const Creator = "foreply"

// Render draws the lists with the PDF library, whose panics become errors here. The
// date is the document's, the language that of its text (RFC 3066: 'en').
func Render(pages []*Page, date time.Time, language string) (doc []byte, err error) {
	defer func() {
		if r := recover(); r != nil {
			doc, err = nil, fmt.Errorf("the PDF library gave up: %v", r)
		}
	}()
	f, err := LoadFaces()
	if err != nil {
		return nil, err
	}
	d := gofpdf.NewCustom(&gofpdf.InitType{UnitStr: "pt", Size: gofpdf.SizeType{Wd: pages[0].W, Ht: pages[0].H}})
	d.SetAutoPageBreak(false, 0)
	d.SetMargins(0, 0, 0)
	d.SetCatalogSort(true)
	d.SetCreationDate(date)
	d.SetModificationDate(date)
	d.SetTitle(pages[0].Title, true)
	d.SetCreator(Creator, false)
	d.AddUTF8FontFromBytes(family, "", slices.Clone(f.Regular.ttf))
	d.AddUTF8FontFromBytes(family, "B", slices.Clone(f.Bold.ttf))
	if slices.ContainsFunc(pages, slanted) {
		d.AddUTF8FontFromBytes(family, "I", slices.Clone(f.Slanted.ttf))
	}
	for _, p := range pages {
		d.AddPage()
		pen := &pen{d: d}
		for _, it := range p.Items {
			pen.draw(it)
		}
	}
	var buf bytes.Buffer
	if err := d.Output(&buf); err != nil {
		return nil, err
	}
	if n := d.PageCount(); n != len(pages) {
		return nil, fmt.Errorf("%d pages instead of %d", n, len(pages))
	}
	return inLanguage(bytes.ReplaceAll(buf.Bytes(), []byte(fontName), []byte(partName)), language)
}

// slanted says whether a page has oblique text.
func slanted(p *Page) bool {
	return slices.ContainsFunc(p.Items, func(it Item) bool {
		t, ok := it.(Run)
		return ok && t.Slant
	})
}

var (
	catalogAt = []byte("/Type /Catalog\n")
	xrefAt    = []byte("startxref\n")
)

// inLanguage puts the document's language into its catalog, which the library
// has no call for. The catalog is the last object before the table of places, so
// that the place of this table is all that moves.
func inLanguage(doc []byte, language string) ([]byte, error) {
	at := bytes.LastIndex(doc, catalogAt)
	end := bytes.LastIndex(doc, xrefAt)
	if at < 0 || end < at {
		return nil, errors.New("no catalog where the PDF library puts it")
	}
	var place int
	if _, err := fmt.Sscan(string(doc[end+len(xrefAt):]), &place); err != nil {
		return nil, fmt.Errorf("reading the place of the table: %w", err)
	}
	if place < at {
		return nil, errors.New("the table of places stands before the catalog")
	}
	at += len(catalogAt)
	entry := []byte("/Lang (" + language + ")\n")
	out := slices.Concat(doc[:at], entry, doc[at:end], xrefAt)
	return fmt.Appendf(out, "%d\n%%%%EOF\n", place+len(entry)), nil
}

// pen draws items.
type pen struct{ d *gofpdf.Fpdf }

func (p *pen) draw(it Item) {
	switch v := it.(type) {
	case Run:
		p.text(v)
	case Line:
		p.stroke(v.Width, v.Gray)
		if v.Dotted {
			p.d.SetDashPattern([]float64{v.Width, 3 * v.Width}, 0)
			defer p.d.SetDashPattern(nil, 0)
		}
		p.d.Line(v.X1, v.Y1, v.X2, v.Y2)
	case Rect:
		p.rect(v)
	case Dot:
		p.fill(v.Gray)
		p.d.Circle(v.X, v.Y, v.R, "F")
	case Poly:
		p.fill(v.Gray)
		points := make([]gofpdf.PointType, len(v.Points))
		for i, q := range v.Points {
			points[i] = gofpdf.PointType{X: q[0], Y: q[1]}
		}
		p.d.Polygon(points, "F")
	case Figure:
		p.d.RawWriteStr("/Span <</ActualText <" + utf16Hex(v.Alt()) + ">>> BDC\n")
		for _, part := range v.Parts() {
			p.draw(part)
		}
		p.d.RawWriteStr("EMC\n")
	}
}

func (p *pen) text(t Run) {
	style := ""
	if t.Bold {
		style = "B"
	}
	if t.Slant {
		style = "I"
	}
	p.d.SetFont(family, style, t.Size)
	v := tone(t.Gray)
	p.d.SetTextColor(v, v, v)
	if t.Edge > 0 {
		p.stroke(t.Edge, t.Gray)
		p.d.SetTextRenderingMode(2)
		defer p.d.SetTextRenderingMode(0)
	}
	p.d.Text(t.X, t.Y, t.S)
}

func (p *pen) rect(r Rect) {
	style := ""
	if r.Filled {
		p.fill(r.Fill)
		style = "F"
	}
	if r.Width > 0 {
		p.stroke(r.Width, r.Stroke)
		style += "D"
	}
	if style != "" {
		p.d.Rect(r.X, r.Y, r.W, r.H, style)
	}
}

func (p *pen) stroke(width float64, g Gray) {
	v := tone(g)
	p.d.SetLineWidth(width)
	p.d.SetDrawColor(v, v, v)
}

func (p *pen) fill(g Gray) {
	v := tone(g)
	p.d.SetFillColor(v, v, v)
}

// tone is a grey as the PDF library counts it.
func tone(g Gray) int { return int(g*255 + 0.5) }

// utf16Hex is text as the PDF standard wants it in a hexadecimal string.
func utf16Hex(s string) string {
	out := "FEFF"
	for _, u := range utf16.Encode([]rune(s)) {
		out += fmt.Sprintf("%04X", u)
	}
	return out
}
