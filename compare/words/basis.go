package words

import (
	"fmt"
	"strings"

	"foreply/compare/fact"
)

// Peers says what was used beside their games: 'beside them 11,204 slow games of
// Peers rated 1600 to 1899, 9,870 dated before the game'.
func Peers(u *fact.PeersUsed) string {
	games := peerGames(u)
	switch u.Before {
	case 0:
		return "beside them " + games + ", none dated before the game: not used"
	case u.Games:
		return "beside them " + games + ", all dated before the game"
	}
	return fmt.Sprintf("beside them %s, %s dated before the game", games, Thousands(u.Before))
}

// PeersAlone says what was used where no game of theirs is known.
func PeersAlone(u *fact.PeersUsed) string {
	return "no games of theirs found: this is what players like them play, from " + peerGames(u) + before(u)
}

// before says how many of them were used, if not all.
func before(u *fact.PeersUsed) string {
	if u.Before == u.Games {
		return ""
	}
	return ", " + Thousands(u.Before) + " dated before the game"
}

// peerGames counts them and says whose they are.
func peerGames(u *fact.PeersUsed) string {
	text := Thousands(u.Games) + " "
	if u.Speed != "" {
		text += u.Speed + " "
	}
	text += "game"
	if u.Games != 1 {
		text += "s"
	}
	text += " of peers"
	switch {
	case u.MaxRating == 0:
	case u.MaxRating > highestRating:
		text += fmt.Sprintf(" rated %d and up", u.MinRating)
	case u.MinRating <= 1:
		text += fmt.Sprintf(" rated under %d", u.MaxRating+1)
	default:
		text += fmt.Sprintf(" rated %d to %d", u.MinRating, u.MaxRating)
	}
	return text
}

// highestRating is above all ratings.
const highestRating = 4000

// PeersLeftOut says what of the peers' games was not used; empty for nothing.
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

// Unread says that moves of the user's book can't be played, and where the first
// stands.
func Unread(b *fact.BookFacts) string {
	if b.Unread == 1 {
		return fmt.Sprintf("a move of your repertoire can't be played: its line is missing here (%s:%d)", b.File, b.FileLine)
	}
	return fmt.Sprintf("%d moves of your repertoire can't be played: their lines are missing here (first %s:%d)", b.Unread, b.File, b.FileLine)
}
