package find

import (
	"foreply/compare/fact"
	"foreply/compare/walk"
	"foreply/profile"
	"foreply/profile/board"
	"math"
	"strings"
)

// normalTail is the chance that a standard normal value is above z.
func normalTail(z float64) float64 { return math.Erfc(z/math.Sqrt2) / 2 }

// ResultPoints are what a result is worth to the opponent, 0..1; one without a result
// counts 0.
func ResultPoints(r profile.Result) float64 {
	switch r {
	case profile.Win:
		return 1
	case profile.Draw:
		return 0.5
	}
	return 0
}

// passed counts the games that went on from a position.
func passed(pos *board.Position, games Games) int {
	if n := games.At(pos.Key()); n != nil {
		return int(n.Games)
	}
	return 0
}

// shareAt makes a share of a forecast at s.
func shareAt(s *walk.State, r profile.Range, seen int) fact.Share {
	share := fact.NewShare(fact.Chance(r), seen, s.Expected.Visits)
	for at := s; at.Via != nil; at = at.Via {
		if l, ok := at.Via.Expected.Of(at.Move); ok && l.N < s.Expected.Visits {
			share.AnyOrder = true
		}
	}
	return share
}

// byOrders is from how many times what the shares along its line give a reach is told as
// one by any order of moves.
const byOrders = 1.2

// anyOrder reports whether other orders of moves add to a reach that the choices along its
// line lead to.
func anyOrder(reach float64, way []walk.Choice) bool {
	along := 1.0
	for _, c := range way {
		along *= c.P
	}
	return reach > byOrders*along
}

// came are the games that came to where their last move on the way to a place led, by any
// order of moves.
func came(w *walk.Walk, s *walk.State, games Games) int {
	s = walk.AfterTheirs(s, w.Book.Mine)
	if s.Via == nil {
		return passed(&s.Pos, games)
	}
	return cameBy(s.Via, s.Move, games)
}

// cameBy are the games that came to where a move leads: those with it, were it their last
// move, and those that went on from there.
func cameBy(from *walk.State, m board.Move, games Games) int {
	made, _, _ := games.Cite(games.With(from.Key, m))
	after := walk.Played(from.Pos, m)
	return max(made, passed(&after, games))
}

// firstChoice are the games that came to the first choice of theirs on the way to a place.
func firstChoice(w *walk.Walk, s *walk.State, games Games) int {
	first := s
	for at := s; at != nil; at = at.Via {
		if at.Pos.Turn() != w.Book.Mine {
			first = at
		}
	}
	return passed(&first.Pos, games)
}

// oftenAt says how often a place comes, with their games that came there, of those at
// their first choice on the way.
func oftenAt(w *walk.Walk, s *walk.State, games Games) *fact.Often {
	often := s.Often(came(w, s, games), firstChoice(w, s, games))
	often.AnyOrder = anyOrder(s.Mass, w.WayTo(s))
	return &often
}

func withoutCheck(san string) string { return strings.TrimRight(san, "+#") }

// otherPoints is a result in points from the other side.
func otherPoints(points string) string {
	switch points {
	case "1":
		return "0"
	case "0":
		return "1"
	}
	return points
}
