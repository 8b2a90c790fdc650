package walk

import "foreply/profile/board"

// NotSeen lists the plies of the likeliest way to s that the opponent has never
// played in the games found, though the book covers them.
func NotSeen(s *State) []int {
	var plies []int
	for ; s.Via != nil; s = s.Via {
		if s.unseen {
			plies = append([]int{s.Ply}, plies...)
		}
	}
	return plies
}

// BackAt lists the plies of the user's moves, who has a colour, on the likeliest way to s
// that are ways back.
func BackAt(s *State, mine board.Color) []int {
	var plies []int
	for ; s.Via != nil; s = s.Via {
		if s.Via.Pos.Turn() == mine && s.Via.Flows[0].Back != nil {
			plies = append([]int{s.Ply}, plies...)
		}
	}
	return plies
}

// AnsweredNext is the share of their next moves that the book answers, or that a
// way back meets.
func (w *Walk) AnsweredNext() float64 {
	start := w.Order[0]
	covered := 0.0
	for i := range start.Flows {
		if f := &start.Flows[i]; f.Back != nil || f.Covered() && w.Book.HasAnswer(f.To) {
			covered += f.Likely.P
		}
	}
	return min(covered, 1)
}

// Depth is the mean full move at which the lines leave the book; what was cut
// under the threshold does not count.
func (w *Walk) Depth() float64 {
	var sum, mass float64
	for _, e := range w.Sorted() {
		sum += e.Mass * float64(e.Ply/2+1)
		mass += e.Mass
	}
	if mass == 0 {
		return 0
	}
	return sum / mass
}
