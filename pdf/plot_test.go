package pdf

import (
	"slices"
	"strconv"
	"strings"
	"testing"

	"foreply/compare/fact"
	"foreply/compare/words"
	"foreply/pdf/sheet"
	"foreply/profile/hindsight"
)

// The plot is a square with a band for what is off by less than 1 in 10, the line of those
// that are right, numbered axes with their names, a bar and a dot for each bin.
func TestPlotDrawn(t *testing.T) {
	l := &testedLayout{f: testFaces(t), w: 540, t: &Tested{Bins: []hindsight.Bin{{P: 0.2, Observed: 0.3, Lo: 0.25, Hi: 0.45, N: 12}, {P: 0.7, Observed: 0.6, Lo: 0.5, Hi: 0.65, N: 345}}}}
	for h, side := range map[float64]float64{300: 300 - axisUnder - plotTop, 50: plotLeast, 1000: plotMost} {
		b := l.plot(h)
		if !about(b.H, side+axisUnder+plotTop) {
			t.Errorf("in %g the plot is %g high", h, b.H)
		}
		x := func(p float64) float64 { return axisLeft + p*side }
		y := func(p float64) float64 { return plotTop + (1-p)*side }
		want := []sheet.Item{
			sheet.Poly{Points: [][2]float64{{x(0), y(0)}, {x(0.1), y(0)}, {x(1), y(0.9)}, {x(1), y(1)}, {x(0.9), y(1)}, {x(0), y(0.1)}}, Gray: 0.92}, stroke(x(0), y(0), x(1), y(1), 0.8),
			stroke(x(0), y(0), x(1), y(0), 0.8), stroke(x(0), y(0), x(0), y(1), 0.8),
		}
		for i := range 11 {
			at := float64(i) / 10
			n := textAt(t, strconv.Itoa(i), 0, 0, 6.5, false)
			want = append(want, stroke(x(at), y(0), x(at), y(0)+3, 0.6), stroke(x(0)-3, y(at), x(0), y(at), 0.6), n.Moved(x(at)-n.W/2, y(0)+3+6.5), n.Moved(x(0)-3-2-n.W, y(at)+6.5*0.36))
		}
		across := textAt(t, words.SaidTimes, 0, 0, 8.5, false)
		want = append(want, across.Moved(x(0.5)-across.W/2, b.H-8.5*0.24), textAt(t, words.CameTimes, x(0)+6, plotTop+8.5, 8.5, false))
		above, below := textAt(t, "12", 0, 0, 6.5, false), textAt(t, "345", 0, 0, 6.5, false)
		want = append(want, stroke(x(0.2), y(0.25), x(0.2), y(0.45), 1.2), sheet.Dot{X: x(0.2), Y: y(0.3), R: 3}, stroke(x(0.7), y(0.5), x(0.7), y(0.65), 1.2), sheet.Dot{X: x(0.7), Y: y(0.6), R: 3},
			above.Moved(x(0.2)-6-above.W, y(0.3)-6.5*0.3), below.Moved(x(0.7)+6, y(0.6)+6.5)) // on the side away from the line
		sameDrawn(t, "plot", b.Items, want)
	}
	l.w = 300
	if b := l.plot(1000); !about(b.H, 300-railWide-axisLeft-gutter+axisUnder+plotTop) {
		t.Errorf("a narrow plot is %g high", b.H)
	}
	for _, c := range []struct {
		a, b sheet.Box
		meet bool
	}{
		{sheet.Box{X: 0, Y: 0, W: 4, H: 4}, sheet.Box{X: 4, Y: 4, W: 1, H: 1}, true}, {sheet.Box{X: 0, Y: 0, W: 4, H: 4}, sheet.Box{X: 4.1, Y: 0, W: 1, H: 1}, false},
		{sheet.Box{X: 0, Y: 0, W: 4, H: 4}, sheet.Box{X: 0, Y: 4.1, W: 1, H: 1}, false}, {sheet.Box{X: 5, Y: 0, W: 4, H: 4}, sheet.Box{X: 0, Y: 0, W: 4.9, H: 9}, false}, {sheet.Box{X: 0, Y: 5, W: 4, H: 4}, sheet.Box{X: 0, Y: 0, W: 9, H: 4.9}, false},
	} {
		if meet(c.a, c.b) != c.meet || meet(c.b, c.a) != c.meet {
			t.Errorf("%v and %v meet: %v", c.a, c.b, !c.meet)
		}
	}
}

// The number of a bin takes another place where its own is taken or outside the plot.
func TestPlacesOfNumbers(t *testing.T) {
	f := testFaces(t)
	n := textAt(t, "7", 0, 0, 6.5, false)
	place := func(b hindsight.Bin, busy ...sheet.Box) [2]float64 {
		p := &plot{f: f, side: 200, busy: busy}
		b.N = 7
		if p.label(&b); len(p.Items) == 0 {
			return [2]float64{}
		}
		r := p.Items[0].(sheet.Run)
		if len(p.busy) != len(busy)+1 || p.busy[len(busy)] != r.Bounds() {
			t.Errorf("busy %v", p.busy)
		}
		return [2]float64{r.X, r.Y}
	}
	for name, c := range map[string]struct {
		bin  hindsight.Bin
		busy []sheet.Box
		at   func(x, y float64) [2]float64
	}{
		"under the line":           {hindsight.Bin{P: 0.5, Observed: 0.4}, nil, func(x, y float64) [2]float64 { return [2]float64{x + 6, y + 6.5} }},
		"over it":                  {hindsight.Bin{P: 0.5, Observed: 0.6}, nil, func(x, y float64) [2]float64 { return [2]float64{x - 6 - n.W, y - 6.5*0.3} }},
		"at the left edge":         {hindsight.Bin{P: 0, Observed: 0.5}, nil, func(x, y float64) [2]float64 { return [2]float64{x + 6, y + 6.5*0.36} }},
		"at the bottom":            {hindsight.Bin{P: 0.5, Observed: 0}, nil, func(x, y float64) [2]float64 { return [2]float64{x - 6 - n.W, y - 6.5*0.3} }},
		"where another is":         {hindsight.Bin{P: 0.5, Observed: 0.4}, []sheet.Box{{X: axisLeft + 100, Y: plotTop + 122, W: 40, H: 20}}, func(x, y float64) [2]float64 { return [2]float64{x - 6 - n.W, y - 6.5*0.3} }},
		"where the right is taken": {hindsight.Bin{P: 0.5, Observed: 0.4}, []sheet.Box{{X: axisLeft + 100, Y: 0, W: 40, H: 220}, {X: axisLeft + 80, Y: 0, W: 18, H: plotTop + 121}}, func(x, y float64) [2]float64 { return [2]float64{x - 6 - n.W, y + 6.5} }},
		"where all is taken":       {hindsight.Bin{P: 0.5, Observed: 0.4}, []sheet.Box{{W: 999, H: 999}}, func(float64, float64) [2]float64 { return [2]float64{} }},
	} {
		x, y := axisLeft+200*c.bin.P, plotTop+200*(1-c.bin.Observed)
		if got, want := place(c.bin, c.busy...), c.at(x, y); !about(got[0], want[0]) || !about(got[1], want[1]) {
			t.Errorf("%s: %v, want %v of a dot at %g %g", name, got, want, x, y)
		}
	}
}

// The page of a test: who, what was tested, the verdict beside its name, the plot, how to read
// it, each section with its lines, and at the bottom how it was tested.
func TestPageOfATest(t *testing.T) {
	s := &Tested{Who: "Ash, Ivo", Heading: "what was tested", Verdict: "the verdict", Bins: []hindsight.Bin{{P: 0.5, Observed: 0.5, N: 3}}, Foot: "how it was",
		Sections: []hindsight.Section{{Name: "with White", Of: "9 moves", Lines: []string{"one", "two"}}, {Name: "both", Of: "20 moves"}}}
	p, err := LayoutTested(s, Options{})
	if err != nil {
		t.Fatal(err)
	}
	type at struct {
		x, size float64
		bold    bool
	}
	left := p.Margin.X
	y := 0.0
	for _, want := range []struct {
		text string
		at   at
	}{
		{"Ash, Ivo", at{left, 15, true}}, {"what was tested", at{left, 8.5, false}}, {words.TrustIt, at{left, 8.5, true}}, {"the verdict", at{left + railWide, less, false}}, {words.SaidCame, at{left, 8.5, true}},
		{"with White", at{left, 8.5, true}}, {"9 moves", at{left + railWide, 8.5, false}}, {"one", at{left + railWide, 8.5, false}}, {"two", at{left + railWide, 8.5, false}}, {"both", at{left, 8.5, true}}, {"20 moves", at{left + railWide, 8.5, false}}, {"how it was", at{left, 6.5, false}},
	} {
		i := slices.IndexFunc(texts(p), func(r sheet.Run) bool { return r.S == want.text })
		if i < 0 {
			t.Errorf("no %q", want.text)
			continue
		}
		r := texts(p)[i]
		if got := (at{r.X, r.Size, r.Bold}); !about(got.x, want.at.x) || got.size != want.at.size || got.bold != want.at.bold || r.Y < y-2 {
			t.Errorf("%q: %+v below %g, want %+v", want.text, r, y, want.at)
		}
		y = r.Y
	}
	kind := texts(p)[slices.IndexFunc(texts(p), func(r sheet.Run) bool { return r.S == words.Tested })]
	if !about(kind.X+kind.W, left+p.Margin.W) || !kind.Bold || p.Title != words.TestedTitle("Ash, Ivo") {
		t.Errorf("%+v, %q", kind, p.Title)
	}
	if last := texts(p)[len(texts(p))-1]; !about(last.Y, p.Margin.Y+p.Margin.H-6.5*0.37) {
		t.Errorf("the foot stands at %g of %+v", last.Y, p.Margin)
	}
	l := &testedLayout{f: testFaces(t), w: 540, t: s}
	part := l.part("name", sheet.Block{H: 20, Items: []sheet.Item{sheet.Dot{R: 1}}}, 8.5)
	sameDrawn(t, "part", part.Items, []sheet.Item{stroke(0, 0, 540, 0, 0.5), textAt(t, "name", 0, ruleGap+8.5, 8.5, true), sheet.Dot{X: railWide, Y: ruleGap, R: 1}})
	bare := l.part("", sheet.Block{H: 20, Items: []sheet.Item{sheet.Dot{R: 1}}}, 8.5)
	sameDrawn(t, "part without a name", bare.Items, []sheet.Item{sheet.Dot{X: railWide, R: 1}})
	if part.H != 20+ruleGap+partGap || bare.H != 20+partGap || height([]sheet.Block{part, bare}) != 40+ruleGap+2*partGap {
		t.Errorf("%g and %g high", part.H, bare.H)
	}
	// the plot takes the height that is left
	deepest := 0.0
	for _, it := range p.Items {
		if b := it.Bounds(); b.Y+b.H < p.Margin.Y+p.Margin.H-12 {
			deepest = max(deepest, b.Y+b.H)
		}
	}
	if deepest > p.Margin.Y+p.Margin.H {
		t.Errorf("parts end at %g", deepest)
	}
	s.Bins = nil
	if p, err := LayoutTested(s, Options{}); err != nil || strings.Contains(pageText(p), words.SaidCame) {
		t.Errorf("a plot of no bins, %v", err)
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
	l, _ := layoutOf(t, few(bothReport()))
	b, on := l.body(110)
	halves := map[int]int{}
	for _, o := range b.Lost {
		halves[o.Half]++
	}
	x := l.form.lines + gutter/2
	if b.H != 110 || halves[0] > 0 || halves[1] == 0 || halves[2] == 0 || !slices.Contains(asDrawn(b.Items), stroke(x, 0, x, 110, 0.3).Dump()) || on.Rows == 0 || len(on.Sections) == 0 {
		t.Errorf("%g high, halves %v, told %+v", b.H, halves, on)
	}
	l, _ = layoutOf(t, few(richReport()))
	if b, on = l.body(110); len(b.Lost) == 0 || b.Lost[0].Half != 0 || on.Rows == 0 {
		t.Errorf("one colour: lost %+v, told %+v", b.Lost, on)
	}
	rep := &fact.Report{About: richReport().About}
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
