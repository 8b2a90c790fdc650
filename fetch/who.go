package fetch

import (
	"slices"
	"strings"

	"foreply/fetch/pgn"
)

// Who says which player is meant. The zero value is nobody in particular: all
// games. The same type serves for the opponent and for the user ('you met
// twice').
type Who struct {
	// Names are spellings and handles, compared as Fold has them.
	Names []string
	// IDs are FIDE numbers, compared with the tags WhiteFideId and BlackFideId.
	// Where a game gives one and IDs is not empty, it alone decides: another
	// number is another player in spite of the name, the right one is the
	// player in spite of the spelling. A number of the player's federation may
	// stand here too; tags such as WhiteNationalId speak for the player, but
	// another number there doesn't speak against them.
	IDs []string
	// Unsure are handles that the user is not certain about. They count like
	// Names; the Summary says how many games rest on them.
	Unsure []string
}

// IsZero reports whether w names nobody.
func (w Who) IsZero() bool { return len(w.Names)+len(w.IDs)+len(w.Unsure) == 0 }

// Match reports which side of the game is the player. Both is possible: a
// player under two names against himself.
func (w Who) Match(tags pgn.Tags) (white, black bool) {
	return w.is(tags, "White"), w.is(tags, "Black")
}

func (w Who) is(tags pgn.Tags, side string) bool {
	if verdict, decided := w.byID(tags, side); decided {
		return verdict
	}
	return w.named(tags.Get(side))
}

// byID compares the federation IDs, if both the game and w have one.
func (w Who) byID(tags pgn.Tags, side string) (verdict, decided bool) {
	if len(w.IDs) == 0 {
		return false, false
	}
	for i := len(tags) - 1; i >= 0; i-- {
		name, ours := strings.CutPrefix(tags[i].Name, side)
		fide := ours && strings.EqualFold(name, "FideId")
		if !fide && !(ours && isIDTag(name)) {
			continue
		}
		id := foldID(tags[i].Value)
		same := id != "" && slices.ContainsFunc(w.IDs, func(own string) bool { return foldID(own) == id })
		if same {
			return true, true
		}
		decided = decided || fide && id != ""
	}
	return false, decided
}

// isIDTag tells NationalId, PlayerID and the like from what ends so by chance, and
// from the number of a team.
func isIDTag(name string) bool {
	return (strings.HasSuffix(name, "Id") || strings.HasSuffix(name, "ID")) && !strings.HasPrefix(name, "Team")
}

// foldID drops spaces and leading zeros; 0 stands for no number in many files.
func foldID(id string) string {
	id = strings.TrimLeft(strings.TrimSpace(id), "0")
	if strings.Trim(id, "0123456789") != "" {
		return ""
	}
	return id
}

func (w Who) named(name string) bool {
	other := spell(name)
	same := func(own string) bool { return spell(own).like(other) == sameName }
	return !nameless(other.folded) && (slices.ContainsFunc(w.Names, same) || slices.ContainsFunc(w.Unsure, same))
}

// With returns w with further handles, as a source may have its own.
func (w Who) With(handles ...string) Who {
	w.Names = slices.Concat(w.Names, handles)
	return w
}
