package find

import (
	"cmp"
	"slices"
	"strings"

	"foreply/compare/book"
	"foreply/compare/walk"
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
func usualMoves(from *walk.State, total float64, skip []string, fine *Fine) []string {
	uses := map[string]*use{}
	for s := range fine.below(from) {
		if s.Ply >= from.Ply+usualPly || s.Pos.Turn() != fine.Book.Mine || len(s.Flows) == 0 {
			continue
		}
		san := withoutCheck(s.Pos.SAN(s.Flows[0].Likely.Move))
		if strings.Contains(san, "x") || slices.Contains(skip, san) { // captures follow the opponent, they are no set-up
			continue
		}
		u := uses[san]
		if u == nil {
			u = &use{san: san}
			uses[san] = u
		}
		u.mass += s.Mass
		u.when += s.Mass * float64(s.Ply)
	}
	var usual []*use
	for _, u := range uses {
		if u.mass >= usualFrom*total {
			usual = append(usual, u)
		}
	}
	return inOrder(usual)
}

// inOrder are the moves made most often, of those made as often the earlier, in the order in
// which they come.
func inOrder(usual []*use) []string {
	earlier := func(a, b *use) int {
		return cmp.Or(cmp.Compare(a.when/a.mass, b.when/b.mass), strings.Compare(a.san, b.san))
	}
	slices.SortFunc(usual, func(a, b *use) int { return cmp.Or(cmp.Compare(b.mass, a.mass), earlier(a, b)) })
	usual = usual[:min(len(usual), usualShown)]
	slices.SortFunc(usual, earlier)
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
func setUpNear(from *walk.State, line []string, fine *Fine) (moves []string, ply int) {
	made := ownMoves(fine.Book, line)
	for s := fine.at[walk.Key{Position: from.Key, Ply: from.Ply}]; s != nil; s = wider(s, fine.Book) {
		found := usualMoves(s, goesOn(s, fine.Book), made, fine)
		if len(found) >= setUpLeast {
			return found, s.Ply
		}
		if len(moves) == 0 {
			moves, ply = found, s.Ply
		}
	}
	if len(moves) == 0 {
		return nil, 0
	}
	return moves, ply
}

// wider is their decision before s, if the way to s is so much of what goes on
// from there that both are of one family; nil if it is another opening's, too.
func wider(s *walk.State, b *book.Book) *walk.State {
	for p := s.Via; p != nil; p = p.Via {
		if p.Pos.Turn() == b.Mine {
			continue
		}
		if s.Mass < usualFrom*goesOn(p, b) {
			return nil
		}
		return p
	}
	return nil
}

// ownMoves are the user's moves of a line, without signs of check.
func ownMoves(b *book.Book, line []string) []string {
	var own []string
	for ply, san := range line {
		if (ply%2 == 0) == (b.Mine == board.White) {
			own = append(own, withoutCheck(san))
		}
	}
	return own
}

// goesOn is the reach of what their covered moves lead to.
func goesOn(s *walk.State, b *book.Book) float64 {
	covered := 0.0
	for i := range s.Flows {
		if f := &s.Flows[i]; f.Back != nil || f.Covered() && b.HasAnswer(f.To) {
			covered += f.Likely.P
		}
	}
	return s.Mass * covered
}
