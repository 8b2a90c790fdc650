package compare

import (
	"fmt"
	"maps"
	"slices"
	"strings"

	"foreply/compare/fact"
	"foreply/compare/words"
	"foreply/profile"
	"foreply/profile/board"
)

// asRated says what a record with a colour is worth beside the ratings: ', about
// as rated', ', more than rated (8.6 expected)'; of the rating list with the most
// rated games, which is named if not all games are of it. Empty where too few
// games are rated.
func asRated(p *profile.Profile, theirs board.Color) string {
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
		return ""
	}
	showing, ok := most.Showing()
	if !ok {
		return ""
	}
	text := [...]string{
		profile.AsRated: "about as rated", profile.AboveRating: "more than rated", profile.BelowRating: "less than rated",
	}[showing]
	if showing != profile.AsRated {
		text += fmt.Sprintf(" (%.1f expected)", most.Expected)
	}
	if most.Rated == games {
		return ", " + text
	}
	return fmt.Sprintf("; %s %s of %d, %s", listWords(most.List), words.Halves(most.Points), most.Rated, text)
}

// listWords says where the games of a rating list were played.
func listWords(list string) string {
	if list == profile.OverTheBoard || list == "online" {
		return list
	}
	return "at " + list
}

// newestRatings lists the newest rating of each list, in order of their names.
// Where games are played online each time class has ratings of its own, so the
// class is named.
func newestRatings(p *profile.Profile) []fact.Rating {
	newest := map[string]fact.Rating{}
	for i := range p.Games { // oldest first
		g := &p.Games[i]
		if g.Elo == 0 {
			continue
		}
		r := fact.Rating{List: g.List(), Value: g.Elo}
		if r.List != profile.OverTheBoard && g.Class != profile.UnknownClass {
			r.List += " " + g.Class.String()
		}
		if g.Dated {
			r.Date = g.Date
		}
		newest[g.List()] = r
	}
	return slices.SortedFunc(maps.Values(newest), func(a, b fact.Rating) int { return strings.Compare(a.List, b.List) })
}
