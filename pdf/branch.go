package pdf

import (
	"slices"
	"strings"

	"foreply/compare/fact"
	"foreply/compare/words"
	"foreply/pdf/sheet"
)

// Columns of a row, in points.
const (
	spineFirst  = 44.0 // the first spine, in the rail
	spineStep   = 10.0 // from a spine to that of what hangs on it
	spineClose  = 6.0  // the same in a narrow column
	deepest     = 8    // from here on what hangs stands straight under
	tine        = 6.0
	plotCol     = 42.0
	answerCol   = 64.0 // at most; a narrow column takes what its answers need
	answerPad   = 8.0
	leastAnswer = 30.0
	colGap      = 8.0
	closeCol    = 5.0 // the same in a narrow column
	headLine    = small * sheet.Leading
	headBase    = small * 0.9
	underBox    = 1.5
	rowBase     = move*sheet.Leading - 2.9 // the capitals' middle is that of the box
	leastAfter  = 50.0                     // width under which nothing begins behind the counts
	narrowAfter = 90.0                     // the same in a narrow column, which has room under the answers
)

// grid is where the parts of the rows stand, from the left of the section's
// text: the same for all rows of a side.
type grid struct {
	base, step float64 // the first spine, and the way to the next
	plot       float64 // 0 for none
	freq       float64
	freqWide   float64
	count      float64 // right end; 0 where the counts open what follows
	after      float64 // how it goes on; 0 where that has lines of its own
	under      float64 // further lines of it
	right      float64 // where they end
	answer     float64
}

// grid fits the columns to the moves on the page.
func (t *tree) grid(ch choice) grid {
	c := grid{base: spineFirst - t.c.Rail, step: spineStep, answer: t.c.Inner() - answerCol}
	if t.c.Narrow {
		c.base, c.step = 3, spineClose
	}
	var most widths
	moves := 0.0
	for a := range ch.tell {
		w := t.measure(a)
		moves = max(moves, c.text(w.depth)+w.move)
		most.freq, most.count, most.answer = max(most.freq, w.freq), max(most.count, w.count), max(most.answer, w.answer)
	}
	if t.c.Narrow {
		c.answer = t.c.Inner() - min(answerCol, max(most.answer, leastAnswer)+answerPad)
	}
	freq, count := most.freq, most.count
	if !t.c.Narrow {
		freq = max(freq, t.c.l.f.Of(false).Width(ofTen, small))
	}
	c.freqWide = freq
	moves = min(moves, c.answer-freq)
	if t.c.Narrow {
		c.freq, c.under, c.right = moves+closeCol, 0, t.c.Inner()
		if end := c.freq + freq + closeCol + count; end+closeCol <= c.answer {
			c.count = end
			c.room(narrowAfter)
		}
		return c
	}
	c.plot = max(moves+colGap, 36)
	c.freq = c.plot + plotCol + colGap
	c.count = c.freq + freq + colGap + count
	c.under, c.right = c.plot, c.answer-colGap
	c.room(leastAfter)
	return c
}

// room lets rows go on between the counts and the answer, if it is so wide.
func (c *grid) room(least float64) {
	if after := c.count + colGap; c.answer-colGap-after >= least {
		c.after = after
	}
}

// widths are those of what a row says, and how many forks its own hangs on.
type widths struct {
	move, freq, count, answer float64
	depth                     int
}

func (t *tree) measure(a at) widths {
	w, ok := t.wide[a]
	if !ok {
		f, br := t.c.l.f.Regular, t.branch(a)
		w = widths{
			move: t.moveLabel(a).W, answer: t.answerLabel(a, answerCol-answerPad).W, depth: t.depth(a),
			freq: f.Width(t.often(br.Share), note) + 0.1, count: f.Width(counts(br.Share), note) + 0.1,
		}
		t.wide[a] = w
	}
	return w
}

// often is a share of ten games, in a narrow column with its interval in brackets.
func (t *tree) often(s fact.Share) string {
	text := words.InTen(s)
	if about, likely, ok := strings.Cut(text, ", likely "); ok && t.c.Narrow {
		return about + " (" + likely + ")"
	}
	return text
}

// first is the width behind the counts.
func (c grid) first() float64 {
	if c.after == 0 {
		return 0
	}
	return c.answer - colGap - c.after
}

// spine is where the spine of a fork stands, text where its moves begin.
func (c grid) spine(depth int) float64 { return c.base + c.step*float64(min(depth, deepest)) }
func (c grid) text(depth int) float64  { return c.spine(depth) + tine + 3 }

// depth counts the forks that a branch's fork hangs on.
func (t *tree) depth(a at) int {
	n := 0
	for a = t.parent[a.fork]; a.fork >= 0; a = t.parent[a.fork] {
		n++
	}
	return n
}

func (t *tree) moveLabel(a at) sheet.Run {
	f := t.c.l.f
	k := ink(move, true, sheet.Black)
	return f.Label(moveWords(f, []string{t.branch(a).Move}, t.ply(a), k)[0].S, 0, 0, 80, k)
}

// rowKey is all that the look of a row depends on.
type rowKey struct {
	at     at
	tell   int
	depth  int
	hangs  bool // what it leads to stands under it
	joins  at   // or stands under this other branch
	others string
	cols   grid
}

func (t *tree) key(a at, others string, ch choice, cols grid) rowKey {
	return rowKey{a, ch.tell[a], t.depth(a), t.hangs(a, ch), t.joins(a, ch), others, cols}
}

// row draws one move of theirs.
func (t *tree) row(id rowKey) sheet.Block {
	b, ok := t.rows[id]
	if !ok {
		b = t.drawRow(id)
		t.rows[id] = b
	}
	return b
}

// isCut says whether a branch has more to tell than there is room for.
func (t *tree) isCut(a at, ch choice) bool {
	id := t.key(a, "", ch, t.grid(ch))
	now := len(t.after(id, id.cols.first()))
	id.tell = allOfIt
	return len(t.after(id, id.cols.first())) > now
}

func (t *tree) drawRow(id rowKey) sheet.Block {
	f, br, cols := t.c.l.f, t.branch(id.at), id.cols
	base := rowBase
	var b sheet.Block
	mv := t.moveLabel(id.at)
	x := cols.text(id.depth)
	b.Add(f.Label(mv.S, x, base, max(cols.freq-x-2, 20), ink(move, true, sheet.Black)))
	if cols.plot > 0 {
		b.Add(dotPlot(br.Share, cols.plot, base-note*0.36, plotCol)...)
	}
	b.Add(f.Label(t.often(br.Share), cols.freq, base, cols.freqWide, ink(note, false, sheet.Black)))
	if cols.count > 0 && !br.Share.Hardly {
		count := f.Label(counts(br.Share), 0, base, cols.count-cols.freq, ink(note, false, sheet.Middle))
		b.Add(sheet.Right(count, cols.count))
	}
	t.answer(&b, id.at, cols.answer)
	b.H = move*sheet.Leading + 1
	t.follow(&b, id, base)
	return b
}

// answer boxes what the book has; the box stays empty where it has nothing.
func (t *tree) answer(b *sheet.Block, a at, x float64) {
	br := t.branch(a)
	box := sheet.Rect{Box: sheet.Box{X: x, Y: 0.6, W: t.c.Inner() - x, H: 12.6}, Width: 0.6, Stroke: sheet.Black}
	if br.State == fact.NoAnswer {
		box.Width = 1.2
	}
	b.Add(box)
	if br.Answer != "" {
		b.Add(t.answerLabel(a, box.W-answerPad).Moved(x+answerPad/2, rowBase))
	}
}

func (t *tree) answerLabel(a at, w float64) sheet.Run {
	f, k := t.c.l.f, ink(move, true, sheet.Black)
	br := t.branch(a)
	if br.Answer == "" {
		return sheet.Run{}
	}
	return f.Label(moveWords(f, []string{br.Answer}, t.ply(a)+1, k)[0].S, 0, 0, w, k)
}

// follow sets how it goes on from a branch and what is noted: behind the counts,
// then in lines under them.
func (t *tree) follow(b *sheet.Block, id rowKey, base float64) {
	f, cols := t.c.l.f, id.cols
	first := cols.first()
	aside := f.Label(id.others, 0, base, 2*answerCol, ink(note, false, sheet.Middle))
	lines := t.after(id, first)
	if id.others != "" && first > 0 {
		if less := t.after(id, first-aside.W-colGap); len(less) <= max(1, len(lines)) {
			lines = less
			b.Add(sheet.Right(aside, cols.after+first))
		}
	}
	under, lower := id.cols.under, 0.0
	if t.c.Narrow { // where they run on under the box
		under, lower = cols.text(id.depth)+offSpine(id), underBox
	}
	if len(lines) == 0 {
		return
	}
	b.Put(sheet.Block{Items: lines[0].At(0)}, cols.after, base)
	for i, l := range lines[1:] {
		tall := l.Size * sheet.Leading
		if i == 0 {
			tall += lower
		}
		base += tall
		b.H += tall
		b.Put(sheet.Block{Items: l.At(0)}, under, base)
	}
}

// offSpine keeps what stands under a move in a narrow column off the spine of what
// hangs on it.
func offSpine(id rowKey) float64 {
	if id.hangs {
		return 4
	}
	return 0
}

// after breaks what follows a branch into lines: the first, of the width, may
// be empty. Where not all fits the note stands alone: it is the user's own, the
// moves are in the book anyway. But the way to what stands below is never cut.
func (t *tree) after(id rowKey, first float64) []sheet.TextLine {
	w := id.cols.right - id.cols.under
	if t.c.Narrow {
		w = id.cols.right - id.cols.text(id.depth) - offSpine(id)
	}
	p := t.parts(id)
	most := linesOf(id.tell)
	if first < leastAfter {
		most++
	}
	f := t.c.l.f
	breakAll := func(most int, parts ...[]sheet.Word) ([]sheet.TextLine, bool) {
		return f.BreakAround(slices.Concat(parts...), first, w, most)
	}
	if id.hangs {
		way, _ := breakAll(0, p.count, p.moves)
		most = max(most, len(way))
	}
	must := slices.Concat(p.count, p.moves, p.ending)
	lines, whole := breakAll(most, must, p.note)
	if len(p.note) > 0 && (!whole || len(lines) > 1) { // the note in lines of its own
		way, _ := breakAll(most, must)
		if room := most - max(1, len(way)); room > 0 {
			own, _ := f.Break(p.note, w, room)
			return append(t.extras(p, must, nil, max(1, len(way)), breakAll), own...)
		}
	}
	switch {
	case whole:
		return t.extras(p, must, p.note, max(1, len(lines)), breakAll)
	case !id.hangs && len(p.note) > 0:
		lines, _ = breakAll(most, p.count, p.note)
	}
	return lines
}

// extras are a row's lines with what is said where it costs none: when they last
// played it, the shape of the game where the book ends, the opening that follows.
func (t *tree) extras(p parts, must, end []sheet.Word, most int, breakAll func(int, ...[]sheet.Word) ([]sheet.TextLine, bool)) []sheet.TextLine {
	for _, extra := range [][]sheet.Word{slices.Concat(p.shape, p.last, p.name), p.shape, slices.Concat(p.last, p.name), p.last, p.name} {
		if lines, whole := breakAll(most, must, extra, end); whole && len(lines) > 0 {
			return lines
		}
	}
	lines, _ := breakAll(most, must, end)
	return append(lines, make([]sheet.TextLine, max(0, 1-len(lines)))...)
}

// parts are what may follow a branch.
type parts struct{ count, moves, ending, last, name, shape, note []sheet.Word }

func (t *tree) parts(id rowKey) parts {
	f, br := t.c.l.f, t.branch(id.at)
	grey, second := ink(note, false, sheet.Middle), ink(note, false, sheet.Dark)
	p := parts{
		moves: moveWords(f, br.Then, t.ply(id.at)+2, ink(move, false, sheet.Dark)),
		last:  f.Unbroken(since(br), grey),
		shape: say(f, sentenceList([]string{words.Structure(br.Structure, t.c.side.MyColor).String(), words.Instant(br.Instant).String()}), second),
		note:  slices.Concat(say(f, trapText(br.Trap), ink(note, false, sheet.Black)), f.Own(br.Note, ink(note, false, sheet.Black))),
	}
	if end := f.Own(ending(br, t.c.side.MyColor), second); t.c.Narrow && br.State == fact.NoAnswer {
		p.last = append(end, p.last...) // the empty box says it too
	} else {
		p.ending = end
	}
	if id.cols.count == 0 {
		p.count = f.Own(counts(br.Share), grey)
	}
	if to := id.joins; to.fork >= 0 {
		p.ending = append(f.Own("→ as after", second), moveWords(f, []string{t.branch(to).Move}, t.ply(to), ink(move, false, sheet.Dark))...)
	}
	if id.hangs {
		if next := t.forks[br.Next]; next.Name != "" && next.Name != t.forks[id.at.fork].Name {
			p.name = f.Own(next.Name, grey)
		}
	}
	return p
}
