package pdf

import (
	"slices"
	"strings"

	"foreply/compare/fact"
	"foreply/compare/words"
	"foreply/pdf/sheet"
)

// colour heads a half of a page for both colours.
func (c *column) colour() sheet.Part {
	var b sheet.Block
	const base = 12.0
	b.Add(colourSquare(c.side.MyColor, 0, base))
	t := c.l.f.Label("if you have "+colourName(c.side.MyColor), 14, base, c.W-14, ink(move, true, sheet.Black))
	b.Add(t)
	b.H = base + 4
	p := c.l.f.Para(c.l.f.Own(played(c.side), ink(note, false, sheet.Dark)), c.W, 1)
	b.Put(p, 0, b.H)
	b.H += p.H
	return sheet.Part{Rank: colourRank, Least: b.H, Want: b.H, At: func(float64) sheet.Block { return b }}
}

// surprise is what helps when they leave early.
func (c *column) surprise() sheet.Part {
	sp := c.side.Surprise
	f := c.l.f
	var list, own [][]sheet.Word
	if sp.Note != "" {
		lead := say(f, noteLead(sp), ink(note, false, sheet.Dark))
		if c.Narrow { // no room for where it stands
			lead = nil
		}
		own = append(own, append(lead, f.Own(sp.Note, ink(note, false, sheet.Black))...))
	}
	if !c.inForks(sp.Note) {
		list, own = own, nil
	}
	if len(sp.SetUp) > 0 {
		lead := f.Own("your usual set-up:", ink(note, false, sheet.Dark))
		list = append(list, append(lead, say(f, strings.Join(sp.SetUp, ", "), ink(move, false, sheet.Black))...))
	}
	for i := range sp.Returns {
		list = append(list, say(f, words.WayBack(&sp.Returns[i]).String(), ink(note, false, sheet.Black)))
	}
	list = append(list, own...)
	return c.Texts(sheet.Part{Title: "if surprised", Rank: surpriseRank, Share: 6, Light: c.Narrow}, 3, list)
}

// inForks says whether a note stands at one of the likeliest branches, which the page
// has before.
func (c *column) inForks(text string) bool {
	r := rank(c.side.Forks)
	return slices.ContainsFunc(r.order[:min(len(r.order), leastRows)], func(a at) bool { return r.branch(a).Note == text })
}

// noteLead says where the nearest note stands.
func noteLead(sp fact.Surprise) string {
	return "your note at " + words.NoteAt(sp.NoteLine).String() + ":"
}

// about is what is known of the opponent beyond the moves: at most three facts,
// as many as fit.
func (c *column) about() sheet.Part {
	facts := c.l.rep.About[:min(3, len(c.l.rep.About))]
	s := sheet.Part{Title: "about them", Rank: aboutRank, Share: 4, Light: c.side != nil}
	if len(facts) == 0 {
		return s
	}
	s.Rows = []sheet.Row{{Most: 4, Set: func(lines int) sheet.Block {
		for n := len(facts); ; n-- {
			set, whole := c.l.f.Break(c.factWords(s, facts[:n]), c.Inner(), lines)
			if whole || n == 1 {
				b := sheet.SetLines(set)
				if n < len(facts) {
					b.Lost = []sheet.Loss{{Title: s.Title, Count: len(facts) - n}}
				}
				return b
			}
		}
	}}}
	return s
}

func (c *column) factWords(s sheet.Part, facts []fact.About) []sheet.Word {
	var set []sheet.Word
	if s.Light && c.Narrow && !c.Framed {
		set = c.l.f.Own(s.Title+":", ink(note, true, sheet.Black))
	}
	for i := range facts {
		text, n := words.About(&facts[i]).String(), words.RestsOn(&facts[i]).String()
		if n == "" && i < len(facts)-1 {
			text += ";"
		}
		set = append(set, say(c.l.f, text, ink(note, false, sheet.Black))...)
		if n != "" {
			if i < len(facts)-1 {
				n += ";"
			}
			set = append(set, c.l.f.Own(n, ink(note, false, sheet.Middle))...)
		}
	}
	return set
}

// know is what the opponent can find out about the user.
func (c *column) know() sheet.Part {
	return c.sentences(sheet.Part{Title: "they can know", Rank: knowRank, Share: 3, Light: true}, words.Strings(words.Shown(c.side.KnowOfYou, c.side.MyColor)))
}

// options are the other answers the book has.
func (c *column) options() sheet.Part {
	return c.sentences(sheet.Part{Title: "your options", Rank: optionsRank, Share: 4, Light: true, Extra: true}, words.Strings(words.Options(c.side)))
}

func (c *column) sentences(s sheet.Part, list []string) sheet.Part {
	var words [][]sheet.Word
	for _, text := range list {
		words = append(words, say(c.l.f, text, ink(note, false, sheet.Black)))
	}
	return c.Texts(s, 3, words)
}

// changes are what they took up or dropped, but for what tonight says.
func (c *column) changes() sheet.Part {
	var list []string
	for i := range c.side.Changes {
		if text := words.Change(&c.side.Changes[i]).String(); !c.saidTonight(text) {
			list = append(list, text)
		}
	}
	return c.sentences(sheet.Part{Title: "what changed", Rank: changesRank, Share: 3, Light: true, Extra: true}, list)
}

// saidTonight says whether a sentence stands in tonight, where nothing is left out.
func (c *column) saidTonight(text string) bool {
	return slices.ContainsFunc(c.side.Tonight, func(t fact.Task) bool { return words.Task(&t).String() == text })
}

// orders tell where the order of moves matters.
func (c *column) orders() sheet.Part {
	return c.sentences(sheet.Part{Title: "move orders", Rank: ordersRank, Share: 3, Light: true, Extra: true}, orderWords(c.side.Orders))
}

// traps are where a side went wrong before.
func (c *column) traps() sheet.Part {
	var list [][]sheet.Word
	for i := range c.side.Traps {
		tr := &c.side.Traps[i]
		if n := len(tr.Line); n > 0 {
			line := lineTo(c.l.f, tr.Line, min(c.shared(tr.Line), n-1), sheet.Dark)
			list = append(list, append(line, say(c.l.f, words.Trap(tr).String(), ink(note, false, sheet.Black))...))
		}
	}
	for i := range c.side.Again {
		a := &c.side.Again[i]
		line := append(slices.Clone(a.Line), a.Played.Moves[0])
		words := lineTo(c.l.f, line, min(c.shared(line), len(line)-1), sheet.Dark)
		list = append(list, append(words, say(c.l.f, againText(a, c.side.MyColor), ink(note, false, sheet.Black))...))
	}
	return c.Texts(sheet.Part{Title: "went wrong", Rank: trapsRank, Share: 3, Light: true, Extra: true}, 3, list)
}

// mistakes are moves the book marks as bad that they, or you, may meet.
func (c *column) mistakes() sheet.Part {
	var list [][]sheet.Word
	for i := range c.side.Mistakes {
		m := &c.side.Mistakes[i]
		if n := len(m.Line); n > 0 {
			line := lineTo(c.l.f, m.Line, max(0, n-2), sheet.Dark)
			said := slices.Concat(sentencePieces(words.Mistake(m, c.side.Counted()))...)
			if m.Note != "" {
				said = append(said, sheet.Piece{S: "; "}, sheet.Piece{Look: sheet.Noted, S: m.Note})
			}
			list = append(list, append(line, c.l.f.Spans(said, sheet.Plainly(ink(note, false, sheet.Black)))...))
		}
	}
	return c.Texts(sheet.Part{Title: "mistakes", Rank: mistakesRank, Share: 3, Light: true, Extra: true}, 2, list)
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
func (c *column) write() sheet.Part {
	s := sheet.Part{Title: writing, Rank: writeRank, Share: 5, Want: 1e5, Last: true, Light: c.Narrow, Silent: true}
	s.Extra = c.l.h < roomy || len(c.l.rep.Sides) > 1 // where the rows need the room more
	over := c.Over(s)
	s.Least = over + ruled
	s.At = func(h float64) sheet.Block {
		var b sheet.Block
		for y := ruled; y <= h-over+0.01; y += ruled {
			b.Add(sheet.Line{Y1: y, X2: c.Inner(), Y2: y, Width: 0.4, Gray: sheet.Pale, ToWrite: true})
			b.H = y
		}
		if s.Light {
			return b
		}
		return c.Frame(s, b)
	}
	return s
}
