package pdf

import (
	"fmt"
	"io"
	"time"

	"foreply/compare/fact"
	"foreply/fetch/pgn"
	"foreply/pdf/sheet"
)

// Write prints a Report as a PDF, a page for each colour or one for both as the
// options say, and tells what stands on each. The same Report and options give the
// same bytes. Nothing reaches w unless the whole document was made.
func Write(w io.Writer, rep *fact.Report, opt Options) ([]fact.Page, error) {
	pages, drawn, err := Layout(rep, opt)
	if err != nil {
		return nil, fmt.Errorf("laying out the page: %w", err)
	}
	return drawn, writePages(w, pages, made(rep.Basis.AsOf))
}

func writePages(w io.Writer, pages []*sheet.Page, date time.Time) error {
	doc, err := sheet.Render(pages, date, "en")
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
func made(asOf pgn.Date) time.Time {
	if asOf.Full() {
		return time.Date(asOf.Year, time.Month(asOf.Month), asOf.Day, 0, 0, 0, 0, time.UTC)
	}
	return time.Date(2000, 1, 1, 0, 0, 0, 0, time.UTC)
}
