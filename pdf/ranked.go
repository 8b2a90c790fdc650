package pdf

import (
	"fmt"
	"sort"

	"foreply/compare/fact"
	"foreply/compare/words"
)

// Ways to tell what to expect.
const (
	byForks = iota
	byExits // it never parts, or nothing is known of the forks
	byGames // so few games that they are listed
)

func tellBy(s *fact.Side) int {
	branches := 0
	for _, f := range s.Forks {
		branches += len(f.Branches)
	}
	switch {
	case s.Counted(), branches == 0 && len(s.Exits) == 0:
		return byGames
	case branches == 0:
		return byExits
	}
	return byForks
}

// at names a branch: fork and index in it.
type at struct{ fork, branch int }

// ranked are the forks with their branches in the order in which they find
// room: likeliest first, those without an answer before their turn. The way to a
// branch always stands before it.
type ranked struct {
	forks  []fact.Fork
	order  []at
	parent []at     // of each fork, the branch it continues; fork -1 for none
	roots  []int    // forks that continue none
	rest   []hidden // what is left out after so many of the order
}

// hidden counts lines that are left out, where they end, and sums their reach.
type hidden struct {
	lines int
	reach float64
}

// openWeight is by how much an unanswered move comes before an answered one.
const openWeight = 4.0

func rank(forks []fact.Fork) ranked {
	r := ranked{forks: forks, parent: make([]at, len(forks))}
	for i := range forks {
		if r.parent[i] = r.parentOf(i); r.parent[i].fork < 0 {
			r.roots = append(r.roots, i)
		}
	}
	r.sort()
	r.rest = make([]hidden, len(r.order)+1)
	for n := len(r.order) - 1; n >= 0; n-- {
		r.rest[n] = r.rest[n+1]
		if br := r.branch(r.order[n]); br.Next < 0 { // the others are counted where they end
			r.rest[n].lines++
			r.rest[n].reach += br.Reach
		}
	}
	return r
}

// sort finds the order.
func (r *ranked) sort() {
	forks := r.forks
	worth := make([][]float64, len(forks))
	for i := len(forks) - 1; i >= 0; i-- { // a fork stands behind what it continues
		worth[i] = make([]float64, len(forks[i].Branches))
		for j, br := range forks[i].Branches {
			worth[i][j] = br.Reach
			if br.State == fact.NoAnswer {
				worth[i][j] *= openWeight
			}
			if r.continues(at{i, j}) {
				for _, v := range worth[br.Next] {
					worth[i][j] = max(worth[i][j], v)
				}
			}
		}
	}
	for i := range forks {
		for j := range forks[i].Branches {
			r.order = append(r.order, at{i, j})
		}
	}
	sort.SliceStable(r.order, func(a, b int) bool {
		return worth[r.order[a].fork][r.order[a].branch] > worth[r.order[b].fork][r.order[b].branch]
	})
}

// parentOf is the branch that leads to a fork in the fork it continues.
func (r ranked) parentOf(i int) at {
	from := r.forks[i].From
	if from >= 0 && from < i {
		for j, br := range r.forks[from].Branches {
			if br.Next == i {
				return at{from, j}
			}
		}
	}
	return at{-1, -1}
}

// continues says whether the fork that a branch leads to hangs on it; else it
// hangs on another branch, which this one joins.
func (r ranked) continues(a at) bool {
	next := r.branch(a).Next
	return next > a.fork && next < len(r.forks) && r.parent[next] == a
}

func (r ranked) branch(a at) fact.Branch { return r.forks[a.fork].Branches[a.branch] }

// ply is the half-moves before a branch's move.
func (r ranked) ply(a at) int { return len(r.forks[a.fork].Stem) }

// keys names the forks that the n likeliest branches stand in.
func (r ranked) keys(n int) map[int]string {
	in := map[int]bool{}
	for _, a := range r.order[:n] {
		in[a.fork] = true
	}
	keys := map[int]string{}
	for i := range r.forks {
		if in[i] {
			keys[i] = key(len(keys))
		}
	}
	return keys
}

// key names a fork: A, B, ... Z, AA, ...
func key(i int) string {
	s := string(rune('A' + i%26))
	if i >= 26 {
		return key(i/26-1) + s
	}
	return s
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
func (r ranked) missing(n int) string { return moreLines(r.rest[n].lines, r.rest[n].reach) }

// moreLines names what was left out by number and sum.
func moreLines(n int, reach float64) string {
	switch n {
	case 0:
		return ""
	case 1:
		return "1 more line, " + words.OneIn(reach) + ", left out"
	}
	return fmt.Sprintf("%s more lines, together %s, left out", words.Thousands(n), words.OneIn(reach))
}

// common is the length of the common beginning.
func common(a, b []string) int {
	n := 0
	for n < len(a) && n < len(b) && a[n] == b[n] {
		n++
	}
	return n
}

// counts is what a frequency rests on: '17 of 34'; nothing where that is told in its
// place.
func counts(s fact.Share) string {
	switch {
	case s.Hardly:
		return ""
	case s.Seen == 0:
		return "not seen"
	}
	return fmt.Sprintf("%d of %d", s.Seen, s.Of)
}

// since is when they last played it.
func since(br fact.Branch) string {
	if d := day(br.Last); d != "" && br.Share.Seen > 0 {
		return "last " + d
	}
	return ""
}

// ending says what the book has after their move, where it is not an answer; where
// it ends, with the evaluation if there is one.
func ending(br fact.Branch, myColor string) string {
	text := endingKind(br)
	if br.Best != nil && text != "" {
		text += " at " + words.Eval(br.Best, myColor)
	}
	return text
}

func endingKind(br fact.Branch) string {
	switch br.State {
	case fact.NoAnswer:
		return "no answer yet"
	case fact.BookIsOver:
		return "book had ended"
	case fact.Returns:
		return "back in book"
	case fact.ByWayBack:
		return words.Back(br.Back).First(1).String()
	}
	if br.Next >= 0 {
		return ""
	}
	switch br.EndsWith {
	case fact.TheyLeave:
		return "they leave"
	case fact.BookEnds:
		return "book ends"
	case fact.LimitInBook:
		return "still in book"
	case fact.GameOver:
		return "game over"
	}
	return ""
}

// coverage says how far the book reaches, in games of a hundred. It names the
// first moves at which an answer begins to fail, and what was too rare to follow.
func coverage(side *fact.Side) string {
	const most = 4
	s := ""
	n := 0
	for _, c := range side.Coverage {
		if c.Of100 > 97 || n == most {
			continue
		}
		if n == 0 {
			s = fmt.Sprintf("you still have an answer at move %d in %d of 100 such games", c.Move, c.Of100)
		} else {
			s += fmt.Sprintf(", at %d in %d", c.Move, c.Of100)
		}
		n++
	}
	return sentenceList([]string{s, words.Rare(side.Other, side.Threshold)})
}

// leftWords says how past games ran through the book.
func leftWords(l *fact.Left) string {
	if l.Games == 0 {
		return ""
	}
	return "so far: " + words.Left(l).String()
}
