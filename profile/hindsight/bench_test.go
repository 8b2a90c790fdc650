package hindsight

import "testing"

// The test of a career of 411 games.
func BenchmarkTest(b *testing.B) {
	p := build(read(b, career))
	b.ReportAllocs()
	for b.Loop() {
		run(b, p, Options{})
	}
	b.ReportMetric(float64(len(p.Games)*b.N)/b.Elapsed().Seconds(), "games/s")
}
