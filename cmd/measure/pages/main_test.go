package main

import (
	"strings"
	"testing"

	"foreply/compare/fact"
)

// A page is blank by too much only where something found no room on it.
func TestSummary(t *testing.T) {
	left := []fact.NotTold{{Section: "boards"}}
	got := summary([]fact.Page{{Shown: 1, Blank: 0.4}, {Shown: 0.5, Blank: 0.12, LeftOut: left}, {Shown: 0.9, Blank: 0.1, LeftOut: left}})
	want := "3 pages: shown 0.90 in the middle, 0.50 with a tenth below, 0.50 at least\nof 2 on which something is left out 1 are blank by more than 0.10\n"
	if got != want {
		t.Errorf("%q", got)
	}
}

// The demo's opponent has a page for each repertoire, with rows.
func TestPagesOfTheDemo(t *testing.T) {
	var out strings.Builder
	demo := "../../../testdata/demo/"
	if err := run([]string{"-white", demo + "white.pgn", "-black", demo + "black.pgn", demo + "opponent-otb.pgn=Hallvoss, Imke|Hallvoss, I."}, &out); err != nil {
		t.Fatal(err)
	}
	rows := strings.Split(strings.TrimSpace(out.String()), "\n")
	if len(rows) != 4 || !strings.HasPrefix(rows[0], "opponent-otb 1 white  shown ") || !strings.HasPrefix(rows[1], "opponent-otb 2 black  shown ") || strings.Contains(rows[0], "rows  0") {
		t.Errorf("%q", rows)
	}
}
