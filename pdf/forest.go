package pdf

import "foreply/compare/fact"

// at names a branch: parting and index in it.
type at struct{ parting, branch int }

// forest is the partings of a side as trees.
type forest struct {
	partings []fact.Parting
	parent   []at  // of each parting, the branch it continues; parting -1 for none
	roots    []int // partings that continue none
}

func grown(partings []fact.Parting) forest {
	r := forest{partings: partings, parent: make([]at, len(partings))}
	for i := range partings {
		if r.parent[i] = r.parentOf(i); r.parent[i].parting < 0 {
			r.roots = append(r.roots, i)
		}
	}
	return r
}

// parentOf is the branch that leads to a parting in the parting it continues.
func (r forest) parentOf(i int) at {
	from := r.partings[i].From
	if from >= 0 && from < i {
		for j, br := range r.partings[from].Branches {
			if br.Next == i {
				return at{from, j}
			}
		}
	}
	return at{-1, -1}
}

// continues says whether the parting that a branch leads to hangs on it; else it
// hangs on another branch, which this one joins.
func (r forest) continues(a at) bool {
	next := r.branch(a).Next
	return next > a.parting && next < len(r.partings) && r.parent[next] == a
}

func (r forest) branch(a at) fact.Branch { return r.partings[a.parting].Branches[a.branch] }

// ply is the half-moves before a branch's move.
func (r forest) ply(a at) int { return len(r.partings[a.parting].Stem) }

// letter names the n-th of a list: A, B, ... Z, AA, ...
func letter(i int) string {
	s := string(rune('A' + i%26))
	if i >= 26 {
		return letter(i/26-1) + s
	}
	return s
}
