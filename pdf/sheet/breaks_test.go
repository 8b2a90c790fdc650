package sheet

import (
	"os"
	"path/filepath"
	"reflect"
	"slices"
	"testing"

	"github.com/jung-kurt/gofpdf"
)

// texts are what lines read.
func texts(f *Faces, lines []TextLine) []string {
	var list []string
	for _, l := range lines {
		list = append(list, lineText(f, l))
	}
	return list
}

// A line is as wide as what stands on it, to the point; a separator that ends a line leaves
// none on the next, and stands only with what it leads to.
func TestWhereLinesBreak(t *testing.T) {
	f := testFaces(t)
	k := Ink{Size: 10}
	wide := func(s string) float64 { return f.Regular.Width(s, 10) }
	ends := []Piece{usual("one"), {S: " · ", Ends: true}, usual("two three"), usual(" · "), usual("four")}
	for _, c := range []struct {
		w      float64
		max    int
		pieces []Piece
		lines  []string
		whole  bool
	}{
		{wide("one two"), 0, []Piece{usual("one two three")}, []string{"one two", "three"}, true},
		{wide("one two") - 0.1, 0, []Piece{usual("one two three")}, []string{"one", "two", "three"}, true},
		{500, 0, ends, []string{"one", "two three · four"}, true},
		{wide("two three · four"), 0, ends, []string{"one", "two three · four"}, true},
		{wide("two three · four") - 0.1, 0, ends, []string{"one", "two three", "four"}, true},
		{500, 0, []Piece{usual(" · "), usual("one"), usual(" · ")}, []string{"one"}, true},
		{500, 1, ends, []string{"one …"}, false},
		{wide("two three"), 2, ends, []string{"one", "two …"}, false},
		{wide("two three …"), 2, ends, []string{"one", "two three …"}, false},
		{500, 2, ends, []string{"one", "two three · four"}, true},
		{wide("one"), 3, []Piece{usual("one two one")}, []string{"one", "two", "one"}, true},
		{wide("one"), 2, []Piece{usual("one two one")}, []string{"one", "t…"}, false},
		{wide("overlo…"), 0, []Piece{usual("overlongword x")}, []string{"overlo…", "x"}, true},
	} {
		words := f.Spans(c.pieces, Plainly(k))
		lines, whole := f.Break(words, c.w, c.max)
		if got := texts(f, lines); whole != c.whole || !slices.Equal(got, c.lines) {
			t.Errorf("%g wide, %d lines at most: %q, whole %v; want %q", c.w, c.max, got, whole, c.lines)
		}
		for i, l := range lines {
			if got := l.Items[len(l.Items)-1]; l.W > c.w+1e-9 || !near(l.W, got.X+got.W) || l.Size != 10 {
				t.Errorf("line %d is %g wide of %g, %g large", i, l.W, c.w, l.Size)
			}
		}
	}
	if lines, whole := f.Break(nil, 10, 1); len(lines) > 0 || !whole {
		t.Errorf("no word makes %v", lines)
	}
}

// What looks the same stands in one run, what differs in any way in one of its own; each
// where the one before it ends, a blank of its own face between.
func TestRunsOfALine(t *testing.T) {
	f := testFaces(t)
	base := Ink{Size: 10}
	for name, other := range map[string]Ink{
		"larger": {Size: 12}, "bold": {Size: 10, Bold: true}, "oblique": {Size: 10, Slant: true}, "paler": {Size: 10, Gray: Pale}, "on a disc": {Size: 10, Shape: Disc},
	} {
		words := []Word{{S: "a", Ink: base}, {S: "b", Ink: base}, {S: "c", Ink: other, Glued: []Word{{S: "d", Ink: base}}}, {S: "e", Ink: base}}
		lines, _ := f.Break(words, 500, 0)
		run := func(s string, x float64, k Ink) Run {
			r := k.run(s, x, f.width(s, k))
			if k.Shape == Disc {
				r.letter = f.face(k).Width(s, k.Size)
			}
			return r
		}
		at := f.width("a b", base) + f.face(other).Width(" ", other.Size)
		d := at + f.width("c", other)
		want := []Run{run("a b", 0, base), run("c", at, other), run("d e", d, base)}
		got := lines[0].Items
		if len(got) != 3 {
			t.Fatalf("%s: %+v", name, got)
		}
		for i := range want {
			if !near(got[i].X, want[i].X) || !near(got[i].W, want[i].W) || got[i].S != want[i].S || got[i].Bold != want[i].Bold || got[i].Slant != want[i].Slant || got[i].Gray != want[i].Gray || got[i].Size != want[i].Size || got[i].Shape != want[i].Shape || !near(got[i].letter, want[i].letter) {
				t.Errorf("%s: %+v, want %+v", name, got[i], want[i])
			}
		}
		if !near(lines[0].W, d+f.width("d e", base)) || lines[0].Size != max(10, other.Size) {
			t.Errorf("%s: %g wide, %g large", name, lines[0].W, lines[0].Size)
		}
	}
}

// An ellipsis stands behind the last word that leaves it room, or behind what is left of it;
// never on a disc.
func TestEllipsisBehind(t *testing.T) {
	f := testFaces(t)
	k, bold := Ink{Size: 10}, Ink{Size: 10, Bold: true}
	wide := func(s string) float64 { return f.Regular.Width(s, 10) }
	line := func(words ...Word) TextLine { l, _ := f.Break(words, 500, 0); return l[0] }
	for _, c := range []struct {
		line TextLine
		w    float64
		want string
	}{
		{line(Word{S: "one", Ink: k}, Word{S: "two", Ink: k}), wide("one two …"), "one two …"},
		{line(Word{S: "one", Ink: k}, Word{S: "two", Ink: k}), wide("one two …") - 0.1, "one …"},
		{line(Word{S: "one", Ink: k}), wide("one …") - 0.1, "one…"},
		{line(Word{S: "one", Ink: bold}, Word{S: "two", Ink: k}), f.Bold.Width("one", 10) + wide(" …") - 0.1, "one…"},
		{line(Word{S: "A", Ink: Ink{Size: 10, Shape: Disc}}), 15, "A"},
	} {
		l := f.ellipsis(c.line, c.w)
		if got := lineText(f, l); got != c.want || l.W > c.w+1e-9 {
			t.Errorf("%q, %g of %g wide, want %q", got, l.W, c.w, c.want)
		}
	}
	for s, want := range map[string]string{"onetwo": "onetwo", "onetwothree": "onetwo…"} {
		if got := cut(f.Regular, s, 10, wide("onetwo…")); got != want {
			t.Errorf("%s cut: %s", s, got)
		}
	}
	if r := f.Label("Łódź\x07 and more", 5, 9, wide("Łódź…"), bold); r.X != 5 || r.Y != 9 || r.Size != 10 || !r.Bold || r.S == "Łódź and more" || !near(r.W, f.Bold.Width(r.S, 10)) || r.W > wide("Łódź…") {
		t.Errorf("a label: %+v", r)
	}
	if r := f.Label("mmm", 0, 0, wide("mmm"), k); r.S != "mmm" {
		t.Errorf("a label as wide as its room reads %q", r.S)
	}
	if r := Right(Run{X: 3, W: 20}, 100); r.X != 80 {
		t.Errorf("at the right: %+v", r)
	}
}

// Lines of a size have their baselines by it, lines set apart by the leading.
func TestBaselines(t *testing.T) {
	lines := []TextLine{{Items: []Run{{S: "a", Size: 10}}, W: 7, Size: 10}, {Items: []Run{{S: "b", Size: 20}}, W: 9, Size: 20}}
	at := func(b Block) []float64 {
		var list []float64
		for _, it := range b.Items {
			list = append(list, it.(Run).Y)
		}
		return list
	}
	// leading 1.28, of which 0.13 over and under; descent 0.24
	set := SetLines(lines)
	if got := at(set); !near(set.H, 12.8+25.6) || !near(got[0], 12.8-3.7) || !near(got[1], 38.4-7.4) {
		t.Errorf("%g high, baselines %v", set.H, got)
	}
	apart := SetApart(lines, 30)
	if got := at(apart); apart.H != 60 || !near(got[0], 30-9.9-2.4) || !near(got[1], 60-4.8-4.8) {
		t.Errorf("%g high, baselines %v", apart.H, got)
	}
}

// Words that are glued read together at the start of a line, each with its other reading.
func TestOpenings(t *testing.T) {
	f := testFaces(t)
	st := style
	const first = "xxxxxxxxxxxx"
	for want, pieces := range map[string][]Piece{
		"1...c5": {{S: "c5", First: "1...c5"}}, "(1...c5": {usual("("), {S: "c5", First: "1...c5"}}, "1...c5)": {{S: "c5", First: "1...c5"}, usual(")")},
		"1...c52...d5": {{S: "c5", First: "1...c5"}, {S: "d5", First: "2...d5"}}, "1...c5!": {{Look: Strong, S: "c5", First: "1...c5"}, usual("!")},
		"1...c5 d6": {{S: "c5", First: "1...c5 d6", Whole: true}},
	} {
		words := f.Spans(append([]Piece{usual(first + " ")}, pieces...), st)
		broken, _ := f.Break(words, f.width(first, st.Usual)+0.01, 0)
		whole, _ := f.Break(words, 500, 0)
		bare := ""
		for _, p := range pieces {
			bare += p.S
		}
		if got := texts(f, broken); !slices.Equal(got, []string{first, want}) {
			t.Errorf("%q, want %q", got, want)
		}
		if got := texts(f, whole); !slices.Equal(got, []string{first + " " + bare}) {
			t.Errorf("in one line %q, want %q", got, bare)
		}
	}
	if two := f.Spans([]Piece{{S: "c5 d6", First: "1...c5"}}, st); len(two) != 2 || two[0].First != "1...c5" || two[1].First != "" {
		t.Errorf("two words %+v", two)
	}
	k := Ink{Size: 10}
	black := Word{S: "c5", First: "1...c5", Ink: k}
	room := f.width("arather c5", k)
	for w, want := range map[float64][]string{room + 0.01: {"arather c5"}, room - 0.01: {"arather", "1...c5"}} { // as wide as it reads there
		if got, _ := f.Break([]Word{{S: "arather", Ink: k}, black}, w, 0); !slices.Equal(texts(f, got), want) {
			t.Errorf("%g wide: %q, want %q", w, texts(f, got), want)
		}
	}
	for w, want := range map[float64]string{f.width("1...c5", k) + 0.01: "1...c5", f.width("1...c5", k) - 0.01: "1...…"} {
		if got, _ := f.Break([]Word{black}, w, 0); !slices.Equal(texts(f, got), []string{want}) {
			t.Errorf("alone, %g wide: %q, want %q", w, texts(f, got), want)
		}
	}
	glued := []Word{{S: "over", Ink: k, Glued: []Word{{S: "long", Ink: k}, {S: "word", Ink: Ink{Size: 10, Bold: true}}}}}
	if got, _ := f.Break(glued, 500, 0); got[0].Items[0].S != "overlong" || len(got[0].Items) != 2 {
		t.Errorf("glued %+v", got[0].Items)
	}
	if got, _ := f.Break(glued, f.width("overlon…", k)+0.01, 0); !slices.Equal(texts(f, got), []string{"overlon…"}) {
		t.Errorf("cut %q", texts(f, got))
	}
	var own []string
	for _, w := range f.Own("Łódź\x07  q\u0308\u0331", k) {
		own = append(own, w.S)
	}
	if !slices.Equal(own, []string{"Łódź", "q"}) {
		t.Errorf("a name prints as %q", own)
	}
	plain := Plainly(Ink{Size: 7, Bold: true})
	for l := Usual; l <= ToTick; l++ {
		if got := plain.ink(l); got != (Ink{Size: 7, Bold: true}) {
			t.Errorf("look %d: %+v", l, got)
		}
	}
	each := Style{Ink{Size: 1}, Ink{Size: 2}, Ink{Size: 3}, Ink{Size: 4}, Ink{Size: 5}, Ink{Size: 6}}
	for l, size := range map[Look]float64{Usual: 1, Strong: 2, Noted: 3, Faint: 4, OnDisc: 5, ToTick: 6} {
		if got := each.ink(l).Size; got != size {
			t.Errorf("look %d has size %g, want %g", l, got, size)
		}
	}
}

// The widths are those that the PDF library reads from the same font.
func TestWidthsOfTheLibrary(t *testing.T) {
	f := testFaces(t)
	for name, fc := range map[string]*Face{"regular": f.Regular, "bold": f.Bold, "oblique": f.Slanted} {
		file := filepath.Join(t.TempDir(), "font.ttf")
		if err := os.WriteFile(file, fc.ttf, 0o644); err != nil {
			t.Fatal(err)
		}
		rec, err := gofpdf.TtfParse(file)
		if err != nil {
			t.Fatal(err)
		}
		if fc.perEm != float64(rec.UnitsPerEm) {
			t.Errorf("%s: %g units", name, fc.perEm)
		}
		for r, glyph := range rec.Chars {
			if want := float64(rec.Widths[glyph]) * 10 / fc.perEm; glyph != 0 && !near(fc.Width(string(rune(r)), 10), want) {
				t.Fatalf("%s: %c is %g wide, want %g", name, r, fc.Width(string(rune(r)), 10), want)
			}
		}
		for r := range fc.glyphs {
			if rec.Chars[uint16(r)] == 0 {
				t.Fatalf("%s: the library has no %c", name, r)
			}
		}
	}
	if got := [3]*Face{f.face(Ink{}), f.face(Ink{Bold: true}), f.face(Ink{Slant: true})}; got != [3]*Face{f.Regular, f.Bold, f.Slanted} {
		t.Error("an ink has the font of another")
	}
	// A capital H of these fonts stands on the baseline, 1493 of 2048 high (from memory), its
	// stems as far from the left as from the right; the tail of a g hangs under it.
	l, b, r, top := f.Regular.Extent('H', 2048)
	if b != 0 || top != 1493 || l <= 0 || !near(l+r, f.Regular.Width("H", 2048)) {
		t.Errorf("H from %g to %g, %g to %g", l, r, b, top)
	}
	if _, b, _, top := f.Regular.Extent('g', 2048); b >= 0 || top <= 0 || top >= 1493 {
		t.Errorf("g from %g to %g", b, top)
	}
}

// A shape takes its room: a disc a third more than its letter's size, a square its size.
func TestShapesTakeRoom(t *testing.T) {
	f := testFaces(t)
	if d, q := f.width("W", Ink{Size: 10, Shape: Disc}), f.width("☐", Ink{Size: 10, Shape: Tick}); !near(d, 13.2) || q != 10 {
		t.Errorf("disc %g, square %g", d, q)
	}
	disc := Run{W: 13.2, Size: 10, Bold: true, Shape: Disc, Gray: Dark, S: "W", letter: 8}
	want := []Item{Dot{106.6, 50 - 3.65, 6.6, Dark}, Run{X: 102.6, Y: 50, W: 8, Size: 10, Bold: true, Gray: White, S: "W"}}
	sameItems(t, "disc", disc.drawn(100, 50), want)
	tick := Run{W: 10, Size: 10, Shape: Tick, Gray: Pale, S: "☐"}
	sameItems(t, "square", tick.drawn(100, 50), []Item{Rect{Box: Box{100, 40.7, 10, 10}, Width: 0.7, Stroke: Pale}})
	word := Run{W: 10, Size: 10, Gray: Pale, S: "x", Slant: true}
	if got := word.drawn(100, 50); !reflect.DeepEqual(got, []Item{Run{X: 100, Y: 50, W: 10, Size: 10, Gray: Pale, S: "x", Slant: true}}) {
		t.Errorf("%+v", got)
	}
}
