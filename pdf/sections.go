package pdf

import (
	"fmt"
	"strings"

	"foreply/compare"
)

// colour heads a half of a page for both colours.
func (c *column) colour() section {
	var b block
	const base = 12.0
	b.add(colourSquare(c.side.MyColor, 0, base))
	t := c.l.f.label("if you have "+colourName(c.side.MyColor), 14, base, c.w-14, ink{move, true, black})
	b.add(t)
	b.h = base + 4
	if s := record(c.side); s != "" {
		p := c.l.f.para(c.l.f.own(fmt.Sprintf("%d games; %s", c.side.Games, s), ink{note, false, dark}), c.w, 1)
		b.put(p, 0, b.h)
		b.h += p.h
	}
	return section{rank: 0, least: b.h, want: b.h, at: func(float64) block { return b }}
}

// tonight is the evening's work, in the largest type.
func (c *column) tonight() section {
	size := big
	if c.narrow {
		size = move + 2
	}
	var rows []block
	for _, t := range c.side.Tonight {
		rows = append(rows, c.task(t, size))
	}
	s := section{name: "tonight", rank: 1, share: 14}
	if len(rows) == 0 {
		return s
	}
	few := min(3, len(rows))
	full := 0.0
	for i, r := range rows {
		full += r.h
		if i < few {
			s.least = full
		}
	}
	rest := note * leading
	if few < len(rows) {
		s.least += rest
	}
	s.least += c.over()
	s.want = full + c.over()
	s.at = func(h float64) block {
		more := func(k int) string { return fmt.Sprintf("and %d more", k) }
		return c.frame(s.name, c.fit(rows, h-c.over()+0.01, rest, more))
	}
	return s
}

// task is one line of tonight; what is to look at has a box to tick.
func (c *column) task(t compare.Task, size float64) block {
	words := c.l.f.say(t.Text, ink{size, false, black})
	lead := map[string]string{"expect": "Expect", "play": "Play", "look": "Look at"}[t.Kind]
	if lead != "" && !strings.HasPrefix(strings.ToLower(t.Text), strings.ToLower(strings.Fields(lead)[0])) {
		words = append(c.l.f.own(lead, ink{size, true, black}), words...)
	} else if len(words) > 0 {
		words[0].ink.bold = true
	}
	p := c.l.f.para(words, c.inner(), 2)
	p.h += 2
	return p
}

// surprise is what helps when they leave early.
func (c *column) surprise() section {
	sp := c.side.Surprise
	f := c.l.f
	var rows []block
	if sp.Note != "" {
		words := f.own(sp.Note, ink{note, false, black})
		words = append(f.say(noteLead(sp), ink{note, false, dark}), words...)
		rows = append(rows, f.para(words, c.inner(), 3))
	}
	if len(sp.SetUp) > 0 {
		words := f.own("Your usual set-up:", ink{note, false, dark})
		words = append(words, f.say(strings.Join(sp.SetUp, ", "), ink{move, false, black})...)
		rows = append(rows, f.para(words, c.inner(), 2))
	}
	for _, r := range sp.Returns {
		rows = append(rows, f.para(f.say(r, ink{note, false, black}), c.inner(), 2))
	}
	return c.rows("if surprised", 5, 6, 1, rows, leftOut)
}

// noteLead says where the nearest note stands.
func noteLead(sp compare.Surprise) string {
	if sp.NoteAt == "" {
		return "Your note:"
	}
	return "Your note at " + sp.NoteAt + ":"
}

func leftOut(k int) string { return fmt.Sprintf("%d more left out", k) }

// about is what is known of the opponent beyond the moves.
func (c *column) about() section {
	var rows []block
	for _, fact := range c.l.rep.About {
		words := c.l.f.say(fact.Text, ink{note, false, black})
		if fact.N > 0 {
			words = append(words, c.l.f.own(fmt.Sprintf("(n %d)", fact.N), ink{note, false, middle})...)
		}
		rows = append(rows, c.l.f.para(words, c.inner(), 2))
		if len(rows) == 3 {
			break
		}
	}
	return c.rows("about them", 6, 4, 1, rows, leftOut)
}

// know is what the opponent can find out about the user.
func (c *column) know() section {
	var rows []block
	for _, s := range c.side.KnowOfYou {
		rows = append(rows, c.l.f.para(c.l.f.say(s, ink{note, false, black}), c.inner(), 2))
	}
	return c.rows("they can know", 7, 3, 1, rows, leftOut)
}

// options are the other answers the book has.
func (c *column) options() section {
	var rows []block
	f := c.l.f
	for _, o := range c.side.Options {
		if o.Main {
			continue
		}
		words := f.moves([]string{o.Move}, len(o.Line), ink{move, true, black})
		words = append(words, f.say(o.Text, ink{note, false, black})...)
		rows = append(rows, f.para(words, c.inner(), 2))
	}
	return c.rows("or instead", 8, 4, 1, rows, leftOut)
}

// mistakes are moves the book marks as bad that they, or you, may meet.
func (c *column) mistakes() section {
	var rows []block
	f := c.l.f
	for _, m := range c.side.Mistakes {
		n := len(m.Line)
		if n == 0 {
			continue
		}
		words := f.lineTo(m.Line, max(0, n-2), dark)
		words = append(words, f.own(mistakeText(m), ink{note, false, black})...)
		rows = append(rows, f.para(words, c.inner(), 2))
	}
	return c.rows("mistakes", 9, 3, 1, rows, leftOut)
}

func mistakeText(m compare.Mistake) string {
	s := "is a mistake in your book"
	if m.Games > 0 {
		s += fmt.Sprintf("; %d of their games", m.Games)
	}
	if m.Note != "" {
		s += "; " + m.Note
	}
	return s
}

const ruled = 21.0 // between lines to write on, points; 7.4 mm

// write is what room remains, ruled.
func (c *column) write() section {
	s := section{name: "to write", rank: 10, share: 5, least: c.over() + ruled, want: 1e5}
	s.at = func(h float64) block {
		var b block
		for y := ruled; y <= h-c.over()+0.01; y += ruled {
			b.add(Line{0, y, c.inner(), y, 0.4, pale})
			b.h = y
		}
		return c.frame(s.name, b)
	}
	return s
}
