package pdf

import (
	"path"
	"regexp"
	"strconv"

	"foreply/compare/fact"
	"foreply/compare/words"
	"foreply/pdf/sheet"
)

// mostOfPage is the part of the page under which tonight is never cut. Beyond
// it, which no comparison reaches, its lines lose their ends; none is left out.
const mostOfPage = 0.6

// tonight is the evening's work, in the largest type. Every line of it stands
// on the page, whatever else must go.
func (c *column) tonight() sheet.Part {
	s := sheet.Part{Title: "tonight", Rank: tonightRank, Share: 14}
	all := c.side.Tonight
	if len(all) == 0 {
		return s
	}
	s.Want = c.tasks(all, 0).H
	s.Least = min(s.Want, max(mostOfPage*c.l.h, c.tasks(all, 1).H))
	s.Enough = s.Least
	s.At = func(h float64) sheet.Block {
		b := c.tasks(all, 0)
		for lines := mostLines; b.H > h+0.01 && lines > 0; lines-- {
			b = c.tasks(all, lines)
		}
		return b
	}
	return s
}

// mostLines is where the cutting of what does not fit begins.
const mostLines = 12

// taskGap is the air between two lines of tonight.
const taskGap = 2.0

// tasks sets tonight, each task in at most so many lines (0: any number). On a
// wide page the words they begin with stand in the rail, under the section's
// name.
func (c *column) tasks(all []fact.Task, lines int) sheet.Block {
	var b sheet.Block
	b.Add(stroke(0, 0, c.W, 0, 0.5, sheet.Pale))
	b.Add(c.l.f.Label("tonight", 0, sheet.RuleGap+note*0.97, c.W, ink(note, true, sheet.Black)))
	b.H = sheet.RuleGap + c.TitleLine()
	for _, t := range all {
		row := c.task(t, lines)
		b.Put(row, 0, b.H)
		b.H += row.H + taskGap
	}
	return b
}

// task is one line of tonight. What is to look at gets a box to tick where the
// rail has room for it; what else is known of it stands there if it costs no line.
func (c *column) task(t fact.Task, lines int) sheet.Block {
	f, size := c.l.f, c.l.night
	words := c.fullTask(t)
	set, _ := f.Break(words, c.Inner(), lines)
	if with, whole := f.Break(append(words, c.aside(t)...), c.Inner(), len(set)); whole {
		set = with
	}
	if len(set) > 0 {
		set[0].Size = size // of the line that its lead stands on
	}
	p := sheet.SetLines(set)
	var b sheet.Block
	b.Put(p, c.Rail, 0)
	b.H = max(p.H, size*sheet.Leading)
	if c.Narrow {
		return b
	}
	base := size*sheet.Leading - size*sheet.UnderBase
	b.Add(f.Label(t.Lead, 0, base, c.Rail-tick-6, c.leadInk()))
	if t.Kind == "look" {
		b.Add(sheet.Rect{Box: sheet.Box{X: c.Rail - tick - 5, Y: base - tick, W: tick, H: tick}, Width: 0.7, Stroke: sheet.Black})
	}
	return b
}

// taskLines is how many lines tonight has.
func (c *column) taskLines() int {
	n := 0
	for _, t := range c.side.Tonight {
		set, _ := c.l.f.Break(c.fullTask(t), c.Inner(), 0)
		n += len(set)
	}
	return n
}

// fullTask is what stands beside the rail, in a narrow column with the word it
// begins with.
func (c *column) fullTask(t fact.Task) []sheet.Word {
	set := c.taskWords(words.Task(&t).String())
	if c.Narrow {
		return append(c.l.f.Own(t.Lead, c.leadInk()), set...)
	}
	return set
}

func (c *column) leadInk() sheet.Ink { return ink(c.wordSize(), false, sheet.Dark) }

// taskWords sets the moves of a task in tonight's type, what is said of them in
// smaller type. Where a task names no move its words are larger instead.
func (c *column) taskWords(text string) []sheet.Word {
	large := ink(c.l.night, true, sheet.Black)
	words := say(c.l.f, text, ink(c.wordSize(), false, sheet.Black))
	named := false
	for i, w := range words {
		isMove := moveWord.MatchString(w.S)
		if isMove || named && w.S == "…" && moveWord.MatchString(words[i-1].S) {
			words[i].Ink = large
			named = true
		}
	}
	switch {
	case named:
		return words
	case c.Narrow:
		return say(c.l.f, text, ink(move, false, sheet.Black))
	}
	return say(c.l.f, text, ink(c.l.night, false, sheet.Black))
}

// wordSize is the size of tonight's words.
func (c *column) wordSize() float64 {
	if c.Narrow {
		return note
	}
	return move
}

// moveWord is a move in a sentence, its number and punctuation with it.
var moveWord = regexp.MustCompile(`^\(?(?:\d+\.(?:\.\.)?)?(?:[♚♛♜♝♞]?[a-h1-8x]*[a-h][1-8](?:=[♛♜♝♞])?|O-O(?:-O)?)[+#]?[.,;:)]*$`)

// aside is where to look in the repertoire, or the user's note.
func (c *column) aside(t fact.Task) []sheet.Word {
	if t.Kind == "look" && t.File != "" {
		return c.l.f.Own(placeOf(t), ink(note, false, sheet.Middle))
	}
	return c.l.f.Own(t.Note, ink(note, false, sheet.Dark))
}

// tick is the side of a box to tick, in points.
const tick = 7.5

// placeOf is where to look in the repertoire: file and line.
func placeOf(t fact.Task) string {
	where := path.Base(t.File)
	if t.Line > 0 {
		where += ":" + strconv.Itoa(t.Line)
	}
	return where
}
