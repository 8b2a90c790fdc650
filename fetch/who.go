package fetch

import (
	"slices"

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
func (w Who) Match(game *pgn.Game) (white, black bool) {
	one, two := game.Players()
	return w.is(one), w.is(two)
}

func (w Who) is(p *pgn.Player) bool {
	if verdict, decided := w.byID(p); decided {
		return verdict
	}
	return w.Named(p.Name)
}

// byID compares the federations' numbers, if both the game and w have one.
func (w Who) byID(p *pgn.Player) (verdict, decided bool) {
	if len(w.IDs) == 0 {
		return false, false
	}
	same := func(own string) bool {
		return p.ID != "" && pgn.FIDENumber(own) == p.ID || p.Local != "" && pgn.LocalNumber(own) == p.Local
	}
	if slices.ContainsFunc(w.IDs, same) {
		return true, true
	}
	return false, p.ID != ""
}

// Named reports whether a name is the player's, whatever the number beside it.
func (w Who) Named(name string) bool {
	other := spell(name)
	same := func(own string) bool { return spell(own).like(other) == sameName }
	return !nameless(other.folded) && (slices.ContainsFunc(w.Names, same) || slices.ContainsFunc(w.Unsure, same))
}

// With returns w with further handles, as a source may have its own.
func (w Who) With(handles ...string) Who {
	w.Names = slices.Concat(w.Names, handles)
	return w
}
