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
	// another number there doesn't speak against them, since it may be that of
	// another federation. With the word of its tag, as in 'NationalId C12-3', it
	// decides as a FIDE number does, where a game gives one under that word.
	IDs []string
	// Unsure are handles that the user is not certain about. They count like
	// Names.
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
	for _, id := range w.IDs {
		switch n := ParseNumber(id); {
		case n.Tag == "":
			if p.ID != "" && pgn.FIDENumber(n.Number) == p.ID || p.Local != "" && n.Number == p.Local {
				return true, true
			}
			decided = decided || p.ID != ""
		case p.Local != "" && strings.EqualFold(n.Tag, p.Body):
			if n.Number == p.Local {
				return true, true
			}
			decided = true
		}
	}
	return false, decided
}

// Number is a player's number as people give it: alone, or with the word that its tag
// has behind the colour, as 'NationalId C12-3' for WhiteNationalId.
type Number struct {
	Tag    string // empty: a FIDE number, or that of any federation
	Number string // as pgn.LocalNumber has it; empty for what is none
}

// ParseNumber reads a Number.
func ParseNumber(text string) Number {
	tag, number, found := strings.Cut(strings.TrimSpace(text), " ")
	if found && len(tag) > 2 && strings.EqualFold(tag[len(tag)-2:], "id") && !strings.EqualFold(tag, "FideId") {
		return Number{tag, pgn.LocalNumber(number)}
	}
	if found && strings.EqualFold(tag, "FideId") {
		text = number
	}
	return Number{"", pgn.LocalNumber(text)}
}

// Named reports whether a name is the player's, whatever the number beside it.
func (w Who) Named(name string) bool {
	other := spell(name)
	same := func(own string) bool { return spell(own).like(other) == sameName }
	return slices.ContainsFunc(w.Names, same) || slices.ContainsFunc(w.Unsure, same)
}

// With returns w with further handles, as a source may have its own.
func (w Who) With(handles ...string) Who {
	w.Names = slices.Concat(w.Names, handles)
	return w
}
