package pdf

import (
	"cmp"
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
// margin and under the lines, there in as many columns as leave least out.
func (l *layout) side(s *fact.Side, h float64) (sheet.Block, drawn) {
	best, on := l.sideIn(s, h)
	if l.form.or == 0 || len(best.Lost) == 0 {
		return best, on
	}
	other := *l
	other.form.under = l.form.or
	if b, d := other.sideIn(s, h); sheet.Lost(b.Lost) < sheet.Lost(best.Lost) {
		return b, d
	}
	return best, on
}

// sideIn is a colour in a form. A number that the lines refer to has its note: else there
// are fewer of them.
func (l *layout) sideIn(s *fact.Side, h float64) (sheet.Block, drawn) {
	for most := mostNotes; ; most-- {
		b, d := l.sideWith(s, h, most)
		if most == 0 || !slices.ContainsFunc(b.Lost, func(o sheet.Loss) bool { return o.Title == words.YourPlans }) {
			return b, d
		}
	}
}

// sideWith is sideIn with so many notes at most. Where room is left when all have said what
// they have to say, the lines are followed under their threshold.
func (l *layout) sideWith(s *fact.Side, h float64, most int) (sheet.Block, drawn) {
	top := l.top(s, h)
	lines := l.lines(newTreeRows(s, l.form.narrow), (h-top.H)*l.form.most, most)
	all := l.around(s, top, lines, h)
	if len(lines.Lost) > 0 || len(s.Further) == 0 {
		return all.Block, all.on
	}
	further := l.lines(rowsOf(s, s.Further, l.form.narrow), lines.H+all.spare, most)
	further.Lost, further.on.Shown = nil, lines.on.Shown
	if further.on.Rows <= lines.on.Rows {
		return all.Block, all.on
	}
	if more := l.around(s, top, further, h); sheet.Lost(more.lost) <= sheet.Lost(all.lost) {
		return more.Block, more.on
	}
	return all.Block, all.on
}

// top is what stands over the lines to expect: the colour, tonight, few games whole.
func (l *layout) top(s *fact.Side, h float64) sheet.Block {
	var b sheet.Block
	for _, over := range []sheet.Block{l.colourHead(s), l.tonight(s, h)} {
		b.Put(over, 0, b.H)
		b.H += over.H
	}
	b.H += air / 2
	games := l.fewGames(s, h-b.H)
	b.Put(games, 0, b.H)
	b.H += games.H
	b.Lost = games.Lost
	return b
}

// arranged is a colour as it stands.
type arranged struct {
	sheet.Block
	on    drawn
	lost  []sheet.Loss // of the sections that are no late ones
	spare float64      // height that these leave under the lines
}

// around sets the other sections about the lines.
func (l *layout) around(s *fact.Side, top sheet.Block, lines treeSet, h float64) arranged {
	y := top.H
	var b sheet.Block
	b.Put(top, 0, 0)
	b.Put(lines.Block, 0, y)
	if y += lines.H; lines.H > 0 {
		y += air
	}
	rest := l.beside(s, lines, y, h)
	b.Put(rest.Block, 0, 0)
	b.H = h
	b.Lost = slices.Concat(top.Lost, lines.Lost, rest.Lost)
	rest.Block = b
	rest.on.Shown, rest.on.Rows = lines.on.Shown, lines.on.Rows
	rest.on.Sections = slices.Concat(lines.on.Sections, rest.on.Sections)
	return rest
}

// place is a room for sections with its upper left corner.
type place struct {
	sheet.Room
	x, y  float64
	under bool // the lines, not beside them
}

// places are the margin and the columns under the lines, which end at y.
func (l *layout) places(y, h float64) []place {
	var list []place
	add := func(x, y, w float64, under bool) {
		c := l.columnOf(w)
		list = append(list, place{sheet.Room{Column: &c, H: max(0, h-y)}, x, y, under})
	}
	if l.form.margin > 0 {
		add(l.form.lines+l.form.gap, 0, l.form.margin, false)
	}
	n := float64(l.form.under)
	w := (l.form.lines - gutter*(n-1)) / n
	for i := range l.form.under {
		add(float64(i)*(w+gutter), y, w, true)
	}
	return list
}

// beside sets the sections in their places. Where room is left under the lines, the
// likeliest moves without an answer have cards there: as many as cost no section its place.
func (l *layout) beside(s *fact.Side, lines treeSet, y, h float64) arranged {
	for n := l.cardsIn(s, h-y); ; n-- {
		if n == 1 && len(s.Unanswered) > 1 {
			continue
		}
		var b, cards sheet.Block
		if n > 0 {
			cards = l.cards(s, n)
			b.Put(cards, 0, y)
			b.Lost = append(b.Lost, cards.Lost...)
			cards.H += air
		}
		places := l.places(y+cards.H, h)
		packed, lost := sheet.Pack(roomsOf(places), l.sections(s, l.parts(lines, n)), air)
		if n > 0 && len(lost) > 0 {
			continue
		}
		titles := put(&b, places, packed)
		lost = append(b.Lost, lost...)
		b.Lost = slices.Clone(lost)
		use(places, packed)
		spare := h
		for i := range places {
			if places[i].under {
				spare = min(spare, places[i].H)
			}
		}
		for _, p := range late {
			slices.SortStableFunc(places, func(a, b place) int { return cmp.Compare(b.H*b.Column.W, a.H*a.Column.W) })
			packed, out := sheet.Pack(roomsOf(places), l.sections(s, []part{p}), air)
			titles = append(titles, put(&b, places, packed)...)
			b.Lost = append(b.Lost, out...)
			use(places, packed)
		}
		return arranged{Block: b, on: drawn{fact.Page{Sections: titles}}, lost: lost, spare: spare}
	}
}

// use takes what stands in each place from its room.
func use(places []place, packed []sheet.Packed) {
	for i := range places {
		if used := packed[i].H; used > 0 {
			places[i].y += used + air
			places[i].H = max(0, places[i].H-used-air)
		}
	}
}

func roomsOf(places []place) []sheet.Room {
	rooms := make([]sheet.Room, len(places))
	for i := range places {
		rooms[i] = places[i].Room
	}
	return rooms
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
func (l *layout) parts(lines treeSet, cards int) []part {
	return []part{
		func(c *column) sheet.Part { return c.boards(cards) }, func(c *column) sheet.Part { return c.gaps(cards, lines.letters) }, (*column).met,
		func(c *column) sheet.Part { return c.plans(lines.notes) }, (*column).watch, (*column).orders, func(c *column) sheet.Part { return c.surprise(lines.notes) }, (*column).options,
		(*column).playThrough, (*column).about, (*column).know, (*column).gameBoards,
	}
}

// late are the sections that take what room the others leave when they have said all, each
// in the largest place.
var late = []part{(*column).far, (*column).newest, (*column).write}

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

// treeSet are the lines to expect as they stand, and the notes that a section is to print.
type treeSet struct {
	sheet.Block
	notes   []planned
	letters map[string]bool // of gaps, that rows bear
	on      drawn
}

// lines sets rows under their head, in so much height at most, with so many notes at most.
func (l *layout) lines(t *treeRows, h float64, most int) treeSet {
	if len(t.rows) == 0 {
		return treeSet{}
	}
	form := l.form.tree()
	head := l.treeHead(0)
	if head.H+form.Pitch > h {
		return treeSet{Block: sheet.Block{Lost: []sheet.Loss{{Title: words.LinesToExpect}}}}
	}
	form.Keep = l.standing(t, h-head.H, most)
	set := treeSet{on: ofTree(t, form.Keep), letters: map[string]bool{}}
	for n, a := range t.at {
		if a.parting < 0 || !form.Keep[n] {
			continue
		}
		if letter, open := t.letterOf(a); open {
			set.letters[letter] = true
		}
	}
	for _, n := range t.number(form.Keep, most) {
		set.notes = append(set.notes, planned{t.notes[n], t.endOf(n), t.branch(t.at[n]).Note})
	}
	head = l.treeHead(l.f.TreeBoxes(t.rows, form))
	rows := l.f.Tree(t.rows, form).At(h - head.H)
	for i := range rows.Lost {
		rows.Lost[i].Title = words.MoreLines
		if rows.Lost[i].Clauses > 0 {
			rows.Lost[i].Title = words.LinesToExpect
		}
	}
	set.H, set.Lost = head.H+rows.H, rows.Lost
	set.Put(head, 0, 0)
	set.Put(rows, 0, head.H)
	return set
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
