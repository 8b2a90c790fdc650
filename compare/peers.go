package compare

import (
	"foreply/compare/fact"
	"foreply/compare/words"
	"foreply/profile"
)

// peersUsed counts what the peers' games gave; nil without them.
func peersUsed(p *profile.Peers, when profile.Span) *fact.PeersUsed {
	if p == nil {
		return nil
	}
	u := &fact.PeersUsed{Games: p.Games, Before: p.Before(when), Undated: p.Undated, Own: p.Own, Twice: p.Twice, Unfit: p.Unfit}
	u.MinRating, u.MaxRating, u.Speed = p.Like.Lo, p.Like.Hi, p.Like.Speed
	if p.Games > 0 {
		u.First, u.Last = p.Span.First.Date(), p.Span.Last.Date()
	}
	return u
}

// PeersText says what peers' games a forecast rests on, for a game within when:
// what was used, and what was left out (empty for nothing).
func PeersText(p *profile.Peers, when profile.Span) (used, leftOut string) {
	u := peersUsed(p, when)
	return words.Peers(u), words.PeersLeftOut(u)
}
