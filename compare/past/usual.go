package past

import (
	"cmp"
	"slices"

	"foreply/compare/book"
	"foreply/profile"
	"foreply/profile/board"
)

const (
	leastMet = 2  // games in which a position was met before the usual book has it
	usualPly = 24 // how deep it goes
)

// Usual is the book of a user with a colour who answers as most of the opponent's
// other players did, in games certainly before a day, where two games or more came.
func Usual(p *profile.Profile, mine board.Color, day profile.Span) *book.Book {
	u := &usualBook{profile: p, tree: p.Tree(mine.Other()), mine: mine, day: day, seen: map[uint64]bool{}}
	u.from(board.Start(), nil)
	return book.Of(mine, u.lines)
}

type usualBook struct {
	profile *profile.Profile
	tree    *profile.Tree
	mine    board.Color
	day     profile.Span
	seen    map[uint64]bool
	lines   [][]board.Move
}

// from adds the lines that go on from a position.
func (u *usualBook) from(pos board.Position, line []board.Move) {
	moves := u.moves(pos.Key())
	if len(line) >= usualPly || len(moves) == 0 || u.seen[pos.Key()] {
		if len(line) > 0 {
			u.lines = append(u.lines, slices.Clone(line))
		}
		return
	}
	u.seen[pos.Key()] = true
	if pos.Turn() == u.mine {
		moves = moves[:1]
	}
	for _, m := range moves {
		next := pos
		next.Play(m)
		u.from(next, append(line[:len(line):len(line)], m))
	}
}

// moves are those played in two known games or more, the commonest first, at a position
// that the opponent came to twice or more.
func (u *usualBook) moves(key uint64) []board.Move {
	n := u.tree.At(key)
	if n == nil {
		return nil
	}
	times := map[board.Move]int{}
	for _, v := range n.Visits {
		if u.profile.Games[v.Game].Span.Before(u.day) {
			times[v.Move]++
		}
	}
	var out []board.Move
	for m, n := range times {
		if n >= leastMet {
			out = append(out, m)
		}
	}
	slices.SortFunc(out, func(a, b board.Move) int { return cmp.Or(cmp.Compare(times[b], times[a]), cmp.Compare(a, b)) })
	return out
}
