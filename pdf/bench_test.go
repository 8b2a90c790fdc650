package pdf

import (
	"io"
	"testing"
	"time"

	"foreply/fetch/pgn"
	"foreply/pdf/sheet"
)

// BenchmarkSheet writes sheets from ready Reports; x-empty is the time as a
// multiple of that of an empty page with the same fonts, measured in turns.
func BenchmarkSheet(b *testing.B) {
	w, h, _ := Options{}.paper()
	for _, s := range append(samples(), styled()...) {
		b.Run(s.name, func(b *testing.B) {
			var full, empty time.Duration
			for b.Loop() {
				start := time.Now()
				if _, err := Write(io.Discard, s.rep, s.opt); err != nil {
					b.Fatal(err)
				}
				half := time.Now()
				if _, err := sheet.Render([]*sheet.Page{{W: w, H: h}}, made(pgn.Date{}), "en"); err != nil {
					b.Fatal(err)
				}
				full, empty = full+half.Sub(start), empty+time.Since(half)
			}
			b.ReportMetric(float64(full)/float64(empty), "x-empty")
			b.ReportMetric(float64(empty.Nanoseconds())/float64(b.N), "ns/empty-page")
		})
	}
}
