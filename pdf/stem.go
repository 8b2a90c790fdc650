package pdf

import "foreply/compare/fact"

// stem is the way to a fork that hangs on no other. Where the section's name
// stands before it, it leaves room for that.
func (t *tree) stem(i int, cols grid, named bool) block {
	x := cols.base - 3
	if named {
		x = besideName
	}
	p := setLines(t.way(i, cols.answer-colGap-x))
	b := block{h: p.h + 1}
	b.put(p, x, 0)
	return b
}

// headed is the first stem under the heads of the columns of a wide page; on one
// line with them where it ends before they begin.
func (t *tree) headed(i int, cols grid) block {
	var b block
	x := cols.base - 3
	if lines := t.way(i, cols.plot-colGap-x); len(lines) == 1 {
		b.put(setLines(lines), x, 0)
		base := firstBase(b, 0)
		b.put(t.heads(cols), 0, base-headBase)
		b.h = move*leading + 1
		return b
	}
	b.put(t.heads(cols), 0, 0)
	stem := t.stem(i, cols, false)
	b.put(stem, 0, headLine)
	b.h = headLine + stem.h
	return b
}

// way is the moves of a stem in lines, with the opening's name where it costs none.
func (t *tree) way(i int, w float64) []line {
	f, fk := t.c.l.f, t.forks[i]
	words := f.moves(fk.Stem, 0, ink{move, false, middle})
	if len(fk.Stem) == 0 {
		words = f.own("from move 1", ink{move, false, middle})
	}
	lines, _ := f.breakLines(words, w, 3)
	if fk.Name != "" {
		name := f.own(fk.ECO+" "+fk.Name, ink{note, false, middle})
		if named, whole := f.breakLines(append(words, name...), w, len(lines)); whole {
			return named
		}
	}
	return lines
}

// ofTen is over the column of frequencies.
const ofTen = "of ten games"

// heads name the columns of a wide page.
func (t *tree) heads(cols grid) block {
	f := t.c.l.f
	grey := ink{small, false, middle}
	b := block{h: headLine}
	end := f.label("10", 0, headBase, 12, grey)
	b.add(
		f.label("0", cols.plot-2, headBase, 8, grey),
		right(end, cols.plot+plotCol+end.W/2),
		f.label(ofTen, cols.freq, headBase, cols.freqWide, grey),
		right(f.label("played", 0, headBase, answerCol, grey), cols.count),
		f.label("your answer", cols.answer, headBase, answerCol, grey),
	)
	if cols.after > 0 {
		b.add(f.label("then; your note", cols.after, headBase, cols.right-cols.after, grey))
	}
	return b
}

// dotPlot draws a share on a scale of ten games: a dot, hollow for a move that was
// not seen, on the interval that the number beside it names.
func dotPlot(s fact.Share, x, y, w float64) []Item {
	unit := w / 10
	at := func(ten int) float64 { return x + unit*float64(min(max(ten, 0), 10)) }
	items := []Item{Line{x, y, x + w, y, 0.4, pale}}
	for _, ten := range []int{0, 5, 10} {
		items = append(items, Line{at(ten), y - 1.6, at(ten), y + 1.6, 0.4, pale})
	}
	if s.TenHi > s.TenLo {
		items = append(items, Line{at(s.TenLo), y, at(s.TenHi), y, 1.8, black})
	}
	items = append(items, Dot{at(s.Ten), y, 3.4, white}, Dot{at(s.Ten), y, 2.7, black})
	if s.Seen == 0 {
		items = append(items, Dot{at(s.Ten), y, 1.5, white})
	}
	return items
}
