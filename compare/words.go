package compare

import (
	"foreply/compare/fact"
	"foreply/profile"
)

// Players misread percentages; everything is said in frequencies that can be
// counted on fingers (DESIGN: 'how it is said').

// ScoreOf is the score of games counted.
func ScoreOf(c *profile.Count) fact.Score {
	return fact.Score{Wins: int(c.Wins), Draws: int(c.Draws), Losses: int(c.Losses), Unknown: int(c.Unknown)}
}
