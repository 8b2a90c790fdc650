package pdf

import (
	"fmt"
	"io"
	"slices"
	"strings"

	"foreply/compare/fact"
	"foreply/compare/words"
	"foreply/fetch/pgn"
	"foreply/pdf/sheet"
)

// Field is a page about several players: an entry list, or the candidates for
// one board.
type Field struct {
	Title string
	AsOf  pgn.Date // the document's date; may be unknown
	Rows  []fact.FieldRow
}

// WriteField prints a Field as a PDF: each player in a strip of their own, the
// taller the fewer they are; as many pages as the strips need.
func WriteField(w io.Writer, field Field, opt Options) error {
	pages, err := layoutField(field, opt)
	if err != nil {
		return fmt.Errorf("laying out %s: %w", field.Title, err)
	}
	doc, err := sheet.Render(pages, made(field.AsOf), "en")
	if err != nil {
		return fmt.Errorf("drawing %s: %w", field.Title, err)
	}
	if _, err := w.Write(doc); err != nil {
		return fmt.Errorf("writing %s: %w", field.Title, err)
	}
	return nil
}

// Heights of a strip, in points: what its first line takes, and what two of its
// details are apart.
const (
	stripHead = 15.0
	stripGap  = 3.0
)

func layoutField(field Field, opt Options) ([]*sheet.Page, error) {
	w, h, err := opt.paper()
	if err != nil {
		return nil, err
	}
	f, err := sheet.LoadFaces()
	if err != nil {
		return nil, err
	}
	var pages []*sheet.Page
	margin := sheet.Box{X: sideMargin, Y: topMargin, W: w - 2*sideMargin, H: h - topMargin - footMargin}
	s := &strips{f: f, w: margin.W}
	foot := f.Para(say(f, laws, ink(small, false, sheet.Dark)), s.w, 0)
	head := 30.0
	room := margin.H - head - foot.H - sectionGap
	rows := field.Rows
	for from := 0; from == 0 || from < len(rows); {
		on := s.fitting(rows[from:], room)
		p := &sheet.Page{W: w, H: h, Title: field.Title, Margin: margin}
		var b sheet.Block
		b.Put(s.title(field.Title, len(pages), len(rows)), 0, 0)
		s.grow(rows[from:from+on], room)
		b.Put(s.page(rows[from:from+on], room), 0, head)
		b.Put(foot, 0, margin.H-foot.H)
		for _, it := range b.Items {
			p.Items = append(p.Items, it.Moved(margin.X, margin.Y))
		}
		pages = append(pages, p)
		from += max(1, on)
	}
	return pages, nil
}

// strips sets players between the margins.
type strips struct {
	f    *sheet.Faces
	w    float64
	size float64 // of what to do about them
	air  float64 // under each of them
}

// taskSizes are the sizes that a field's tasks may have.
var taskSizes = [...]float64{11.5, move, note}

// grow takes the largest type in which all is said about the players in the height,
// and spreads them a little.
func (s *strips) grow(rows []fact.FieldRow, room float64) {
	for _, s.size = range taskSizes {
		s.air = 0
		if spare := room - s.whole(rows, room); spare >= 0 {
			s.air = min(spare/float64(len(rows)), 2*sectionGap)
			return
		}
	}
}

func (s *strips) title(text string, page, players int) sheet.Block {
	var b sheet.Block
	b.Add(stroke(0, 0, s.w, 0, 1.6, sheet.Black))
	b.Add(s.f.Label(text, 0, 17, s.w*0.7, ink(move, true, sheet.Black)))
	count := fmt.Sprintf("%d players", players)
	if players == 1 {
		count = "1 player"
	}
	if page > 0 {
		count += fmt.Sprintf(", page %d", page+1)
	}
	b.Add(sheet.Right(s.f.Label(count, 0, 17, s.w*0.3, ink(note, false, sheet.Dark)), s.w))
	return b
}

// fitting is how many strips stand on one page: as many as their first lines.
func (s *strips) fitting(rows []fact.FieldRow, room float64) int {
	return min(len(rows), int(room/stripHead))
}

// whole is the height of strips with all there is to say.
func (s *strips) whole(rows []fact.FieldRow, room float64) float64 {
	sum := 0.0
	for i := range rows {
		sum += s.strip(&rows[i], room).H + s.air
	}
	return sum
}

// page sets strips over the height: what one doesn't need is the others'.
func (s *strips) page(rows []fact.FieldRow, room float64) sheet.Block {
	var b sheet.Block
	rest := s.whole(rows, room)
	for i := range rows {
		rest -= s.whole(rows[i:i+1], room)
		left := room - b.H
		strip := s.strip(&rows[i], max(left/float64(len(rows)-i), left-rest))
		b.Put(strip, 0, b.H)
		b.H += strip.H + s.air
	}
	return b
}

// strip sets a player no taller than h.
func (s *strips) strip(row *fact.FieldRow, h float64) sheet.Block {
	var b sheet.Block
	b.Add(stroke(0, 0, s.w, 0, 0.5, sheet.Pale))
	b.H = stripHead
	h -= 2 * stripGap // under the strip, if it has more than its head
	basis := s.f.Para(say(s.f, words.FieldBasis(&row.Basis).String(), ink(note, false, sheet.Dark)), s.w, 2)
	if row.Missing != "" || b.H+basis.H > h {
		s.head(&b, row, brief(row), foundWords(row))
		return b
	}
	s.head(&b, row, "", "")
	b.Put(basis, 0, b.H)
	b.H += basis.H + stripGap
	if sides := s.sides(row, h-b.H); sides.H > 0 {
		b.Put(sides, 0, b.H)
		b.H += sides.H
	}
	b.H += stripGap
	return b
}

// head is a strip's first line: board, name, rating; what else fits; at the
// right what was found, unless that follows.
func (s *strips) head(b *sheet.Block, row *fact.FieldRow, more, words string) {
	const base = 11.0
	plain := ink(note, false, sheet.Dark)
	x := 0.0
	if row.Board > 0 {
		b.Add(sheet.Right(s.f.Label(fmt.Sprint(row.Board), 0, base, 24, ink(note, true, sheet.Black)), 18))
		x = 26
	}
	found := s.f.Label(words, 0, base, s.w*0.55, plain)
	if words != "" {
		b.Add(sheet.Right(found, s.w))
	}
	end := s.w - found.W - 8
	name := s.f.Label(row.Name, x, base, min(end-x-36, s.w*0.4), ink(max(move, s.size), true, sheet.Black))
	b.Add(name)
	x = name.X + name.W + 7
	if row.Rating > 0 {
		rating := s.f.Label(fmt.Sprint(row.Rating), x, base, 40, plain)
		b.Add(rating)
		x += rating.W + 7
	}
	if lines, _ := s.f.Break(say(s.f, more, plain), end-x, 1); end-x > 40 && len(lines) > 0 {
		for _, it := range lines[0].At(base) {
			b.Add(it.Moved(x, 0))
		}
	}
}

// brief is what to expect with each colour, for a strip without room for more.
func brief(row *fact.FieldRow) string {
	var parts []string
	for _, side := range row.Sides {
		if len(side.Tasks) > 0 && len(side.Tasks[0].Moves) > 0 {
			parts = append(parts, "with "+colourName(side.MyColor)+" "+words.Movetext(side.Tasks[0].Moves, 0))
		}
	}
	return strings.Join(parts, "; ")
}

func foundWords(row *fact.FieldRow) string {
	if row.Missing != "" {
		return row.Missing
	}
	games := fmt.Sprintf("%d games", row.Games)
	if row.Games == 1 {
		games = "1 game"
	}
	if row.Last.Known() {
		games += ", last " + words.Date(row.Last)
	}
	return games
}

// sides sets what to do with each colour, two beside each other.
func (s *strips) sides(row *fact.FieldRow, h float64) sheet.Block {
	var b sheet.Block
	n := len(row.Sides)
	if n == 0 {
		return b
	}
	w := (s.w - gutter*float64(n-1)) / float64(n)
	for i := range row.Sides {
		side := s.tasks(&row.Sides[i], w, h)
		b.Put(side, float64(i)*(w+gutter), 0)
		b.H = max(b.H, side.H)
	}
	return b
}

// side says which colour the tasks below are for.
func (s *strips) side(colour string, w float64) sheet.Block {
	b := sheet.Block{H: note*sheet.Leading + 2}
	base := note * sheet.Leading * 0.8
	b.Add(colourSquare(colour, 0, base))
	b.Add(s.f.Label("if you have "+colourName(colour), 13, base, w-13, ink(note, true, sheet.Dark)))
	return b
}

// tasks sets a colour's lines of tonight that fit, and says how many didn't.
func (s *strips) tasks(side *fact.FieldSide, w, h float64) sheet.Block {
	var b sheet.Block
	lead := ink(s.size, true, sheet.Black)
	head := s.side(side.MyColor, w)
	row := s.size * sheet.Leading
	if head.H+row > h {
		return b
	}
	b.Put(head, 0, 0)
	b.H = head.H
	for i, task := range side.Tasks {
		text := words.Task(&task).String()
		para := s.f.Para(slices.Concat(s.f.Own(strings.TrimSpace(task.Lead), lead), say(s.f, text, ink(s.size, false, sheet.Black))), w, 0)
		rest := 0.0
		if i < len(side.Tasks)-1 {
			rest = row
		}
		if b.H+para.H+rest > h {
			more := s.f.Para(say(s.f, fmt.Sprintf("%d more on the sheet", len(side.Tasks)-i), ink(note, false, sheet.Dark)), w, 1)
			b.Put(more, 0, b.H)
			b.H += more.H
			return b
		}
		b.Put(para, 0, b.H)
		b.H += para.H
	}
	return b
}
