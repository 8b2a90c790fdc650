package compare

import (
	"cmp"
	"slices"
	"strings"

	"foreply/profile/board"
)

// The usual set-up is told from the first usualPly plies, as up to usualShown
// moves that the user makes in at least usualFrom of the expected games.
const (
	usualPly   = 20
	usualShown = 6
	usualFrom  = 0.4
)

// usualMoves lists the moves the user makes most often on the lines to expect,
// in the order in which they come.
func (c *comparison) usualMoves(w *walk) []string {
	type use struct {
		san        string
		mass, when float64
	}
	uses := map[string]*use{}
	for _, s := range w.order {
		if s.ply >= usualPly || s.pos.Turn() != c.book.Mine || len(s.flows) == 0 {
			continue
		}
		san := strings.TrimRight(s.pos.SAN(s.flows[0].likely.Move), "+#")
		if strings.Contains(san, "x") { // captures follow the opponent, they are no set-up
			continue
		}
		u := uses[san]
		if u == nil {
			u = &use{san: san}
			uses[san] = u
		}
		u.mass += s.mass
		u.when += s.mass * float64(s.ply)
	}
	var usual []*use
	for _, u := range uses {
		if u.mass >= usualFrom {
			usual = append(usual, u)
		}
	}
	slices.SortFunc(usual, func(a, b *use) int {
		return cmp.Or(cmp.Compare(b.mass, a.mass), strings.Compare(a.san, b.san))
	})
	usual = usual[:min(len(usual), usualShown)]
	slices.SortFunc(usual, func(a, b *use) int {
		return cmp.Or(cmp.Compare(a.when/a.mass, b.when/b.mass), strings.Compare(a.san, b.san))
	})
	moves := make([]string, len(usual))
	for i, u := range usual {
		moves[i] = u.san
	}
	return moves
}

// coverage tells for each full move up to the last that matters how often the
// user still has an answer there, counting what was cut as no answer.
func (c *comparison) coverage(w *walk) []Coverage {
	byPly := map[int]float64{}
	deepest := 0
	for _, s := range w.order {
		if s.pos.Turn() == c.book.Mine && len(s.flows) > 0 {
			byPly[s.ply] += s.mass
			deepest = max(deepest, s.ply)
		}
	}
	first := 0
	if c.book.Mine == board.Black {
		first = 1
	}
	var out []Coverage
	for ply := first; ply <= deepest; ply += 2 {
		p := min(byPly[ply], 1)
		out = append(out, Coverage{Move: ply/2 + 1, P: p, Of100: int(p*100 + 0.5)})
	}
	return out
}
