package pdf

import (
	"fmt"
	"sort"

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

// How much a row of the forks tells, from all to the bare line.
const (
	allOfIt = iota
	oneNote // notes cut to one line
	bare    // move, frequency, answer
	levels
)

// leastRows is how many branches must stand on the page if there are as many.
const leastRows = 8

// at names a branch: fork and index in it.
type at struct{ fork, branch int }

// ranked are the forks with their branches ordered, likeliest first.
type ranked struct {
	forks []compare.Fork
	order []at
}

func rank(forks []compare.Fork) ranked {
	r := ranked{forks: forks}
	for i, fk := range forks {
		for j := range fk.Branches {
			r.order = append(r.order, at{i, j})
		}
	}
	reach := func(a at) float64 { return forks[a.fork].Branches[a.branch].Reach }
	sort.SliceStable(r.order, func(a, b int) bool { return reach(r.order[a]) > reach(r.order[b]) })
	return r
}

// first are the n likeliest branches, and a key for each fork among them.
func (r ranked) first(n int) (shown map[at]bool, keys map[int]string) {
	shown, keys = map[at]bool{}, map[int]string{}
	in := map[int]bool{}
	for _, a := range r.order[:n] {
		shown[a] = true
		in[a.fork] = true
	}
	for i := range r.forks {
		if in[i] {
			keys[i] = key(len(keys))
		}
	}
	return shown, keys
}

// parted is how many half-moves a fork's stem has in common with the fork it
// continues.
func (r ranked) parted(i int) int {
	fk := r.forks[i]
	if fk.From < 0 || fk.From >= i {
		return 0
	}
	return common(r.forks[fk.From].Stem, fk.Stem)
}

// missing says what is left out after the first n: lines, and their reach.
func (r ranked) missing(n int) string {
	hidden, sum := 0, 0.0
	for _, a := range r.order[n:] {
		br := r.forks[a.fork].Branches[a.branch]
		if br.Next < 0 { // the others are counted where they end
			hidden++
			sum += br.Reach
		}
	}
	return moreLines(hidden, sum)
}

// moreLines names what was left out by number and sum.
func moreLines(n int, reach float64) string {
	switch n {
	case 0:
		return ""
	case 1:
		return "1 more line, " + compare.OneIn(reach) + ", left out"
	}
	return fmt.Sprintf("%s more lines, together %s, left out", thousands(n), compare.OneIn(reach))
}

// key names a fork: A, B, ... Z, AA, ...
func key(i int) string {
	s := string(rune('A' + i%26))
	if i >= 26 {
		return key(i/26-1) + s
	}
	return s
}

// tree draws ranked forks in a column.
type tree struct {
	ranked
	c *column
}

func (c *column) forks() section {
	t := &tree{ranked: rank(c.side.Forks), c: c}
	s := section{name: "forks", rank: 2, share: 36}
	s.want = t.pick(len(t.order), allOfIt).h + c.over()
	s.least = t.pick(min(leastRows, len(t.order)), bare).h + c.over()
	s.at = func(h float64) block {
		return c.frame(s.name, t.best(h-c.over()+0.01))
	}
	return s
}

// best is the telling of the forks that shows enough rows and most of each.
func (t *tree) best(h float64) block {
	for level := range levels - 1 {
		b, n := t.fill(h, level)
		if n >= min(leastRows, len(t.order)) {
			return b
		}
	}
	b, _ := t.fill(h, bare)
	return b
}

// fill takes branches, likeliest first, as long as they fit.
func (t *tree) fill(h float64, level int) (block, int) {
	lo, hi := 1, len(t.order) // the height grows with the number of rows
	if b := t.pick(hi, level); b.h <= h {
		return b, hi
	}
	for lo < hi {
		mid := (lo + hi + 1) / 2
		if t.pick(mid, level).h <= h {
			lo = mid
		} else {
			hi = mid - 1
		}
	}
	return t.pick(lo, level), lo
}

// pick draws the n likeliest branches in reading order.
func (t *tree) pick(n, level int) block {
	shown, keys := t.first(n)
	var b block
	for i := range t.forks {
		if keys[i] == "" {
			continue
		}
		if b.h > 0 {
			b.h += 4
		}
		fb := t.fork(i, shown, keys, level)
		b.put(fb, 0, b.h)
		b.h += fb.h
	}
	if s := t.missing(n); s != "" {
		b.add(t.c.l.f.label(s, 0, b.h+note, t.c.inner(), ink{note, false, dark}))
		b.h += note * leading
	}
	return b
}

// fork draws one fork: its stem in grey and the branches chosen.
func (t *tree) fork(i int, shown map[at]bool, keys map[int]string, level int) block {
	fk := t.forks[i]
	in := t.indent()
	b := t.stem(i, keys[i])
	spine := b.h - 2
	end := spine
	for j, br := range fk.Branches {
		if !shown[at{i, j}] {
			continue
		}
		row := t.branch(fk, br, keys, level)
		b.put(row, in, b.h)
		end = b.h + move*leading/2
		weight := max(0.5, br.Share.P*6)
		b.add(Line{in - 15, end, in - 5, end, weight, black})
		b.h += row.h
	}
	b.add(Line{in - 15, spine, in - 15, end, 0.5, black})
	return b
}

// indent is where the moves start beside the spine: in the rail on a wide
// page, inside the column on a narrow one.
func (t *tree) indent() float64 {
	if t.c.narrow {
		return 16
	}
	return 0
}

// stem is the way to the fork, from the fork before it if that is shown.
func (t *tree) stem(i int, key string) block {
	f, fk := t.c.l.f, t.forks[i]
	from := t.parted(i)
	words := f.moves(fk.Stem[from:], from, ink{move, false, middle})
	if len(fk.Stem) == 0 {
		words = f.own("from the first move", ink{note, false, middle})
	}
	if fk.Name != "" {
		words = append(words, f.own(fk.ECO+" "+fk.Name, ink{note, false, middle})...)
	}
	in := t.indent()
	p := f.para(words, t.c.inner()-in, 3)
	b := block{h: p.h}
	b.add(f.label(key, in-18, move*0.97, 14, ink{move, true, black}))
	b.put(p, in, 0)
	return b
}

// Columns of a branch, in points from its left edge.
const (
	moveCol   = 70.0
	freqCol   = 100.0
	answerCol = 66.0
)

// branch draws one move of theirs.
func (t *tree) branch(fk compare.Fork, br compare.Branch, keys map[int]string, level int) block {
	f := t.c.l.f
	w := t.c.inner() - t.indent()
	base := move * 0.97
	var b block
	ply := len(fk.Stem)
	mv := f.moves([]string{br.Move}, ply, ink{move, true, black})
	b.add(f.label(mv[0].s, 0, base, moveCol-4, ink{move, true, black}))
	b.add(f.label(compare.InTen(br.Share), moveCol, base, w-moveCol-answerCol-4, ink{note, false, black}))
	t.answer(&b, br, ply+1, w)
	b.h = move*leading + 1
	if level == bare {
		b.h += 1
		return b
	}
	under := f.label(counts(br), moveCol, b.h+note*0.92, freqCol-4, ink{note, false, middle})
	words := t.after(br, ply, keys, level)
	if t.c.narrow {
		words = append(f.own(counts(br), ink{note, false, middle}), words...)
		p := f.para(words, w, map[int]int{allOfIt: 3, oneNote: 1}[level])
		b.put(p, 0, b.h)
		b.h += p.h + 2
		return b
	}
	h := b.h
	if under.S != "" {
		b.add(under)
		h += note * leading
	}
	x := moveCol + freqCol
	p := f.para(words, w-x-answerCol-8, map[int]int{allOfIt: 4, oneNote: 2}[level])
	b.put(p, x, 0)
	b.h = max(h, p.h) + 3
	return b
}

// answer boxes what the book has; the box stays empty where it has nothing.
func (t *tree) answer(b *block, br compare.Branch, ply int, w float64) {
	f := t.c.l.f
	box := Rect{Box: Box{w - answerCol, 0, answerCol, move*leading + 0.5}, Width: 0.6, Stroke: black}
	if br.Answer == "" {
		if br.State == compare.NoAnswer {
			box.Width = 1.2
		}
		b.add(box)
		return
	}
	b.add(box)
	s := f.moves([]string{br.Answer}, ply, ink{move, true, black})[0].s
	txt := f.label(s, w-answerCol+5, move*0.97, answerCol-8, ink{move, true, black})
	b.add(txt)
}

// counts is what the frequency rests on: '17 of 34, 3 Oct 2026'.
func counts(br compare.Branch) string {
	if br.Share.Seen == 0 {
		return "not seen from them"
	}
	s := fmt.Sprintf("%d of %d", br.Share.Seen, br.Share.Of)
	if br.Last != "" {
		s += ", " + day(br.Last)
	}
	return s
}

// after is how it goes on, where it ends, and the note.
func (t *tree) after(br compare.Branch, ply int, keys map[int]string, level int) []word {
	f := t.c.l.f
	var words []word
	if k, ok := keys[br.Next]; ok {
		words = append(words, f.own("→ "+k, ink{note, true, black})...)
	} else if len(br.Then) > 0 {
		words = append(words, f.moves(br.Then, ply+2, ink{move, false, dark})...)
	}
	if s := ending(br); s != "" {
		words = append(words, f.own(s, ink{note, false, dark})...)
	}
	if br.Note != "" {
		words = append(words, f.own(br.Note, ink{note, false, black})...)
	}
	return words
}

// ending says what the book has after their move, where it is not an answer.
func ending(br compare.Branch) string {
	switch br.State {
	case compare.NoAnswer:
		return "no answer yet"
	case compare.BookIsOver:
		return "your book had ended"
	case compare.Returns:
		return "back in your book"
	}
	if br.Next >= 0 {
		return ""
	}
	switch br.EndsWith {
	case compare.TheyLeave:
		return "then they leave your book"
	case compare.BookEnds:
		return "your book ends"
	case compare.LimitInBook:
		return "still in your book"
	case compare.GameOver:
		return "the game is over"
	}
	return ""
}
