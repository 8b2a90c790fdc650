package pdf

import (
	"fmt"
	"regexp"
	"strings"
	"testing"

	"foreply/compare/fact"
	"foreply/pdf/sheet"
)

var noteNumber = regexp.MustCompile(`note (\d)`)

// besideSamples are Reports with lines to expect, of any number.
func besideSamples() []sample {
	var list []sample
	for _, s := range []sample{{"rich", richReport(), Options{}}, {"10-lines", manyReport(10), Options{}}, {"1000-lines", manyReport(1000), Options{}}} {
		for _, paper := range []string{"a4", "letter"} {
			list = append(list, sample{s.name + "-" + paper, s.rep, Options{Beside: true, Paper: paper}})
		}
	}
	return list
}

// Nothing of the page with a margin leaves the paper's margins or meets another text;
// every move without an answer stands with its letter, and a number with its note.
func TestBeside(t *testing.T) {
	for _, s := range besideSamples() {
		t.Run(s.name, func(t *testing.T) {
			p := mustLayout(t, s.rep, s.opt)
			checkPlaces(t, p)
			text := strings.ReplaceAll(pageText(p), "\n", " ")
			for i := range s.rep.Sides[0].Unanswered {
				if n := letters(p, key(i)); n < 1 {
					t.Errorf("the letter %s stands %d times", key(i), n)
				}
			}
			for _, m := range noteNumber.FindAllStringSubmatch(text, -1) {
				if !strings.Contains(text, " "+m[1]+" after ") {
					t.Errorf("note %s is not on the page", m[1])
				}
			}
			if !strings.Contains(text, "Notes are forbidden during play") {
				t.Error("the page does not say that notes are forbidden")
			}
		})
	}
}

// checkPlaces is checkPage without the sizes of type of the page without a margin.
func checkPlaces(t *testing.T, p *sheet.Page) {
	t.Helper()
	var boxes []sheet.Box
	for _, it := range p.Items {
		b := it.Bounds()
		if !within(p.Margin, b) {
			t.Errorf("outside the margins: %s", it.Dump())
		}
		r, isText := it.(sheet.Run)
		if _, isBoard := it.(Board); !isBoard && (!isText || r.S == "") {
			continue
		}
		for _, other := range boxes {
			if overlap(b, other) {
				t.Errorf("overlap: %s", it.Dump())
			}
		}
		boxes = append(boxes, b)
		if least := 7.0; isText && r.Size < least {
			t.Errorf("too small to read: %s", it.Dump())
		}
	}
}

// letters counts a letter on discs.
func letters(p *sheet.Page, letter string) int {
	n := 0
	for _, r := range texts(p) {
		if r.S == letter && r.Gray == sheet.White {
			n++
		}
	}
	return n
}

// A row's answer stands in the box beside its own move, an unanswered move has an empty one,
// and its line is as thick as its reach.
func TestBesideRows(t *testing.T) {
	s := whiteSide()
	rows := newTreeRows(&s).rows
	for _, want := range []struct {
		label, box string
		empty      bool
		reach      float64
	}{{"5...a6", "6.♝e3", false, 0.44}, {"5...♞c6", "6.♝g5", false, 0.19}, {"6...h5", "", true, 0.085}} {
		found := false
		for _, r := range rows {
			if r.Label == want.label {
				found = true
				if r.Box != want.box || r.Empty != want.empty || r.Weight != want.reach {
					t.Errorf("%s: %+v", want.label, r)
				}
			}
		}
		if !found {
			t.Errorf("no row for %s", want.label)
		}
	}
}

// Far more rows stand beside a margin than without one.
func TestBesideShowsMore(t *testing.T) {
	rep := manyReport(60)
	count := func(opt Options) int {
		n := 0
		for _, it := range mustLayout(t, rep, opt).Items {
			if r, ok := it.(sheet.Run); ok && r.Bold && strings.HasSuffix(r.S, ".♝e3") {
				n++
			}
		}
		return n
	}
	if with, without := count(Options{Beside: true}), count(Options{}); with < 2*without {
		t.Errorf("%d rows beside a margin, %d without", with, without)
	}
}

// What is left out of the lines is named with its sum.
func TestBesideNamesWhatWent(t *testing.T) {
	text := strings.ReplaceAll(pageText(mustLayout(t, manyReport(1000), Options{Beside: true})), "\n", " ")
	var n int
	if i := strings.Index(text, "lines ("); i < 0 {
		t.Fatal("lines went, but the foot does not say so")
	} else if _, err := fmt.Sscanf(text[i:], "lines (%d more", &n); err != nil || n < 800 {
		t.Errorf("%d lines are named", n)
	}
}

// Few games and one line have no tree: their page is the one without a margin.
func TestBesideOnlyWithLines(t *testing.T) {
	for _, rep := range []*fact.Report{fewReport(), oneLineReport(), emptyReport(), bothReport()} {
		if a, b := mustLayout(t, rep, Options{Beside: true}), mustLayout(t, rep, Options{}); a.Dump() != b.Dump() {
			t.Errorf("%s has another page", rep.Opponent.Name)
		}
	}
}
