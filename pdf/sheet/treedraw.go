package sheet

// draw sets the rows that stand, with what the height leaves over between them.
func (t *tree) draw(h float64) Block {
	var b Block
	pitch := t.form.Pitch
	if spare := h - t.height(); spare > 0 && t.count > 0 {
		pitch = min(max(t.form.MostPitch, pitch), pitch+spare/float64(t.count))
	}
	middle := make([]float64, len(t.rows)) // of each row's label
	step, box := t.step(), t.treeWidth()
	clauses := 0
	for i := range t.rows {
		if !t.stands[i] {
			continue
		}
		lines, lost := t.lines(i)
		clauses += lost
		base := b.H + pitch/2 + capital*t.form.Label.Size/2
		middle[i] = b.H + pitch/2
		t.label(&b, i, step, box, base)
		if !t.rows[i].Bare {
			t.box(&b, i, box, base, pitch)
		}
		for n, l := range lines {
			b.Add(moveAll(l.At(base+float64(n)*t.form.Leading), box+t.form.Box+treeGap, 0)...)
		}
		b.H += t.heightOf(i, len(lines), pitch)
	}
	b.Items = append(t.branches(middle, step), b.Items...)
	b.Lost = t.lost()
	if clauses > 0 {
		b.Lost = append(b.Lost, Loss{Clauses: clauses})
	}
	return b
}

func moveAll(items []Item, dx, dy float64) []Item {
	for i := range items {
		items[i] = items[i].Moved(dx, dy)
	}
	return items
}

// label puts a row's label, and a leader to the box where that is far.
func (t *tree) label(b *Block, i int, step, box, base float64) {
	x := t.labelAt(i, step)
	k := t.form.Label
	if t.rows[i].Weight == 0 {
		k = t.form.Style.Usual
	}
	label := t.f.Label(t.rows[i].Label, x, base, max(box-x-1, 1), k)
	b.Add(label)
	from := label.X + label.W
	if box-from > leaderFrom && t.rows[i].Weight > 0 {
		b.Add(Line{X1: from + 2, Y1: base, X2: box - 2, Y2: base, Width: 0.5, Dotted: true})
	}
}

// box puts a row's box; those of rows that follow each other share an edge.
func (t *tree) box(b *Block, i int, x, base, pitch float64) {
	r := t.rows[i]
	at := Rect{Box: Box{x, b.H, t.form.Box, pitch}, Width: thinBox}
	if r.Empty {
		at.H += t.form.EmptyMore
		at.Width = thickBox
	}
	b.Add(at)
	if r.Box != "" {
		b.Add(t.f.Label(r.Box, x+boxPad, base, t.form.Box-2*boxPad, t.form.Label))
	}
}

// thickness is that of a line of a weight.
func (t *tree) thickness(weight float64) float64 { return max(thinnest, t.form.Thick*min(1, weight)) }

// branches are the lines: a spine for each row that others hang on, at every height as thick
// as what branches off below it, and a tine for each row, as thick as its weight.
func (t *tree) branches(middle []float64, step float64) []Item {
	var list []Item
	for up, sisters := range t.children {
		below := 0.0
		var shown []int
		for _, s := range sisters {
			if t.stands[s] && (t.rows[s].Weight > 0 || t.depth[s] > 0) {
				shown = append(shown, s)
				below += t.rows[s].Weight
			}
		}
		from := 0.0
		if up < len(t.rows) {
			from = middle[up] + t.form.Label.Size/2
		} else if len(shown) > 0 {
			from = middle[shown[0]]
		}
		for _, s := range shown {
			x, y, thick := t.spine(s, step), middle[s], t.thickness(below)
			if y > from {
				list = append(list, Line{X1: x, Y1: from, X2: x, Y2: y, Width: thick})
			}
			list = append(list, Line{X1: x - thick/2, Y1: y, X2: x + tineWide, Y2: y, Width: t.thickness(t.rows[s].Weight)})
			from = y
			below -= t.rows[s].Weight
		}
	}
	return list
}
