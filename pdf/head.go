package pdf

import (
	"strings"

	"foreply/compare/fact"
	"foreply/compare/words"
	"foreply/pdf/sheet"
)

// The head, in points from its top.
const (
	nameBase   = 6.2 * sheet.MM
	blankBase  = 11 * sheet.MM
	basisBase  = 15.4 * sheet.MM
	headTall   = 17.2 * sheet.MM
	blankLabel = 8.0
	squareSize = 8.5
)

// head is who, which colour, which game, and what the page rests on. On half a sheet
// there is no room for blanks.
func (l *layout) head() sheet.Block {
	var b sheet.Block
	b.Add(stroke(0, 0, l.w, 0, 1.6))
	end := l.colourMark(&b)
	name := l.rep.Opponent.Name
	if sheet.Plain(name) == "" {
		name = words.Unnamed
	}
	size := nameSize
	for ; size > lineMoves && l.f.Of(true).Width(l.f.Of(true).Reduce(name), size) > end; size-- {
	}
	left := l.f.Label(name, 0, nameBase, end, ink(size, true))
	b.Add(left)
	if r := l.ratings(left.W+8, nameBase, end); r.S != "" {
		b.Add(r)
	}
	up := 0.0
	if l.form.margin == 0 && len(l.rep.Sides) < 2 {
		up = basisBase - blankBase
	} else {
		l.blanks(&b)
	}
	said, _ := l.f.Clauses(l.basis(), bodyStyle(), l.w, 1)
	basis := l.f.Para(said, l.w, 1)
	b.Put(basis, 0, basisBase-up-body)
	b.H = headTall - up
	return b
}

// colourMark says at the right what you have, if it is one colour, and what you
// need; it returns where the room left of it ends.
func (l *layout) colourMark(b *sheet.Block) float64 {
	var parts []string
	one := len(l.rep.Sides) == 1
	if one {
		parts = append(parts, words.YouHave(l.rep.Sides[0].MyColor))
	}
	parts = append(parts, words.YouNeed(l.rep.Heading.Need))
	text := joined(parts)
	if text == "" {
		return l.w
	}
	t := sheet.Right(l.f.Label(text, 0, nameBase, l.w*0.5, ink(colour, true)), l.w)
	b.Add(t)
	if one {
		b.Add(colourSquare(l.rep.Sides[0].MyColor, t.X-14, nameBase))
	}
	return t.X - 24
}

// colourSquare is an empty square for White, a full one for Black.
func colourSquare(color string, x, base float64) sheet.Rect {
	fill := sheet.White
	if color == "black" {
		fill = sheet.Black
	}
	return sheet.Rect{Box: sheet.Box{X: x, Y: base - squareSize, W: squareSize, H: squareSize}, Width: 0.9, Filled: true, Fill: fill}
}

// ratings are the newest of each list; without their days where that makes room
// for more of them, as many as fit whole.
func (l *layout) ratings(x, base, end float64) sheet.Run {
	best, most := "", 0
	for _, say := range []func(fact.Rating) string{words.Rating, words.UndatedRating} {
		text := ""
		for i, r := range l.rep.Opponent.Ratings {
			text = joined([]string{text, say(r)})
			if i >= most && l.f.Regular.Width(l.f.Regular.Reduce(text), body) <= end-x {
				best, most = text, i+1
			}
		}
	}
	return l.f.Label(best, x, base, max(end-x, 0), ink(body, false))
}

// blanks are the fields of the game to come, lines to write on where nothing is known.
func (l *layout) blanks(b *sheet.Block) {
	hd := l.rep.Heading
	fields := []struct {
		name, value string
		share       float64 // of the width at least; the event has the rest
	}{
		{words.EventBlank, hd.Event, 0}, {words.RoundBlank, hd.Round, 0.045}, {words.BoardBlank, hd.Board, 0.045},
		{words.DateBlank, words.Dated(hd.Date), 0.12}, {words.ClockBlank, words.Clock(hd.Clock), 0.1},
	}
	const gap, pad = 12.0, 4.0
	label := func(s string) float64 { return l.f.Regular.Width(s, blankLabel) + pad }
	room := l.w - gap*float64(len(fields)-1)
	for _, f := range fields {
		room -= label(f.name)
	}
	widths := make([]float64, len(fields))
	widths[0] = room
	for i := 1; i < len(fields); i++ { // what the others need the event gives
		wanted := l.f.Bold.Width(l.f.Bold.Reduce(fields[i].value), body) + 2
		widths[i] = max(l.w*fields[i].share, min(wanted, room*0.25))
		widths[0] -= widths[i]
	}
	x := 0.0
	for i, f := range fields {
		b.Add(l.f.Label(f.name, x, blankBase, label(f.name), ink(blankLabel, false)))
		x += label(f.name)
		b.Add(sheet.Line{X1: x, Y1: blankBase + 1.8, X2: x + widths[i], Y2: blankBase + 1.8, Width: 0.4, ToWrite: f.value == ""})
		if f.value != "" {
			b.Add(l.f.Label(f.value, x+1, blankBase, widths[i]-1, ink(body, true)))
		}
		x += widths[i] + gap
	}
}

// basis is what the page rests on, with the games of the colour if it is one.
func (l *layout) basis() [][]sheet.Piece {
	var one *fact.Side
	if len(l.rep.Sides) == 1 {
		one = &l.rep.Sides[0]
	}
	return sentencePieces(words.RestsOnLine(&l.rep.Basis, one))
}

// colourHead heads a colour where two stand on a page.
func (l *layout) colourHead(s *fact.Side) sheet.Block {
	if len(l.rep.Sides) < 2 {
		return sheet.Block{}
	}
	const base = 5.5 * sheet.MM
	b := sheet.Block{H: 7 * sheet.MM}
	b.Add(stroke(0, 0, l.form.lines, 0, 0.6), colourSquare(s.MyColor, 0, base))
	name := l.f.Label(words.YouHave(s.MyColor), squareSize+5, base, l.form.lines, ink(11, true))
	b.Add(name)
	if words := l.f.Spans(clausePieces(words.YourRecord(s)), bodyStyle()); len(words) > 0 {
		if lines, whole := l.f.Break(words, l.form.lines-name.X-name.W-8, 1); whole {
			for _, it := range lines[0].At(base) {
				b.Add(it.Moved(l.form.lines-lines[0].W, 0))
			}
		}
	}
	return b
}

// foot is what is missing, the warnings, how to read the page, the sources and the rule of
// the game. What is missing and the rule are never cut, the others where they are long.
func (l *layout) foot(missing string) sheet.Block {
	var b sheet.Block
	b.Add(stroke(0, 0, l.w, 0, 0.6))
	b.H = 1.2 * sheet.MM
	plain, strong := ink(footSize, false), ink(footSize, true)
	may := strings.Join(append(l.warnings(), words.HowToRead, words.Engine(l.rep.Engine), words.Sources(l.rep)), " ")
	most := 4
	if l.form.margin == 0 && len(l.rep.Sides) < 2 {
		most = 2
	}
	said := append(l.f.Own(words.LeftOut(missing), plain), l.f.Own(may, plain)...)
	never := append(l.f.Own(words.Laws, strong), l.f.Own(words.EventRules, plain)...)
	lines, whole := l.f.Break(append(said, never...), l.w, 0)
	if len(lines) > most+1 || !whole {
		before, _ := l.f.Break(l.f.Own(words.LeftOut(missing), plain), l.w, 0)
		first, _ := l.f.Break(said, l.w, max(most, len(before)))
		last, _ := l.f.Break(never, l.w, 0)
		lines = append(first, last...)
	}
	text := sheet.SetApart(lines, 2.75*sheet.MM)
	b.Put(text, 0, b.H)
	b.H += text.H
	return b
}

// warnings are the footnotes as sentences.
func (l *layout) warnings() []string {
	var list []string
	for _, n := range words.Footnotes(l.rep) {
		list = append(list, words.AsSentence(sheet.Plain(n.String())))
	}
	if p := l.rep.Basis.Peers; p != nil && l.rep.Basis.Games > 0 && !l.headHasPeers() {
		list = append(list, words.AsSentence(words.Peers(p)))
	}
	return list
}

// headHasPeers reports whether the line under the name had room to say which peers the
// shares lean on: the last it says.
func (l *layout) headHasPeers() bool {
	_, lost := l.f.Clauses(l.basis(), bodyStyle(), l.w, 1)
	return lost == 0
}
