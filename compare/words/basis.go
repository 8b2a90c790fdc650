package words

import (
	"fmt"
	"strings"

	"foreply/compare/fact"
)

// text says what was used: 'beside them 11,204 games of peers, 9,870 dated
// before the game'.
func Peers(u *fact.PeersUsed) string {
	games := Thousands(u.Games) + " games of peers"
	if u.Games == 1 {
		games = "1 game of peers"
	}
	switch u.Before {
	case 0:
		return "beside them " + games + ", none dated before the game: not used"
	case u.Games:
		return "beside them " + games + ", all dated before the game"
	}
	return fmt.Sprintf("beside them %s, %s dated before the game", games, Thousands(u.Before))
}

// leftOut says what of the peers' games was not used; empty for nothing.
func PeersLeftOut(u *fact.PeersUsed) string {
	var parts []string
	for _, reason := range []struct {
		n    int
		what string
	}{
		{u.Undated, "without a date"}, {u.Own, "of the opponent's own"}, {u.Twice, "found before"},
		{u.Unfit, "set up, with null moves or under six half-moves"},
	} {
		if reason.n > 0 {
			parts = append(parts, Thousands(reason.n)+" "+reason.what)
		}
	}
	if len(parts) == 0 {
		return ""
	}
	return "of the peers' games not used: " + strings.Join(parts, ", ")
}
