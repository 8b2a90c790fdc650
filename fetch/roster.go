package fetch

import (
	"cmp"
	"maps"
	"slices"
	"strings"

	"foreply/fetch/pgn"
)

// Suggestion is a spelling that may be the player too and was not counted.
type Suggestion struct {
	Name  string
	Games int
	Why   string
	Far   bool // not much like the player, only nearest of the names where no game was found
}

// mostSuggested is how many suggestions a Summary gives, and mostNearest how
// many names when no game was found.
const (
	mostSuggested = 20
	mostNearest   = 5
)

// remembered bounds the names kept from an archive of many players. Beyond it,
// new names are counted only if they look like the player.
const remembered = 1 << 17

// roster judges the names of the games at one input, and remembers them.
type roster struct {
	source string
	who    Who
	own    []spelled
	folded map[string]bool      // own names, in both ways to fold them
	seen   map[string]*sighting // by the name as written
	ids    map[string]bool      // folded names that came with one of the IDs
}

// sighting is what is known of one spelling.
type sighting struct {
	theirs bool
	games  int
}

func newRoster(source string, who Who) *roster {
	r := &roster{
		source: source, who: who,
		folded: map[string]bool{}, seen: map[string]*sighting{}, ids: map[string]bool{},
	}
	for _, name := range slices.Concat(who.Names, who.Unsure) {
		own := spell(name)
		r.own = append(r.own, own)
		if !nameless(own.folded) {
			r.folded[own.folded], r.folded[own.twice] = true, true
		}
	}
	return r
}

// newRosters makes one roster for each source, since a handle belongs to a
// player at one source and may be somebody else's at another.
func newRosters(inputs []Input, who Who) []*roster {
	handles := map[string][]string{}
	for _, in := range inputs {
		handles[in.Source] = append(handles[in.Source], in.Handles...)
	}
	var out []*roster
	for _, source := range slices.Sorted(maps.Keys(handles)) {
		out = append(out, newRoster(source, who.With(handles[source]...)))
	}
	return out
}

// match judges the players of a game.
func (r *roster) match(game *pgn.Game) (white, black bool) {
	one, two := game.Players()
	return r.judge(one), r.judge(two)
}

// judge takes the number, if there is one, and else the name.
func (r *roster) judge(p *pgn.Player) bool {
	if theirs, decided := r.who.byID(p); decided {
		return theirs
	}
	return r.sighting(p.Name).theirs
}

func (r *roster) sighting(name string) *sighting {
	if s := r.seen[name]; s != nil {
		return s
	}
	s := &sighting{theirs: r.knows(name)}
	if len(r.seen) < remembered || s.theirs || r.likeness(name) != unlike {
		r.seen[strings.Clone(name)] = s
	}
	return s
}

// knows reports whether a name is the player's, in one of the ways to fold it.
func (r *roster) knows(name string) bool { return r.folded[Fold(name)] || r.folded[spelledOut(name)] }

func (r *roster) likeness(name string) likeness {
	best, other := unlike, spell(name)
	for _, own := range r.own {
		best = max(best, own.like(other))
	}
	return best
}

var whyLike = map[likeness]string{
	otherOrder:  "the same words in another order",
	initials:    "agrees as far as it is spelled out",
	nearName:    "spelled nearly alike",
	sameSurname: "the surname alone",
	partSurname: "a part of the surname, the same given name",
}

// suggestions lists spellings that look like the player, the likest first, or
// the nearest names if no game was found at all.
func suggestions(rosters []*roster) []Suggestion {
	var (
		games = map[string]int{}
		like  = map[string]likeness{}
		byID  = map[string]bool{}
		found bool
	)
	for _, r := range rosters {
		found = found || len(r.ids) > 0
		for name, s := range r.seen {
			if s.theirs {
				found = true
				continue
			}
			games[name] += s.games
			like[name] = max(like[name], r.likeness(name))
			byID[name] = byID[name] || r.ids[Fold(name)]
		}
	}
	names := slices.Collect(maps.Keys(games))
	slices.SortFunc(names, func(a, b string) int {
		return cmp.Or(boolFirst(byID[a], byID[b]), cmp.Compare(like[b], like[a]),
			cmp.Compare(games[b], games[a]), strings.Compare(a, b))
	})
	var out []Suggestion
	for _, name := range names {
		why := whyLike[like[name]]
		if byID[name] {
			why = "stands with the same FIDE number in other games"
		}
		if why != "" && len(out) < mostSuggested {
			out = append(out, Suggestion{Name: name, Games: games[name], Why: why})
		}
	}
	if len(out) == 0 && !found {
		return nearest(rosters, games)
	}
	return out
}

func boolFirst(a, b bool) int {
	switch {
	case a == b:
		return 0
	case a:
		return -1
	}
	return 1
}

// nearest lists the names that take the fewest changes to become the player's.
func nearest(rosters []*roster, games map[string]int) []Suggestion {
	changes := map[string]int{}
	for name := range games {
		folded := Fold(name)
		if nameless(folded) || len(folded) > longestName {
			continue
		}
		for _, r := range rosters {
			for _, own := range r.own {
				d := own.changesTo(name)
				if before, ok := changes[name]; !ok || d < before {
					changes[name] = d
				}
			}
		}
	}
	names := slices.SortedFunc(maps.Keys(changes), func(a, b string) int {
		return cmp.Or(cmp.Compare(changes[a], changes[b]), cmp.Compare(games[b], games[a]), strings.Compare(a, b))
	})
	var out []Suggestion
	for _, name := range names[:min(mostNearest, len(names))] {
		why := "among the nearest names in the files"
		if changes[name] == givenAlone {
			why = "has that given name; the surname is wanted, too"
		}
		out = append(out, Suggestion{name, games[name], why, true})
	}
	return out
}

// givenAlone stands in place of a number of changes, before all of them, where a
// player's given name is the whole name sought.
const givenAlone = -1

// changesTo counts the changes from one name to another.
func (s spelled) changesTo(name string) int {
	if other := spell(name); s.handle() && len(s.folded) > 1 && slices.Contains(other.given(), s.folded) {
		return givenAlone
	}
	return Distance(s.folded, Fold(name))
}
