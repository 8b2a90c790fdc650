package pdf

import (
	"math"
	"reflect"
	"regexp"
	"slices"
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

// What both colours of a page show is the mean of the two; what each lost under one title is
// told of each.
func TestColoursOfAPageTogether(t *testing.T) {
	var all drawn
	all.add(drawn{fact.Page{Rows: 4, Shown: 0.9, Sections: []string{"a"}}})
	all.add(drawn{fact.Page{Rows: 3, Shown: 0.5, Sections: []string{"b"}}})
	if all.Rows != 7 || all.Shown < 0.699 || all.Shown > 0.701 || len(all.Sections) != 2 {
		t.Errorf("%+v", all)
	}
	got := together([]sheet.Loss{{Half: 1, Title: "x", Count: 2}, {Half: 2, Title: "x", Count: 3}, {Half: 1, Title: "x", Count: 1}})
	if want := []sheet.Loss{{Half: 1, Title: "x", Count: 3}, {Half: 2, Title: "x", Count: 3}}; !slices.Equal(got, want) {
		t.Errorf("%+v, want %+v", got, want)
	}
}

// The head of the lines names their columns: the boxes in the middle over them, what stands
// beside them behind both.
func TestHeadOfTheLines(t *testing.T) {
	l, _ := layoutOf(t, richReport())
	form := l.form.tree()
	b := l.treeHead(100)
	base := 1.5 + leading - 8.5*0.33
	over := textAt(t, words.YourAnswer, 0, base, 8.5, true)
	over.X = 100 + (form.Box-over.W)/2
	text := max(100+form.Box+2*sheet.MM, 100+(form.Box+over.W)/2+2)
	sameDrawn(t, "head", b.Items[2:], []sheet.Item{over, textAt(t, words.HowItGoesOn, text, base, 8.5, false)})
	if got := runsOf(b.Items[:2], func(r sheet.Run) bool { return r.Bold }); !slices.Equal(got, []string{words.LinesToExpect}) || !about(b.H, 1.5+leading+0.4*sheet.MM) {
		t.Errorf("%q, %g high", got, b.H)
	}
}

// The lines stand in their height with the notes and letters of the rows that do; in too low
// a height they are lost as a whole.
func TestLinesInAHeight(t *testing.T) {
	rep := &fact.Report{Sides: []fact.Side{*rowsCase()}}
	l, _ := layoutOf(t, rep)
	s := &rep.Sides[0]
	set := l.lines(newTreeRows(s, false), 700, 4)
	if len(set.Lost) > 0 || set.on.Rows != 8 || len(set.notes) != 1 || set.notes[0].number != 1 || set.notes[0].text != "the main fight" || strings.Join(set.notes[0].after, " ") != "e4 c5 Nf3" {
		t.Errorf("%+v, %+v", set.notes, set.on)
	}
	if got := noteNumber.FindAllString(strings.Join(runsOf(set.Items, func(sheet.Run) bool { return true }), " "), -1); !slices.Equal(got, []string{"note 1"}) {
		t.Errorf("rows refer to %q", got)
	}
	if len(set.letters) != 3 || !set.letters["A"] || !set.letters["B"] || !set.letters["C"] {
		t.Errorf("letters %v", set.letters)
	}
	if got := l.lines(newTreeRows(s, false), 700, 0); len(got.notes) > 0 || strings.Contains(strings.Join(runsOf(got.Items, func(sheet.Run) bool { return true }), " "), "note") {
		t.Errorf("no notes: %+v", got.notes)
	}
	head, form := l.treeHead(0).H, l.form.tree()
	if got := l.lines(newTreeRows(s, false), head+form.Pitch-0.1, 4); len(got.Items) > 0 || !slices.Equal(got.Lost, []sheet.Loss{{Title: words.LinesToExpect}}) {
		t.Errorf("in no height %+v", got.Lost)
	}
	low := l.lines(newTreeRows(s, false), head+4.5*form.Pitch, 4)
	if low.H > head+4.5*form.Pitch || len(low.Lost) == 0 || low.Lost[0].Title != words.MoreLines || low.Lost[0].Count == 0 || low.on.Shown >= set.on.Shown {
		t.Errorf("%g high, lost %+v, shown %g", low.H, low.Lost, low.on.Shown)
	}
	standing := map[string]bool{}
	for _, letter := range runsOf(low.Items, func(r sheet.Run) bool { return r.Gray == sheet.White }) {
		standing[letter] = true
	}
	if !reflect.DeepEqual(low.letters, standing) || len(standing) == 3 {
		t.Errorf("letters %v, those that stand %v", low.letters, standing)
	}
	s.Partings[0].Branches[0].Note = "" // the next row with one is the seventh
	if got, want := l.lines(newTreeRows(s, false), 700, 4).notes, []planned{{1, san("e4 g5"), "the main fight"}}; !reflect.DeepEqual(got, want) {
		t.Errorf("%+v, want %+v", got, want)
	}
	long := slices.Repeat(san("Nf3 Nf6 Ng1 Ng8"), 30) // has no room beside its move
	tight := &fact.Side{MyColor: "white", Partings: []fact.Parting{{Stem: san("e4"), From: -1, Branches: []fact.Branch{{Move: "e5", Answer: "Nf3", Then: long, Share: share(10, 9, 10, 100, 100), Reach: 1, State: fact.Answered, Next: -1}}}}}
	if got, want := l.lines(newTreeRows(tight, false), 700, 4).Lost, []sheet.Loss{{Title: words.LinesToExpect, Clauses: 1}}; !slices.Equal(got, want) {
		t.Errorf("%+v, want %+v", got, want)
	}
	if got := l.lines(newTreeRows(&fact.Side{}, false), 700, 4); got.H != 0 || len(got.Items) > 0 || len(got.Lost) > 0 {
		t.Errorf("no lines: %+v", got)
	}
}

// The sections stand in the margin beside tonight and in columns under the lines; what stands
// there takes its height and air from them.
func TestPlacesOfSections(t *testing.T) {
	l, _ := layoutOf(t, richReport())
	l.form = form{lines: 300, margin: 150, gap: 20, under: 2}
	places := l.places(100, 700)
	type room struct {
		x, y, w, h float64
		under      bool
	}
	rooms := func() (out []room) {
		for _, p := range places {
			out = append(out, room{p.x, p.y, p.Column.W, p.H, p.under})
		}
		return out
	}
	w := (300 - gutter) / 2
	if got, want := rooms(), []room{{320, 0, 150, 700, false}, {0, 100, w, 600, true}, {w + gutter, 100, w, 600, true}}; !slices.Equal(got, want) {
		t.Errorf("%v, want %v", got, want)
	}
	use(places, []sheet.Packed{{Block: sheet.Block{H: 50}}, {}, {Block: sheet.Block{H: 599}}})
	if got, want := rooms(), []room{{320, 50 + air, 150, 650 - air, false}, {0, 100, w, 600, true}, {w + gutter, 699 + air, w, 0, true}}; !slices.Equal(got, want) {
		t.Errorf("%v, want %v", got, want)
	}
	var b sheet.Block
	dot := sheet.Block{Items: []sheet.Item{sheet.Dot{R: 1}}, Lost: []sheet.Loss{{Title: "x"}}}
	titles := put(&b, places, []sheet.Packed{{Block: dot, Titles: []string{"a", "b"}}, {Block: dot, Titles: []string{"c"}}, {}})
	if !slices.Equal(titles, []string{"a", "b", "c"}) || len(b.Lost) != 2 {
		t.Errorf("%q, lost %v", titles, b.Lost)
	}
	sameDrawn(t, "put", b.Items, []sheet.Item{sheet.Dot{X: 320, Y: 50 + air, R: 1}, sheet.Dot{Y: 100, R: 1}})
	l.form = form{lines: 300, under: 1}
	if got := l.places(800, 700); len(got) != 1 || got[0].H != 0 || got[0].Column.W != 300 || roomsOf(got)[0].H != 0 {
		t.Errorf("%+v", got)
	}
}

// Both colours of a page stand beside each other with a line between, what each lost with its
// own half; one colour is no half.
func TestBodyOfAPage(t *testing.T) {
	few := func(rep *fact.Report) *fact.Report {
		for i, s := range rep.Sides {
			rep.Sides[i] = fact.Side{MyColor: s.MyColor, Tonight: s.Tonight[:1], Partings: s.Partings[:1], Surprise: s.Surprise, Mistakes: whiteSide().Mistakes}
		}
		return rep
	}
	rep := few(bothReport())
	rep.Sides[1].Mistakes = nil
	l, _ := layoutOf(t, rep)
	b, on := l.body(110)
	halves, rules := map[int]int{}, 0
	for _, o := range b.Lost {
		halves[o.Half]++
		if o.Title == words.WatchFor && o.Half != 1 {
			t.Errorf("%+v: no such section", o)
		}
	}
	for _, it := range b.Items {
		if line, ok := it.(sheet.Line); ok && line.X1 == line.X2 && line.Width == 0.3 {
			rules++
		}
	}
	x := l.form.lines + gutter/2
	if b.H != 110 || rules != 1 || !slices.ContainsFunc(b.Lost, func(o sheet.Loss) bool { return o.Title == words.WatchFor }) || halves[0] > 0 || halves[1] == 0 || halves[2] == 0 || !slices.Contains(asDrawn(b.Items), stroke(x, 0, x, 110, 0.3).Dump()) || on.Rows == 0 || len(on.Sections) == 0 {
		t.Errorf("%g high, halves %v, told %+v", b.H, halves, on)
	}
	l, _ = layoutOf(t, few(richReport()))
	if b, on = l.body(110); len(b.Lost) == 0 || b.Lost[0].Half != 0 || on.Rows == 0 {
		t.Errorf("one colour: lost %+v, told %+v", b.Lost, on)
	}
	rep = &fact.Report{About: richReport().About}
	l, _ = layoutOf(t, rep)
	b, on = l.body(250)
	if !slices.Equal(on.Sections, []string{words.AboutThem, words.ToWrite}) || len(b.Items) == 0 || b.Items[0] != (sheet.Line{X2: 540, Width: 0.6}) {
		t.Errorf("of no colour %q: %v", on.Sections, asDrawn(b.Items)[:3])
	}
	if b, _ := l.body(20); len(b.Lost) == 0 {
		t.Error("what finds no room is not lost")
	}
}

// Where room is left the lines are followed under their threshold, what is shown stays that of
// the lines over it.
func TestFurtherLines(t *testing.T) {
	rep := richReport()
	rep.Sides[0] = fact.Side{MyColor: "white", Partings: whitePartings()[:1]}
	s := &rep.Sides[0]
	for i := range s.Partings[0].Branches {
		s.Partings[0].Branches[i].Next = -1
	}
	l, _ := layoutOf(t, rep)
	_, before := l.sideWith(s, 740, 0)
	s.Further = []fact.Parting{s.Partings[0]}
	s.Further[0].Branches = append(slices.Clone(s.Further[0].Branches), fact.Branch{Move: "h6", Reach: 0.004, Share: share(0, 0, 1, 0, 104), Answer: "f3", State: fact.Answered, Next: -1})
	b, on := l.sideWith(s, 740, 0)
	if on.Rows != before.Rows+1 || on.Shown != before.Shown || !slices.Contains(runsOf(b.Items, func(sheet.Run) bool { return true }), "5...h6") || slices.ContainsFunc(b.Lost, func(o sheet.Loss) bool { return o.Title == words.MoreLines }) {
		t.Errorf("%+v, before %+v, lost %v", on, before, b.Lost)
	}
	s.Further = s.Partings
	if _, on := l.sideWith(s, 740, 0); on.Rows != before.Rows {
		t.Errorf("nothing further: %+v", on)
	}
}
