package find

import (
	"cmp"
	"slices"
	"strings"

	"foreply/compare/book"
	"foreply/compare/fact"
	"foreply/compare/walk"
	"foreply/profile"
	"foreply/profile/board"
)

// usualExits is how many of the ways out of the book are told.
const usualExits = 5

// Left pools where the games with that colour left the book.
func Left(b *book.Book, known *walk.Ways, games Games) fact.Left {
	l := fact.Left{Usual: []fact.WayOut{}}
	ways := map[string]*fact.WayOut{}
	moves := 0
	for g := range games.Theirs() {
		by, ply := follow(b, known, g)
		countLeft(&l, by)
		moves += ply/2 + 1
		if comesBack(b, g, ply) {
			l.Back++
		}
		if by != fact.GameEnded {
			addWay(ways, g, by, ply)
		}
	}
	if l.Games == 0 {
		return l
	}
	l.Move = float64(moves) / float64(l.Games)
	l.Usual = usualWays(ways)
	return l
}

func countLeft(l *fact.Left, by string) {
	l.Games++
	switch by {
	case fact.LeftByThem:
		l.Them++
	case fact.LeftByYou:
		l.You++
	case fact.BookOver:
		l.Book++
	default:
		l.Never++
	}
}

// comesBack reports whether a game meets the book again after leaving it at ply.
func comesBack(b *book.Book, g *profile.Game, ply int) bool {
	pos := board.Start()
	for i, m := range g.Moves {
		if i > ply && b.Holds(&pos) {
			return true
		}
		pos.Play(m)
	}
	return false
}

// addWay counts a way out; games come oldest first.
func addWay(ways map[string]*fact.WayOut, g *profile.Game, by string, ply int) {
	end := min(ply+1, len(g.Moves))
	if by == fact.BookOver {
		end = ply
	}
	line := walk.NewTrack(g.Moves[:end]).SANs
	key := by + strings.Join(line, " ")
	w := ways[key]
	if w == nil {
		w = &fact.WayOut{Line: line, By: by}
		ways[key] = w
	}
	w.Games++
	w.Last = g.Date
}

func usualWays(ways map[string]*fact.WayOut) []fact.WayOut {
	list := make([]fact.WayOut, 0, len(ways))
	for _, w := range ways {
		list = append(list, *w)
	}
	slices.SortFunc(list, func(a, b fact.WayOut) int {
		return cmp.Or(cmp.Compare(b.Games, a.Games), slices.Compare(a.Line, b.Line), strings.Compare(a.By, b.By))
	})
	return list[:min(len(list), usualExits)]
}
