package pdf

import (
	"fmt"
	"io"

	"foreply/compare/fact"
	"foreply/compare/words"
	"foreply/fetch/pgn"
	"foreply/pdf/sheet"
)

// Field is a document about several players: an entry list, or the candidates for
// one board.
type Field struct {
	Title string
	AsOf  pgn.Date // the document's date; may be unknown
	Rows  []fact.FieldRow
}

// WriteField prints a field as a PDF: a row for each player, on as many pages as they need.
func WriteField(w io.Writer, field Field, opt Options) error {
	return writeField(w, field, opt, (*fieldPages).rows)
}

// WriteCandidates prints the players who may sit at a board: what a sheet says of each with
// both colours, four to a page at most.
func WriteCandidates(w io.Writer, field Field, opt Options) error {
	return writeField(w, field, opt, (*fieldPages).bands)
}

func writeField(w io.Writer, field Field, opt Options, set func(*fieldPages) []sheet.Block) error {
	pages, err := layoutField(field, opt, set)
	if err != nil {
		return fmt.Errorf("laying out %s: %w", field.Title, err)
	}
	doc, err := sheet.Render(pages, made(field.AsOf), words.Language)
	if err != nil {
		return fmt.Errorf("drawing %s: %w", field.Title, err)
	}
	if _, err := w.Write(doc); err != nil {
		return fmt.Errorf("writing %s: %w", field.Title, err)
	}
	return nil
}

// fieldPages sets players between the margins.
type fieldPages struct {
	f     *sheet.Faces
	field Field
	w, h  float64 // of what stands between head and foot
}

// Heights on a page of the field, in points.
const (
	fieldHead = 8.6 * sheet.MM
	fieldFoot = 8 * sheet.MM
	columnsAt = 5.4 * sheet.MM // of the names of the columns
)

func layoutField(field Field, opt Options, set func(*fieldPages) []sheet.Block) ([]*sheet.Page, error) {
	p, err := opt.blank(field.Title)
	if err != nil {
		return nil, err
	}
	f, err := sheet.LoadFaces()
	if err != nil {
		return nil, err
	}
	fp := &fieldPages{f: f, field: field, w: p.Margin.W, h: p.Margin.H - fieldHead - fieldFoot}
	var pages []*sheet.Page
	blocks := set(fp)
	for i, body := range blocks {
		page := *p
		var b sheet.Block
		b.Put(fp.head(i, len(blocks)), 0, 0)
		b.Put(body, 0, fieldHead)
		foot := fp.foot()
		b.Put(foot, 0, p.Margin.H-foot.H)
		page.Foot = p.Margin.Y + p.Margin.H - foot.H
		for _, it := range b.Items {
			page.Items = append(page.Items, it.Moved(p.Margin.X, p.Margin.Y))
		}
		pages = append(pages, &page)
	}
	return pages, nil
}

func (fp *fieldPages) head(page, of int) sheet.Block {
	var b sheet.Block
	b.Add(stroke(0, 0, fp.w, 0, 1.6))
	count := fp.f.Label(words.Players(len(fp.field.Rows), page+1, of), 0, nameBase, fp.w*0.3, ink(lineMoves, false))
	b.Add(fp.f.Label(fp.field.Title, 0, nameBase, fp.w-count.W-gutter, ink(nameSize, true)), sheet.Right(count, fp.w))
	return b
}

func (fp *fieldPages) foot() sheet.Block {
	said := append(fp.f.Own(words.Laws, ink(footSize, true)), fp.f.Own(words.EventRules+" "+words.HowToReadField, ink(footSize, false))...)
	lines, _ := fp.f.Break(said, fp.w, 0)
	return sheet.SetApart(lines, 2.75*sheet.MM)
}

// The columns of a field, in points: the player, and each colour.
const (
	playerWide = 44 * sheet.MM
	boardWide  = 6 * sheet.MM
	rowPad     = 1.4 * sheet.MM
	rowSpread  = 4 * sheet.MM
)

// rows sets a row for each player, page by page.
func (fp *fieldPages) rows() []sheet.Block {
	room := fp.h - columnsAt
	var pages []sheet.Block
	var set []sheet.Block
	used, from := 0.0, 0
	flush := func(to int) {
		var b sheet.Block
		b.Put(fp.columns(), 0, 0)
		y, spread := columnsAt, 0.0
		if len(set) > 0 {
			spread = min(rowSpread, (room-used)/float64(len(set)))
		}
		for i := range set {
			width := 0.3
			if r := from + i; i == 0 || fp.field.Rows[r].Board != fp.field.Rows[r-1].Board {
				width = 1.3
			}
			b.Add(stroke(0, y, fp.w, y, width))
			b.Put(set[i], 0, y)
			y += set[i].H + spread
		}
		b.H = fp.h
		pages, set, used, from = append(pages, b), nil, 0, to
	}
	for i := range fp.field.Rows {
		row := fp.row(i)
		if used+row.H > room && len(set) > 0 {
			flush(i)
		}
		set = append(set, row)
		used += row.H
	}
	flush(len(fp.field.Rows))
	return pages
}

// cellWide is the width of a colour's column, cellAt where the n-th of them begins.
func (fp *fieldPages) cellWide() float64 { return (fp.w - playerWide - 2*gutter/2) / 2 }

func (fp *fieldPages) cellAt(n int) float64 {
	return playerWide + gutter/2 + float64(n)*(fp.cellWide()+gutter/2)
}

// columns names the columns.
func (fp *fieldPages) columns() sheet.Block {
	var b sheet.Block
	const base = 3.4 * sheet.MM
	b.Add(fp.f.Label(words.FieldPlayer, 0, base, playerWide, ink(body, false)))
	for i, color := range []string{"white", "black"} {
		b.Add(colourSquare(color, fp.cellAt(i), base))
		b.Add(fp.f.Label(words.IfYouHave(color), fp.cellAt(i)+squareSize+3, base, fp.cellWide()-squareSize, ink(body, true)))
	}
	b.H = columnsAt
	return b
}

// row is one player: who, and what to know with each colour.
func (fp *fieldPages) row(i int) sheet.Block {
	r := &fp.field.Rows[i]
	var b sheet.Block
	b.Put(fp.player(r), 0, rowPad)
	b.H = 0
	tall := fp.player(r).H
	if r.Report == nil {
		text := fp.text([][]sheet.Piece{{{S: r.Missing}}}, fp.w-fp.cellAt(0), 1)
		b.Put(text, fp.cellAt(0), rowPad)
		tall = max(tall, text.H)
	} else {
		for n := range r.Report.Sides {
			s := &r.Report.Sides[n]
			at := 0
			if s.MyColor == "black" {
				at = 1
			}
			cell := fp.cell(s)
			b.Put(cell, fp.cellAt(at), rowPad)
			tall = max(tall, cell.H)
		}
	}
	b.H = tall + 2*rowPad
	return b
}

// text sets clauses in so many lines at most.
func (fp *fieldPages) text(clauses [][]sheet.Piece, w float64, most int) sheet.Block {
	said, _ := fp.f.Clauses(clauses, bodyStyle(), w, most)
	lines, _ := fp.f.Break(said, w, most)
	return sheet.SetApart(lines, leading)
}

// player is the board, the name with the rating, the games found and a fact.
func (fp *fieldPages) player(r *fact.FieldRow) sheet.Block {
	var b sheet.Block
	x := 0.0
	if r.Board > 0 {
		b.Add(fp.f.Label(words.Numeral(r.Board), 0, leading*0.8, boardWide, ink(colour, true)))
		x = boardWide
	}
	w := playerWide - x
	name := fp.f.Own(r.Name, ink(lineMoves, true))
	if r.Rating > 0 {
		name = append(name, fp.f.Own(words.Numeral(r.Rating), ink(body, false))...)
	}
	lines, _ := fp.f.Break(name, w, 2)
	set := sheet.SetApart(lines, leading*1.08)
	b.Put(set, x, 0)
	b.H = set.H
	if r.Report == nil {
		return b
	}
	clauses := [][]sheet.Piece{{{S: words.Found(r.Games, r.Last)}}}
	if maybe := r.Report.Basis.Maybe; len(maybe) > 0 {
		clauses = append(clauses, append([]sheet.Piece{{S: "; "}}, clausePieces(words.Maybe(maybe, 1))...))
	}
	for i := range r.Report.About {
		a := &r.Report.About[i]
		if said := words.About(a); a.Kind != fact.PlainRecord && len(said) > 0 {
			clauses = append(clauses, append([]sheet.Piece{{S: "; "}}, clausePieces(said[0])...))
			break
		}
	}
	found := fp.text(clauses, w, 4)
	b.Put(found, x, b.H)
	b.H += found.H
	return b
}

// cell is what to know with a colour: their choices, the main line, what has no answer,
// what changed or to watch for.
func (fp *fieldPages) cell(s *fact.Side) sheet.Block {
	var b sheet.Block
	w := fp.cellWide()
	add := func(most int, clauses [][]sheet.Piece) {
		if len(clauses) == 0 {
			return
		}
		text := fp.text(clauses, w, most)
		b.Put(text, 0, b.H)
		b.H += text.H
	}
	add(2, sentencePieces(words.FirstChoices(s)))
	if len(s.Exits) > 0 {
		main := sentencePieces(words.MainLine(s))
		plainly(main[0])
		add(2, main)
	}
	add(2, sentencePieces(words.Gaps(s)))
	switch {
	case len(s.Changes) > 0:
		add(2, sentencePieces(words.ChangedTo(&s.Changes[0])))
	case len(s.Traps) > 0:
		t := &s.Traps[0]
		add(2, append([][]sheet.Piece{append(wayTo(t.Line, 3), append([]sheet.Piece{{S: " "}}, sentencePieces(words.Trap(t))[0]...)...)}, sentencePieces(words.Trap(t))[1:]...))
	}
	return b
}

// bandsOnPage is the most candidates that a page holds.
const bandsOnPage = 4

// bands sets a band for each candidate, both colours beside each other: as many on a page
// as have the room they need.
func (fp *fieldPages) bands() []sheet.Block {
	for n := bandsOnPage; ; n-- {
		var pages []sheet.Block
		fits := true
		for from := 0; from == 0 || from < len(fp.field.Rows); from += n {
			page, ok := fp.bandPage(fp.field.Rows[from:min(len(fp.field.Rows), from+n)])
			pages, fits = append(pages, page), fits && ok
		}
		if fits || n == 1 {
			return pages
		}
	}
}

// bandPage sets bands of one height; those of whom nothing is known have their name alone.
// It says whether all have room.
func (fp *fieldPages) bandPage(rows []fact.FieldRow) (sheet.Block, bool) {
	missing := 0
	for i := range rows {
		if rows[i].Report == nil {
			missing++
		}
	}
	b := sheet.Block{H: fp.h}
	each := (fp.h - float64(missing)*bandHead) / float64(max(1, len(rows)-missing))
	y, fits := 0.0, true
	for i := range rows {
		h := bandHead
		if rows[i].Report != nil {
			h = each
		}
		band := fp.band(&rows[i], h)
		fits = fits && band.Bottom() <= h
		b.Put(band, 0, y)
		y += h
	}
	return b, fits
}

// bandHead is the height of a candidate's name.
const bandHead = 6.6 * sheet.MM

// band is one candidate in a height.
func (fp *fieldPages) band(r *fact.FieldRow, h float64) sheet.Block {
	b := sheet.Block{H: h}
	const base = 4.4 * sheet.MM
	b.Add(stroke(0, 0, fp.w, 0, 0.6))
	name := fp.f.Label(r.Name, 0, base, fp.w*0.5, ink(colour, true))
	b.Add(name)
	said := r.Missing
	if r.Report != nil {
		said = words.Found(r.Games, r.Last)
		if maybe := r.Report.Basis.Maybe; len(maybe) > 0 {
			said += "; " + words.Maybe(maybe, 1).String()
		}
	}
	if r.Rating > 0 {
		said = words.Numeral(r.Rating) + "  " + said
	}
	b.Add(fp.f.Label(said, name.W+8, base, fp.w-name.W-8, ink(body, false)))
	if r.Report == nil {
		return b
	}
	l := &layout{f: fp.f, rep: r.Report, w: fp.w, h: h - bandHead, form: form{
		lines: (fp.w - gutter) / 2, under: 1, most: 0.67, narrow: true, gaps: 2,
	}}
	for i := range r.Report.Sides {
		one, _ := l.side(&r.Report.Sides[i], h-bandHead-air)
		b.Put(one, float64(i)*(l.form.lines+gutter), bandHead)
	}
	return b
}
