package pdf

import (
	"slices"
	"strconv"
	"strings"
	"testing"

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
	// taken are strips beside a dot at 0.5, 0.4, so far under it
	taken := func(left, right []float64) (list []sheet.Box) {
		for _, y := range left {
			list = append(list, sheet.Box{X: axisLeft, Y: plotTop + 120 + y, W: 99})
		}
		for _, y := range right {
			list = append(list, sheet.Box{X: axisLeft + 101, Y: plotTop + 120 + y, W: 99})
		}
		return list
	}
	for name, c := range map[string]struct {
		bin  hindsight.Bin
		busy []sheet.Box
		at   func(x, y float64) [2]float64
	}{
		"under the line":     {hindsight.Bin{P: 0.5, Observed: 0.4}, nil, func(x, y float64) [2]float64 { return [2]float64{x + 6, y + 6.5} }},
		"over it":            {hindsight.Bin{P: 0.5, Observed: 0.6}, nil, func(x, y float64) [2]float64 { return [2]float64{x - 6 - n.W, y - 6.5*0.3} }},
		"at the left edge":   {hindsight.Bin{P: 0, Observed: 0.5}, nil, func(x, y float64) [2]float64 { return [2]float64{x + 6, y + 6.5*0.36} }},
		"at the bottom":      {hindsight.Bin{P: 0.5, Observed: 0}, nil, func(x, y float64) [2]float64 { return [2]float64{x - 6 - n.W, y - 6.5*0.3} }},
		"on the line":        {hindsight.Bin{P: 0.5, Observed: 0.5}, nil, func(x, y float64) [2]float64 { return [2]float64{x + 6, y + 6.5} }},
		"at the top":         {hindsight.Bin{P: 0.5, Observed: 1}, nil, func(x, y float64) [2]float64 { return [2]float64{x + 6, y + 6.5} }},
		"at the right edge":  {hindsight.Bin{P: 1, Observed: 0.5}, nil, func(x, y float64) [2]float64 { return [2]float64{x + 6, y + 6.5} }},
		"level at the right": {hindsight.Bin{P: 0.5, Observed: 0.4}, taken(nil, []float64{5}), func(x, y float64) [2]float64 { return [2]float64{x + 6, y + 6.5*0.36} }},
		"at the left above":  {hindsight.Bin{P: 0.5, Observed: 0.4}, taken(nil, []float64{3}), func(x, y float64) [2]float64 { return [2]float64{x - 6 - n.W, y - 6.5*0.3} }},
		"level at the left":  {hindsight.Bin{P: 0.5, Observed: 0.4}, taken([]float64{-5}, []float64{3}), func(x, y float64) [2]float64 { return [2]float64{x - 6 - n.W, y + 6.5*0.36} }},
		"at the right above": {hindsight.Bin{P: 0.5, Observed: 0.4}, taken([]float64{-1}, []float64{3}), func(x, y float64) [2]float64 { return [2]float64{x + 6, y - 6.5*0.3} }},
		"at the left below":  {hindsight.Bin{P: 0.5, Observed: 0.4}, taken([]float64{-1}, []float64{-3, 3}), func(x, y float64) [2]float64 { return [2]float64{x - 6 - n.W, y + 6.5} }},
		"far below":          {hindsight.Bin{P: 0.5, Observed: 0.4}, taken([]float64{-1, 5}, []float64{-3, 3}), func(x, y float64) [2]float64 { return [2]float64{x + 6, y + 13} }},
		"far above":          {hindsight.Bin{P: 0.5, Observed: 0.4}, taken([]float64{-1, 5}, []float64{-3, 3, 10}), func(x, y float64) [2]float64 { return [2]float64{x - 6 - n.W, y - 6.5*1.3} }},
		"where all is taken": {hindsight.Bin{P: 0.5, Observed: 0.4}, []sheet.Box{{W: 999, H: 999}}, func(float64, float64) [2]float64 { return [2]float64{} }},
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
	s.Bins = nil
	if p, err := LayoutTested(s, Options{}); err != nil || strings.Contains(pageText(p), words.SaidCame) {
		t.Errorf("a plot of no bins, %v", err)
	}
}

// The plot takes the height that the other parts leave, in its limits; under it stand the
// figures, at the bottom the foot.
func TestPlotTakesWhatIsLeft(t *testing.T) {
	const line = 8.5 * 1.28
	for lines, limit := range map[int]string{0: "most", 22: "none", 40: "least"} {
		s := &Tested{Who: "Ash, Ivo", Heading: "what was tested", Verdict: "the verdict", Bins: []hindsight.Bin{{P: 0.5, Observed: 0.5, N: 3}}, Foot: "how it was",
			Sections: []hindsight.Section{{Name: "both", Of: "9 moves", Lines: slices.Repeat([]string{"one"}, lines)}}}
		p, err := LayoutTested(s, Options{})
		if err != nil {
			t.Fatal(err)
		}
		caption := (&testedLayout{f: testFaces(t), w: p.Margin.W, t: s}).caption().H
		head, foot, verdict := 22+line+partGap, 6.5*1.28, ruleGap+12.5*1.28+partGap
		figures := ruleGap + float64(lines+1)*line + partGap
		left := p.Margin.H - head - foot - verdict - caption - figures - 4*partGap - axisUnder - plotTop
		side := map[string]float64{"most": plotMost, "none": left, "least": plotLeast}[limit]
		if (left > plotMost) != (limit == "most") || (left < plotLeast) != (limit == "least") {
			t.Fatalf("%d lines leave %g", lines, left)
		}
		var axes []sheet.Line
		for _, it := range p.Items {
			if l, ok := it.(sheet.Line); ok && l.Width == 0.8 {
				axes = append(axes, l)
			}
		}
		base, up := axes[1], axes[2]
		if !about(base.X2-base.X1, side) || !about(up.Y1-up.Y2, side) || !about(base.X1, p.Margin.X+railWide+axisLeft) || !about(up.Y2, p.Margin.Y+head+verdict+ruleGap+plotTop) {
			t.Errorf("%d lines: the plot is %g by %g, want %g", lines, base.X2-base.X1, up.Y1-up.Y2, side)
		}
		of := texts(p)[slices.IndexFunc(texts(p), func(r sheet.Run) bool { return r.S == "9 moves" })]
		under := head + verdict + ruleGap + plotTop + side + axisUnder + partGap + caption + partGap + ruleGap + line - 8.5*0.37
		if !about(of.Y, p.Margin.Y+under) || !about(of.X, p.Margin.X+railWide) {
			t.Errorf("%d lines: the figures begin at %g, want %g", lines, of.Y-p.Margin.Y, under)
		}
	}
}

// Of long texts two lines stand of what was tested, four of a verdict or a figure, three of
// the foot; names are cut before what stands beside them.
func TestLongTextsOfATest(t *testing.T) {
	long := func(word string) string { return strings.TrimSpace(strings.Repeat(word+" ", 400)) }
	s := &Tested{Who: strings.Repeat("m", 90), Heading: long("tested"), Verdict: long("verdict"), Foot: long("foot"),
		Sections: []hindsight.Section{{Name: strings.Repeat("i", 90), Of: long("moves"), Lines: []string{long("figures")}}}}
	l := &testedLayout{f: testFaces(t), w: 540, t: s}
	stands := func(name string, b sheet.Block, lines int, w float64) {
		t.Helper()
		runs := runsOf(b.Items, func(r sheet.Run) bool { return r.W <= w && r.W > w-60 })
		if len(b.Items) != lines || len(runs) != lines || !strings.HasSuffix(runs[lines-1], "…") {
			t.Errorf("%s: %d items, %d of them %g wide: %q", name, len(b.Items), len(runs), w, runs)
		}
	}
	head := l.head()
	kind := head.Items[2].(sheet.Run)
	if who := head.Items[1].(sheet.Run); who.W > 540-kind.W-gutter || who.W < 540-kind.W-gutter-15 || !about(kind.X+kind.W, 540) {
		t.Errorf("the name is %g wide beside %g", who.W, kind.W)
	}
	stands("what was tested", sheet.Block{Items: head.Items[3:]}, 2, 540)
	if want := 22 + 2*8.5*1.28 + partGap; !about(head.H, want) {
		t.Errorf("the head is %g high, want %g", head.H, want)
	}
	stands("verdict", l.text(s.Verdict, less), 4, 540-railWide)
	stands("foot", l.foot(), 3, 540)
	figures := l.figures()
	stands("figures", sheet.Block{Items: figures[0].Items[2:]}, 8, 540-railWide)
	if name := figures[0].Items[1].(sheet.Run); name.W > railWide-4 || name.W < railWide-8 {
		t.Errorf("a part's name is %g wide", name.W)
	}
	if want := ruleGap + 8*8.5*1.28 + partGap; len(figures) != 1 || !about(figures[0].H, want) {
		t.Errorf("the figures are %g high, want %g", figures[0].H, want)
	}
}
