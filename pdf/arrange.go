package pdf

import (
	"slices"

	"foreply/compare/fact"
	"foreply/compare/words"
	"foreply/pdf/sheet"
)

// body is what stands between head and foot.
func (l *layout) body(h float64) (sheet.Block, drawn) {
	var b sheet.Block
	var all drawn
	b.H = h
	for i := range l.rep.Sides {
		at := float64(i) * (l.form.lines + gutter)
		one, d := l.side(&l.rep.Sides[i], h)
		for k := range one.Lost {
			if len(l.rep.Sides) > 1 {
				one.Lost[k].Half = i + 1
			}
		}
		b.Put(one, at, 0)
		b.Lost = append(b.Lost, one.Lost...)
		all.add(d)
		if i > 0 {
			b.Add(stroke(at-gutter/2, 0, at-gutter/2, h, 0.3))
		}
	}
	if len(l.rep.Sides) == 0 {
		return l.without(h)
	}
	return b, all
}

// without is a page for an opponent of whom nothing but facts is known.
func (l *layout) without(h float64) (sheet.Block, drawn) {
	c := &column{Column: l.columnOf(l.w), l: l, side: &fact.Side{}}
	packed, lost := sheet.Pack([]sheet.Room{{Column: &c.Column, H: h}}, l.sections(c.side, []part{(*column).about, (*column).write}), air)
	b := packed[0].Block
	b.Lost = append(b.Lost, lost...)
	return b, drawn{fact.Page{Sections: packed[0].Titles}}
}

// side sets one colour: tonight and the lines to expect, then the other sections in the
// margin and under the lines. A number that the lines refer to has its note: else there
// are fewer of them.
func (l *layout) side(s *fact.Side, h float64) (sheet.Block, drawn) {
	for most := mostNotes; ; most-- {
		b, d := l.sideWith(s, h, most)
		if most == 0 || !slices.ContainsFunc(b.Lost, func(o sheet.Loss) bool { return o.Title == words.YourPlans && o.Clauses == 0 }) {
			return b, d
		}
	}
}

// sideWith is side with so many notes at most.
func (l *layout) sideWith(s *fact.Side, h float64, most int) (sheet.Block, drawn) {
	var b sheet.Block
	head := l.colourHead(s)
	tonight := l.tonight(s, h)
	b.Put(head, 0, 0)
	b.Put(tonight, 0, head.H)
	y := head.H + tonight.H + air/2
	games := l.fewGames(s, h-y)
	b.Put(games, 0, y)
	y += games.H
	tree, notes, on := l.tree(s, (h-y)*l.form.most, most)
	b.Put(tree, 0, y)
	b.Lost = slices.Concat(games.Lost, tree.Lost)
	if y += tree.H; tree.H > 0 {
		y += air
	}
	rest, titles := l.beside(s, notes, y, h)
	b.Put(rest, 0, 0)
	b.Lost = append(b.Lost, rest.Lost...)
	on.Sections = append(on.Sections, titles...)
	b.H = h
	return b, on
}

// place is a room for sections with its upper left corner.
type place struct {
	sheet.Room
	x, y float64
}

// places are the margin and the columns under the lines, which end at y.
func (l *layout) places(y, h float64) []place {
	var list []place
	add := func(x, y, w float64) {
		c := l.columnOf(w)
		list = append(list, place{sheet.Room{Column: &c, H: max(0, h-y)}, x, y})
	}
	if l.form.margin > 0 {
		add(l.form.lines+l.form.gap, 0, l.form.margin)
	}
	n := float64(l.form.under)
	w := (l.form.lines - gutter*(n-1)) / n
	for i := range l.form.under {
		add(float64(i)*(w+gutter), y, w)
	}
	return list
}

// beside sets the sections in their places. Where room is left under the lines, the
// likeliest moves without an answer have cards there: as many as cost no section its place.
func (l *layout) beside(s *fact.Side, notes []planned, y, h float64) (sheet.Block, []string) {
	for n := l.cardsIn(s, h-y); ; n-- {
		var b sheet.Block
		var cards sheet.Block
		if n > 0 {
			cards = l.cards(s, n)
			b.Put(cards, 0, y)
			cards.H += air
		}
		places := l.places(y+cards.H, h)
		rooms := make([]sheet.Room, len(places))
		for i := range places {
			rooms[i] = places[i].Room
		}
		packed, lost := sheet.Pack(rooms, l.sections(s, l.parts(s, notes, n)), air)
		if n > 0 && len(lost) > 0 {
			continue
		}
		titles := put(&b, places, packed)
		for i := range places {
			if used := packed[i].H; used > 0 {
				places[i].y += used + air
				rooms[i].H = max(0, rooms[i].H-used-air)
			}
		}
		b.Lost = append(b.Lost, lost...)
		packed, lost = sheet.Pack(rooms, l.sections(s, late), air)
		titles = append(titles, put(&b, places, packed)...)
		b.Lost = append(b.Lost, lost...)
		return b, titles
	}
}

// put sets what stands in each place, and gives the titles.
func put(b *sheet.Block, places []place, packed []sheet.Packed) []string {
	var titles []string
	for i, p := range packed {
		b.Put(p.Block, places[i].x, places[i].y)
		b.Lost = append(b.Lost, p.Lost...)
		titles = append(titles, p.Titles...)
	}
	return titles
}

// part makes a section in a column.
type part func(c *column) sheet.Part

// parts are the sections beside the lines in the order in which they find room; so many
// moves without an answer have cards.
func (l *layout) parts(s *fact.Side, notes []planned, cards int) []part {
	return []part{
		func(c *column) sheet.Part { return c.boards(cards) }, func(c *column) sheet.Part { return c.gaps(cards) }, (*column).met,
		func(c *column) sheet.Part { return c.plans(notes) }, (*column).watch, (*column).orders, (*column).surprise, (*column).options,
		(*column).playThrough, (*column).about, (*column).know,
	}
}

// late are the sections that take what room the others leave when they have said all.
var late = []part{(*column).newest, (*column).far, (*column).write}

// sections are parts for the packing.
func (l *layout) sections(s *fact.Side, list []part) []sheet.Section {
	var sections []sheet.Section
	for rank, p := range list {
		sections = append(sections, sheet.Section{Rank: rank, In: func(in *sheet.Column) sheet.Part {
			return p(&column{Column: *in, l: l, side: s})
		}})
	}
	return sections
}

// tree sets the lines to expect under their head, in so much height at most, and gives the
// notes that a section is to print, so many at most.
func (l *layout) tree(s *fact.Side, h float64, most int) (sheet.Block, []planned, drawn) {
	t := newTreeRows(s, l.form.narrow)
	if len(t.rows) == 0 {
		return sheet.Block{}, nil, drawn{}
	}
	form := l.form.tree()
	head := l.treeHead(0)
	if head.H+form.Pitch > h {
		return sheet.Block{Lost: []sheet.Loss{{Title: words.LinesToExpect}}}, nil, drawn{}
	}
	form.Keep = l.standing(t, h-head.H, most)
	on := ofTree(t, form.Keep)
	if !slices.Contains(form.Keep, false) && len(s.Further) > 0 { // room for more
		t = rowsOf(s, s.Further, l.form.narrow)
		form.Keep = l.standing(t, h-head.H, most)
		on.Rows = ofTree(t, form.Keep).Rows
	}
	var notes []planned
	for _, n := range t.number(form.Keep, most) {
		notes = append(notes, planned{t.notes[n], t.endOf(n), t.branch(t.at[n]).Note})
	}
	head = l.treeHead(l.f.TreeBoxes(t.rows, form))
	rows := l.f.Tree(t.rows, form)
	set := rows.At(h - head.H)
	for i := range set.Lost {
		set.Lost[i].Title = words.MoreLines
		if set.Lost[i].Clauses > 0 {
			set.Lost[i].Title = words.LinesToExpect
		}
	}
	all := sheet.Block{H: head.H + set.H, Lost: set.Lost}
	all.Put(head, 0, 0)
	all.Put(set, 0, head.H)
	return all, notes, on
}

// standing says which rows of a tree stand in a height, as if each note had a number: it
// takes the most room.
func (l *layout) standing(t *treeRows, h float64, notes int) []bool {
	t.all(notes)
	defer clear(t.notes)
	return l.f.TreeStands(t.rows, l.form.tree(), h)
}

// treeHead names the lines, their boxes and what stands beside them.
func (l *layout) treeHead(box float64) sheet.Block {
	c := l.columnOf(l.form.lines)
	b := c.Frame(sheet.Part{Title: words.LinesToExpect}, sheet.Block{})
	form := l.form.tree()
	base := b.H - body*0.33
	over := l.f.Label(words.YourAnswer, 0, base, 2*form.Box, ink(body, true))
	b.Add(over.Moved(box+(form.Box-over.W)/2, 0))
	text := max(box+form.Box+2*sheet.MM, box+(form.Box+over.W)/2+2)
	b.Add(l.f.Label(words.HowItGoesOn, text, base, l.form.lines-text, ink(body, false)))
	b.H += 0.4 * sheet.MM
	return b
}

// planned is a note of the user's that the lines refer to by its number.
type planned struct {
	number int
	after  []string // the line to where it stands
	text   string
}
