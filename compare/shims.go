package compare

import (
	"iter"

	"foreply/compare/fact"
	"foreply/compare/find"
	"foreply/profile"
)

// found are the games as the findings take them.
func (c *comparison) found() find.Games { return find.Games{All: c.in.Profile.Games, Tree: c.tree} }

func nodeVisits(n *profile.TreeNode) []profile.Visit {
	if n == nil {
		return nil
	}
	return n.Visits
}

func (c *comparison) games(visits []profile.Visit) iter.Seq[*profile.Game] {
	return c.found().Of(visits)
}

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
