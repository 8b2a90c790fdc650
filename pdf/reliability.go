package pdf

import (
	"fmt"
	"io"
	"strconv"

	"foreply/compare/words"
	"foreply/fetch/pgn"
	"foreply/pdf/sheet"
	"foreply/profile/hindsight"
)

// Tested is what the page of a test in hindsight prints.
type Tested struct {
	Who      string
	Heading  string              // what was tested
	Verdict  string              // how far to trust the forecast
	Bins     []hindsight.Bin     // what was said, what came
	Sections []hindsight.Section // the same in words
	Foot     string              // how it was tested
	AsOf     pgn.Date            // day of the newest game, the document's date
}

// WriteTested prints a test in hindsight as a PDF of one page, as Write does a
// Report.
func WriteTested(w io.Writer, t *Tested, opt Options) error {
	page, err := LayoutTested(t, opt)
	if err != nil {
		return fmt.Errorf("laying out the page: %w", err)
	}
	return writePages(w, []*sheet.Page{page}, made(t.AsOf))
}

// LayoutTested sets a test in hindsight on one page: the verdict, the plot of
// what was said against what came, how to read it, and the figures in words.
func LayoutTested(t *Tested, opt Options) (*sheet.Page, error) {
	w, h, err := opt.paper()
	if err != nil {
		return nil, err
	}
	f, err := sheet.LoadFaces()
	if err != nil {
		return nil, err
	}
	p := &sheet.Page{W: w, H: h, Title: words.TestedTitle(sheet.Plain(t.Who))}
	p.Margin = sheet.Box{X: sideMargin, Y: topMargin, W: w - 2*sideMargin, H: h - topMargin - footMargin}
	l := &testedLayout{f: f, w: p.Margin.W, t: t}
	head, foot := l.head(), l.foot()
	verdict := l.text(t.Verdict, less)
	parts := []sheet.Block{l.part(words.TrustIt, verdict, less)}
	figures := l.figures()
	if len(t.Bins) > 0 {
		used := head.H + foot.H + height(parts) + height(figures) + l.caption().H + 4*partGap
		parts = append(parts, l.part(words.SaidCame, l.plot(p.Margin.H-used), body), l.part("", l.caption(), 0))
	}
	var all sheet.Block
	all.Put(head, 0, 0)
	y := head.H
	for _, b := range append(parts, figures...) {
		all.Put(b, 0, y)
		y += b.H
	}
	all.Put(foot, 0, p.Margin.H-foot.H)
	for _, it := range all.Items {
		p.Items = append(p.Items, it.Moved(p.Margin.X, p.Margin.Y))
	}
	return p, nil
}

const (
	railWide = 72.0 // where the names of the parts stand, in points
	partGap  = 9.0  // between parts
	ruleGap  = 5.0  // between a rule and what stands under it
)

const less = 12.5 // size of the verdict's type, in points

func height(parts []sheet.Block) float64 {
	sum := 0.0
	for _, b := range parts {
		sum += b.H
	}
	return sum
}

type testedLayout struct {
	f *sheet.Faces
	w float64
	t *Tested
}

// head is the rule, the name and what was tested.
func (l *testedLayout) head() sheet.Block {
	var b sheet.Block
	b.Add(stroke(0, 0, l.w, 0, 1.6))
	kind := sheet.Right(l.f.Label(words.Tested, 0, 17, l.w/2, ink(colour, true)), l.w)
	b.Add(l.f.Label(l.t.Who, 0, 17, l.w-kind.W-gutter, ink(nameSize, true)), kind)
	about := l.f.Para(l.f.Own(l.t.Heading, ink(body, false)), l.w, 2)
	b.Put(about, 0, 22)
	b.H = 22 + about.H + partGap
	return b
}

func (l *testedLayout) foot() sheet.Block {
	return l.f.Para(l.f.Own(l.t.Foot, ink(footSize, false)), l.w, 3)
}

// part is a section with its name at the left on a baseline, under a rule if it
// has a name.
func (l *testedLayout) part(name string, content sheet.Block, base float64) sheet.Block {
	var b sheet.Block
	top := 0.0
	if name != "" {
		top = ruleGap
		b.Add(stroke(0, 0, l.w, 0, 0.5))
		b.Add(l.f.Label(name, 0, top+base, railWide-4, ink(body, true)))
	}
	b.Put(content, railWide, top)
	b.H = top + content.H + partGap
	return b
}

func (l *testedLayout) text(s string, size float64) sheet.Block {
	return l.f.Para(l.f.Own(s, ink(size, false)), l.w-railWide, 4)
}

// figures are the sections of the test in words.
func (l *testedLayout) figures() []sheet.Block {
	var out []sheet.Block
	for _, s := range l.t.Sections {
		var b sheet.Block
		for _, line := range append([]string{s.Of}, s.Lines...) {
			text := l.text(line, body)
			b.Put(text, 0, b.H)
			b.H += text.H
		}
		out = append(out, l.part(s.Name, b, body))
	}
	return out
}

func (l *testedLayout) caption() sheet.Block {
	return l.text(words.ReadingDots, body)
}

// The plot, in points.
const (
	axisLeft   = 18.0 // numbers of the upright axis
	axisUnder  = 26.0 // numbers and name of the other
	plotTop    = 4.0  // for the half of the number 10
	plotMost   = 400.0
	plotLeast  = 160.0
	tickLength = 3.0
	dotRadius  = 3.0
	labelGap   = 3.0
)

// A plot is a square from 0 to 1 both ways, its upper left corner at
// axisLeft, plotTop.
type plot struct {
	sheet.Block
	f    *sheet.Faces
	side float64
	busy []sheet.Box // where no label may stand
}

// plot draws the bins in the height that is left for it.
func (l *testedLayout) plot(h float64) sheet.Block {
	side := min(plotMost, l.w-railWide-axisLeft-gutter, max(plotLeast, h-axisUnder-plotTop))
	p := &plot{f: l.f, side: side}
	p.H = plotTop + side + axisUnder
	p.ground()
	p.axes()
	for i := range l.t.Bins {
		p.dot(&l.t.Bins[i])
	}
	for i := range l.t.Bins {
		p.label(&l.t.Bins[i])
	}
	return p.Block
}

func (p *plot) x(share float64) float64 { return axisLeft + share*p.side }
func (p *plot) y(share float64) float64 { return plotTop + (1-share)*p.side }

// ground is the band in which a forecast is off by less than 1 in 10, and the
// line of those that are right.
func (p *plot) ground() {
	corner := func(said, came float64) [2]float64 { return [2]float64{p.x(said), p.y(came)} }
	p.Add(sheet.Poly{Points: [][2]float64{
		corner(0, 0), corner(0.1, 0), corner(1, 0.9), corner(1, 1), corner(0.9, 1), corner(0, 0.1),
	}, Gray: 0.92})
	p.Add(stroke(p.x(0), p.y(0), p.x(1), p.y(1), 0.8))
}

func (p *plot) axes() {
	p.Add(stroke(p.x(0), p.y(0), p.x(1), p.y(0), 0.8), stroke(p.x(0), p.y(0), p.x(0), p.y(1), 0.8))
	k := ink(footSize, false)
	for i := 0; i <= 10; i++ {
		at := float64(i) / 10
		p.Add(stroke(p.x(at), p.y(0), p.x(at), p.y(0)+tickLength, 0.6))
		p.Add(stroke(p.x(0)-tickLength, p.y(at), p.x(0), p.y(at), 0.6))
		n := p.f.Label(strconv.Itoa(i), 0, 0, axisLeft, k)
		p.Add(n.Moved(p.x(at)-n.W/2, p.y(0)+tickLength+footSize))
		p.Add(n.Moved(p.x(0)-tickLength-2-n.W, p.y(at)+footSize*0.36))
	}
	name := ink(body, false)
	across := p.f.Label(words.SaidTimes, 0, 0, p.side, name)
	p.Add(across.Moved(p.x(0.5)-across.W/2, p.H-body*sheet.Descent))
	up := p.f.Label(words.CameTimes, p.x(0)+2*labelGap, plotTop+body, p.side, name) // where dots are rare
	p.Add(up)
	p.busy = append(p.busy, up.Bounds())
}

// dot draws a bin with the bar of its range.
func (p *plot) dot(b *hindsight.Bin) {
	bar := stroke(p.x(b.P), p.y(b.Lo), p.x(b.P), p.y(b.Hi), 1.2)
	d := sheet.Dot{X: p.x(b.P), Y: p.y(b.Observed), R: dotRadius, Gray: sheet.Black}
	p.Add(bar, d)
	p.busy = append(p.busy, bar.Bounds(), d.Bounds())
}

// label puts the number of a bin beside its dot: to the right below the line, to
// the left above it, or where there is room. Where there is none it is left out.
func (p *plot) label(b *hindsight.Bin) {
	t := p.f.Label(strconv.Itoa(b.N), 0, 0, p.side, ink(footSize, false))
	x, y := p.x(b.P), p.y(b.Observed)
	onRight, onLeft := x+dotRadius+labelGap, x-dotRadius-labelGap-t.W
	below, level, above := y+footSize, y+footSize*0.36, y-footSize*0.3
	places := [][2]float64{{onRight, below}, {onRight, level}, {onLeft, above}, {onLeft, level}, {onRight, above}, {onLeft, below},
		{onRight, below + footSize}, {onLeft, above - footSize}}
	if b.Observed > b.P {
		places[0], places[2] = places[2], places[0]
	}
	for _, at := range places {
		r := t.Moved(at[0], at[1])
		box := r.Bounds()
		free := box.X >= p.x(0)+1 && box.X+box.W <= p.x(1)+gutter && box.Y+box.H <= p.y(0) && box.Y >= p.y(1)
		for _, taken := range p.busy {
			free = free && !meet(box, taken)
		}
		if free {
			p.Add(r)
			p.busy = append(p.busy, box)
			return
		}
	}
}

func meet(a, b sheet.Box) bool {
	return a.X <= b.X+b.W && b.X <= a.X+a.W && a.Y <= b.Y+b.H && b.Y <= a.Y+a.H
}
