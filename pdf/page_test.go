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
		{"both-pages", bothReport(), Options{Pages: true}}, {"both-half", bothReport(), Options{Half: true}},
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
					checkTonight(t, p, s.rep)
					dump += p.Dump()
				}
				golden(t, s.name+"-"+paper+".txt", []byte(dump))
			})
		}
	}
}

// checkTonight wants every line of tonight whole: its last word ends a run.
func checkTonight(t *testing.T, p *sheet.Page, rep *fact.Report) {
	t.Helper()
	var ends []string
	for _, r := range texts(p) {
		ends = append(ends, r.S)
	}
	all := strings.Join(ends, "\n") + "\n"
	for i := range rep.Sides {
		if len(rep.Sides) > 1 && !strings.Contains(all, "have "+colourName(rep.Sides[i].MyColor)+"\n") {
			continue // the side has a page of its own
		}
		for _, task := range rep.Sides[i].Tonight {
			text := words.Task(&task).String()
			list := strings.Fields(figurines(text))
			if last := list[len(list)-1]; !strings.Contains(all, " "+last+"\n") && !strings.Contains(all, "\n"+last+"\n") {
				t.Errorf("tonight lacks the end of %q", text)
			}
		}
	}
}

// smallLabels are all that is set small above the foot.
var smallLabels = map[string]bool{
	"event": true, "round": true, "board": true, "date": true, "clock": true,
	"0": true, "10": true, "of ten games": true, "played": true, "then; your note": true, "your answer": true,
}

var boldMove = regexp.MustCompile(`^\d+\.`)

// checkSizes asserts the least sizes of the page's design: moves 10 points, notes
// and sentences 9, the foot 7, and no more than four sizes.
func checkSizes(t *testing.T, p *sheet.Page) {
	t.Helper()
	sizes := map[float64]bool{}
	for _, r := range texts(p) {
		sizes[r.Size] = true
		least := 9.0
		switch {
		case p.Foot == 0 || r.Y > p.Foot, smallLabels[r.S], strings.HasPrefix(r.S, "then"):
			least = 7
		case r.Bold && boldMove.MatchString(r.S):
			least = 10
		}
		if r.Size < least {
			t.Errorf("too small to read: %s", r.Dump())
		}
	}
	if len(sizes) > 4 {
		t.Errorf("%d sizes of type: %v", len(sizes), sizes)
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
				if overlap(r.Box, b) && !within(r.Box, b) {
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
	pages, err := Layout(rep, opt)
	if err != nil {
		t.Fatal(err)
	}
	return pages
}

// Moves of the forks, stems and answers are set at 10 points or more, notes at 9.
func TestSizesOfType(t *testing.T) {
	p := mustLayout(t, richReport(), Options{})
	for _, want := range []struct {
		text string
		size float64
	}{
		{"5...♞c6", 10}, {"6.♝g5", 10}, {"1.e4 c5 2.♞f3", 10}, {"h4-h5 only after", 9}, {"For study before", 7},
	} {
		found := false
		for _, r := range texts(p) {
			if strings.Contains(r.S, want.text) {
				found = true
				if r.Size < want.size {
					t.Errorf("%q is set at %g, want %g or more", r.S, r.Size, want.size)
				}
			}
		}
		if !found {
			t.Errorf("%q is not on the page", want.text)
		}
	}
}

// The moves of tonight are the largest type of every page that has it;
// only the opponent's name is as large.
func TestTonightIsLargest(t *testing.T) {
	for _, s := range append(samples(), styled()...) {
		for _, p := range mustPages(t, s.rep, s.opt) {
			largest, inTonight, tonight := 0.0, 0.0, false
			for _, r := range texts(p) {
				largest = max(largest, r.Size)
				if r.Bold && r.S == "tonight" {
					tonight = true
				}
				if tonight {
					inTonight = max(inTonight, r.Size)
				}
			}
			if tonight && inTonight != largest && namesMove(s.rep) {
				t.Errorf("%s: tonight is set at %g, something else at %g", s.name, inTonight, largest)
			}
		}
	}
}

// namesMove says whether a task of the first side names a move.
func namesMove(rep *fact.Report) bool {
	return slices.ContainsFunc(rep.Sides[0].Tonight, func(t fact.Task) bool { return strings.Contains(words.Task(&t).String(), "1.") })
}

// What is said of a move is quieter than the move, and a task that names none is
// as large as a move.
func TestTaskWords(t *testing.T) {
	c := column{l: &layout{f: testFaces(t), night: nightly[0]}}
	for _, tc := range []struct{ text, large string }{
		{"1.d4 d5 2.Bf4: about 5 games in 10, likely 2-8", "1.d4 d5 2.♝f4:"},
		{"2.c4 c6 … 4...Nc6 5.Nf3+, then a break", "2.c4 c6 … 4...♞c6 5.♞f3+,"},
		{"1.e4 (a King's Pawn); you play 1...c6", "1.e4 1...c6"},
		{"O-O on move 5 … or 7.fxg8=Q#", "O-O 7.fxg8=♛#"},
		{"in blitz since 7 Nov 2025: 1.d4 in 23 of 33", "1.d4"},
		{"anything: no game found; go through your lines", "anything: no game found; go through your lines"},
	} {
		var large []string
		for _, w := range c.taskWords(tc.text) {
			if w.Ink.Size == c.l.night {
				large = append(large, w.S)
			}
		}
		if got := strings.Join(large, " "); got != tc.large {
			t.Errorf("%q: large is %q, want %q", tc.text, got, tc.large)
		}
	}
}

// A page of very many lines still has eight of them and two boards, and says
// how many it leaves out.
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
		if boards < 2 || answers < 8 {
			t.Errorf("%s: %d boards and %d answers", paper, boards, answers)
		}
		left := -1
		for _, r := range texts(p) {
			if i := strings.Index(r.S, " more lines, together "); i >= 0 {
				fmt.Sscanf(strings.ReplaceAll(r.S[:i], ",", ""), "%d", &left)
			}
		}
		if left < 900 || left >= 1000 {
			t.Errorf("%s: says that %d of 1000 lines are left out", paper, left)
		}
	}
}

// What is left out in the forks is summed where the lines end, so that nothing
// is counted twice.
func TestLeftOutSum(t *testing.T) {
	r := rank([]fact.Fork{
		{From: -1, Branches: []fact.Branch{{Move: "e4", Reach: 0.6, Next: 1}, {Move: "d4", Reach: 0.3, Next: -1}, {Move: "c4", Reach: 0.05, Next: -1}}},
		{From: 0, Stem: san("e4 e5"), Branches: []fact.Branch{{Move: "Nf3", Reach: 0.4, Next: -1}, {Move: "f4", Reach: 0.15, Next: -1}}},
	})
	if got, want := r.missing(3), "2 more lines, together about 2 games in 10, left out"; got != want {
		t.Errorf("got %q, want %q", got, want)
	}
	if got, want := r.missing(4), "1 more line, about 1 game in 20, left out"; got != want {
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
			if l, ok := it.(sheet.Line); ok && l.Width == 0.4 && l.Gray == sheet.Pale {
				ruled, last = ruled+1, max(last, l.Y1)
			}
		}
		if ruled < 20 || last < p.H*0.85 {
			t.Errorf("%s: %d lines to write on, the last at %.0f of %.0f", s.name, ruled, last, p.H)
		}
	}
}

// A note that the forks print comes last of what helps when they surprise you.
func TestSurpriseSaysOtherThings(t *testing.T) {
	for _, c := range []struct {
		atFork string
		first  string
	}{{"", "your note at"}, {"Stay flexible.", "your usual set-up:"}} {
		rep := richReport()
		rep.Sides[0].Surprise = fact.Surprise{Note: "Stay flexible.", SetUp: san("Nf3 d4"), NoteLine: san(stem + " a6 Be3 e5")}
		rep.Sides[0].Forks[0].Branches[0].Note = c.atFork
		text := pageText(mustLayout(t, rep, Options{}))
		_, text, _ = strings.Cut(text, "\nif surprised\n")
		if !strings.HasPrefix(text, c.first) {
			t.Errorf("%q at the forks: if surprised begins with %.60q", c.atFork, text)
		}
	}
}

// What tonight says of a change isn't said again.
func TestChangeIsSaidOnce(t *testing.T) {
	rep := richReport()
	s := &rep.Sides[0]
	s.Changes = []fact.Change{
		{Move: "d4", N: 8, Of: 8, Up: true, Speed: "blitz", Since: pgn.ParseDate("2026.02")},
		{Move: "c4", N: 9, Of: 9, Up: true, Speed: "blitz", Since: pgn.ParseDate("2026.03")},
	}
	s.Tonight = append(s.Tonight, fact.Task{Kind: "expect", Lead: fact.LeadChanged, About: &s.Changes[0]})
	l := &layout{f: testFaces(t), rep: rep, w: 500, h: 800, night: nightly[0]}
	c := l.columns()[0]
	b := c.Measure(c.changes()).At(1000)
	text := pageText(&sheet.Page{Items: b.Items})
	if strings.Contains(text, "1.d4") || !strings.Contains(text, "1.c4 in the last 9") {
		t.Errorf("what changed beside tonight: %q", text)
	}
}

func TestFewGamesAreListed(t *testing.T) {
	text := pageText(mustLayout(t, fewReport(), Options{}))
	for _, want := range []string{"their games", "1987", "10 Sep 2026", "they left your book with 6...e5"} {
		if !strings.Contains(text, want) {
			t.Errorf("the list of games lacks %q", want)
		}
	}
	for _, bad := range []string{" in 10, likely", "forks"} {
		if strings.Contains(text, bad) {
			t.Errorf("few games, but the page says %q", bad)
		}
	}
}

// What a full page cannot hold is named at its foot.
func TestMissingSectionsAreNamed(t *testing.T) {
	text := pageText(mustLayout(t, manyReport(1000), Options{Paper: "letter"}))
	if !strings.Contains(text, "Left out for want of room:") {
		t.Error("the foot does not name what is missing")
	}
	if text = pageText(mustLayout(t, oneLineReport(), Options{})); strings.Contains(text, "want of room") {
		t.Error("nothing is missing, but the foot says so")
	}
}

func TestUnknownPaper(t *testing.T) {
	if _, err := Layout(emptyReport(), Options{Paper: "a3"}); err == nil {
		t.Error("no error for paper a3")
	}
	if err := Write(&bytes.Buffer{}, emptyReport(), Options{Paper: "a3"}); err == nil {
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
		pages, err := Layout(rep, Options{})
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
