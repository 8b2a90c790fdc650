package fetch

import (
	"cmp"
	"fmt"
	"slices"
	"strings"

	"foreply/fetch/pgn"
)

// TwoPeople is the kind of signs that one name may be two players.
const TwoPeople pgn.Kind = "perhaps two players"

// Signs of two players under one name: ratings of one list that differ by so
// much in neighbouring games within a year.
const (
	jumpFrom = 400
	// New accounts online find their level by leaps, so there it takes a way back.
	onlineJumps = 2
	yearDays    = 372 // and a week
)

// doubts looks for signs that the games are those of two people. At most one
// problem comes from each rating list and one from the places: a list of them
// would say no more.
func doubts(copies []*gameCopy) []pgn.Problem {
	return slices.Concat(numbers(copies), ratingJumps(copies), twoPlaces(copies))
}

// numbered is one number under the player's names.
type numbered struct {
	id          string
	body        string // whose number it is, as its tag has it: FideId, NationalId
	games       int
	first, last int // years, 0 unknown
	game        *pgn.Game
}

// numbers tells when the player's names stand with several numbers of one federation.
func numbers(copies []*gameCopy) []pgn.Problem {
	bodies := map[string]map[string]*numbered{}
	see := func(e *gameCopy, body, id string) {
		if id == "" {
			return
		}
		if bodies[body] == nil {
			bodies[body] = map[string]*numbered{}
		}
		n := bodies[body][id]
		if n == nil {
			n = &numbered{id: id, body: body, game: e.game}
			bodies[body][id] = n
		}
		n.see(e.when.date.Year)
	}
	for _, e := range copies {
		them := e.them()
		see(e, "FideId", them.ID)
		see(e, them.Body, them.Local)
	}
	var out []pgn.Problem
	for _, body := range sortedKeys(bodies) {
		if seen := bodies[body]; len(seen) > 1 {
			out = append(out, severalNumbers(seen))
		}
	}
	return out
}

// see counts a game of a year, 0 if that is not known.
func (n *numbered) see(year int) {
	n.games++
	if year > 0 {
		n.last = max(n.last, year)
		if n.first == 0 || year < n.first {
			n.first = year
		}
	}
}

// severalNumbers names the numbers of a federation, those of most games first.
func severalNumbers(seen map[string]*numbered) pgn.Problem {
	var all []*numbered
	for _, id := range sortedKeys(seen) {
		all = append(all, seen[id])
	}
	slices.SortStableFunc(all, func(a, b *numbered) int { return cmp.Compare(b.games, a.games) })
	var parts []string
	for _, n := range all[:min(len(all), mostNumbers)] {
		parts = append(parts, n.String())
	}
	if more := len(all) - mostNumbers; more > 0 {
		parts = append(parts, fmt.Sprintf("and %d more", more))
	}
	told := strings.Join(parts, ", ")
	body, id := "FIDE numbers", all[0].id
	if tag := all[0].body; tag != "FideId" {
		body, id = "numbers ("+tag+")", "'"+tag+" "+id+"'"
	}
	p := doubt(all[1].game, fmt.Sprintf("%d %s under these names: %s", len(all), body, told))
	p.Hint = fmt.Sprintf("add --opponent %s to take the games with that number, and those without any; or put it under fide_ids in the configuration", id)
	return p
}

// mostNumbers is how many numbers are named.
const mostNumbers = 4

func (n *numbered) String() string {
	years := ""
	switch {
	case n.first == 0:
	case n.first == n.last:
		years = fmt.Sprintf(", %d", n.first)
	default:
		years = fmt.Sprintf(", %d-%d", n.first, n.last)
	}
	return fmt.Sprintf("%s (%s%s)", n.id, times(n.games, "game"), years)
}

// them is what the header tells of the player, you of the other.
func (e *gameCopy) them() *pgn.Player { return sideOf(e.game, e.white) }
func (e *gameCopy) you() *pgn.Player  { return sideOf(e.game, !e.white) }

func sideOf(game *pgn.Game, white bool) *pgn.Player {
	one, two := game.Players()
	if white {
		return one
	}
	return two
}

// appearance is a game of the player with what the signs are read from.
type appearance struct {
	game *pgn.Game
	date pgn.Date
	day  pgn.Day // the first that the date may mean
	elo  int
}

// ratingJumps finds the greatest jump in each list.
func ratingJumps(copies []*gameCopy) []pgn.Problem {
	lists := map[string][]appearance{}
	for _, e := range copies {
		date := e.when.date
		a := appearance{e.game, date, date.Span().First, e.them().Elo}
		if a.elo > 0 && date.Known() {
			list := ratingList(e.game)
			lists[list] = append(lists[list], a)
		}
	}
	var out []pgn.Problem
	for _, list := range sortedKeys(lists) {
		if p, found := greatestJump(list, lists[list]); found {
			out = append(out, p)
		}
	}
	return out
}

func greatestJump(list string, games []appearance) (pgn.Problem, bool) {
	slices.SortStableFunc(games, func(a, b appearance) int {
		return cmp.Or(a.date.Compare(b.date), cmp.Compare(a.game.Header().Began(), b.game.Header().Began()))
	})
	var before, after appearance
	greatest, jumps := 0, 0
	for i := 1; i < len(games); i++ {
		a, b := games[i-1], games[i]
		jump := max(a.elo-b.elo, b.elo-a.elo)
		if jump < jumpFrom || b.day-a.day > yearDays {
			continue
		}
		jumps++
		if jump > greatest {
			greatest, before, after = jump, a, b
		}
	}
	if jumps == 0 || online(after.game) && jumps < onlineJumps {
		return pgn.Problem{}, false
	}
	return doubt(after.game, fmt.Sprintf("rating %d (%s) after %d (%s, %s:%d) in %s; %s of %d points or more",
		after.elo, after.date.Tag(), before.elo, before.date.Tag(),
		before.game.File, before.game.Line, list, times(jumps, "jump"), jumpFrom)), true
}

func doubt(game *pgn.Game, message string) pgn.Problem {
	return pgn.Problem{
		Kind: TwoPeople, Severity: pgn.Warning,
		Source: game.Source, File: game.File, Line: game.Line, Game: game.Index,
		Message: message,
		Hint:    "if the name is shared, give the FIDE number or fewer files",
	}
}

func times(n int, noun string) string {
	if n == 1 {
		return "1 " + noun
	}
	return fmt.Sprintf("%d %ss", n, noun)
}

// online guesses whether a rating is one that a site gave: games over the board seldom
// have their time control in them.
func online(game *pgn.Game) bool {
	h := game.Header()
	return game.Source != "" || h.Venue.Online || h.Control.Text != ""
}

// ratingList names the list a rating is from. Sites keep one for each pace and
// draw the lines differently, so only games of one time control are compared.
func ratingList(game *pgn.Game) string {
	h := game.Header()
	name := "games over the board"
	switch {
	case game.Source != "":
		name = "games from " + game.Source
	case h.Venue.Host != "":
		name = "games at " + h.Venue.Host
	case h.Venue.Online:
		name = "games online"
	}
	if h.Control.Text != "" {
		name += ", time control " + h.Control.Text
	}
	return name
}

// twoPlaces finds the first day with games over the board in two places.
func twoPlaces(copies []*gameCopy) []pgn.Problem {
	var (
		first = map[pgn.Date]*pgn.Game{}
		days  = map[pgn.Date]bool{}
		out   []pgn.Problem
	)
	for _, e := range copies {
		day, place := e.when.date, e.game.Header().Venue.Place
		if !day.Full() || place == "" {
			continue
		}
		other := first[day]
		if other == nil {
			first[day] = e.game
			continue
		}
		if samePlace(place, other.Header().Venue.Place) {
			continue
		}
		days[day] = true
		if len(out) == 0 {
			out = append(out, doubt(e.game, fmt.Sprintf("on %s in %s, and in %s (%s:%d)",
				day.Tag(), place, other.Header().Venue.Place, other.File, other.Line)))
		}
	}
	if len(days) > 1 {
		out[0].Message += fmt.Sprintf("; %d such days", len(days))
	}
	return out
}

// samePlace: one names the place more closely than the other, or they are
// spelled nearly alike.
func samePlace(a, b string) bool {
	one, two := strings.Fields(Fold(a+" .")), strings.Fields(Fold(b+" ."))
	if len(one) > len(two) {
		one, two = two, one
	}
	for _, word := range one {
		if !slices.ContainsFunc(two, func(other string) bool { return other == word || near(word, other) }) {
			return false
		}
	}
	return true
}
