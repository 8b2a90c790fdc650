package sheet

import (
	"slices"
	"strings"
)

// Ink is how a run of text looks.
type Ink struct {
	Size  float64
	Bold  bool
	Gray  Gray
	Slant bool // oblique; it is never bold
	Shape Shape
}

// run is text of the ink.
func (k Ink) run(s string, x, w float64) Run {
	return Run{X: x, W: w, Size: k.Size, Bold: k.Bold, Slant: k.Slant, Gray: k.Gray, Shape: k.Shape, S: s}
}

// Word is what no line breaks inside. At the start of a line it may read
// otherwise: a black move gets its number back.
type Word struct {
	S, First string
	Ink      Ink
	Glued    []Word // what follows without a blank, each in an ink of its own
	Between  bool   // it parts what stands on one line: not said where a line ends
	Ends     bool   // of one between: the line ends there
}

// TextLine is one line of words with the space each takes.
type TextLine struct {
	Items []Run // X from the start of the line, Y zero
	W     float64
	Size  float64 // the largest on it
}

// join adds a text to the line's runs, behind a gap to the last one if it looks the
// same.
func (l *TextLine) join(t Run, gap string) {
	if n := len(l.Items); n > 0 {
		last := &l.Items[n-1]
		if last.Size == t.Size && last.Bold == t.Bold && last.Slant == t.Slant && last.Gray == t.Gray && last.Shape == Letters && t.Shape == Letters {
			last.S += gap + t.S
			last.W = t.X + t.W - last.X
			return
		}
	}
	l.Items = append(l.Items, t)
}

// cut shortens a single word to the width, with an ellipsis.
func cut(fc *Face, s string, size, w float64) string {
	if fc.Width(s, size) <= w {
		return s
	}
	room := w - fc.Width("…", size)
	for i, r := range s {
		if room -= fc.Width(string(r), size); room < 0 {
			return s[:i] + "…"
		}
	}
	return s
}

// At places a line on a baseline.
func (l TextLine) At(base float64) []Item {
	var items []Item
	for _, t := range l.Items {
		items = append(items, t.drawn(t.X, base)...)
	}
	return items
}

// SetLines lays lines under each other.
func SetLines(lines []TextLine) Block {
	var b Block
	for _, l := range lines {
		b.H += l.Size * Leading
		base := b.H - l.Size*UnderBase
		b.Add(l.At(base)...)
	}
	return b
}

// SetApart lays lines under each other, their baselines so far apart.
func SetApart(lines []TextLine, leading float64) Block {
	var b Block
	for _, l := range lines {
		b.H += leading
		b.Add(l.At(b.H - (leading-(Ascent+Descent)*l.Size)/2 - Descent*l.Size)...)
	}
	return b
}

// UnderBase is what a line has under its baseline, as a share of its size.
const UnderBase = (Leading-Ascent-Descent)/2 + Descent

// Leading is the distance of lines as a share of their size.
const Leading = 1.28

// Right moves a text so that it ends at x.
func Right(t Run, x float64) Run {
	t.X = x - t.W
	return t
}

// Own splits text that is printed as it came: names and the user's own notes.
func (f *Faces) Own(s string, k Ink) []Word {
	var words []Word
	for _, w := range strings.Fields(f.face(k).Reduce(s)) {
		words = append(words, Word{S: w, Ink: k})
	}
	return words
}

// Break sets words in lines no wider than w. After max lines (0: any
// number) it ends with an ellipsis; the bool says whether all went in.
func (f *Faces) Break(words []Word, w float64, max int) ([]TextLine, bool) {
	var lines []TextLine
	var cur TextLine
	for i, wd := range words {
		if wd.Between && (len(cur.Items) == 0 || i == len(words)-1) {
			continue
		}
		if !wd.Ends && f.goesOn(cur, words[i:], w) {
			f.append(&cur, wd, w)
			continue
		}
		if max > 0 && len(lines) == max-1 {
			return append(lines, f.ellipsis(cur, w)), false
		}
		lines, cur = append(lines, cur), TextLine{}
		if !wd.Between {
			f.append(&cur, wd, w)
		}
	}
	if len(cur.Items) > 0 {
		lines = append(lines, cur)
	}
	return lines, true
}

// wide is the width of a word with what is glued to it, as it reads at the start of a
// line or in it.
func (f *Faces) wide(wd Word, first bool) float64 {
	s := wd.S
	if first {
		s = wd.opening()
	}
	sum := f.width(s, wd.Ink)
	for _, g := range wd.Glued {
		sum += f.wide(g, first)
	}
	return sum
}

// goesOn says whether the first of the words stands on a line too: what parts others
// only with what it leads to.
func (f *Faces) goesOn(l TextLine, words []Word, w float64) bool {
	if ok := f.fits(l, words[0], w); !ok || !words[0].Between {
		return ok
	}
	l.Items = slices.Clone(l.Items)
	f.append(&l, words[0], w)
	return f.fits(l, words[1], w)
}

// fits says whether a word stands on a line too; the first always does.
func (f *Faces) fits(l TextLine, wd Word, w float64) bool {
	return len(l.Items) == 0 || l.W+f.blank(wd)+f.wide(wd, false) <= w
}

// blank is the gap before a word.
func (f *Faces) blank(wd Word) float64 { return f.face(wd.Ink).Width(" ", wd.Ink.Size) }

// append adds a word to a line, cut if it is the first and must be.
func (f *Faces) append(l *TextLine, wd Word, w float64) {
	opens := len(l.Items) == 0
	if opens {
		wd = wd.opened()
	}
	gap := 0.0
	switch {
	case !opens:
		gap = f.blank(wd)
	case f.wide(wd, true) > w:
		for _, g := range wd.Glued {
			wd.S += g.S
		}
		wd.S, wd.Glued = cut(f.face(wd.Ink), wd.S, wd.Ink.Size, w), nil
	}
	l.add(f, wd, gap, " ")
	for _, g := range wd.Glued {
		l.add(f, g, 0, "")
	}
}

// opened is a word as it reads at the start of a line.
func (w Word) opened() Word {
	out := Word{S: w.opening(), Ink: w.Ink}
	for _, g := range w.Glued {
		out.Glued = append(out.Glued, g.opened())
	}
	return out
}

// add puts a word behind what stands on a line, without what is glued to it.
func (l *TextLine) add(f *Faces, wd Word, gap float64, blank string) {
	width := f.width(wd.S, wd.Ink)
	t := wd.Ink.run(wd.S, l.W+gap, width)
	if t.Shape != Letters {
		t.letter = f.face(wd.Ink).Width(wd.S, wd.Ink.Size)
	}
	l.join(t, blank)
	l.W += gap + width
	l.Size = max(l.Size, wd.Ink.Size)
}

// ellipsis ends a line that the text goes on behind.
func (f *Faces) ellipsis(l TextLine, w float64) TextLine {
	last := &l.Items[len(l.Items)-1]
	if last.Shape != Letters { // nothing can be put behind it
		return l
	}
	fc := f.face(Ink{Bold: last.Bold, Slant: last.Slant})
	room := w - last.X
	if len(l.Items) > 1 && room < fc.Width("…", last.Size) {
		l.Items = l.Items[:len(l.Items)-1]
		return f.ellipsis(l, w)
	}
	s := last.S + " …"
	for fc.Width(s, last.Size) > room {
		i := strings.LastIndexByte(strings.TrimSuffix(s, " …"), ' ')
		if i < 0 {
			s = cut(fc, last.S+"…", last.Size, room)
			break
		}
		s = s[:i] + " …"
	}
	last.S = s
	last.W = fc.Width(s, last.Size)
	l.W = last.X + last.W
	return l
}

// Para is breakLines and set in one.
func (f *Faces) Para(words []Word, w float64, max int) Block {
	lines, _ := f.Break(words, w, max)
	return SetLines(lines)
}

// Label is one line of text, cut to the width.
func (f *Faces) Label(s string, x, base, w float64, k Ink) Run {
	fc := f.face(k)
	s = cut(fc, fc.Reduce(s), k.Size, w)
	t := k.run(s, x, fc.Width(s, k.Size))
	t.Y = base
	return t
}
