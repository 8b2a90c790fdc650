package pdf

import (
	"slices"

	"foreply/compare"
)

// Columns of a branch, in points from its left edge; the answer's from its
// right one.
const (
	moveCol   = 66.0
	freqCol   = 92.0
	countCol  = 46.0
	answerCol = 64.0
	colGap    = 8.0
)

// besideCol is the width for what follows a move and for its note.
func (t *tree) besideCol() float64 {
	w := t.c.inner() - t.indent()
	if t.c.narrow {
		return w - countCol
	}
	return w - moveCol - freqCol - countCol - answerCol - 2*colGap
}

// branchRow draws one move of theirs.
func (t *tree) branchRow(fk compare.Fork, br compare.Branch, keys map[int]string, tell int) block {
	f := t.c.l.f
	w := t.c.inner() - t.indent()
	base := move*leading - 4
	ply := len(fk.Stem)
	var b block
	mv := f.moves([]string{br.Move}, ply, ink{move, true, black})
	b.add(f.label(mv[0].s, 0, base, moveCol-4, ink{move, true, black}))
	b.add(f.label(compare.InTen(br.Share), moveCol, base, freqCol-4, ink{note, false, black}))
	t.answer(&b, br, ply+1, w)
	b.h = move*leading + 2.5
	if t.c.narrow {
		return t.under(b, br, ply, keys, tell)
	}
	x := moveCol + freqCol
	count := f.label(counts(br.Share), 0, base, countCol, ink{note, false, middle})
	b.add(right(count, x+countCol))
	x += countCol + colGap
	h := 0.0
	if s := since(br); s != "" && tell > oneLine {
		b.add(f.label(s, moveCol, base+note*leading, freqCol+countCol, ink{note, false, middle}))
		h = note * leading
	}
	lines := t.after(br, ply, keys, nil, t.besideCol(), linesOf(tell))
	for i, l := range lines {
		b.put(block{items: l.at(0)}, x, base+float64(i)*note*leading)
		h = max(h, float64(i)*note*leading)
	}
	b.h += h
	return b
}

// under sets below the move, in a narrow column, what stands beside it in a
// wide one.
func (t *tree) under(b block, br compare.Branch, ply int, keys map[int]string, tell int) block {
	f := t.c.l.f
	words := f.own(counts(br.Share), ink{note, false, middle})
	if s := since(br); s != "" && tell > oneLine {
		words[len(words)-1].s += ","
		words = append(words, f.own(s, ink{note, false, middle})...)
	}
	p := set(t.after(br, ply, keys, words, t.c.inner()-t.indent(), linesOf(tell)))
	b.put(p, 0, b.h-1)
	b.h += p.h + 1
	return b
}

// answer boxes what the book has; the box stays empty where it has nothing.
func (t *tree) answer(b *block, br compare.Branch, ply int, w float64) {
	f := t.c.l.f
	box := Rect{Box: Box{w - answerCol, 0, answerCol, move*leading + 0.5}, Width: 0.5, Stroke: black}
	if br.State == compare.NoAnswer {
		box.Width = 1.2
	}
	b.add(box)
	if br.Answer == "" {
		return
	}
	k := ink{move, true, black}
	s := f.moves([]string{br.Answer}, ply, k)[0].s
	b.add(f.label(s, w-answerCol+5, move*leading-3.8, answerCol-8, k))
}

// after sets, behind the words before, how it goes on and the note. Where not
// both fit the note stands alone: it is the user's own, the moves are in the
// book anyway.
func (t *tree) after(br compare.Branch, ply int, keys map[int]string, before []word, w float64, most int) []line {
	f := t.c.l.f
	if k := keys[br.Next]; k != "" {
		before = append(before, f.own("→ "+k, ink{note, true, black})...)
	}
	moves, own := t.parts(br, ply, keys)
	lines, whole := f.breakLines(slices.Concat(before, moves, own), w, most)
	if !whole && len(own) > 0 {
		lines, _ = f.breakLines(slices.Concat(before, own), w, most)
	}
	return lines
}

// parts are how it goes on, unless another fork tells that, or where it ends;
// and the note.
func (t *tree) parts(br compare.Branch, ply int, keys map[int]string) (moves, own []word) {
	f := t.c.l.f
	if keys[br.Next] == "" {
		moves = f.moves(br.Then, ply+2, ink{move, false, dark})
	}
	moves = append(moves, f.own(ending(br), ink{note, false, dark})...)
	return moves, f.own(br.Note, ink{note, false, black})
}
