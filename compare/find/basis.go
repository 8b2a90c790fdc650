package find

import (
	"foreply/compare/fact"
	"foreply/profile"
)

// Basis counts what a Report rests on, for a game of a class within a time, beside
// what the reading of the games knows.
func Basis(b fact.Basis, p *profile.Profile, peers *profile.Peers, class profile.Class, when profile.Span) fact.Basis {
	b.AsOf = when.First.Date()
	if class != profile.UnknownClass {
		b.Class = class.String()
	}
	for i := range p.Games {
		g := &p.Games[i]
		games, last := &b.Slow, &b.LastSlow
		switch {
		case g.Speed == profile.UnknownClass:
			games, last = &b.NoSpeed, &b.LastNoSpeed
		case g.Speed.Fast():
			games, last = &b.Fast, &b.LastFast
		}
		b.Games++
		*games++
		if class != profile.UnknownClass && g.Class != profile.UnknownClass && g.Class != class {
			b.Less++
		}
		if !g.Date.Known() {
			continue
		}
		if !b.First.Known() {
			b.First = g.Date
		}
		b.Last, *last = g.Date, g.Date
	}
	b.Peers = PeersUsed(peers, when)
	return b
}

// PeersUsed counts what the peers' games gave; nil without them.
func PeersUsed(p *profile.Peers, when profile.Span) *fact.PeersUsed {
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
