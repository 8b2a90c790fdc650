package main

import (
	"bytes"
	"context"
	"encoding/json"
	"os"
	"strings"
	"testing"

	"foreply/compare/fact"
	"foreply/pdf"
)

// The drawing list of the demo's sheet for both colours, from the games on, so
// that what any room changes on the page shows in review.
func TestDemoSheet(t *testing.T) {
	report := demoReport(t)
	for name, opt := range map[string]pdf.Options{"a4": {}, "letter": {Paper: "letter"}, "one-page": {OnePage: true}} {
		pages, _, err := pdf.Layout(report, opt)
		if err != nil {
			t.Fatal(err)
		}
		file := "../../testdata/golden/pdf/demo-both-" + name + ".txt"
		var got []byte
		for _, p := range pages {
			got = append(got, p.Dump()...)
		}
		if *update {
			if err := os.WriteFile(file, got, 0o644); err != nil {
				t.Fatal(err)
			}
		}
		want, err := os.ReadFile(file)
		if err != nil {
			t.Fatal(err)
		}
		if !bytes.Equal(got, want) {
			t.Errorf("%s differs from what is drawn; -update rewrites it", file)
		}
	}
}

// demoReport is that of the demo for both colours.
func demoReport(t *testing.T) *fact.Report {
	t.Helper()
	t.Setenv("HOME", t.TempDir())
	args := []string{
		"prep", "--games", demo + "opponent-*.pgn", "--me", "Pellworth, Ines", "--event", "Weirside Open", "--round", "4", "--clock", "5400+30",
		"--white-repertoire", demo + "white.pgn", "--black-repertoire", demo + "black.pgn", "--my-color", "both", "--json",
	}
	for _, name := range demoNames {
		args = append(args, "--opponent", name)
	}
	var stdout, stderr bytes.Buffer
	if code := run(context.Background(), args, strings.NewReader(""), &stdout, &stderr); code != 0 {
		t.Fatalf("exit code %d: %s", code, stderr.String())
	}
	var report fact.Report
	if err := json.Unmarshal(stdout.Bytes(), &report); err != nil {
		t.Fatal(err)
	}
	return &report
}
