package profile

import (
	"cmp"
	"fmt"
	"slices"

	"foreply/profile/stat"
)

// Record is a plain record of games of one rating list: what happened, and
// what the ratings let expect.
type Record struct {
	List  string // rating list, see Game.List
	Group string // what the games have in common, as 'white', 'blitz' or '1800-1999'
	Count
	Rated    int     // games with a result in which both ratings are known
	Points   float64 // scored in these
	Expected float64 // points that the FIDE table gives for their ratings
	spread   float64 // variance of the points, if no game were drawn
	// Performance is the FIDE performance rating over the rated games; only if
	// Rated is not 0.
	Performance stat.Performance
	rivals      int // sum of the rivals' ratings
	order       int
}

// bandWidth is the width of a rating band in points.
const bandWidth = 200

// ByColor groups games by the opponent's colour.
func ByColor(g *Game) (group string, order int) { return g.Theirs.String(), int(g.Theirs) }

// ByClass groups games by time class.
func ByClass(g *Game) (group string, order int) { return g.Speed.String(), -int(g.Speed) }

// ByBand groups games by the other player's rating, in bands of 200 points.
func ByBand(g *Game) (group string, order int) {
	if g.RivalElo == 0 {
		return "no rating", 0
	}
	from := g.RivalElo / bandWidth * bandWidth
	return fmt.Sprintf("%d-%d", from, from+bandWidth-1), -from
}

// Records counts the games that keep wants (nil: all) by rating list and group.
// Ratings of different lists are never pooled. Lists come in order of their
// names, groups in their own order.
func (p *Profile) Records(by func(*Game) (string, int), keep func(*Game) bool) []Record {
	type place struct{ list, group string }
	index := map[place]int{}
	var out []Record
	for i := range p.Games {
		g := &p.Games[i]
		if keep != nil && !keep(g) {
			continue
		}
		group, order := by(g)
		at := place{g.List(), group}
		k, found := index[at]
		if !found {
			k = len(out)
			index[at] = k
			out = append(out, Record{List: at.list, Group: group, order: order})
		}
		out[k].enter(g)
	}
	for i := range out {
		r := &out[i]
		r.Performance, _ = stat.FIDEPerformance(r.Rated, r.rivals, r.Points)
	}
	slices.SortFunc(out, func(a, b Record) int {
		return cmp.Or(cmp.Compare(a.List, b.List), cmp.Compare(a.order, b.order), cmp.Compare(a.Group, b.Group))
	})
	return out
}

// Against the ratings: what a record says of the strength shown.
const (
	AsRated = iota // too near to what was expected, or too few games, to say more
	AboveRating
	BelowRating
)

// ratedLeast is the number of rated games from which a record is held against
// the ratings.
const ratedLeast = 5

// Showing compares the points with what the ratings let expect. It speaks only
// where they lie more than one standard deviation apart; this is taken as if no
// game were drawn, so that chance alone gets so far in about one record of five.
// ok is false for under five rated games.
func (r *Record) Showing() (showing int, ok bool) {
	switch off := r.Points - r.Expected; {
	case r.Rated < ratedLeast:
		return AsRated, false
	case off*off <= r.spread:
		return AsRated, true
	case off > 0:
		return AboveRating, true
	}
	return BelowRating, true
}

func (r *Record) enter(g *Game) {
	r.Count.add(g.Result)
	if g.Result == NoResult || g.Elo == 0 || g.RivalElo == 0 {
		return
	}
	list := stat.StandardList
	if g.Class != UnknownClass && g.Class != Classical {
		list = stat.RapidBlitzList
	}
	r.Rated++
	r.rivals += g.RivalElo
	e := stat.FIDEExpectation(g.Elo, g.RivalElo, list)
	r.Expected += e
	r.spread += e * (1 - e)
	r.Points += map[Result]float64{Win: 1, Draw: 0.5}[g.Result]
}
