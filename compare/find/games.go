package find

import (
	"iter"
	"slices"

	"foreply/compare/fact"
	"foreply/fetch/pgn"
	"foreply/profile"
	"foreply/profile/board"
	"foreply/profile/stat"
)

// newest is how many games a fact cites.
const newest = 3

// Games are the opponent's games, oldest first, with the tree of those with one
// colour.
type Games struct {
	All  []profile.Game
	Tree *profile.Tree
}

// At is what the tree has at a position; nil where none of the games came.
func (g Games) At(key uint64) *profile.TreeNode { return g.Tree.At(key) }

// Visits are those of a position.
func (g Games) Visits(key uint64) []profile.Visit {
	if n := g.Tree.At(key); n != nil {
		return n.Visits
	}
	return nil
}

// With are the visits of a position that went on with a move.
func (g Games) With(key uint64, m board.Move) []profile.Visit {
	var found []profile.Visit
	for _, v := range g.Visits(key) {
		if v.Move == m {
			found = append(found, v)
		}
	}
	return found
}

// Of yields the games of visits, newest first, each once.
func (g Games) Of(visits []profile.Visit) iter.Seq[*profile.Game] {
	return func(yield func(*profile.Game) bool) {
		previous := int32(-1)
		for _, v := range slices.Backward(visits) {
			if v.Game != previous && !yield(&g.All[v.Game]) {
				return
			}
			previous = v.Game
		}
	}
}

// Theirs yields the games with the tree's colour, oldest first.
func (g Games) Theirs() iter.Seq[*profile.Game] {
	return func(yield func(*profile.Game) bool) {
		for i := range g.All {
			if g.All[i].Theirs == g.Tree.Theirs && !yield(&g.All[i]) {
				return
			}
		}
	}
}

// Cite counts the games of visits, and names the newest.
func (g Games) Cite(visits []profile.Visit) (games int, last pgn.Date, refs []fact.Ref) {
	for game := range g.Of(visits) {
		games++
		if len(refs) < newest {
			refs = append(refs, refTo(game))
		}
	}
	if len(refs) > 0 {
		last = refs[0].Date
	}
	return games, last, refs
}

func refTo(g *profile.Game) fact.Ref {
	return fact.Ref{File: g.File, Game: g.Index, Date: g.Date, Class: g.Speed.String()}
}

// Score sums the results of the games of visits.
func (g Games) Score(visits []profile.Visit) fact.Score {
	var s fact.Score
	for game := range g.Of(visits) {
		AddResult(&s, game.Result)
	}
	return s
}

// AddResult counts a result.
func AddResult(s *fact.Score, r profile.Result) {
	switch r {
	case profile.Win:
		s.Wins++
	case profile.Draw:
		s.Draws++
	case profile.Loss:
		s.Losses++
	default:
		s.Unknown++
	}
}

// ScoreOf is the score of games counted.
func ScoreOf(c *profile.Count) fact.Score {
	return fact.Score{Wins: int(c.Wins), Draws: int(c.Draws), Losses: int(c.Losses), Unknown: int(c.Unknown)}
}

// Expected is how many points were to be expected of them in the games of visits
// that have a result: by the Elo formula where both ratings are known, else by
// their record with the colour.
func (g Games) Expected(visits []profile.Visit) float64 {
	usual, _ := g.spread()
	expected := 0.0
	for game := range g.Of(visits) {
		if game.Result != profile.NoResult {
			expected += expectedOf(game, usual)
		}
	}
	return expected
}

// expectedOf is what was to be expected of them in a game.
func expectedOf(g *profile.Game, usual float64) float64 {
	if g.Elo > 0 && g.RivalElo > 0 {
		return stat.EloExpectation(float64(g.Elo - g.RivalElo))
	}
	return usual
}

// spread is their mean score with the colour, 0..1, and the variance of one result.
func (g Games) spread() (mean, variance float64) {
	squares, games := 0.0, 0.0
	for game := range g.Theirs() {
		if game.Result != profile.NoResult {
			p := ResultPoints(game.Result)
			mean, squares, games = mean+p, squares+p*p, games+1
		}
	}
	if games == 0 {
		return 0.5, 0
	}
	mean /= games
	return mean, squares/games - mean*mean
}

// median is the middle one of some numbers, of two in the middle the lower: a whole one,
// which gonum's quantiles, of weighted floats, would only be by going there and back.
func median(list []int) int {
	list = slices.Sorted(slices.Values(list))
	return list[(len(list)-1)/2]
}
