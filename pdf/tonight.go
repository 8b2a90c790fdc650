package pdf

import (
	"path"
	"regexp"
	"strconv"

	"foreply/compare/fact"
)

// mostOfPage is the part of the page under which tonight is never cut. Beyond
// it, which no comparison reaches, its lines lose their ends; none is left out.
const mostOfPage = 0.6

// tonight is the evening's work, in the largest type. Every line of it stands
// on the page, whatever else must go.
func (c *column) tonight() section {
	s := section{name: "tonight", rank: tonightRank, share: 14}
	all := c.side.Tonight
	if len(all) == 0 {
		return s
	}
	s.want = c.tasks(all, 0).h
	s.least = min(s.want, max(mostOfPage*c.l.h, c.tasks(all, 1).h))
	s.fair = s.least
	s.at = func(h float64) block {
		b := c.tasks(all, 0)
		for lines := mostLines; b.h > h+0.01 && lines > 0; lines-- {
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
func (c *column) tasks(all []fact.Task, lines int) block {
	var b block
	b.add(Line{0, 0, c.w, 0, 0.5, pale})
	b.add(c.l.f.label("tonight", 0, ruleGap+note*0.97, c.w, ink{note, true, black}))
	b.h = ruleGap + nameLine
	for _, t := range all {
		row := c.task(t, lines)
		b.put(row, 0, b.h)
		b.h += row.h + taskGap
	}
	return b
}

// task is one line of tonight. What is to look at gets a box to tick where the
// rail has room for it; what else is known of it stands there if it costs no line.
func (c *column) task(t fact.Task, lines int) block {
	f, size := c.l.f, c.l.night
	words := c.fullTask(t)
	set, _ := f.breakLines(words, c.inner(), lines)
	if with, whole := f.breakLines(append(words, c.aside(t)...), c.inner(), len(set)); whole {
		set = with
	}
	if len(set) > 0 {
		set[0].size = size // of the line that its lead stands on
	}
	p := setLines(set)
	var b block
	b.put(p, c.rail, 0)
	b.h = max(p.h, size*leading)
	if c.narrow {
		return b
	}
	base := size*leading - size*underBase
	b.add(f.label(t.Lead, 0, base, c.rail-tick-6, c.leadInk()))
	if t.Kind == "look" {
		b.add(Rect{Box: Box{c.rail - tick - 5, base - tick, tick, tick}, Width: 0.7, Stroke: black})
	}
	return b
}

// taskLines is how many lines tonight has.
func (c *column) taskLines() int {
	n := 0
	for _, t := range c.side.Tonight {
		set, _ := c.l.f.breakLines(c.fullTask(t), c.inner(), 0)
		n += len(set)
	}
	return n
}

// fullTask is what stands beside the rail, in a narrow column with the word it
// begins with.
func (c *column) fullTask(t fact.Task) []word {
	words := c.taskWords(t.Text)
	if c.narrow {
		return append(c.l.f.own(t.Lead, c.leadInk()), words...)
	}
	return words
}

func (c *column) leadInk() ink { return ink{c.wordSize(), false, dark} }

// taskWords sets the moves of a task in tonight's type, what is said of them in
// smaller type. Where a task names no move its words are larger instead.
func (c *column) taskWords(text string) []word {
	large := ink{c.l.night, true, black}
	words := c.l.f.say(text, ink{c.wordSize(), false, black})
	named := false
	for i, w := range words {
		isMove := moveWord.MatchString(w.s)
		if isMove || named && w.s == "…" && moveWord.MatchString(words[i-1].s) {
			words[i].ink = large
			named = true
		}
	}
	switch {
	case named:
		return words
	case c.narrow:
		return c.l.f.say(text, ink{move, false, black})
	}
	return c.l.f.say(text, ink{c.l.night, false, black})
}

// wordSize is the size of tonight's words.
func (c *column) wordSize() float64 {
	if c.narrow {
		return note
	}
	return move
}

// moveWord is a move in a sentence, its number and punctuation with it.
var moveWord = regexp.MustCompile(`^\(?(?:\d+\.(?:\.\.)?)?(?:[♚♛♜♝♞]?[a-h1-8x]*[a-h][1-8](?:=[♛♜♝♞])?|O-O(?:-O)?)[+#]?[.,;:)]*$`)

// aside is where to look in the repertoire, or the user's note.
func (c *column) aside(t fact.Task) []word {
	if t.Kind == "look" && t.File != "" {
		return c.l.f.own(placeOf(t), ink{note, false, middle})
	}
	return c.l.f.own(t.Note, ink{note, false, dark})
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
