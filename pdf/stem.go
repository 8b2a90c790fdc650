package pdf

import (
	"foreply/compare/fact"
	"foreply/pdf/sheet"
)

// stem is the way to a fork that hangs on no other. Where the section's name
// stands before it, it leaves room for that.
func (t *tree) stem(i int, cols grid, named bool) sheet.Block {
	x := cols.base - 3
	if named {
		x = sheet.BesideTitle
	}
	p := sheet.SetLines(t.way(i, cols.answer-colGap-x))
	b := sheet.Block{H: p.H + 1}
	b.Put(p, x, 0)
	return b
}

// headed is the first stem under the heads of the columns of a wide page; on one
// line with them where it ends before they begin.
func (t *tree) headed(i int, cols grid) sheet.Block {
	var b sheet.Block
	x := cols.base - 3
	if lines := t.way(i, cols.plot-colGap-x); len(lines) == 1 {
		b.Put(sheet.SetLines(lines), x, 0)
		base := sheet.FirstBase(b, small, 0)
		b.Put(t.heads(cols), 0, base-headBase)
		b.H = move*sheet.Leading + 1
		return b
	}
	b.Put(t.heads(cols), 0, 0)
	stem := t.stem(i, cols, false)
	b.Put(stem, 0, headLine)
	b.H = headLine + stem.H
	return b
}

// way is the moves of a stem in lines, with the opening's name where it costs none.
func (t *tree) way(i int, w float64) []sheet.TextLine {
	f, fk := t.c.l.f, t.forks[i]
	words := moveWords(f, fk.Stem, 0, ink(move, false, sheet.Middle))
	if len(fk.Stem) == 0 {
		words = f.Own("from move 1", ink(move, false, sheet.Middle))
	}
	lines, _ := f.Break(words, w, 3)
	if fk.Name != "" {
		name := f.Own(fk.ECO+" "+fk.Name, ink(note, false, sheet.Middle))
		if named, whole := f.Break(append(words, name...), w, len(lines)); whole {
			return named
		}
	}
	return lines
}

// ofTen is over the column of frequencies.
const ofTen = "of ten games"

// heads name the columns of a wide page.
func (t *tree) heads(cols grid) sheet.Block {
	f := t.c.l.f
	grey := ink(small, false, sheet.Middle)
	b := sheet.Block{H: headLine}
	end := f.Label("10", 0, headBase, 12, grey)
	b.Add(
		f.Label("0", cols.plot-2, headBase, 8, grey),
		sheet.Right(end, cols.plot+plotCol+end.W/2),
		f.Label(ofTen, cols.freq, headBase, cols.freqWide, grey),
		sheet.Right(f.Label("played", 0, headBase, answerCol, grey), cols.count),
		f.Label("your answer", cols.answer, headBase, answerCol, grey),
	)
	if cols.after > 0 {
		b.Add(f.Label("then; your note", cols.after, headBase, cols.right-cols.after, grey))
	}
	return b
}

// dotPlot draws a share on a scale of ten games: a dot, hollow for a move that was
// not seen, on the interval that the number beside it names.
func dotPlot(s fact.Share, x, y, w float64) []sheet.Item {
	unit := w / 10
	at := func(ten int) float64 { return x + unit*float64(min(max(ten, 0), 10)) }
	items := []sheet.Item{stroke(x, y, x+w, y, 0.4, sheet.Pale)}
	for _, ten := range []int{0, 5, 10} {
		items = append(items, stroke(at(ten), y-1.6, at(ten), y+1.6, 0.4, sheet.Pale))
	}
	if s.Hardly {
		return items
	}
	if s.TenHi > s.TenLo {
		items = append(items, stroke(at(s.TenLo), y, at(s.TenHi), y, 1.8, sheet.Black))
	}
	items = append(items, sheet.Dot{X: at(s.Ten), Y: y, R: 3.4, Gray: sheet.White}, sheet.Dot{X: at(s.Ten), Y: y, R: 2.7, Gray: sheet.Black})
	if s.Seen == 0 {
		items = append(items, sheet.Dot{X: at(s.Ten), Y: y, R: 1.5, Gray: sheet.White})
	}
	return items
}
