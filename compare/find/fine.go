package find

import (
	"iter"

	"foreply/compare/walk"
)

// Fine is a walk to a finer reach, indexed.
type Fine struct {
	*walk.Walk
	at   map[walk.Key]*walk.State
	next map[*walk.State][]*walk.State // by the likeliest way
}

// NewFine indexes a walk.
func NewFine(of *walk.Walk) *Fine {
	w := &Fine{Walk: of, next: map[*walk.State][]*walk.State{}}
	w.at = w.ByPlace()
	for _, s := range w.Order {
		if s.Via != nil {
			w.next[s.Via] = append(w.next[s.Via], s)
		}
	}
	return w
}

// below yields a state and all that the likeliest ways lead to from it.
func (w *Fine) below(from *walk.State) iter.Seq[*walk.State] {
	return func(yield func(*walk.State) bool) {
		stack := []*walk.State{from}
		for len(stack) > 0 {
			s := stack[len(stack)-1]
			stack = append(stack[:len(stack)-1], w.next[s]...)
			if !yield(s) {
				return
			}
		}
	}
}
