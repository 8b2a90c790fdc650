package pdf

import (
	"math"
	"regexp"
	"strings"
	"testing"

	"foreply/compare/fact"
	"foreply/compare/words"
	"foreply/fetch/pgn"
	"foreply/pdf/sheet"
)

var noteNumber = regexp.MustCompile(`note (\d)`)

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
func TestRows(t *testing.T) {
	s := whiteSide()
	rows := newTreeRows(&s, false).rows
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

// What Layout says of a page is true of what is drawn: rows, the share of the exits, what
// went, how much is blank.
func TestPageTellsWhatStands(t *testing.T) {
	for _, s := range []sample{{"rich", richReport(), Options{}}, {"many", manyReport(1000), Options{}}, {"half", manyReport(60), Options{Half: true}}} {
		pages, told, err := Layout(s.rep, s.opt)
		if err != nil {
			t.Fatal(err)
		}
		answers := 0
		for _, r := range texts(pages[0]) {
			if r.Bold && r.Size == lineMoves && strings.HasSuffix(r.S, ".♝e3") {
				answers++
			}
		}
		if s.name != "rich" && answers != told[0].Rows {
			t.Errorf("%s: %d rows told, %d drawn", s.name, told[0].Rows, answers)
		}
		missing := 0.0
		for _, o := range told[0].LeftOut {
			if o.Section == words.MoreLines {
				missing = o.Reach
			}
		}
		all := 0.0
		for _, x := range s.rep.Sides[0].Exits {
			all += x.Reach
		}
		if got := 1 - missing/all; math.Abs(got-told[0].Shown) > 1e-9 {
			t.Errorf("%s: shown %g, but %g is left out", s.name, told[0].Shown, missing/all)
		}
		if got := sheet.Blank(pages[0]); got != told[0].Blank {
			t.Errorf("%s: blank %g, measured %g", s.name, told[0].Blank, got)
		}
	}
}

// White's and Black's games stand on their own sides where both are on a page, and the
// answers of a side in its own column.
func TestTwoColoursKeepApart(t *testing.T) {
	rep := bothReport()
	rep.Basis.Meetings = []fact.GameRow{
		{Theirs: "black", Score: "0", Date: pgn.ParseDate("2025.01.02"), Moves: san("e4 e5")},
		{Theirs: "white", Score: "1", Date: pgn.ParseDate("2024.03.04"), Moves: san("d4 d5")},
	}
	p := mustLayout(t, rep, Options{OnePage: true})
	middle := p.W / 2
	for text, left := range map[string]bool{
		"128 games": true, "116 games": false, "6.♝e3": true, "1...♞f6": false, "with White, 2 Jan 2025:": true, "with Black, 4 Mar 2024:": false,
	} {
		found := false
		for _, r := range texts(p) {
			if strings.Contains(r.S, text) {
				found = true
				if (r.X < middle) != left {
					t.Errorf("%q stands at %g", text, r.X)
				}
			}
		}
		if !found {
			t.Errorf("%q is missing", text)
		}
	}
}

// Where the lines leave room the moves without an answer have cards: a board from move 4
// on, a box and lines to write on, each letter once beside its box.
func TestCards(t *testing.T) {
	rep := richReport()
	s := &rep.Sides[0]
	s.Partings = s.Partings[:1]
	for i := range s.Partings[0].Branches {
		s.Partings[0].Branches[i].Next = -1
	}
	s.Unanswered[1].Line = san("e4 d6 d4 g5")
	s.Unanswered[0].EPD, s.Boards = s.Boards[1].EPD, s.Boards[:2]
	p := mustLayout(t, rep, Options{})
	boxes, boards := 0, map[string]int{}
	for _, it := range p.Items {
		if r, ok := it.(sheet.Rect); ok && math.Abs(r.H-cardBoxTall) < 0.01 && r.Width > 1 {
			boxes++
		}
		if b, ok := it.(Board); ok {
			boards[b.EPD]++
		}
	}
	if boxes != 2 {
		t.Errorf("%d cards", boxes)
	}
	if len(boards) != 2 || boards[s.Unanswered[0].EPD] != 1 {
		t.Errorf("boards %v", boards)
	}
}
