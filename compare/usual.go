package compare

import (
	"cmp"
	"iter"
	"slices"
	"strings"

	"foreply/compare/fact"
	"foreply/profile/board"
)

// The usual set-up is told from the first usualPly plies, as up to usualShown
// moves that the user makes in at least usualFrom of the expected games.
const (
	usualPly   = 20
	usualShown = 6
	usualFrom  = 0.4
	setUpLeast = 2 // moves from which the lines of a family make a set-up
)

// use is how much the user makes a move in some lines.
type use struct {
	san        string
	mass, when float64
}

// usualMoves lists the moves the user makes most often in the lines through a
// position, in the order in which they come: in at least usualFrom of the total
// reach, and not those that skip has.
func (c *comparison) usualMoves(from *state, total float64, skip []string) []string {
	uses := map[string]*use{}
	for s := range c.fine.below(from) {
		if s.ply >= from.ply+usualPly || s.pos.Turn() != c.book.Mine || len(s.flows) == 0 {
			continue
		}
		san := withoutCheck(s.pos.SAN(s.flows[0].likely.Move))
		if strings.Contains(san, "x") || slices.Contains(skip, san) { // captures follow the opponent, they are no set-up
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
		if u.mass >= usualFrom*total {
			usual = append(usual, u)
		}
	}
	return inOrder(usual)
}

func inOrder(usual []*use) []string {
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

// setUpNear is what the user usually plays in the family of a line: in the lines
// of the book that go on from the position where it left them, or from an earlier
// one of the family if that tells more; without the moves made already. It returns
// the ply of that position, too.
func (c *comparison) setUpNear(from *state, line []string) (moves []string, ply int) {
	made := ownMoves(c.book, line)
	for s := c.fine.at[stateKey{from.key, from.ply}]; s != nil; s = c.wider(s) {
		found := c.usualMoves(s, c.goesOn(s), made)
		if len(found) >= setUpLeast {
			return found, s.ply
		}
		if len(moves) == 0 {
			moves, ply = found, s.ply
		}
	}
	if len(moves) == 0 {
		return nil, 0
	}
	return moves, ply
}

// wider is their decision before s, if the way to s is so much of what goes on
// from there that both are of one family; nil if it is another opening's, too.
func (c *comparison) wider(s *state) *state {
	for p := s.via; p != nil; p = p.via {
		if p.pos.Turn() == c.book.Mine {
			continue
		}
		if s.mass < usualFrom*c.goesOn(p) {
			return nil
		}
		return p
	}
	return nil
}

// ownMoves are the user's moves of a line, without signs of check.
func ownMoves(b *Book, line []string) []string {
	var own []string
	for ply, san := range line {
		if (ply%2 == 0) == (b.Mine == board.White) {
			own = append(own, withoutCheck(san))
		}
	}
	return own
}

func withoutCheck(san string) string { return strings.TrimRight(san, "+#") }

// goesOn is the reach of what their covered moves lead to.
func (c *comparison) goesOn(s *state) float64 {
	covered := 0.0
	for i := range s.flows {
		if f := &s.flows[i]; f.covered() && c.book.answers(f.to) {
			covered += f.likely.P
		}
	}
	return s.mass * covered
}

// fineWalk is a walk to a finer reach, indexed.
type fineWalk struct {
	*walk
	at   map[stateKey]*state
	next map[*state][]*state // by the likeliest way
}

func (c *comparison) walkFine() *fineWalk {
	w := &fineWalk{walk: c.walkFrom(board.Start(), 0, min(c.opt.Threshold, fineThreshold)), next: map[*state][]*state{}}
	w.at = w.byPlace()
	for _, s := range w.order {
		if s.via != nil {
			w.next[s.via] = append(w.next[s.via], s)
		}
	}
	return w
}

// below yields a state and all that the likeliest ways lead to from it.
func (w *fineWalk) below(from *state) iter.Seq[*state] {
	return func(yield func(*state) bool) {
		stack := []*state{from}
		for len(stack) > 0 {
			s := stack[len(stack)-1]
			stack = append(stack[:len(stack)-1], w.next[s]...)
			if !yield(s) {
				return
			}
		}
	}
}

// coverage tells for each full move up to the last that matters how often the
// user still has an answer there, counting what was cut as no answer.
func (c *comparison) coverage() []fact.Coverage {
	byPly := map[int]float64{}
	deepest := 0
	for _, s := range c.fine.order {
		if s.pos.Turn() == c.book.Mine && len(s.flows) > 0 {
			byPly[s.ply] += s.mass
			deepest = max(deepest, s.ply)
		}
	}
	first := 0
	if c.book.Mine == board.Black {
		first = 1
	}
	var out []fact.Coverage
	for ply := first; ply <= deepest; ply += 2 {
		p := min(byPly[ply], 1)
		out = append(out, fact.Coverage{Move: ply/2 + 1, P: p, Of100: int(p*100 + 0.5)})
	}
	return out
}
