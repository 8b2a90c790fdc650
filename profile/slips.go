package profile

import (
	"cmp"
	"slices"

	"foreply/profile/board"
)

const (
	// LevelWithin is how far from level a position may be, in centipawns, for a
	// wrong move in it to count; what was decided before is no news.
	LevelWithin = 150
	// SlipFrom is how much the evaluation must fall, in centipawns.
	SlipFrom = 100
)

// Slip is a move by which a side went wrong from a roughly level position, by
// the evaluations in the comments of the opponent's games.
type Slip struct {
	Position      board.Position
	Move          board.Move
	Before, After int // means in centipawns, from the side that moved
	// Games made the move here, oldest first, whether they hold evaluations or
	// not: indexes of Profile.Games.
	Games []int32
	// Visits counts all games that came here.
	Visits int
	// Judged: Before and After are an engine's, not from the comments.
	Judged bool
	// Since are the games that came here after the last of Games and moved
	// otherwise; Instead is the commonest of their moves.
	Since   []int32
	Instead board.Move
}

// By is the side that went wrong.
func (s *Slip) By() board.Color { return s.Position.Turn() }

// Judge evaluates a position, and it after a move, in centipawns from the side
// that moves; ok is false where it knows nothing of them.
type Judge func(pos *board.Position, m board.Move) (before, after int, ok bool)

// Slips lists where a side went wrong in the games with colour theirs: the
// opponent, or who sat there against them. Where several games evaluate the same
// move in the same position, their means decide; where none does, judge, if there
// is one. The commonest come first.
func (p *Profile) Slips(theirs board.Color, judge Judge) []Slip {
	t := p.trees[theirs]
	found := p.falls(theirs)
	var out []Slip
	for at, f := range found {
		before, after := f.before/f.n, f.after/f.n
		if n := t.At(at.key); n != nil && wrong(before, after) {
			s := Slip{Position: f.position, Move: at.move, Before: before, After: after}
			s.visits(n)
			out = append(out, s)
		}
	}
	if judge != nil {
		out = append(out, judged(t, judge, found)...)
	}
	slices.SortFunc(out, func(a, b Slip) int {
		return cmp.Or(
			cmp.Compare(len(b.Games), len(a.Games)), cmp.Compare(a.Position.Ply(), b.Position.Ply()),
			cmp.Compare(a.Position.Key(), b.Position.Key()), cmp.Compare(a.Move, b.Move),
		)
	})
	return out
}

// wrong tells whether a move was, by the evaluations around it.
func wrong(before, after int) bool {
	return max(before, -before) <= LevelWithin && before-after >= SlipFrom
}

// judged lists the wrong moves of a tree by a judge, but for those the games
// evaluate.
func judged(t *Tree, judge Judge, known map[placed]*fall) []Slip {
	var out []Slip
	for pos, n := range t.All() {
		for _, e := range n.Edges {
			if known[placed{pos.Key(), e.Move}] != nil {
				continue
			}
			if before, after, ok := judge(&pos, e.Move); ok && wrong(before, after) {
				s := Slip{Position: pos, Move: e.Move, Before: before, After: max(after, -MostEval), Judged: true}
				s.visits(n)
				out = append(out, s)
			}
		}
	}
	return out
}

// placed is a move of a position.
type placed struct {
	key  uint64
	move board.Move
}

// fall sums evaluations before and after a move, from the side that moves.
type fall struct {
	position         board.Position
	n, before, after int
}

// falls gathers the evaluated moves that at least one game holds for wrong.
func (p *Profile) falls(theirs board.Color) map[placed]*fall {
	found := map[placed]*fall{}
	for _, onlyFound := range [...]bool{false, true} { // first where, then what all games say of it
		for g := range p.With(theirs) {
			pos := board.Start()
			for i, m := range g.Moves[:min(len(g.Moves), len(g.evals))] {
				before, ok1 := g.Eval(i, pos.Turn())
				after, ok2 := g.Eval(i+1, pos.Turn())
				at := placed{pos.Key(), m}
				switch f := found[at]; {
				case !ok1 || !ok2:
				case onlyFound && f != nil:
					f.n, f.before, f.after = f.n+1, f.before+before, f.after+after
				case !onlyFound && f == nil && before-after >= SlipFrom && max(before, -before) <= LevelWithin:
					found[at] = &fall{position: pos}
				}
				pos.Play(m)
			}
		}
	}
	return found
}

// visits fills in who made the move and what came after.
func (s *Slip) visits(n *TreeNode) {
	instead := map[board.Move]int{}
	previous := int32(-1)
	for _, v := range n.Visits {
		if v.Game == previous { // a game counts once, by its first move here
			continue
		}
		previous = v.Game
		s.Visits++
		if v.Move == s.Move {
			s.Games = append(s.Games, v.Game)
			s.Since, s.Instead = nil, board.NoMove
			clear(instead)
			continue
		}
		s.Since = append(s.Since, v.Game)
		instead[v.Move]++
		if k := instead[v.Move]; s.Instead == board.NoMove || k > instead[s.Instead] {
			s.Instead = v.Move
		}
	}
}
