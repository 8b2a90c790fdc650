package pdf

import (
	"bytes"
	"fmt"
	"io"
	"slices"
	"time"
	"unicode/utf16"

	"github.com/jung-kurt/gofpdf"

	"foreply/compare"
)

// Write prints a Report as a PDF of one page. The same Report and options give
// the same bytes. Nothing reaches w unless the whole document was made.
func Write(w io.Writer, rep *compare.Report, opt Options) error {
	page, err := Layout(rep, opt)
	if err != nil {
		return fmt.Errorf("laying out the page: %w", err)
	}
	return writePage(w, page, made(rep.Basis.AsOf))
}

func writePage(w io.Writer, page *Page, date time.Time) error {
	doc, err := render(page, date)
	if err != nil {
		return fmt.Errorf("drawing the page: %w", err)
	}
	if _, err := w.Write(doc); err != nil {
		return fmt.Errorf("writing the page: %w", err)
	}
	return nil
}

// made is the document's date: the day the forecast is made for, or a fixed
// one, never the clock.
func made(asOf string) time.Time {
	if t, err := time.Parse(time.DateOnly, asOf); err == nil {
		return t
	}
	return time.Date(2000, 1, 1, 0, 0, 0, 0, time.UTC)
}

const family = "page"

// render draws the list with the PDF library, whose panics become errors here.
func render(p *Page, date time.Time) (doc []byte, err error) {
	defer func() {
		if r := recover(); r != nil {
			doc, err = nil, fmt.Errorf("the PDF library gave up: %v", r)
		}
	}()
	f, err := loadFaces()
	if err != nil {
		return nil, err
	}
	d := gofpdf.NewCustom(&gofpdf.InitType{UnitStr: "pt", Size: gofpdf.SizeType{Wd: p.W, Ht: p.H}})
	d.SetAutoPageBreak(false, 0)
	d.SetMargins(0, 0, 0)
	d.SetCatalogSort(true)
	d.SetCreationDate(date)
	d.SetModificationDate(date)
	d.SetTitle(p.Title, true)
	d.AddUTF8FontFromBytes(family, "", slices.Clone(f.regular.ttf))
	d.AddUTF8FontFromBytes(family, "B", slices.Clone(f.bold.ttf))
	d.AddPage()
	d.RawWriteStr("/Span <</Lang (en)>> BDC\n")
	pen := &pen{d: d}
	for _, it := range p.Items {
		pen.draw(it)
	}
	d.RawWriteStr("EMC\n")
	var buf bytes.Buffer
	if err := d.Output(&buf); err != nil {
		return nil, err
	}
	if n := d.PageCount(); n != 1 {
		return nil, fmt.Errorf("%d pages instead of one", n)
	}
	return buf.Bytes(), nil
}

// pen draws items.
type pen struct{ d *gofpdf.Fpdf }

func (p *pen) draw(it Item) {
	switch v := it.(type) {
	case Run:
		p.text(v)
	case Line:
		p.stroke(v.Width, v.Gray)
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
	case Board:
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
