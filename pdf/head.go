package pdf

import (
	"fmt"
	"path"
	"slices"
	"strings"

	"foreply/compare/fact"
	"foreply/compare/words"
	"foreply/fetch/pgn"
	"foreply/pdf/sheet"
)

// head is who, which game, and what the page rests on.
func (l *layout) head() sheet.Block {
	var b sheet.Block
	b.Add(stroke(0, 0, l.w, 0, 1.6, sheet.Black))
	base := 12.0 + l.night*0.5
	name := l.rep.Opponent.Name
	if sheet.Plain(name) == "" {
		name = "your opponent"
	}
	end := l.colourMark(&b, base)
	left := l.f.Label(name, 0, base, end, ink(l.night, true, sheet.Black))
	if strings.HasSuffix(left.S, "…") {
		left = l.f.Label(name, 0, base, end, ink(move, true, sheet.Black))
	}
	b.Add(left)
	if r := l.ratings(left.W+8, base, end); r.S != "" {
		b.Add(r)
	}
	b.H = base + 6
	fields := l.blanks()
	b.Put(fields, 0, b.H)
	b.H += fields.H
	basis := l.f.Para(say(l.f, l.basis(), ink(note, false, sheet.Dark)), l.w, 2)
	b.Put(basis, 0, b.H+2)
	b.H += basis.H + 2
	return b
}

// colourMark says at the right what you have, if it is one colour, and what you
// need; it returns where the room left of it ends.
func (l *layout) colourMark(b *sheet.Block, base float64) float64 {
	var parts []string
	one := len(l.rep.Sides) == 1
	if one {
		parts = append(parts, "you have "+colourName(l.rep.Sides[0].MyColor))
	}
	if need := l.rep.Heading.Need; need != "" {
		parts = append(parts, "you need a "+need)
	}
	if len(parts) == 0 {
		return l.w
	}
	t := sheet.Right(l.f.Label(strings.Join(parts, "; "), 0, base, l.w*0.5, ink(move, true, sheet.Black)), l.w)
	b.Add(t)
	if one {
		b.Add(colourSquare(l.rep.Sides[0].MyColor, t.X-14, base))
	}
	return t.X - 24
}

// colourSquare is an empty square for White, a full one for Black.
func colourSquare(color string, x, base float64) sheet.Rect {
	return sheet.Rect{Box: sheet.Box{X: x, Y: base - 8, W: 8, H: 8}, Width: 0.9, Filled: true, Fill: fillOf(color)}
}

func fillOf(color string) sheet.Gray {
	if color == "black" {
		return sheet.Black
	}
	return sheet.White
}

func colourName(color string) string {
	if color == "black" {
		return "Black"
	}
	return "White"
}

// ratings are the newest of each list; without their days where that makes room
// for more of them, as many as fit whole.
func (l *layout) ratings(x, base, end float64) sheet.Run {
	best, most := "", 0
	for _, say := range []func(fact.Rating) string{rating, undated} {
		text := ""
		for i, r := range l.rep.Opponent.Ratings {
			text = sentenceList([]string{text, say(r)})
			if i >= most && l.f.Regular.Width(l.f.Regular.Reduce(text), note) <= end-x {
				best, most = text, i+1
			}
		}
	}
	return l.f.Label(best, x, base, max(end-x, 0), ink(note, false, sheet.Dark))
}

func undated(r fact.Rating) string { return fmt.Sprintf("%d %s", r.Value, r.List) }

// rating says a rating with its list and day.
func rating(r fact.Rating) string {
	s := undated(r)
	if d := day(r.Date); d != "" {
		s += ", " + d
	}
	return s
}

// ratings joins those of all lists.
func ratings(list []fact.Rating) string {
	var parts []string
	for _, r := range list {
		parts = append(parts, rating(r))
	}
	return sentenceList(parts)
}

// blanks are the fields of the game to come, lines to write on where nothing
// is known.
func (l *layout) blanks() sheet.Block {
	hd := l.rep.Heading
	fields := []struct {
		name, value string
		share       float64 // of the width, at least; the event has the rest
	}{
		{"event", hd.Event, 0}, {"round", hd.Round, 0.09}, {"board", hd.Board, 0.09},
		{"date", day(hd.Date), 0.16}, {"clock", hd.Clock, 0.17},
	}
	var b sheet.Block
	const base, gap = 21.0, 12.0
	room := l.w - gap*float64(len(fields)-1)
	widths := make([]float64, len(fields))
	widths[0] = room
	for i := 1; i < len(fields); i++ { // what the others need the event gives
		wanted := l.f.Regular.Width(l.f.Regular.Reduce(fields[i].value), note) + 2
		widths[i] = max(room*fields[i].share, min(wanted, room*0.22))
		widths[0] -= widths[i]
	}
	x := 0.0
	for i, fd := range fields {
		w := widths[i]
		b.Add(l.f.Label(fd.name, x, small, w, ink(small, false, sheet.Middle)),
			stroke(x, base+3, x+w, base+3, 0.4, sheet.Middle))
		if fd.value != "" {
			b.Add(l.f.Label(fd.value, x, base, w, ink(note, false, sheet.Black)))
		}
		x += w + gap
	}
	b.H = base + 4
	return b
}

// basis is what the forecast rests on.
func (l *layout) basis() string {
	return words.Basis(&l.rep.Basis).String()
}

func sentenceList(parts []string) string {
	var kept []string
	for _, p := range parts {
		if p != "" {
			kept = append(kept, p)
		}
	}
	return strings.Join(kept, "; ")
}

// played counts the opponent's games with the colour they will have.
func played(s *fact.Side) string {
	text := fmt.Sprintf("with %s %s games", theirColour(s), words.Thousands(s.Games))
	if s.Games == 1 {
		text = "with " + theirColour(s) + " 1 game"
	}
	if s.Slow > 0 {
		text += fmt.Sprintf(", %s slow", words.Thousands(s.Slow))
	}
	if d := day(s.Last); d != "" {
		text += ", last " + d
	}
	return text
}

func theirColour(s *fact.Side) string {
	if s.MyColor == "black" {
		return "White"
	}
	return "Black"
}

// day writes a date, or a part of one, as a player says it: 2 Nov 2026; nothing if
// it is not known.
func day(date pgn.Date) string {
	if !date.Known() {
		return ""
	}
	return words.Date(date)
}

const laws = "For study before the round. Notes are forbidden during play (FIDE Laws of Chess 11.3.1): " +
	"leave this sheet outside the playing venue. The event's own rules decide."

// foot is the warnings, what is missing, the sources and the rule of the game.
// What is missing and the rule are never cut, the others where they are long.
func (l *layout) foot(missing string) sheet.Block {
	var b sheet.Block
	b.Add(stroke(0, 0, l.w, 0, 0.5, sheet.Black))
	b.H = 5
	strong := ink(small, false, sheet.Black)
	if missing != "" {
		missing = "Left out for want of room: " + missing + "."
	}
	warned, sources := l.footLines()
	for _, p := range []sheet.Block{
		l.cutThen(say(l.f, l.warnings(), strong), l.f.Own(missing, strong), warned),
		l.cutThen(l.f.Own(l.sources(), ink(small, false, sheet.Dark)), l.f.Own(words.Engine(l.rep.Engine)+" "+laws, strong), sources),
	} {
		b.Put(p, 0, b.H)
		b.H += p.H
	}
	return b
}

// footLines is how many lines the warnings take at most, and the sources.
func (l *layout) footLines() (warned, sources int) {
	switch {
	case l.h < halfTall:
		return 2, 1
	case l.h < roomy:
		return 2, 2
	}
	return 3, 3
}

// cutThen sets text that may be cut after so many lines, and text that may not.
func (l *layout) cutThen(may, never []sheet.Word, most int) sheet.Block {
	if _, whole := l.f.Break(may, l.w, most); whole {
		return l.f.Para(append(may, never...), l.w, 0)
	}
	b := l.f.Para(may, l.w, most)
	rest := l.f.Para(never, l.w, 0)
	b.Put(rest, 0, b.H)
	b.H += rest.H
	return b
}

// warnings are the footnotes, numbered when there are several.
func (l *layout) warnings() string {
	notes := words.Strings(words.Footnotes(l.rep))
	if len(notes) == 1 {
		return asSentence(notes[0])
	}
	var b strings.Builder
	for i, n := range notes {
		fmt.Fprintf(&b, "%d) %s ", i+1, asSentence(n))
	}
	return b.String()
}

// asSentence ends a note with a full stop, since others follow in the line.
func asSentence(s string) string {
	s = sheet.Plain(s)
	if s == "" || strings.ContainsAny(s[len(s)-1:], ".!?") {
		return s
	}
	return s + "."
}

// sources name the files with their games, what was left out, and the day.
func (l *layout) sources() string {
	bs := l.rep.Basis
	var parts []string
	for i := range l.rep.Sides {
		if s := &l.rep.Sides[i]; s.Games > 0 && len(l.rep.Sides) == 1 {
			parts = append(parts, played(s))
		}
	}
	var list []string
	for _, s := range bs.Sources {
		list = append(list, fmt.Sprintf("%s (%s of %s games)", path.Base(s.Name), words.Thousands(s.Games), words.Thousands(s.Read)))
	}
	if len(list) > 0 {
		parts = append(parts, "sources: "+strings.Join(list, ", "))
	}
	if names := l.rep.Opponent.Names; len(names) > 0 {
		parts = append(parts, "names: "+strings.Join(names, ", "))
	}
	list = nil
	for _, o := range bs.LeftOut {
		list = append(list, fmt.Sprintf("%s %s", words.Thousands(o.Games), o.Reason))
	}
	if len(list) > 0 {
		parts = append(parts, "not counted: "+strings.Join(list, ", "))
	}
	if books := bookFiles(l.rep.Sides); len(books) > 0 {
		parts = append(parts, "your book: "+strings.Join(books, ", "))
	}
	if bs.AsOf.Known() {
		parts = append(parts, "made for "+day(bs.AsOf))
	}
	return asSentence(sentenceList(parts))
}

// bookFiles are the repertoire files of all sides, each once.
func bookFiles(sides []fact.Side) []string {
	var files []string
	for i := range sides {
		for _, f := range sides[i].Book.Files {
			if f = path.Base(f); !slices.Contains(files, f) {
				files = append(files, f)
			}
		}
	}
	return files
}
