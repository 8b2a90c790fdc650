package pdf

import (
	"foreply/compare/fact"
	"foreply/pdf/sheet"
)

// Sizes of type, in points; nothing on the page is smaller than the foot.
const (
	footSize  = 6.5
	body      = 8.5
	lineMoves = 9.5
	nameSize  = 15.0
	colour    = 12.0
	discSize  = 7.5
)

// Lengths in points.
const (
	tickSize = 2.7 * sheet.MM
	leading  = 3.65 * sheet.MM // of sentences in the margin
	between  = 0.55 * sheet.MM // rows of a section
	air      = 1.6 * sheet.MM  // sections
	gutter   = 6 * sheet.MM    // two colours on a page, or columns under the lines
	apart    = 7 * sheet.MM    // lines to write on
)

// form is how the page is arranged for each colour.
type form struct {
	lines  float64 // width of the column with tonight and the lines to expect
	margin float64 // width of the margin beside it; 0: none
	gap    float64 // between the two
	under  int     // columns under the lines
	or     int     // other columns under them, where less is left out so; 0: none
	most   float64 // share of the height behind tonight that the lines take at most
	narrow bool    // short words, small boxes
	boards int     // beside each other in the first section; 0: no boards
	gaps   int     // moves without an answer that have a row of their own
}

// formOf chooses the form: a margin beside the lines where the paper has the width,
// else the sections under them.
func formOf(rep *fact.Report, opt Options, w float64) form {
	switch {
	case len(rep.Sides) == 2:
		return form{lines: (w - gutter) / 2, under: 1, most: 0.6, narrow: true, boards: 2, gaps: 2}
	case opt.Half:
		return form{lines: w, under: 2, most: 0.64, boards: 0, gaps: 2}
	}
	const marginShare, gap = 60.0 / 186, 5 * sheet.MM
	margin := w * marginShare
	return form{lines: w - margin - gap, margin: margin, gap: gap, under: 1, or: 2, most: 1, boards: 2, gaps: 99}
}

// tree is how the lines to expect are drawn.
func (m form) tree() sheet.TreeForm {
	t := sheet.TreeForm{
		W: m.lines, Step: 3.2 * sheet.MM, LeastStep: 1.5 * sheet.MM, MostTree: 44 * sheet.MM, LeastTree: 27 * sheet.MM,
		Box: 19 * sheet.MM, Pitch: 4.35 * sheet.MM, MostPitch: 5.2 * sheet.MM, EmptyMore: 1.5 * sheet.MM, Leading: 3.55 * sheet.MM,
		Lines: 4, Label: sheet.Ink{Size: lineMoves, Bold: true}, Style: bodyStyle(), Thick: 4.6, Main: m.margin > 0,
	}
	if m.narrow {
		t.MostTree, t.Box, t.Lines = 33*sheet.MM, 17.5*sheet.MM, 3
	}
	return t
}

// bodyStyle is how sentences look beside the lines and in the margin.
func bodyStyle() sheet.Style { return styleOf(body) }

func styleOf(size float64) sheet.Style {
	return sheet.Style{
		Usual: sheet.Ink{Size: size}, Strong: sheet.Ink{Size: size, Bold: true}, Noted: sheet.Ink{Size: size, Slant: true},
		Faint: sheet.Ink{Size: size}, OnDisc: sheet.Ink{Size: discSize, Bold: true, Shape: sheet.Disc},
		ToTick: sheet.Ink{Size: tickSize, Shape: sheet.Tick},
	}
}

// column is where sections of one colour stand in.
type column struct {
	sheet.Column
	l    *layout
	side *fact.Side
}

func (l *layout) columnOf(w float64) sheet.Column {
	return sheet.Column{F: l.f, W: w, Size: body, Leading: leading, Between: between}
}

// ink is how text looks.
func ink(size float64, bold bool) sheet.Ink { return sheet.Ink{Size: size, Bold: bold} }

// stroke is a straight line.
func stroke(x1, y1, x2, y2, width float64) sheet.Line {
	return sheet.Line{X1: x1, Y1: y1, X2: x2, Y2: y2, Width: width}
}
