package sheet

import (
	"reflect"
	"slices"
	"testing"
)

// block is content of a height that can be told from other content.
func block(h float64) Block { return Block{H: h, Items: []Item{Dot{X: h, R: 1}}} }

// tall is a row whose lines are ten points each.
func tall(fewest, most int, weight float64) Row {
	return Row{Fewest: fewest, Most: most, Weight: weight, Set: func(lines int) Block { return block(float64(10 * lines)) }}
}

// places are where the blocks of rows stand, and how high each is.
func places(b Block) [][2]float64 {
	var list [][2]float64
	for _, it := range b.Items {
		if d, ok := it.(Dot); ok {
			list = append(list, [2]float64{d.Y, d.X})
		}
	}
	return list
}

// A part has its rule over the whole width, its title in bold under it, the first aside that
// fits behind the title, and under both what it says.
func TestFrame(t *testing.T) {
	f := testFaces(t)
	c := &Column{F: f, W: 120, Size: 10, Leading: 12}
	long := "an aside that no column of this width could hold"
	title := f.Bold.Width("a title", 10)
	in := block(7)
	in.Lost = []Loss{{Title: "x", Count: 2}}
	for name, asides := range map[string][]string{"first": {"short", "brief"}, "second": {long, "short", "brief"}, "none": {long}} {
		got := c.Frame(Part{Title: "a title", Asides: asides}, in)
		want := []Item{Line{X2: 120, Width: 0.6}, Run{Y: 10.2, W: title, Size: 10, Bold: true, S: "a title"}}
		if name != "none" { // half a letter behind the title
			want = append(want, Run{X: title + 5, Y: 10.2, W: f.Regular.Width("short", 10), Size: 10, S: "short"})
		}
		want = append(want, Dot{X: 7, Y: 13.5, R: 1}) // 1.5 and a line of 12
		if len(got.Items) != len(want) {
			t.Fatalf("%s aside: %v", name, got.Items)
		}
		for i := range want {
			if !reflect.DeepEqual(round(got.Items[i]), round(want[i])) {
				t.Errorf("%s aside: %s, want %s", name, got.Items[i].Dump(), want[i].Dump())
			}
		}
		if got.H != 20.5 || !slices.Equal(got.Lost, in.Lost) {
			t.Errorf("%s aside: %g high, lost %v", name, got.H, got.Lost)
		}
	}
}

// Rows stand in their fewest lines as far as they fit, then grow, the first one first; those
// that must stand do; the others are counted and weighed.
func TestRowsInAHeight(t *testing.T) {
	c := &Column{F: testFaces(t), W: 120, Size: 10, Leading: 12, Between: 2}
	p := Part{Title: "title", Short: 2, Rows: []Row{tall(0, 3, 1), tall(2, 3, 2), tall(0, 0, 4)}}
	m := c.Measure(p)
	if over := 13.5; m.Least != over+10+2+20 || m.Want != over+30+2+30+2+10 {
		t.Errorf("least %g, want %g", m.Least, m.Want)
	}
	lost := []Loss{{Title: "title", Count: 1, Weight: 4}}
	for _, tc := range []struct {
		h      float64
		places [][2]float64 // from where, how high
		lost   []Loss
	}{
		{0, [][2]float64{{0, 10}, {12, 20}}, lost},
		{41.9, [][2]float64{{0, 10}, {12, 20}}, lost},
		{42, [][2]float64{{0, 20}, {22, 20}}, lost}, {43.9, [][2]float64{{0, 20}, {22, 20}}, lost},
		{44, [][2]float64{{0, 10}, {12, 20}, {34, 10}}, nil}, {53.9, [][2]float64{{0, 10}, {12, 20}, {34, 10}}, nil},
		{54, [][2]float64{{0, 20}, {22, 20}, {44, 10}}, nil}, {64, [][2]float64{{0, 30}, {32, 20}, {54, 10}}, nil},
		{74, [][2]float64{{0, 30}, {32, 30}, {64, 10}}, nil}, {500, [][2]float64{{0, 30}, {32, 30}, {64, 10}}, nil},
	} {
		b := c.fit(p, tc.h)
		if got := places(b); !reflect.DeepEqual(got, tc.places) || !slices.Equal(b.Lost, tc.lost) {
			t.Errorf("height %g: %v %g high, lost %v; want %v", tc.h, got, b.H, b.Lost, tc.places)
		}
		if framed := m.At(tc.h + 13.5); len(framed.Items) != len(b.Items)+2 || framed.H != b.H+13.5 {
			t.Errorf("height %g: with its frame %g high, want %g", tc.h, framed.H, b.H+13.5)
		}
	}
	silent := p
	silent.Silent = true
	if b := c.fit(silent, 0); len(b.Lost) > 0 || silent.losses() != nil {
		t.Errorf("a silent part loses %v", b.Lost)
	}
	if got := p.losses(); !slices.Equal(got, []Loss{{Title: "title"}}) {
		t.Errorf("%v", got)
	}
	p.Out = lost
	if got := p.losses(); !slices.Equal(got, lost) {
		t.Errorf("%v", got)
	}
	p = Part{Title: "title", Rows: []Row{tall(0, 1, 1), tall(4, 4, 2), tall(0, 1, 4)}}
	if b := c.fit(p, 30); !reflect.DeepEqual(places(b), [][2]float64{{0, 10}}) || !slices.Equal(b.Lost, []Loss{{Title: "title", Count: 2, Weight: 6}}) {
		t.Errorf("behind a row that has no room %v, lost %v", places(b), b.Lost)
	}
	for i := range 2 { // what a row leaves out itself
		p.Rows[i].Set = func(int) Block { return Block{H: 10, Lost: []Loss{{Title: "detail", Clauses: i + 1}}} }
	}
	if b := c.fit(p, 99); !slices.Equal(b.Lost, []Loss{{Title: "detail", Clauses: 1}, {Title: "detail", Clauses: 2}}) {
		t.Errorf("of rows that stand is lost %v", b.Lost)
	}
	if row := tall(4, 2, 1); row.fewest() != 2 || row.whole().H != 20 {
		t.Errorf("%d lines at least of two", row.fewest())
	}
	drawn := Part{Least: 5, Want: 6}
	if m := c.Measure(drawn); m.Least != 5 || m.Want != 6 || m.At != nil {
		t.Errorf("a part that draws itself: %+v", m)
	}
}

// A sentence keeps its first clauses in its fewest lines; the others go for want of room, and
// are counted under its title.
func TestSentence(t *testing.T) {
	c := &Column{F: testFaces(t), W: 60, Size: 9, Leading: 11}
	clauses := [][]Piece{{usual("one two three four")}, {usual("; five six seven")}, {usual("; eight")}, {usual("; nine")}}
	lines := func(n int) int {
		words, _ := c.F.Clauses(clauses[:n], style, c.W, 99)
		set, _ := c.F.Break(words, c.W, 99)
		return len(set)
	}
	if lines(1) != 2 || lines(2) != 3 || lines(3) != 3 || lines(4) != 4 {
		t.Fatalf("%d, %d and %d lines", lines(1), lines(2), lines(4))
	}
	for must, want := range map[int]int{0: 1, 1: 2, 2: 3, 9: 4} {
		if row := c.Sentence("title", clauses, style, must, 5); row.Fewest != want || row.Most != 5 {
			t.Errorf("%d clauses must stand: %d to %d lines, want %d", must, row.Fewest, row.Most, want)
		}
	}
	row := c.Sentence("title", clauses, style, 1, 5)
	for n, want := range map[int][]Loss{2: {{Title: "title", Clauses: 3}}, 3: {{Title: "title", Clauses: 1}}, 4: nil} {
		if b := row.Set(n); !slices.Equal(b.Lost, want) || b.H > float64(11*n) {
			t.Errorf("%d lines: %g high, lost %v", n, b.H, b.Lost)
		}
	}
	if row := c.Sentence("title", nil, style, 1, 5); row.Fewest != 1 {
		t.Errorf("nothing to say: %d lines", row.Fewest)
	}
}

// Ruled lines are pale, over the whole width, so far apart from the title on; nothing is lost
// where they find no room.
func TestRuledLines(t *testing.T) {
	c := &Column{F: testFaces(t), W: 120, Size: 10, Leading: 12}
	p := c.Ruled("to write", 20, 30)
	if p.Least != 33.5 || p.losses() != nil || p.Want < 1e4 || c.Ruled("to write", 20, 40).Least != 40 {
		t.Errorf("%+v", p)
	}
	b := p.At(13.5 + 40)
	want := []Item{Line{Y1: 33.5, X2: 120, Y2: 33.5, Width: 0.4, Gray: Pale, ToWrite: true}, Line{Y1: 53.5, X2: 120, Y2: 53.5, Width: 0.4, Gray: Pale, ToWrite: true}}
	if got := b.Items[2:]; !reflect.DeepEqual(got, want) || b.H != 53.5 {
		t.Errorf("%g high: %+v", b.H, got)
	}
}

// Sections stand under each other by rank with air between them, up to twice as much where
// there is room; one that finds none goes, the next goes on to where it fits.
func TestPackPlaces(t *testing.T) {
	c := &Column{F: testFaces(t), W: 120, Size: 10, Leading: 12}
	section := func(rank int, title string, least, want float64) Section {
		return Section{Rank: rank, In: func(*Column) Part {
			return Part{Title: title, Least: least, Want: want, At: func(h float64) Block { return block(min(h, want)) }}
		}}
	}
	list := []Section{section(2, "b", 30, 50), section(1, "a", 20, 40), section(3, "huge", 300, 300), section(4, "nothing", 0, 9), section(5, "c", 10, 10)}
	huge := []Loss{{Title: "huge"}}
	for _, tc := range []struct {
		first, second float64
		titles        [2][]string
		places        [2][][2]float64
		lost          []Loss
	}{
		// least heights 20 + 5 + 30 + 5 + 10; then a grows to 40, b to 50; then the air from 5 to 10
		{70, 0, [2][]string{{"a", "b", "c"}}, [2][][2]float64{{{0, 20}, {25, 30}, {60, 10}}}, huge},
		{85, 0, [2][]string{{"a", "b", "c"}}, [2][][2]float64{{{0, 35}, {40, 30}, {75, 10}}}, huge},
		{100, 0, [2][]string{{"a", "b", "c"}}, [2][][2]float64{{{0, 40}, {45, 40}, {90, 10}}}, huge},
		{116, 0, [2][]string{{"a", "b", "c"}}, [2][][2]float64{{{0, 40}, {48, 50}, {106, 10}}}, huge},
		{299, 0, [2][]string{{"a", "b", "c"}}, [2][][2]float64{{{0, 40}, {50, 50}, {110, 10}}}, huge},
		{69, 12, [2][]string{{"a", "b"}, {"c"}}, [2][][2]float64{{{0, 34}, {39, 30}}, {{0, 10}}}, huge},
		{29, 30, [2][]string{{"a"}, {"b"}}, [2][][2]float64{{{0, 29}}, {{0, 30}}}, []Loss{{Title: "huge"}, {Title: "c"}}},
		{100, 60, [2][]string{{"a", "b", "c"}}, [2][][2]float64{{{0, 40}, {45, 40}, {90, 10}}}, huge}, // none moves where another is lost
		{19, 300, [2][]string{{"c"}, {"a", "b"}}, [2][][2]float64{{{0, 10}}, {{0, 40}, {50, 50}}}, huge},
	} {
		packed, lost := Pack([]Room{{c, tc.first}, {c, tc.second}}, list, 5)
		if !reflect.DeepEqual(lost, tc.lost) {
			t.Errorf("%g and %g: lost %v, want %v", tc.first, tc.second, lost, tc.lost)
		}
		for k, p := range packed {
			if got := places(p.Block); !slices.Equal(p.Titles, tc.titles[k]) || !reflect.DeepEqual(got, tc.places[k]) {
				t.Errorf("%g and %g: room %d has %q at %v, want %q at %v", tc.first, tc.second, k+1, p.Titles, got, tc.titles[k], tc.places[k])
			}
		}
	}
	list = slices.DeleteFunc(list, func(s Section) bool { return s.Rank == 3 })
	for _, tc := range []struct { // where nothing is lost the last ones move, as far as the first room has not what all want
		first, second float64
		titles        [2][]string
		places        [2][][2]float64
	}{
		{100, 60, [2][]string{{"a", "b"}, {"c"}}, [2][][2]float64{{{0, 40}, {50, 50}}, {{0, 10}}}},
		{100, 14, [2][]string{{"a", "b", "c"}}, [2][][2]float64{{{0, 40}, {45, 40}, {90, 10}}}}, // c with its air is 15
		{110, 60, [2][]string{{"a", "b", "c"}}, [2][][2]float64{{{0, 40}, {45, 50}, {100, 10}}}},
		{70, 60, [2][]string{{"a"}, {"b", "c"}}, [2][][2]float64{{{0, 40}}, {{0, 45}, {50, 10}}}},
		{70, 49, [2][]string{{"a", "b"}, {"c"}}, [2][][2]float64{{{0, 35}, {40, 30}}, {{0, 10}}}}, // c and b with their air are 50
	} {
		packed, lost := Pack([]Room{{c, tc.first}, {c, tc.second}}, list, 5)
		for k, p := range packed {
			if got := places(p.Block); !slices.Equal(p.Titles, tc.titles[k]) || !reflect.DeepEqual(got, tc.places[k]) || len(lost) > 0 {
				t.Errorf("%g and %g: room %d has %q at %v, want %q at %v; lost %v", tc.first, tc.second, k+1, p.Titles, got, tc.titles[k], tc.places[k], lost)
			}
		}
	}
	steps := Part{Least: 35, Want: 60, At: func(h float64) Block { return block(float64(int(h/10)) * 10) }} // leaves what makes no whole step
	for spare, want := range map[float64]float64{4: 30, 6: 40, 24: 50, 26: 60} {
		if b := fill([]member{{Part: steps}}, spare, 5); b.H != want {
			t.Errorf("in %g more it is %g high, want %g", spare, b.H, want)
		}
	}
	if n := Lost([]Loss{{Title: "a"}, {Title: "b", Count: 3}, {Title: "c", Clauses: 2}, {Title: "d", Count: 1, Clauses: 4}}); n != 11 {
		t.Errorf("%d lost, want 11", n)
	}
}
