package sheet

// Shape is what a word is drawn as.
type Shape uint8

// The shapes of words.
const (
	Letters Shape = iota // as it reads
	Disc                 // white on a black disc: what ties one place of the page to another
	Tick                 // an empty square to tick; its text is not drawn
)

// Measures of the shapes, as shares of their size but for the stroke, in points.
const (
	discWide   = 1.32 // diameter
	tickStroke = 0.7
	capital    = 0.73 // height of a capital
)

// width is the room that a word's text takes in a line.
func (f *Faces) width(s string, k Ink) float64 {
	switch k.Shape {
	case Disc:
		return discWide * k.Size
	case Tick:
		return k.Size
	}
	return f.face(k).Width(s, k.Size)
}

// drawn is a run of a line as items, its left end and baseline there.
func (t Run) drawn(x, base float64) []Item {
	k := Ink{Size: t.Size, Bold: t.Bold, Slant: t.Slant, Gray: t.Gray}
	switch t.Shape {
	case Disc:
		middle := base - capital*t.Size/2
		letter := k.run(t.S, x+(t.W-t.letter)/2, t.letter)
		letter.Y, letter.Gray = base, White
		return []Item{Dot{x + t.W/2, middle, t.W / 2, t.Gray}, letter}
	case Tick:
		return []Item{Rect{Box: Box{x, base - t.Size + tickStroke, t.Size, t.Size}, Width: tickStroke, Stroke: t.Gray}}
	}
	t.X, t.Y = x, base
	return []Item{t}
}
