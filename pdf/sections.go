package pdf

import (
	"slices"
	"strings"

	"foreply/compare/fact"
	"foreply/compare/words"
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
	return section{rank: colourRank, least: b.h, want: b.h, at: func(float64) block { return b }}
}

// surprise is what helps when they leave early.
func (c *column) surprise() section {
	sp := c.side.Surprise
	f := c.l.f
	var list, own [][]word
	if sp.Note != "" {
		lead := f.say(noteLead(sp), ink{note, false, dark})
		if c.narrow { // no room for where it stands
			lead = nil
		}
		own = append(own, append(lead, f.own(sp.Note, ink{note, false, black})...))
	}
	if !c.inForks(sp.Note) {
		list, own = own, nil
	}
	if len(sp.SetUp) > 0 {
		words := f.own("your usual set-up:", ink{note, false, dark})
		list = append(list, append(words, f.say(strings.Join(sp.SetUp, ", "), ink{move, false, black})...))
	}
	for _, r := range sp.Returns {
		list = append(list, f.say(r, ink{note, false, black}))
	}
	list = append(list, own...)
	return c.texts(section{name: "if surprised", rank: surpriseRank, share: 6, light: c.narrow}, 3, list)
}

// inForks says whether a note stands at one of the likeliest branches, which the page
// has before.
func (c *column) inForks(text string) bool {
	r := rank(c.side.Forks)
	return slices.ContainsFunc(r.order[:min(len(r.order), leastRows)], func(a at) bool { return r.branch(a).Note == text })
}

// noteLead says where the nearest note stands.
func noteLead(sp fact.Surprise) string {
	if sp.NoteAt == "" {
		return "your note:"
	}
	return "your note at " + sp.NoteAt + ":"
}

// about is what is known of the opponent beyond the moves: at most three facts,
// as many as fit.
func (c *column) about() section {
	facts := c.l.rep.About[:min(3, len(c.l.rep.About))]
	s := section{name: "about them", rank: aboutRank, share: 4, light: c.side != nil}
	if len(facts) == 0 {
		return s
	}
	e := entry{4, func(lines int) block {
		for n := len(facts); ; n-- {
			set, whole := c.l.f.breakLines(c.factWords(s, facts[:n]), c.inner(), lines)
			if whole || n == 1 {
				b := setLines(set)
				if n < len(facts) {
					b.lost = []loss{{what: moreOf(s.name, len(facts)-n)}}
				}
				return b
			}
		}
	}}
	return c.rows(s, listing{entries: []entry{e}, fair: 1})
}

func (c *column) factWords(s section, facts []fact.Fact) []word {
	var words []word
	if s.light && c.narrow {
		words = c.l.f.own(s.name+":", ink{note, true, black})
	}
	for i, fact := range facts {
		text := fact.Text
		n := restsOn(fact)
		if n == "" && i < len(facts)-1 {
			text += ";"
		}
		words = append(words, c.l.f.say(text, ink{note, false, black})...)
		if n != "" {
			if i < len(facts)-1 {
				n += ";"
			}
			words = append(words, c.l.f.own(n, ink{note, false, middle})...)
		}
	}
	return words
}

// know is what the opponent can find out about the user.
func (c *column) know() section {
	return c.sentences(section{name: "they can know", rank: knowRank, share: 3, light: true}, c.side.KnowOfYou)
}

// options are the other answers the book has.
func (c *column) options() section {
	var list []string
	for _, o := range c.side.Options {
		list = append(list, o.Text)
	}
	return c.sentences(section{name: "your options", rank: optionsRank, share: 4, light: true, extra: true}, list)
}

func (c *column) sentences(s section, list []string) section {
	var words [][]word
	for _, text := range list {
		words = append(words, c.l.f.say(text, ink{note, false, black}))
	}
	return c.texts(s, 3, words)
}

// changes are what they took up or dropped, but for what tonight says.
func (c *column) changes() section {
	var list []string
	for _, ch := range c.side.Changes {
		if !c.saidTonight(ch.Text) {
			list = append(list, ch.Text)
		}
	}
	return c.sentences(section{name: "what changed", rank: changesRank, share: 3, light: true, extra: true}, list)
}

// saidTonight says whether a sentence stands in tonight, where nothing is left out.
func (c *column) saidTonight(text string) bool {
	return slices.ContainsFunc(c.side.Tonight, func(t fact.Task) bool { return t.Text == text })
}

// orders tell where the order of moves matters.
func (c *column) orders() section {
	return c.sentences(section{name: "move orders", rank: ordersRank, share: 3, light: true, extra: true}, orderWords(c.side.Orders))
}

// traps are where a side went wrong before.
func (c *column) traps() section {
	var list [][]word
	for _, tr := range c.side.Traps {
		if n := len(tr.Line); n > 0 {
			words := c.l.f.lineTo(tr.Line, min(c.shared(tr.Line), n-1), dark)
			list = append(list, append(words, c.l.f.say(tr.Text, ink{note, false, black})...))
		}
	}
	return c.texts(section{name: "went wrong", rank: trapsRank, share: 3, light: true, extra: true}, 3, list)
}

// mistakes are moves the book marks as bad that they, or you, may meet.
func (c *column) mistakes() section {
	var list [][]word
	for i := range c.side.Mistakes {
		m := &c.side.Mistakes[i]
		if n := len(m.Line); n > 0 {
			line := c.l.f.lineTo(m.Line, max(0, n-2), dark)
			list = append(list, append(line, c.l.f.own(mistakeText(m, c.side.Counted()), ink{note, false, black})...))
		}
	}
	return c.texts(section{name: "mistakes", rank: mistakesRank, share: 3, light: true, extra: true}, 2, list)
}

// mistakeText says whose mistake it is, how often it was met, and your note.
func mistakeText(m *fact.Mistake, few bool) string {
	return sentenceList([]string{words.Mistake(m, few).String(), m.Note})
}

const (
	writing = "to write"
	ruled   = 21.0  // between lines to write on, points; 7.4 mm
	roomy   = 700.0 // height of a page that always has room to write, points
)

// write is what room remains, ruled: one line at least where the page holds it.
func (c *column) write() section {
	s := section{name: writing, rank: writeRank, share: 5, want: 1e5, last: true, light: c.narrow}
	s.extra = c.l.h < roomy || len(c.l.rep.Sides) > 1 // where the rows need the room more
	over := c.over(s)
	s.least = over + ruled
	s.at = func(h float64) block {
		var b block
		for y := ruled; y <= h-over+0.01; y += ruled {
			b.add(Line{0, y, c.inner(), y, 0.4, pale})
			b.h = y
		}
		if s.light {
			return b
		}
		return c.frame(s, b)
	}
	return s
}
