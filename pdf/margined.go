package pdf

import (
	"fmt"
	"slices"

	"foreply/compare/fact"
	"foreply/compare/words"
	"foreply/pdf/sheet"
)

// Measures of the page with a margin, in points but for the share.
const (
	marginShare  = 0.325 // of the width
	marginGutter = 4.5 * sheet.MM
	marginFrom   = 500.0 // width of the page
	body         = 8.5
	lineMoves    = 9.5
	discSize     = 7.5
	tickSize     = 2.7 * sheet.MM
	sectionAir   = 4.5
)

// margined says whether the page is the lines to expect beside a margin.
func (l *layout) margined() bool {
	return l.wide && len(l.rep.Sides) == 1 && l.w >= marginFrom && tellBy(&l.rep.Sides[0]) == byForks
}

// bodyStyle is how sentences look beside the lines and in the margin.
func bodyStyle() sheet.Style {
	return sheet.Style{
		Usual: sheet.Ink{Size: body}, Strong: sheet.Ink{Size: body, Bold: true}, Noted: sheet.Ink{Size: body, Slant: true},
		Faint: sheet.Ink{Size: body}, OnDisc: sheet.Ink{Size: discSize, Bold: true, Shape: sheet.Disc},
		ToTick: sheet.Ink{Size: tickSize, Shape: sheet.Tick},
	}
}

// treeForm is how the lines to expect are drawn in a width.
func treeForm(w float64) sheet.TreeForm {
	return sheet.TreeForm{
		W: w, Step: 3.2 * sheet.MM, LeastStep: 1.5 * sheet.MM, MostTree: 44 * sheet.MM, LeastTree: 27 * sheet.MM,
		Box: 19 * sheet.MM, Pitch: 4.35 * sheet.MM, MostPitch: 5.2 * sheet.MM, EmptyMore: 1.5 * sheet.MM, Leading: 3.55 * sheet.MM,
		Lines: 4, Label: sheet.Ink{Size: lineMoves, Bold: true}, Style: bodyStyle(), Thick: 4.6, LeastRows: 6,
	}
}

// leftColumn is where tonight and the lines to expect stand.
func (l *layout) leftColumn() *column {
	return &column{Column: l.strip(l.w*(1-marginShare)-marginGutter, true), l: l, side: &l.rep.Sides[0]}
}

// beside sets one colour as lines to expect with a margin: tonight and the tree on the
// left, what to do about it on the right; what the margin doesn't hold stands under the
// tree. A number that the tree refers to has its note: else there are fewer of them.
func (l *layout) beside(h float64) sheet.Block {
	for most := mostNotes; ; most-- {
		b := l.besideWith(h, most)
		if most == 0 || !slices.ContainsFunc(b.Lost, func(o sheet.Loss) bool { return o.Title == plansTitle }) {
			return b
		}
	}
}

// besideWith is beside with so many notes at most.
func (l *layout) besideWith(h float64, most int) sheet.Block {
	left := l.leftColumn()
	marginW := l.w - left.W - marginGutter
	var b sheet.Block
	tonight := left.tonight().At(h)
	b.Put(tonight, 0, 0)
	y := tonight.H + sectionAir
	b.Add(sheet.Line{Y1: y, X2: left.W, Y2: y, Width: 0.6})
	y += sectionAir
	tree, notes := l.tree(left.side, left.W, h-y, most)
	b.Put(tree, 0, y)
	b.Lost = append(tonight.Lost, tree.Lost...)
	y += tree.H + sectionGap

	margin := &sheet.Column{F: l.f, W: marginW, Narrow: true, Framed: true, Note: body, Small: small, Fewest: 3}
	under := &sheet.Column{F: l.f, W: left.W, Narrow: true, Framed: true, Note: body, Small: small, Fewest: 2}
	packed, lost := sheet.Pack([]sheet.Room{{Column: margin, H: h}, {Column: under, H: max(0, h-y)}}, l.margin(left.side, notes), sectionAir)
	for i, at := range [][2]float64{{left.W + marginGutter, 0}, {0, y}} {
		b.Put(packed[i].Block, at[0], at[1])
		b.Lost = append(b.Lost, packed[i].Lost...)
	}
	b.Lost = append(b.Lost, lost...)
	b.H = h
	return b
}

// tree sets the lines to expect under their head, and gives the notes that the margin is to
// print, so many at most.
func (l *layout) tree(side *fact.Side, w, h float64, most int) (sheet.Block, []planned) {
	t := newTreeRows(side)
	form := treeForm(w)
	head := l.treeHead(w)
	for n, a := range t.at { // as if each had a number: it takes the most room
		if a.fork >= 0 && most > 0 && t.branch(a).Note != "" {
			t.notes[n] = mostNotes
		}
	}
	form.Keep = l.f.TreeStands(t.rows, form, h-head.H)
	clear(t.notes)
	var notes []planned
	for _, n := range t.number(form.Keep, most) {
		notes = append(notes, planned{t.notes[n], t.rows[n].Label, t.branch(t.at[n]).Note})
	}
	b := l.f.Tree(t.rows, form).At(h - head.H)
	for i := range b.Lost {
		b.Lost[i].Title = "lines"
	}
	all := sheet.Block{H: head.H + b.H, Lost: b.Lost}
	all.Put(head, 0, 0)
	all.Put(b, 0, head.H)
	return all, notes
}

// treeHead names the lines and their columns.
func (l *layout) treeHead(w float64) sheet.Block {
	base := body
	b := sheet.Block{H: body * 1.3}
	b.Add(l.f.Label("lines to expect", 0, base, w/2, sheet.Ink{Size: body, Bold: true}))
	says := l.f.Label("your answer · how often · how it goes on", 0, base, w*0.6, sheet.Ink{Size: body})
	b.Add(sheet.Right(says, w))
	return b
}

const plansTitle = "your plans"

// planned is a note of the user's that the lines refer to by its number.
type planned struct {
	number int
	after  string
	text   string
}

// margin are the sections beside the lines, in the order in which they find room.
func (l *layout) margin(side *fact.Side, notes []planned) []sheet.Section {
	at := func(rank int, part func(c *column) sheet.Part) sheet.Section {
		return sheet.Section{Rank: rank, In: func(in *sheet.Column) sheet.Part {
			p := part(&column{Column: *in, l: l, side: side})
			p.Rank, p.Light, p.InText = rank, false, false
			return p
		}}
	}
	list := []func(c *column) sheet.Part{
		(*column).boards, (*column).gaps, (*column).met, func(c *column) sheet.Part { return c.plans(notes) }, (*column).traps, (*column).mistakes,
		(*column).orders, (*column).surprise, (*column).options, (*column).changes, (*column).about, (*column).know, (*column).far,
		func(c *column) sheet.Part { return c.Ruled(writing, 0, 7*sheet.MM, 11*sheet.MM) },
	}
	var sections []sheet.Section
	for rank, part := range list {
		sections = append(sections, at(rank, part))
	}
	return sections
}

// runIn is the reach under which a move without an answer has no row of its own, if it is
// not among the first two.
const runIn = 0.03

// gaps are the moves without an answer, each with its letter and, if it is likely, a
// square to tick. None of them goes: the least likely ones stand in one row.
func (c *column) gaps() sheet.Part {
	p := sheet.Part{Title: "no answer yet", Even: true}
	var small []sheet.Piece
	for i := range c.side.Unanswered {
		u := &c.side.Unanswered[i]
		if len(u.Line) == 0 {
			continue
		}
		if i >= 2 && u.Reach < runIn {
			if len(small) > 0 {
				small = append(small, sheet.Piece{S: "; "})
			}
			small = append(append(small, letterPieces(i)...), c.gapLine(u, 2)...)
			continue
		}
		way := slices.Concat([]sheet.Piece{{Look: sheet.ToTick, S: "☐"}, {S: " "}}, letterPieces(i), c.gapLine(u, 4))
		row := c.sentence(p.Title, gapClauses(way, u), 7)
		row.Fewest, row.Weight = 2, u.Reach
		p.Rows = append(p.Rows, row)
	}
	if len(small) > 0 {
		const whole = 40 // lines: more than they need
		row := c.sentence(p.Title, [][]sheet.Piece{small}, whole)
		row.Fewest = whole
		p.Rows = append(p.Rows, row)
	}
	p.Short = len(p.Rows)
	return p
}

// sentence is a row of clauses a little apart from the next.
func (c *column) sentence(title string, clauses [][]sheet.Piece, most int) sheet.Row {
	row := c.Sentence(title, clauses, bodyStyle(), most)
	row.Fewest = c.Fewest
	set := row.Set
	row.Set = func(lines int) sheet.Block {
		b := set(lines)
		b.H += 0.55 * sheet.MM
		return b
	}
	return row
}

func letterPieces(i int) []sheet.Piece {
	return []sheet.Piece{{Look: sheet.OnDisc, S: key(i)}, {S: " "}}
}

// gapLine is the end of the line to a move without an answer, and how often it comes.
func (c *column) gapLine(u *fact.Unanswered, most int) []sheet.Piece {
	from := max(0, len(u.Line)-most)
	var list []sheet.Piece
	for ply := from; ply < len(u.Line); ply++ {
		m := sheet.Piece{S: figurine(u.Line[ply]), First: numbered(u.Line[ply], ply)}
		if ply == from || ply%2 == 0 {
			m.S, m.First = m.First, ""
		}
		if ply == len(u.Line)-1 {
			m.Look = sheet.Strong
		}
		list = append(list, m, sheet.Piece{S: " "})
	}
	if c.side.Counted() {
		return append(list, sheet.Piece{S: words.Seen(u).Text})
	}
	return append(list, sheet.Piece{S: words.InN(u.Reach), Whole: true})
}

// gapClauses are what is known of a move without an answer, most wanted first: the way
// back, how it was met, what it rests on, the set-up.
func gapClauses(way []sheet.Piece, u *fact.Unanswered) [][]sheet.Piece {
	list := [][]sheet.Piece{way}
	for _, c := range []words.Clause{slices.Concat(words.Met(u.Others, len(u.Line))...), slices.Concat(words.PeersMet(u)...), {words.Seen(u)}, words.SetUp(u)} {
		if len(c) > 0 {
			list = append(list, append([]sheet.Piece{{S: "; "}}, clausePieces(c)...))
		}
	}
	return list
}

// met are the games between the two, the user's result first.
func (c *column) met() sheet.Part {
	p := sheet.Part{Title: "between you"}
	for i := range c.l.rep.Basis.Meetings {
		g := &c.l.rep.Basis.Meetings[i]
		if g.Theirs == c.side.MyColor {
			continue
		}
		head := []sheet.Piece{{Look: sheet.Strong, S: words.YourScore(g)}, {S: " " + day(g.Date) + ":"}}
		end := max(0, len(g.Moves)-6)
		for ply := end; ply < len(g.Moves); ply++ {
			m := figurine(g.Moves[ply])
			if ply == end || ply%2 == 0 {
				m = numbered(g.Moves[ply], ply)
			}
			head = append(head, sheet.Piece{S: " " + m})
		}
		clauses := [][]sheet.Piece{head}
		if left := words.HowLeft(g).String(); left != "" {
			clauses = append(clauses, []sheet.Piece{{S: " – " + figurines(left)}})
		}
		p.Rows = append(p.Rows, c.sentence(p.Title, clauses, 4))
	}
	return p
}

// plans are the user's own notes that the lines refer to.
func (c *column) plans(notes []planned) sheet.Part {
	p := sheet.Part{Title: plansTitle, Short: len(notes), Even: true}
	for _, n := range notes {
		pieces := []sheet.Piece{{Look: sheet.Strong, S: fmt.Sprint(n.number)}, {S: " after " + n.after + ": "}, {Look: sheet.Noted, S: n.text}}
		p.Rows = append(p.Rows, c.sentence(p.Title, [][]sheet.Piece{pieces}, 7))
	}
	return p
}

// far is how far the book goes on these lines, and how far it went.
func (c *column) far() sheet.Part {
	var list [][]sheet.Word
	for _, s := range []string{coverage(c.side), leftWords(&c.side.Left)} {
		if s != "" {
			list = append(list, say(c.F, s, sheet.Ink{Size: body}))
		}
	}
	return c.Texts(sheet.Part{Title: "how far your book goes"}, 4, list)
}
