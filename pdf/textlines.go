package pdf

import (
	"sort"

	"foreply/compare/fact"
	"foreply/compare/words"
)

// Ways to tell what to expect.
const (
	byPartings = iota
	byExits    // it never parts, or nothing is known of the partings
	byGames    // so few games that they are listed
)

func tellBy(s *fact.Side) int {
	branches := 0
	for _, f := range s.Partings {
		branches += len(f.Branches)
	}
	switch {
	case s.Counted(), branches == 0 && len(s.Exits) == 0:
		return byGames
	case branches == 0:
		return byExits
	}
	return byPartings
}

// ranked are the partings with their branches in the order in which they find
// room: likeliest first, those without an answer before their turn. The way to a
// branch always stands before it.
type ranked struct {
	forest
	order []at
	rest  []hidden // what is left out after so many of the order
}

// hidden counts lines that are left out, where they end, and sums their reach.
type hidden struct {
	lines int
	reach float64
}

// openWeight is by how much an unanswered move comes before an answered one.
const openWeight = 4.0

func rank(partings []fact.Parting) ranked {
	r := ranked{forest: grown(partings)}
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
	partings := r.partings
	worth := make([][]float64, len(partings))
	for i := len(partings) - 1; i >= 0; i-- { // a parting stands behind what it continues
		worth[i] = make([]float64, len(partings[i].Branches))
		for j, br := range partings[i].Branches {
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
	for i := range partings {
		for j := range partings[i].Branches {
			r.order = append(r.order, at{i, j})
		}
	}
	sort.SliceStable(r.order, func(a, b int) bool {
		return worth[r.order[a].parting][r.order[a].branch] > worth[r.order[b].parting][r.order[b].branch]
	})
}

// keys names the partings that the n likeliest branches stand in.
func (r ranked) keys(n int) map[int]string {
	in := map[int]bool{}
	for _, a := range r.order[:n] {
		in[a.parting] = true
	}
	keys := map[int]string{}
	for i := range r.partings {
		if in[i] {
			keys[i] = letter(len(keys))
		}
	}
	return keys
}

// parted is how many half-moves a parting's stem has in common with the parting it
// continues.
func (r ranked) parted(i int) int {
	fk := r.partings[i]
	if fk.From < 0 || fk.From >= i {
		return 0
	}
	return common(r.partings[fk.From].Stem, fk.Stem)
}

// missing says what is left out after the first n: lines, and their reach.
func (r ranked) missing(n int) string { return words.LinesLeft(r.rest[n].lines, r.rest[n].reach) }

func leftOutLines(list []fact.Exit) string {
	sum := 0.0
	for _, e := range list {
		sum += e.Reach
	}
	return words.LinesLeft(len(list), sum)
}

// common is the length of the common beginning.
func common(a, b []string) int {
	n := 0
	for n < len(a) && n < len(b) && a[n] == b[n] {
		n++
	}
	return n
}
