package find

import (
	"maps"
	"slices"
	"strings"

	"foreply/compare/fact"
	"foreply/fetch/pgn"
	"foreply/profile"
	"foreply/profile/board"
)

// rated sets their record with a colour beside the ratings, in the rating list
// with the most rated games; nil where too few games are rated.
func rated(p *profile.Profile, theirs board.Color) *fact.Rated {
	records := p.Records(profile.ByColor, func(g *profile.Game) bool { return g.Theirs == theirs })
	var most *profile.Record
	games := 0
	for i := range records {
		r := &records[i]
		games += int(r.Games - r.Unknown)
		if most == nil || r.Rated > most.Rated {
			most = r
		}
	}
	if most == nil {
		return nil
	}
	showing, ok := most.Showing()
	if !ok {
		return nil
	}
	return &fact.Rated{
		List: most.List, Games: most.Rated, Points: most.Points, Expected: most.Expected, All: most.Rated == games,
		Beside: [...]int{profile.AsRated: 0, profile.AboveRating: 1, profile.BelowRating: -1}[showing],
	}
}

// NewestRatings lists the newest rating of each list, in order of their names.
// Where games are played online each time class has ratings of its own, so the
// class is named.
func NewestRatings(p *profile.Profile) []fact.Rating {
	newest := map[string]fact.Rating{}
	for i := range p.Games { // oldest first
		g := &p.Games[i]
		if g.Elo == 0 {
			continue
		}
		r := fact.Rating{List: g.List(), Value: g.Elo}
		if r.List != pgn.OverTheBoard && g.Speed != profile.UnknownClass {
			r.Speed = g.Speed.String()
		}
		r.Date = g.Date
		newest[g.List()] = r
	}
	return slices.SortedFunc(maps.Values(newest), func(a, b fact.Rating) int { return strings.Compare(a.List, b.List) })
}
