package pdf

import (
	"slices"

	"foreply/compare"
)

// lines is the section of what to expect: the forks; the games themselves when
// they are few; the one line when it never parts.
func (c *column) lines() section {
	if c.side.Few || len(c.side.Forks) == 0 && len(c.side.Exits) == 0 {
		return c.games()
	}
	if len(c.side.Forks) == 0 {
		return c.single()
	}
	return c.forks()
}

// How much a row of the forks tells.
const (
	oneLine = iota // move, frequency, what follows as far as it goes, answer
	twoLines
	allOfIt
)

// linesOf is the most lines a branch may take.
func linesOf(tell int) int {
	if tell == allOfIt {
		return 4
	}
	return 1 + tell
}

// How many branches must stand on the page if there are as many, and how many
// are enough to begin telling more of each.
const (
	leastRows = 8
	manyRows  = 14
)

// fewest is leastRows, or what two columns need for them together.
func (c *column) fewest() int {
	if c.narrow {
		return leastRows / 2
	}
	return leastRows
}

// enough is how many of the likeliest branches hold the number of lines, not
// counting those that lead to another fork, unless these are too many.
func (r ranked) enough(lines int) int {
	for n, a := range r.order {
		if r.branch(a).Next < 0 {
			lines--
		}
		if lines == 0 || n+1 == manyRows {
			return n + 1
		}
	}
	return len(r.order)
}

// tree draws ranked forks in a column.
type tree struct {
	ranked
	c *column
}

// choice is which branches stand on the page, and how much each tells.
type choice struct {
	n    int // the likeliest
	keys map[int]string
	tell map[at]int
}

func (t *tree) choose(n, tell int) choice {
	ch := choice{n: n, keys: t.keys(n), tell: map[at]int{}}
	for _, a := range t.order[:n] {
		ch.tell[a] = tell
	}
	return ch
}

func (c *column) forks() section {
	t := &tree{ranked: rank(c.side.Forks), c: c}
	s := section{name: "forks", rank: 2, share: 36}
	// More rows than a page holds need not be drawn to know that they want it all.
	over := c.over(false)
	tail := t.reach()
	s.want = t.draw(t.choose(min(60, len(t.order)), allOfIt)).h + tail.h + over
	few := t.enough(c.fewest())
	s.least = t.draw(t.choose(few, oneLine)).h + over
	s.fair = t.draw(t.choose(few, twoLines)).h + over
	s.at = func(h float64) block {
		b := t.draw(t.best(h - over - tail.h + 0.01))
		if h < s.least+tail.h {
			return c.frame(s, t.draw(t.best(h-over+0.01)))
		}
		b.put(tail, 0, b.h)
		b.h += tail.h
		return c.frame(s, b)
	}
	return s
}

// best fills a height: first with enough rows, then by finishing what is cut
// short in them, then with more rows, then by telling all, the likeliest first.
func (t *tree) best(h float64) choice {
	ch := t.choose(1, oneLine)
	ch = t.grow(ch, t.enough(t.c.fewest()), h)
	t.tellMore(ch, twoLines, h, t.isCut)
	ch = t.grow(ch, manyRows, h)
	for _, tell := range []int{twoLines, allOfIt} {
		t.tellMore(ch, tell, h, func(at, choice) bool { return true })
	}
	return t.grow(ch, len(t.order), h)
}

// grow adds branches while they fit.
func (t *tree) grow(ch choice, limit int, h float64) choice {
	for ch.n < min(limit, len(t.order)) {
		next := ch.with(t.order[ch.n], t.keys(ch.n+1))
		if t.draw(next).h > h {
			break
		}
		ch = next
	}
	return ch
}

// tellMore raises what the branches that want it tell, as far as it fits.
func (t *tree) tellMore(ch choice, tell int, h float64, wants func(at, choice) bool) {
	for _, a := range t.order[:ch.n] {
		before := ch.tell[a]
		if before >= tell || !wants(a, ch) {
			continue
		}
		if ch.tell[a] = tell; t.draw(ch).h > h {
			ch.tell[a] = before
		}
	}
}

// isCut says whether one line is too short for a branch.
func (t *tree) isCut(a at, ch choice) bool {
	moves, own := t.parts(t.branch(a), len(t.forks[a.fork].Stem), ch.keys)
	_, whole := t.c.l.f.breakLines(append(moves, own...), t.besideCol(), 1)
	return !whole
}

// with is the choice and one branch more.
func (ch choice) with(a at, keys map[int]string) choice {
	out := choice{n: ch.n + 1, keys: keys, tell: map[at]int{a: oneLine}}
	for k, v := range ch.tell {
		out.tell[k] = v
	}
	return out
}

// draw sets the chosen branches in reading order.
func (t *tree) draw(ch choice) block {
	var b block
	for i := range t.forks {
		if ch.keys[i] == "" {
			continue
		}
		if b.h > 0 {
			b.h += 5
		}
		fb := t.fork(i, ch)
		b.put(fb, 0, b.h)
		b.h += fb.h
	}
	f := t.c.l.f
	if s := t.missing(ch.n); s != "" {
		p := f.para(f.own(s, ink{note, true, black}), t.c.inner(), 2)
		b.put(p, 0, b.h+3)
		b.h += p.h + 3
	}
	return b
}

// reach is how far the book goes on these lines.
func (t *tree) reach() block {
	f := t.c.l.f
	b := f.para(f.own(coverage(t.c.side.Coverage), ink{note, false, dark}), t.c.inner(), 2)
	var out block
	if b.h > 0 {
		out.put(b, 0, 4)
		out.h = b.h + 4
	}
	return out
}

// indent is where the moves start beside the spine: in the rail on a wide
// page, inside the column on a narrow one.
func (t *tree) indent() float64 {
	if t.c.narrow {
		return 16
	}
	return 0
}

// The spine of a fork stands left of the moves.
const (
	spineAt  = 15.0
	tineEnd  = 5.0
	tineUnit = 0.8 // weight of a tine, points for one game in ten
)

// fork draws one fork: its stem in grey, then a tine for each branch, the
// heavier the likelier.
func (t *tree) fork(i int, ch choice) block {
	fk := t.forks[i]
	in := t.indent()
	b := t.stem(i, ch.keys[i])
	spine := b.h - 1.5
	end := spine
	for j, br := range fk.Branches {
		tell, ok := ch.tell[at{i, j}]
		if !ok {
			continue
		}
		row := t.branchRow(fk, br, ch.keys, tell)
		end = b.h + move*leading/2
		weight := max(0.5, br.Share.P*10*tineUnit)
		b.add(Line{in - spineAt, end, in - tineEnd, end, weight, black})
		b.put(row, in, b.h)
		b.h += row.h
	}
	b.add(Line{in - spineAt, spine, in - spineAt, end, 0.5, black})
	if fk.Rest.Ten > 0 {
		k := ink{note, false, middle}
		b.add(t.c.l.f.label("others", in, b.h+note*0.95, moveCol-4, k),
			t.c.l.f.label(compare.InTen(fk.Rest), in+moveCol, b.h+note*0.95, t.c.inner()-in-moveCol, k))
		b.h += note * leading
	}
	return b
}

// stem is the way to the fork, from the fork before it if there is one.
func (t *tree) stem(i int, key string) block {
	f, fk := t.c.l.f, t.forks[i]
	from := t.parted(i)
	words := f.moves(fk.Stem[from:], from, ink{move, false, middle})
	if len(fk.Stem) == 0 {
		words = f.own("from the first move", ink{move, false, middle})
	}
	in := t.indent()
	w := t.c.inner() - in
	p := f.para(words, w, 3)
	if fk.Name != "" { // where it costs no line
		named := append(words, f.own(fk.ECO+" "+fk.Name, ink{note, false, middle})...)
		if q := f.para(named, w, 4); q.h <= p.h {
			p = q
		}
	}
	b := block{h: p.h}
	b.add(f.label(key, in-spineAt-3, move*0.95, 14, ink{move, true, black}))
	b.put(p, in, 0)
	return b
}

// Columns of a branch, in points from its left edge; the answer's from its
// right one.
const (
	moveCol   = 66.0
	freqCol   = 92.0
	countCol  = 46.0
	answerCol = 64.0
	colGap    = 8.0
)

// besideCol is the width for what follows a move and for its note.
func (t *tree) besideCol() float64 {
	w := t.c.inner() - t.indent()
	if t.c.narrow {
		return w - countCol
	}
	return w - moveCol - freqCol - countCol - answerCol - 2*colGap
}

// branchRow draws one move of theirs.
func (t *tree) branchRow(fk compare.Fork, br compare.Branch, keys map[int]string, tell int) block {
	f := t.c.l.f
	w := t.c.inner() - t.indent()
	base := move*leading - 4
	ply := len(fk.Stem)
	var b block
	mv := f.moves([]string{br.Move}, ply, ink{move, true, black})
	b.add(f.label(mv[0].s, 0, base, moveCol-4, ink{move, true, black}))
	b.add(f.label(compare.InTen(br.Share), moveCol, base, freqCol-4, ink{note, false, black}))
	t.answer(&b, br, ply+1, w)
	b.h = move*leading + 2.5
	if t.c.narrow {
		return t.under(b, br, ply, keys, tell)
	}
	x := moveCol + freqCol
	count := f.label(counts(br.Share), 0, base, countCol, ink{note, false, middle})
	b.add(right(count, x+countCol))
	x += countCol + colGap
	h := 0.0
	if s := since(br); s != "" && tell > oneLine {
		b.add(f.label(s, moveCol, base+note*leading, freqCol+countCol, ink{note, false, middle}))
		h = note * leading
	}
	lines := t.after(br, ply, keys, nil, t.besideCol(), linesOf(tell))
	for i, l := range lines {
		b.put(block{items: l.at(0)}, x, base+float64(i)*note*leading)
		h = max(h, float64(i)*note*leading)
	}
	b.h += h
	return b
}

// under sets below the move, in a narrow column, what stands beside it in a
// wide one.
func (t *tree) under(b block, br compare.Branch, ply int, keys map[int]string, tell int) block {
	f := t.c.l.f
	words := f.own(counts(br.Share), ink{note, false, middle})
	if s := since(br); s != "" && tell > oneLine {
		words[len(words)-1].s += ","
		words = append(words, f.own(s, ink{note, false, middle})...)
	}
	p := set(t.after(br, ply, keys, words, t.c.inner()-t.indent(), linesOf(tell)))
	b.put(p, 0, b.h-1)
	b.h += p.h + 1
	return b
}

// answer boxes what the book has; the box stays empty where it has nothing.
func (t *tree) answer(b *block, br compare.Branch, ply int, w float64) {
	f := t.c.l.f
	box := Rect{Box: Box{w - answerCol, 0, answerCol, move*leading + 0.5}, Width: 0.5, Stroke: black}
	if br.State == compare.NoAnswer {
		box.Width = 1.2
	}
	b.add(box)
	if br.Answer == "" {
		return
	}
	k := ink{move, true, black}
	s := f.moves([]string{br.Answer}, ply, k)[0].s
	b.add(f.label(s, w-answerCol+5, move*leading-3.8, answerCol-8, k))
}

// after sets, behind the words before, how it goes on and the note. Where not
// both fit the note stands alone: it is the user's own, the moves are in the
// book anyway.
func (t *tree) after(br compare.Branch, ply int, keys map[int]string, before []word, w float64, most int) []line {
	f := t.c.l.f
	if k := keys[br.Next]; k != "" {
		before = append(before, f.own("→ "+k, ink{note, true, black})...)
	}
	moves, own := t.parts(br, ply, keys)
	lines, whole := f.breakLines(slices.Concat(before, moves, own), w, most)
	if !whole && len(own) > 0 {
		lines, _ = f.breakLines(slices.Concat(before, own), w, most)
	}
	return lines
}

// parts are how it goes on, unless another fork tells that, or where it ends;
// and the note.
func (t *tree) parts(br compare.Branch, ply int, keys map[int]string) (moves, own []word) {
	f := t.c.l.f
	if keys[br.Next] == "" {
		moves = f.moves(br.Then, ply+2, ink{move, false, dark})
	}
	moves = append(moves, f.own(ending(br), ink{note, false, dark})...)
	return moves, f.own(br.Note, ink{note, false, black})
}
