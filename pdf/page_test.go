package pdf

import (
	"bytes"
	"flag"
	"fmt"
	"os"
	"path/filepath"
	"regexp"
	"slices"
	"strings"
	"testing"
	"time"

	"foreply/compare/fact"
	"foreply/compare/words"
	"foreply/fetch/pgn"
	"foreply/pdf/sheet"
)

var update = flag.Bool("update", false, "rewrite the golden files")

const goldens = "../testdata/golden/pdf"

type sample struct {
	name string
	rep  *fact.Report
	opt  Options
}

func samples() []sample {
	return []sample{
		{"rich", richReport(), Options{}}, {"both", bothReport(), Options{}}, {"few", fewReport(), Options{}},
		{"one-line", oneLineReport(), Options{}}, {"empty", emptyReport(), Options{}}, {"nothing", &fact.Report{}, Options{}},
		{"one-game", gamesReport(1), Options{}}, {"twelve-games", gamesReport(12), Options{}},
		{"10-lines", manyReport(10), Options{}}, {"1000-lines", manyReport(1000), Options{}},
		{"long-names", longReport(), Options{}},
	}
}

// styled are samples printed otherwise than usual.
func styled() []sample {
	return []sample{
		{"large", richReport(), Options{Large: true}}, {"half", richReport(), Options{Half: true}},
		{"both-one-page", bothReport(), Options{OnePage: true}}, {"both-half", bothReport(), Options{Half: true}},
		{"both-large", bothReport(), Options{Large: true}}, {"1000-lines-half", manyReport(1000), Options{Half: true}},
	}
}

func golden(t *testing.T, name string, got []byte) {
	t.Helper()
	file := filepath.Join(goldens, name)
	if *update {
		if err := os.MkdirAll(goldens, 0o755); err != nil {
			t.Fatal(err)
		}
		if err := os.WriteFile(file, got, 0o644); err != nil {
			t.Fatal(err)
		}
	}
	want, err := os.ReadFile(file)
	if err != nil {
		t.Fatal(err)
	}
	if !bytes.Equal(got, want) {
		t.Errorf("%s differs from the golden at line %d; -update rewrites it", name, firstDifference(got, want))
	}
}

func firstDifference(a, b []byte) int {
	x, y := bytes.Split(a, []byte("\n")), bytes.Split(b, []byte("\n"))
	for i := range min(len(x), len(y)) {
		if !bytes.Equal(x[i], y[i]) {
			return i + 1
		}
	}
	return min(len(x), len(y)) + 1
}

// The drawing list of each sample, as text, so that a change of the page shows
// in review.
func TestDrawingList(t *testing.T) {
	for _, s := range append(samples(), styled()...) {
		for _, paper := range []string{"a4", "letter"} {
			t.Run(s.name+"-"+paper, func(t *testing.T) {
				s.opt.Paper = paper
				dump := ""
				for _, p := range mustPages(t, s.rep, s.opt) {
					checkPage(t, p)
					dump += p.Dump()
				}
				golden(t, s.name+"-"+paper+".txt", []byte(dump))
			})
		}
	}
}

// checkSizes asserts the least sizes of the page's design: moves with a box 9.5 points,
// notes and sentences 8.5, labels of blanks and letters less, the foot 6.5 and nothing else
// so small.
func checkSizes(t *testing.T, p *sheet.Page) {
	t.Helper()
	for _, r := range texts(p) {
		least := body
		switch {
		case r.Gray == sheet.White, strings.ContainsAny(r.S, "♔♕♖♗♘♙"):
			least = discSize
		case slices.Contains([]string{words.EventBlank, words.RoundBlank, words.BoardBlank, words.DateBlank, words.ClockBlank}, r.S):
			least = blankLabel
		case p.Foot == 0 || r.Y > p.Foot, r.S == words.YourAnswer && !r.Bold:
			least = footSize
		}
		if r.Size < least-0.01 {
			t.Errorf("too small to read: %s", r.Dump())
		}
	}
}

// checkPage asserts what holds for every page, whatever the Report.
func checkPage(t *testing.T, p *sheet.Page) {
	t.Helper()
	checkSizes(t, p)
	var boxes []sheet.Box
	var names []string
	for _, it := range p.Items {
		b := it.Bounds()
		if !within(p.Margin, b) {
			t.Errorf("outside the margins: %s", it.Dump())
		}
		switch v := it.(type) {
		case sheet.Run:
			if v.S == "" {
				continue
			}
		case Board:
		default:
			continue
		}
		boxes, names = append(boxes, b), append(names, it.Dump())
	}
	for _, it := range p.Items {
		if r, ok := it.(sheet.Rect); ok {
			for i, b := range boxes {
				if r.Width > 0 && overlap(r.Box, b) && !within(r.Box, b) {
					t.Errorf("text crosses a box:\n  %s\n  %s", names[i], r.Dump())
				}
			}
		}
	}
	for i := range boxes {
		for j := range i {
			if overlap(boxes[i], boxes[j]) {
				t.Errorf("overlap:\n  %s\n  %s", names[j], names[i])
			}
		}
	}
}

const tolerance = 0.25 // points; half a hairline

func within(m, b sheet.Box) bool {
	return b.X >= m.X-tolerance && b.Y >= m.Y-tolerance &&
		b.X+b.W <= m.X+m.W+tolerance && b.Y+b.H <= m.Y+m.H+tolerance
}

func overlap(a, b sheet.Box) bool {
	return a.X+tolerance < b.X+b.W && b.X+tolerance < a.X+a.W &&
		a.Y+tolerance < b.Y+b.H && b.Y+tolerance < a.Y+a.H
}

// texts are the runs of a page, in drawing order.
func texts(p *sheet.Page) []sheet.Run {
	var list []sheet.Run
	for _, it := range p.Items {
		if r, ok := it.(sheet.Run); ok {
			list = append(list, r)
		}
	}
	return list
}

func pageText(p *sheet.Page) string {
	var b strings.Builder
	for _, r := range texts(p) {
		b.WriteString(r.S + "\n")
	}
	return b.String()
}

// mustLayout sets a Report that gives a single page.
func mustLayout(t *testing.T, rep *fact.Report, opt Options) *sheet.Page {
	t.Helper()
	pages := mustPages(t, rep, opt)
	if len(pages) != 1 {
		t.Fatalf("%d pages", len(pages))
	}
	return pages[0]
}

func mustPages(t *testing.T, rep *fact.Report, opt Options) []*sheet.Page {
	t.Helper()
	pages, _, err := Layout(rep, opt)
	if err != nil {
		t.Fatal(err)
	}
	return pages
}

// The moves of tonight are larger than all other moves of the page.
func TestTonightIsLargest(t *testing.T) {
	for _, s := range append(samples(), styled()...) {
		for _, p := range mustPages(t, s.rep, s.opt) {
			largest := 0.0
			for _, r := range texts(p) {
				if r.Bold && strings.ContainsAny(r.S, ".") && boldMove.MatchString(r.S) && r.Size > largest {
					largest = r.Size
				}
			}
			if len(s.rep.Sides) > 0 && len(s.rep.Sides[0].Tonight) > 0 && largest < nightMoves {
				t.Errorf("%s: the largest move has %g points", s.name, largest)
			}
		}
	}
}

var boldMove = regexp.MustCompile(`^\d+\.`)

// A page of very many lines still has twenty of them and two boards, and says how many it
// leaves out.
func TestThousandLines(t *testing.T) {
	rep := manyReport(1000)
	if n := len(rep.Sides[0].Exits); n != 1000 {
		t.Fatalf("the sample has %d lines", n)
	}
	for _, paper := range []string{"a4", "letter"} {
		p := mustLayout(t, rep, Options{Paper: paper})
		boards, answers := 0, 0
		for _, it := range p.Items {
			if _, ok := it.(Board); ok {
				boards++
			}
			if r, ok := it.(sheet.Run); ok && strings.HasSuffix(r.S, ".♝e3") && r.Bold {
				answers++
			}
		}
		if boards < 2 || answers < 20 {
			t.Errorf("%s: %d boards and %d answers", paper, boards, answers)
		}
		text := strings.ReplaceAll(pageText(p), "\n", " ")
		var left int
		if i := strings.Index(text, "want of room: "); i < 0 {
			t.Errorf("%s: lines went, but the foot does not say so", paper)
		} else if _, err := fmt.Sscanf(text[i:], "want of room: %d moves (lines together", &left); err != nil || left < 800 {
			t.Errorf("%s: says that %d moves are left out", paper, left)
		}
	}
}

// What is left out in the partings is summed where the lines end, so that nothing
// is counted twice.
func TestLeftOutSum(t *testing.T) {
	r := rank([]fact.Parting{
		{From: -1, Branches: []fact.Branch{{Move: "e4", Reach: 0.6, Next: 1}, {Move: "d4", Reach: 0.3, Next: -1}, {Move: "c4", Reach: 0.05, Next: -1}}},
		{From: 0, Stem: san("e4 e5"), Branches: []fact.Branch{{Move: "Nf3", Reach: 0.4, Next: -1}, {Move: "f4", Reach: 0.15, Next: -1}}},
	})
	if got, want := r.missing(3), "2 more lines, together 2 in 10 games, left out"; got != want {
		t.Errorf("got %q, want %q", got, want)
	}
	if got, want := r.missing(4), "1 more line, 1 in 20 games, left out"; got != want {
		t.Errorf("got %q, want %q", got, want)
	}
	if got := r.missing(5); got != "" {
		t.Errorf("nothing is left out, but it says %q", got)
	}
}

// Where there is little to say the page is lines to write on.
func TestRoomToWrite(t *testing.T) {
	for _, s := range []sample{{"one-line", oneLineReport(), Options{}}, {"empty", emptyReport(), Options{}}} {
		p := mustLayout(t, s.rep, Options{})
		ruled, last := 0, 0.0
		for _, it := range p.Items {
			if l, ok := it.(sheet.Line); ok && l.ToWrite && l.Gray == sheet.Pale {
				ruled, last = ruled+1, max(last, l.Y1)
			}
		}
		if ruled < 20 || last < p.H*0.85 {
			t.Errorf("%s: %d lines to write on, the last at %.0f of %.0f", s.name, ruled, last, p.H)
		}
	}
}

// What tonight says of a change isn't said again.
func TestChangeIsSaidOnce(t *testing.T) {
	rep := richReport()
	rep.Sides[0].Changes = []fact.Change{
		{Move: "d4", N: 8, Of: 8, Up: true, Speed: "blitz", Since: pgn.ParseDate("2026.02")},
		{Move: "c4", N: 9, Of: 9, Up: true, Speed: "blitz", Since: pgn.ParseDate("2026.03")},
	}
	text := strings.ReplaceAll(pageText(mustLayout(t, rep, Options{})), "\n", " ")
	for _, change := range []string{"in the last 8", "in the last 9"} {
		if n := strings.Count(text, change); n != 1 {
			t.Errorf("%q stands %d times", change, n)
		}
	}
}

// Few games stand on the page one by one, with the points of the user's side.
func TestFewGamesAreListed(t *testing.T) {
	text := strings.ReplaceAll(pageText(mustLayout(t, fewReport(), Options{})), "\n", " ")
	for _, want := range []string{"all their games with Black", "1987", "0 10 Sep 2026, Novák, Jiří", "6...e5 is not in your book"} {
		if !strings.Contains(text, want) {
			t.Errorf("the list of games lacks %q", want)
		}
	}
}

func TestUnknownPaper(t *testing.T) {
	if _, _, err := Layout(emptyReport(), Options{Paper: "a3"}); err == nil {
		t.Error("no error for paper a3")
	}
	if _, err := Write(&bytes.Buffer{}, emptyReport(), Options{Paper: "a3"}); err == nil {
		t.Error("no error for paper a3 from Write")
	}
}

// A day that isn't known is named nowhere; one that is, is.
func TestDayOfTheGame(t *testing.T) {
	for _, c := range []struct {
		day  pgn.Date
		want string
	}{{pgn.Date{Year: 2026, Month: 11, Day: 5}, "made for 5 Nov 2026"}, {pgn.Date{}, ""}} {
		rep := richReport()
		rep.Basis.AsOf, rep.Heading.Date = c.day, c.day
		pages, _, err := Layout(rep, Options{})
		if err != nil {
			t.Fatal(err)
		}
		text := strings.ReplaceAll(pageText(pages[0]), "\n", " ")
		if !strings.Contains(text, c.want) || strings.Contains(text, "made for") != (c.want != "") || strings.Contains(text, "1970") {
			t.Errorf("%v: %s", c.day, text)
		}
		if got := made(c.day).Format(time.DateOnly); got != map[bool]string{true: c.day.String(), false: "2000-01-01"}[c.day.Known()] {
			t.Errorf("%v: the document is of %s", c.day, got)
		}
	}
}
