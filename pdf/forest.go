package pdf

import "foreply/compare/fact"

// at names a branch: fork and index in it.
type at struct{ fork, branch int }

// forest is the forks of a side as trees.
type forest struct {
	forks  []fact.Fork
	parent []at  // of each fork, the branch it continues; fork -1 for none
	roots  []int // forks that continue none
}

func grown(forks []fact.Fork) forest {
	r := forest{forks: forks, parent: make([]at, len(forks))}
	for i := range forks {
		if r.parent[i] = r.parentOf(i); r.parent[i].fork < 0 {
			r.roots = append(r.roots, i)
		}
	}
	return r
}

// parentOf is the branch that leads to a fork in the fork it continues.
func (r forest) parentOf(i int) at {
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
func (r forest) continues(a at) bool {
	next := r.branch(a).Next
	return next > a.fork && next < len(r.forks) && r.parent[next] == a
}

func (r forest) branch(a at) fact.Branch { return r.forks[a.fork].Branches[a.branch] }

// ply is the half-moves before a branch's move.
func (r forest) ply(a at) int { return len(r.forks[a.fork].Stem) }

// letter names the n-th of a list: A, B, ... Z, AA, ...
func letter(i int) string {
	s := string(rune('A' + i%26))
	if i >= 26 {
		return letter(i/26-1) + s
	}
	return s
}
