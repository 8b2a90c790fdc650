package pdf

import (
	"fmt"
	"strconv"
	"strings"

	"foreply/compare"
)

// head is who, which game, and what the page rests on.
func (l *layout) head() block {
	var b block
	b.add(Line{0, 0, l.w, 0, 1.6, black})
	base := 17.0
	name := l.rep.Opponent.Name
	if plain(name) == "" {
		name = "your opponent"
	}
	left := l.f.label(name, 0, base, l.w*0.62, ink{move, true, black})
	b.add(left)
	l.colourMark(&b, base)
	if r := ratings(l.rep.Opponent.Ratings); r != "" {
		x := left.W + 8
		b.add(l.f.label(r, x, base, l.w*0.72-x, ink{note, false, dark}))
	}
	b.h = base + 5
	b.put(l.blanks(), 0, b.h)
	b.h += 19
	basis := l.f.para(l.f.say(l.basis(), ink{note, false, dark}), l.w, 2)
	b.put(basis, 0, b.h+2)
	b.h += basis.h + 2
	return b
}

// colourMark says at the right what you have: one colour or both.
func (l *layout) colourMark(b *block, base float64) {
	if len(l.rep.Sides) != 1 {
		return
	}
	t := right(l.f.label("you have "+colourName(l.rep.Sides[0].MyColor), 0, base, l.w*0.26, ink{move, true, black}), l.w)
	b.add(t, colourSquare(l.rep.Sides[0].MyColor, t.X-14, base))
}

// colourSquare is an empty square for White, a full one for Black.
func colourSquare(color string, x, base float64) Rect {
	return Rect{Box: Box{x, base - 8, 8, 8}, Width: 0.9, Filled: true, Fill: fillOf(color)}
}

func fillOf(color string) Gray {
	if color == "black" {
		return black
	}
	return white
}

func colourName(color string) string {
	if color == "black" {
		return "Black"
	}
	return "White"
}

func ratings(list []compare.Rating) string {
	var parts []string
	for _, r := range list {
		s := fmt.Sprintf("%d %s", r.Value, r.List)
		if r.Date != "" {
			s += ", " + day(r.Date)
		}
		parts = append(parts, s)
	}
	return strings.Join(parts, "; ")
}

// blanks are the fields of the game to come, lines to write on where nothing
// is known.
func (l *layout) blanks() block {
	hd := l.rep.Heading
	fields := []struct {
		name, value string
		share       float64
	}{
		{"event", hd.Event, 0.36}, {"round", hd.Round, 0.12}, {"board", hd.Board, 0.12},
		{"date", day(hd.Date), 0.19}, {"clock", hd.Clock, 0.21},
	}
	var b block
	const base, gap = 13.0, 12.0
	room := l.w - gap*float64(len(fields)-1)
	x := 0.0
	for _, fd := range fields {
		w := room * fd.share
		name := l.f.label(fd.name, x, base, w/2, ink{small, false, middle})
		b.add(name)
		from := x + name.W + 5
		b.add(Line{from, base + 3, x + w, base + 3, 0.4, middle})
		if fd.value != "" {
			b.add(l.f.label(fd.value, from, base, x+w-from, ink{note, false, black}))
		}
		x += w + gap
	}
	b.h = base + 4
	return b
}

// basis is what the forecast rests on, and what happened between the two.
func (l *layout) basis() string {
	parts := []string{strings.TrimSuffix(l.rep.Basis.Text, ".")}
	if n := len(l.rep.Basis.Meetings); n > 0 {
		parts = append(parts, met(l.rep.Basis.Meetings))
	}
	if u := l.rep.Opponent.Unsure; len(u) > 0 {
		parts = append(parts, "not certain to be them: "+strings.Join(u, ", "))
	}
	if len(l.rep.Sides) == 1 {
		if s := record(&l.rep.Sides[0]); s != "" {
			parts = append(parts, s)
		}
	}
	return sentenceList(parts)
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

// met tells the games between the two, newest last, with the opponent's points.
func met(rows []compare.GameRow) string {
	scores := make([]string, len(rows))
	for i, g := range rows {
		scores[i] = g.Score
	}
	times := fmt.Sprintf("%d times", len(rows))
	switch len(rows) {
	case 1:
		times = "once"
	case 2:
		times = "twice"
	}
	return "you met " + times + ", they scored " + strings.Join(scores, ", ")
}

// record is the opponent's results with the colour they will have.
func record(s *compare.Side) string {
	sc := s.Score
	if sc.Wins+sc.Draws+sc.Losses == 0 {
		return ""
	}
	return fmt.Sprintf("with %s they won %d, drew %d, lost %d", theirColour(s), sc.Wins, sc.Draws, sc.Losses)
}

func theirColour(s *compare.Side) string {
	if s.MyColor == "black" {
		return "White"
	}
	return "Black"
}

// day writes a date, or a part of one, as a player says it: 2 Nov 2026. It takes
// the forms of the Report (2026-11-02) and of a PGN tag (2026.11.02).
func day(date string) string {
	date = strings.ReplaceAll(date, "-", ".")
	if year, _, _ := strings.Cut(date, "."); year == "" || strings.Trim(year, "0123456789") != "" {
		return ""
	}
	return compare.DateWords(date)
}

const (
	laws = "For study before the round. Notes are forbidden during play (FIDE Laws of Chess 11.3.1): " +
		"leave this sheet outside the playing venue. The event's own rules decide."
	assumes = "The forecast assumes that they did not prepare for you."
)

// foot is the warnings, the sources and the rule of the game.
func (l *layout) foot(missing []string) block {
	var b block
	b.add(Line{0, 0, l.w, 0, 0.5, black})
	b.h = 5
	k := ink{small, false, dark}
	add := func(words []word, max int) {
		p := l.f.para(words, l.w, max)
		b.put(p, 0, b.h)
		b.h += p.h
	}
	add(l.f.say(l.warnings(), ink{small, true, black}), 3)
	if len(missing) > 0 {
		add(l.f.own("No room on this page for: "+strings.Join(missing, ", ")+".", k), 1)
	}
	add(l.f.own(l.sources(), k), 2)
	add(l.f.own(laws, k), 2)
	return b
}

// warnings are the footnotes, numbered when there are several.
func (l *layout) warnings() string {
	notes := l.rep.Footnote
	if len(notes) == 1 {
		return notes[0]
	}
	var b strings.Builder
	for i, n := range notes {
		fmt.Fprintf(&b, "%d) %s ", i+1, n)
	}
	return b.String()
}

// sources name the files with their games, what was left out, and the day.
func (l *layout) sources() string {
	bs := l.rep.Basis
	var parts []string
	var list []string
	for _, s := range bs.Sources {
		list = append(list, fmt.Sprintf("%s (%s of %s games)", s.Name, thousands(s.Games), thousands(s.Read)))
	}
	if len(list) > 0 {
		parts = append(parts, "Sources: "+strings.Join(list, ", ")+".")
	}
	list = nil
	for _, o := range bs.LeftOut {
		list = append(list, fmt.Sprintf("%s %s", thousands(o.Games), o.Reason))
	}
	if len(list) > 0 {
		parts = append(parts, "Not counted: "+strings.Join(list, ", ")+".")
	}
	if bs.Warnings > 0 {
		parts = append(parts, fmt.Sprintf("Problems while reading: %s.", thousands(bs.Warnings)))
	}
	if bs.AsOf != "" {
		parts = append(parts, "Made for "+day(bs.AsOf)+".")
	}
	return strings.Join(append(parts, assumes), " ")
}

func thousands(n int) string {
	s := strconv.Itoa(n)
	for i := len(s) - 3; i > 0; i -= 3 {
		s = s[:i] + "," + s[i:]
	}
	return s
}
