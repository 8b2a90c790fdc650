package pdf

import (
	"fmt"
	"path"
	"slices"
	"strconv"
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
	p := c.l.f.para(c.l.f.own(played(c.side), ink{note, false, dark}), c.w, 1)
	b.put(p, 0, b.h)
	b.h += p.h
	return section{rank: 0, least: b.h, want: b.h, at: func(float64) block { return b }}
}

// tonight is the evening's work, in the largest type.
func (c *column) tonight() section {
	s := c.tasks(big)
	if c.narrow || s.want > 0.14*c.l.h {
		s = c.tasks(less)
	}
	return s
}

func (c *column) tasks(size float64) section {
	all := c.side.Tonight
	s := section{name: "tonight", rank: 1, share: 14}
	if len(all) == 0 {
		return s
	}
	over := c.over(false)
	set := func(k int) block {
		var b block
		for _, i := range firstOfKind(all, k) {
			row := c.task(all[i], size)
			b.put(row, 0, b.h)
			b.h += row.h
		}
		return b
	}
	few := 4
	if c.narrow {
		few = 3
	}
	s.least = set(min(few, len(all))).h + over
	s.want = set(len(all)).h + over
	s.fair = max(s.least, min(s.want, 0.17*c.l.h))
	s.at = func(h float64) block {
		k := len(all)
		b := set(k)
		for ; k > 1 && b.h+over > h+0.01; b = set(k) {
			k--
		}
		if k < len(all) {
			b.lost = moreOf(s.name, len(all)-k)
		}
		return c.frame(s, b)
	}
	return s
}

// firstOfKind picks k tasks, in their order: one of each kind before a second,
// so that what to look at is not crowded out by what to expect.
func firstOfKind(all []compare.Task, k int) []int {
	var first, other []int
	seen := map[string]bool{}
	for i, t := range all {
		if seen[t.Kind] {
			other = append(other, i)
			continue
		}
		seen[t.Kind] = true
		first = append(first, i)
	}
	picked := append(first, other...)[:min(k, len(all))]
	slices.Sort(picked)
	return picked
}

// task is one line of tonight. Where a wide page has room for it, what is to
// look at gets a box to tick.
func (c *column) task(t compare.Task, size float64) block {
	words := c.l.f.own(t.Lead, ink{size, true, black})
	words = append(words, c.l.f.say(t.Text, ink{size, false, black})...)
	if !c.narrow && t.Kind == "look" && t.File != "" {
		where := path.Base(t.File)
		if t.Line > 0 {
			where += ":" + strconv.Itoa(t.Line)
		}
		words = append(words, c.l.f.own(where, ink{note, false, middle})...)
	}
	p := c.l.f.para(words, c.inner(), 3)
	if t.Kind == "look" && !c.narrow {
		p.add(Rect{Box: Box{-16, size*leading/2 - 4, 8, 8}, Width: 0.7, Stroke: black})
	}
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
		words := f.own("your usual set-up:", ink{note, false, dark})
		words = append(words, f.say(strings.Join(sp.SetUp, ", "), ink{move, false, black})...)
		rows = append(rows, f.para(words, c.inner(), 2))
	}
	for _, r := range sp.Returns {
		rows = append(rows, f.para(f.say(r, ink{note, false, black}), c.inner(), 2))
	}
	return c.rows(section{name: "if surprised", rank: 5, share: 6, fair: 4 * note * leading}, 1, rows, nil)
}

// noteLead says where the nearest note stands.
func noteLead(sp compare.Surprise) string {
	if sp.NoteAt == "" {
		return "your note:"
	}
	return "your note at " + sp.NoteAt + ":"
}

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
	return c.rows(section{name: "about them", rank: 6, share: 4, light: c.side != nil}, 1, rows, nil)
}

// know is what the opponent can find out about the user.
func (c *column) know() section {
	var rows []block
	for _, s := range c.side.KnowOfYou {
		rows = append(rows, c.l.f.para(c.l.f.say(s, ink{note, false, black}), c.inner(), 2))
	}
	return c.rows(section{name: "they can know", rank: 7, share: 3, light: true}, 1, rows, nil)
}

// options are the other answers the book has.
func (c *column) options() section {
	var rows []block
	f := c.l.f
	for _, o := range c.side.Options {
		rows = append(rows, f.para(f.say(o.Text, ink{note, false, black}), c.inner(), 3))
	}
	return c.rows(section{name: "your options", rank: 8, share: 4, light: true, extra: true}, 1, rows, nil)
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
	return c.rows(section{name: "mistakes", rank: 9, share: 3, light: true, extra: true}, 1, rows, nil)
}

// mistakeText says whose mistake it is, how often it was met, and your note.
func mistakeText(m compare.Mistake) string { return sentenceList([]string{m.Text, m.Note}) }

const (
	writing = "to write"
	ruled   = 21.0 // between lines to write on, points; 7.4 mm
)

// write is what room remains, ruled.
func (c *column) write() section {
	s := section{name: writing, rank: 10, share: 5, want: 1e5, extra: true}
	over := c.over(false)
	s.least = over + ruled
	s.at = func(h float64) block {
		var b block
		for y := ruled; y <= h-over+0.01; y += ruled {
			b.add(Line{0, y, c.inner(), y, 0.4, pale})
			b.h = y
		}
		return c.frame(s, b)
	}
	return s
}
