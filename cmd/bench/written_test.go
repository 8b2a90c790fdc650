package bench

import (
	"bytes"
	"regexp"
	"testing"
	"time"

	"foreply/fetch"
)

// BenchmarkWritten builds trees of the same games in other line ends and behind blanks.
// x-lf is the processor time as a multiple of that for the file as programs write it,
// measured in turns.
func BenchmarkWritten(b *testing.B) {
	text := bytes.Repeat(games(1<<20, 1, false), 16)
	lineStart := func(what, with string) []byte { return regexp.MustCompile(what).ReplaceAll(text, []byte(with)) }
	plain := write(b, "lf.pgn", text)
	for _, w := range []struct {
		name string
		text []byte
	}{
		{"crlf", bytes.ReplaceAll(text, []byte("\n"), []byte("\r\n"))},
		{"tags-indented", lineStart(`(?m)^\[`, "  [")},
		{"all-indented", lineStart(`(?m)^(.)`, "\t$1")},
	} {
		path := write(b, w.name+".pgn", w.text)
		b.Run(w.name, func(b *testing.B) {
			var odd, lf time.Duration
			for b.Loop() {
				lf += timeOfTree(b, plain)
				odd += timeOfTree(b, path)
			}
			b.ReportMetric(float64(odd)/float64(lf), "x-lf")
		})
	}
}

// timeOfTree is the processor time for the tree of a file, with two workers.
func timeOfTree(b *testing.B, path string) time.Duration {
	begun := processorTime()
	if _, err := tree(b.Context(), 2, fetch.Options{}, path); err != nil {
		b.Fatal(err)
	}
	return processorTime() - begun
}
