package find

import (
	"foreply/compare/fact"
	"foreply/profile/board"
)

// Answered tells for each full move up to the last that matters how often the
// user still has an answer there, counting what was cut as no answer.
func Answered(fine *Fine) []fact.Coverage {
	byPly := map[int]float64{}
	deepest := 0
	for _, s := range fine.Order {
		if s.Pos.Turn() == fine.Book.Mine && len(s.Flows) > 0 {
			byPly[s.Ply] += s.Mass
			deepest = max(deepest, s.Ply)
		}
	}
	first := 0
	if fine.Book.Mine == board.Black {
		first = 1
	}
	var out []fact.Coverage
	for ply := first; ply <= deepest; ply += 2 {
		p := min(byPly[ply], 1)
		out = append(out, fact.Coverage{Move: ply/2 + 1, P: p, Of100: int(p*100 + 0.5)})
	}
	return out
}
