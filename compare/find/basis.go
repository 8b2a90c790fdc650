package find

import (
	"foreply/compare/fact"
	"foreply/fetch/pgn"
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
	b.Age = yearsBetween(b.Last, b.AsOf)
	b.Peers = PeersUsed(peers, when)
	return b
}

// oldYears is from how many years on the age of the newest game is told.
const oldYears = 5

// yearsBetween are whole years from a day, or from the last it may be, to another; 0 under
// oldYears or where either is not known.
func yearsBetween(from, to pgn.Date) int {
	if !from.Known() || !to.Known() {
		return 0
	}
	last, first := from.Span().Last.Date(), to.Span().First.Date()
	years := first.Year - last.Year
	if first.Month < last.Month || first.Month == last.Month && first.Day < last.Day {
		years-- // before the day of the year
	}
	if years < oldYears {
		return 0
	}
	return years
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
