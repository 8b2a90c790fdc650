package compare

import (
	"iter"

	"foreply/compare/fact"
	"foreply/compare/find"
	"foreply/profile"
	"foreply/profile/board"
)

// found are the games as the findings take them.
func (c *comparison) found() find.Games { return find.Games{All: c.in.Profile.Games, Tree: c.tree} }

func nodeVisits(n *profile.TreeNode) []profile.Visit {
	if n == nil {
		return nil
	}
	return n.Visits
}

func visitsWith(n *profile.TreeNode, m board.Move) []profile.Visit {
	var found []profile.Visit
	for _, v := range nodeVisits(n) {
		if v.Move == m {
			found = append(found, v)
		}
	}
	return found
}

func (c *comparison) games(visits []profile.Visit) iter.Seq[*profile.Game] {
	return c.found().Of(visits)
}

func (c *comparison) cite(visits []profile.Visit) (int, string, []fact.Ref) {
	return c.found().Cite(visits)
}

func (c *comparison) score(visits []profile.Visit) fact.Score { return c.found().Score(visits) }

func addResult(s *fact.Score, r profile.Result) {
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

// newest is how many games a trap cites.
const newest = 3
