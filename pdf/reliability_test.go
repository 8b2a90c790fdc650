package pdf

import (
	"bytes"
	"errors"
	"fmt"
	"math/rand/v2"
	"slices"
	"strconv"
	"strings"
	"testing"

	"github.com/pdfcpu/pdfcpu/pkg/pdfcpu/model"

	"foreply/fetch/pgn"
	"foreply/pdf/sheet"
	"foreply/profile/hindsight"
	"foreply/profile/stat"
)

// bin has the range that hindsight gives it.
func bin(p, observed float64, n int) hindsight.Bin {
	lo, hi := stat.Wilson(observed*float64(n), float64(n), 0.95)
	return hindsight.Bin{P: p, Observed: observed, Lo: lo, Hi: hi, N: n}
}

func testedSamples() map[string]*Tested {
	rich := &Tested{
		Who: "Ondřej Dvořák-Ağaoğlu", AsOf: pgn.ParseDate("2026-11-02"),
		Heading: "695 moves of theirs in 195 past games, each forecast from earlier games alone",
		Verdict: "For this opponent the shares can be taken as printed: they were off by about 3 in 100 on average, and the top guess is right 6 times in 10.",
		Bins: []hindsight.Bin{
			bin(0.02, 0.021, 7380), bin(0.15, 0.16, 396), bin(0.25, 0.28, 316), bin(0.34, 0.36, 203),
			bin(0.44, 0.41, 137), bin(0.55, 0.57, 152), bin(0.65, 0.59, 133), bin(0.75, 0.71, 153),
			bin(0.84, 0.75, 95), bin(0.94, 0.97, 32),
		},
		Sections: []hindsight.Section{
			{Name: "with White", Of: "362 moves in 100 games", Lines: []string{"top guess right in 223 of 362 (6.2 in 10), in the top three 318 (8.8)"}},
			{Name: "both colours", Of: "695 moves in 195 games", Lines: []string{"when it said 5.5 in 10 it came 5.7 in 10 (152 times)", "something new: it said 1.4 in 10, it came 1.1 in 10"}},
		},
		Foot: "Tested are their first 12 moves at most.",
	}
	narrow := *rich
	narrow.Who = strings.Repeat("Donaudampfschifffahrtsgesellschaft ", 9)
	narrow.Bins = []hindsight.Bin{
		bin(0, 0, 1), bin(0.199, 1, 1), bin(0.2, 0.99, 100000), bin(0.399, 0.4, 23456),
		bin(0.4, 0.4, 45678), bin(0.999, 0, 2), bin(1, 1, 123456),
	}
	none := &Tested{Who: "\U0001D50A 日本", Heading: "no past game to test the forecast on", Verdict: "Too few games to test."}
	return map[string]*Tested{"reliability": rich, "reliability-crowded": &narrow, "reliability-none": none}
}

func eachTested(t *testing.T, each func(t *testing.T, name string, s *Tested, opt Options)) {
	samples := testedSamples()
	for _, name := range []string{"reliability", "reliability-crowded", "reliability-none"} {
		for _, paper := range []string{"a4", "letter"} {
			t.Run(name+"-"+paper, func(t *testing.T) { each(t, name+"-"+paper, samples[name], Options{Paper: paper}) })
		}
	}
}

// The drawing list of the plot, as text.
func TestReliabilityDrawingList(t *testing.T) {
	eachTested(t, func(t *testing.T, name string, s *Tested, opt Options) {
		p, err := LayoutTested(s, opt)
		if err != nil {
			t.Fatal(err)
		}
		golden(t, name+".txt", []byte(p.Dump()))
		checkPage(t, p)
	})
}

// The PDF is valid, has one page and the same bytes each time.
func TestReliabilityDocument(t *testing.T) {
	model.ConfigPath = "disable" // pdfcpu keeps no files of its own
	eachTested(t, func(t *testing.T, _ string, s *Tested, opt Options) {
		var first, again bytes.Buffer
		if err := errors.Join(WriteTested(&first, s, opt), WriteTested(&again, s, opt)); err != nil {
			t.Fatal(err)
		}
		ctx := checkDocument(t, first.Bytes(), 1)
		if !bytes.Equal(first.Bytes(), again.Bytes()) {
			t.Error("the same test gives other bytes")
		}
		checkFonts(t, ctx)
		if s.Who == "Ondřej Dvořák-Ağaoğlu" {
			text := contentText(t, ctx)
			for _, want := range []string{s.Who, "the top guess is right", "7380", "said, times in 10"} {
				if !strings.Contains(text, want) {
					t.Errorf("%q does not come back from the PDF", want)
				}
			}
		}
	})
}

// Each dot stands at its place between the axes, its bar reaches over its range,
// and its number stands beside it.
func TestDotsStandWhereTheySay(t *testing.T) {
	s := testedSamples()["reliability"]
	p, err := LayoutTested(s, Options{})
	if err != nil {
		t.Fatal(err)
	}
	var axes, bars []sheet.Line
	var dots []sheet.Dot
	for _, it := range p.Items {
		switch v := it.(type) {
		case sheet.Line:
			switch v.Width {
			case 0.8:
				axes = append(axes, v)
			case 1.2:
				bars = append(bars, v)
			}
		case sheet.Dot:
			dots = append(dots, v)
		}
	}
	if len(dots) != len(s.Bins) || len(bars) != len(s.Bins) || len(axes) != 3 {
		t.Fatalf("%d dots, %d bars, %d axes", len(dots), len(bars), len(axes))
	}
	base, up := axes[1], axes[2]
	x := func(share float64) float64 { return base.X1 + share*(base.X2-base.X1) }
	y := func(share float64) float64 { return up.Y1 + share*(up.Y2-up.Y1) }
	near := func(a, b float64) bool { return a-b < 0.01 && b-a < 0.01 }
	for i, b := range s.Bins {
		if d := dots[i]; !near(d.X, x(b.P)) || !near(d.Y, y(b.Observed)) {
			t.Errorf("dot %d at %s", i, fmt.Sprintf("%.1f %.1f", d.X, d.Y))
		}
		if l := bars[i]; !near(l.X1, x(b.P)) || !near(l.Y1, y(b.Lo)) || !near(l.Y2, y(b.Hi)) {
			t.Errorf("bar %d: %s", i, l.Dump())
		}
		if !slices.ContainsFunc(texts(p), func(r sheet.Run) bool {
			return r.S == strconv.Itoa(b.N) && r.X > dots[i].X-40 && r.X < dots[i].X+10 && r.Y > dots[i].Y-15 && r.Y < dots[i].Y+20
		}) {
			t.Errorf("no %d beside its dot", b.N)
		}
	}
}

// Whatever the bins and the words, nothing overlaps or leaves the margins.
func TestAnyReliability(t *testing.T) {
	m := maker{Rand: rand.New(rand.NewPCG(11, 12))}
	for i := range 150 {
		s := &Tested{Who: m.words(6), Heading: m.words(9), Verdict: m.words(12), Foot: m.words(30), AsOf: m.date()}
		for b := range 10 {
			if m.IntN(4) > 0 {
				s.Bins = append(s.Bins, bin((float64(b)+m.Float64())/10, m.Float64(), 1+m.IntN(1<<m.IntN(20))))
			}
		}
		m.several(3, func() {
			line := []string{}
			m.several(5, func() { line = append(line, m.words(8)) })
			s.Sections = append(s.Sections, hindsight.Section{Name: m.words(2), Of: m.words(4), Lines: line})
		})
		t.Run(fmt.Sprint(i), func(t *testing.T) {
			p, err := LayoutTested(s, Options{Paper: []string{"a4", "letter"}[i%2]})
			if err != nil {
				t.Fatal(err)
			}
			checkPage(t, p)
			if i%10 == 0 {
				var b bytes.Buffer
				if err := WriteTested(&b, s, Options{}); err != nil {
					t.Fatal(err)
				}
				checkDocument(t, b.Bytes(), 1)
			}
		})
	}
}

func TestReliabilityErrors(t *testing.T) {
	s := testedSamples()["reliability-none"]
	if err := WriteTested(&bytes.Buffer{}, s, Options{Paper: "a3"}); !errors.Is(err, ErrPaper) || !strings.HasPrefix(err.Error(), "laying out the page: ") {
		t.Errorf("paper a3: %v", err)
	}
	if err := WriteTested(fullDisk{}, s, Options{}); !errors.Is(err, errFull) || !strings.HasPrefix(err.Error(), "writing the page: ") {
		t.Errorf("full disk: %v", err)
	}
	var doc bytes.Buffer
	s.AsOf = pgn.ParseDate("2026-03-09")
	if err := WriteTested(&doc, s, Options{}); err != nil || !strings.Contains(doc.String(), "/CreationDate (D:20260309000000)") {
		t.Errorf("the document is of another day, %v", err)
	}
}
