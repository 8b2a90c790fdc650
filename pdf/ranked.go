package pdf

import (
	"fmt"
	"sort"

	"foreply/compare"
)

// Ways to tell what to expect.
const (
	byForks = iota
	byExits // it never parts, or nothing is known of the forks
	byGames // so few games that they are listed
)

func tellBy(s *compare.Side) int {
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
	reach := func(a at) float64 { return r.branch(a).Reach }
	sort.SliceStable(r.order, func(a, b int) bool { return reach(r.order[a]) > reach(r.order[b]) })
	return r
}

func (r ranked) branch(a at) compare.Branch { return r.forks[a.fork].Branches[a.branch] }

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
func (r ranked) missing(n int) string {
	hidden, sum := 0, 0.0
	for _, a := range r.order[n:] {
		if br := r.branch(a); br.Next < 0 { // the others are counted where they end
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
	return fmt.Sprintf("%s more lines, together %s, left out", compare.Thousands(n), compare.OneIn(reach))
}

// common is the length of the common beginning.
func common(a, b []string) int {
	n := 0
	for n < len(a) && n < len(b) && a[n] == b[n] {
		n++
	}
	return n
}

// counts is what a frequency rests on: '17 of 34'.
func counts(s compare.Share) string {
	if s.Seen == 0 {
		return "not seen"
	}
	return fmt.Sprintf("%d of %d", s.Seen, s.Of)
}

// since is when they last played it.
func since(br compare.Branch) string {
	if d := day(br.Last); d != "" && br.Share.Seen > 0 {
		return "last " + d
	}
	return ""
}

// ending says what the book has after their move, where it is not an answer.
func ending(br compare.Branch) string {
	switch br.State {
	case compare.NoAnswer:
		return "no answer yet"
	case compare.BookIsOver:
		return "book had ended"
	case compare.Returns:
		return "back in book"
	}
	if br.Next >= 0 {
		return ""
	}
	switch br.EndsWith {
	case compare.TheyLeave:
		return "they leave"
	case compare.BookEnds:
		return "book ends"
	case compare.LimitInBook:
		return "still in book"
	case compare.GameOver:
		return "game over"
	}
	return ""
}

// coverage says how far the book reaches, in games of a hundred. It names the
// first moves at which an answer begins to fail.
func coverage(list []compare.Coverage) string {
	const most = 4
	s := ""
	n := 0
	for _, c := range list {
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
	return s
}

// leftWords says how past games ran through the book.
func leftWords(l compare.Left) string {
	if l.Text == "" {
		return ""
	}
	return "so far: " + l.Text
}
