package pdf

import "foreply/compare"

// lines is the section of what to expect: the forks; the games themselves when
// they are few; the one line when it never parts.
func (c *column) lines() section {
	switch tellBy(c.side) {
	case byGames:
		return c.games()
	case byExits:
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
	fairNotes = 3 // second lines that a fair height has room for
)

// fewest is leastRows, or what two columns need for them together.
func (c *column) fewest() int {
	if c.narrow {
		return leastRows / 2
	}
	return leastRows
}

// enough is how many of the likeliest branches hold the number of lines as the
// page shows them, that is rows that lead to no other row, or manyRows.
func (r ranked) enough(lines int) int {
	most := min(manyRows, len(r.order))
	for n := lines; n < most; n++ {
		if r.ends(n) >= lines {
			return n
		}
	}
	return most
}

// ends counts the rows among the n likeliest that lead to no other.
func (r ranked) ends(n int) int {
	keys := r.keys(n)
	ends := 0
	for _, a := range r.order[:n] {
		if keys[r.branch(a).Next] == "" {
			ends++
		}
	}
	return ends
}

// tree draws ranked forks in a column.
type tree struct {
	ranked
	c    *column
	rows map[rowKey]block // drawn before, since choices are tried many times
}

// rowKey is all that the look of a branch depends on.
type rowKey struct {
	at   at
	tell int
	to   string // key of the fork it leads to
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
	t := &tree{ranked: rank(c.side.Forks), c: c, rows: map[rowKey]block{}}
	s := section{name: "forks", rank: 2, share: 36}
	// More rows than a page holds need not be drawn to know that they want it all.
	over := c.over(false)
	tail := t.reach()
	s.want = t.draw(t.choose(min(60, len(t.order)), allOfIt)).h + tail.h + over
	s.least = t.draw(t.choose(min(c.fewest(), len(t.order)), oneLine)).h + over
	s.fair = t.draw(t.choose(t.enough(c.fewest()), oneLine)).h + fairNotes*note*leading + over
	s.at = func(h float64) block {
		ch, rest := t.best(h-over+0.01, tail.h)
		b := t.draw(ch)
		if rest >= tail.h {
			b.put(tail, 0, b.h)
			b.h += tail.h
		}
		return c.frame(s, b)
	}
	return s
}

// best fills a height: first with enough rows, then by finishing what is cut
// short in them; then, when there is room for the tail, it keeps that; then with
// more rows, and by telling all, the likeliest first. It returns what is left.
func (t *tree) best(h, tail float64) (ch choice, rest float64) {
	ch = t.grow(t.choose(1, oneLine), t.enough(t.c.fewest()), h)
	t.tellMore(ch, twoLines, h, t.isCut)
	room := h
	if t.draw(ch).h+tail <= h {
		room -= tail
	}
	ch = t.grow(ch, manyRows, room)
	for _, tell := range []int{twoLines, allOfIt} {
		t.tellMore(ch, tell, room, func(at, choice) bool { return true })
	}
	ch = t.grow(ch, len(t.order), room)
	return ch, h - t.draw(ch).h
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

// reach is how far the book goes on these lines, and how far it went.
func (t *tree) reach() block {
	f := t.c.l.f
	out := block{h: 4}
	for _, s := range []string{coverage(t.c.side.Coverage), leftWords(t.c.side.Left)} {
		p := f.para(f.say(s, ink{note, false, dark}), t.c.inner(), 2)
		out.put(p, 0, out.h)
		out.h += p.h
	}
	if len(out.items) == 0 {
		return block{}
	}
	return out
}

// indent is where the moves start beside the spine: in the rail on a wide
// page, inside the column on a narrow one.
func (t *tree) indent() float64 {
	if t.c.narrow {
		return 18
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
		id := rowKey{at{i, j}, tell, ch.keys[br.Next]}
		row, ok := t.rows[id]
		if !ok {
			row = t.branchRow(fk, br, ch.keys, tell)
			t.rows[id] = row
		}
		end = b.h + move*leading/2
		weight := max(0.5, br.Share.P*10*tineUnit)
		b.add(Line{in - spineAt, end, in - tineEnd, end, weight, black})
		b.put(row, in, b.h)
		b.h += row.h
	}
	b.add(Line{in - spineAt, spine, in - spineAt, end, 0.5, black})
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
	grey := ink{note, false, middle}
	others := block{}
	if fk.Rest.Ten > 0 {
		others.add(f.label("others "+compare.InTen(fk.Rest), 0, 0, w, grey))
	}
	beside := func(l line) bool { // is there room for them in the stem's last line?
		return len(others.items) == 0 || !t.c.narrow && l.w+3*colGap+others.items[0].Bounds().W <= w-answerCol
	}
	lines, _ := f.breakLines(words, w, 3)
	if fk.Name != "" && fk.Name != t.nameBefore(i) { // where it costs no line
		named, whole := f.breakLines(append(words, f.own(fk.ECO+" "+fk.Name, grey)...), w, len(lines))
		if whole && (t.c.narrow || beside(named[len(named)-1])) {
			lines = named
		}
	}
	p := set(lines)
	b := block{h: p.h}
	b.add(f.label(key, in-spineAt-3, move*0.95, 14, ink{move, true, black}))
	b.put(p, in, 0)
	switch {
	case len(others.items) == 0:
	case len(lines) > 0 && beside(lines[len(lines)-1]):
		b.put(others, in+w-answerCol-colGap-others.items[0].Bounds().W, b.h-move*underBase)
	default:
		b.put(others, in, b.h+note*0.95)
		b.h += note * leading
	}
	return b
}

// nameBefore is the opening of the fork that a fork continues.
func (t *tree) nameBefore(i int) string {
	if from := t.forks[i].From; from >= 0 && from < i {
		return t.forks[from].Name
	}
	return ""
}
