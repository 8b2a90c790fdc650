package fetch

import "foreply/fetch/pgn"

// Kind says what sort of game it is, as far as its header and the number of its
// moves tell.
type Kind string

const (
	Normal         Kind = "normal"
	Variant        Kind = "variant"
	SetUp          Kind = "set-up position"
	Engine         Kind = "against an engine"
	Forfeit        Kind = "forfeit"
	NoMoves        Kind = "no moves"
	Correspondence Kind = "correspondence"
	Simul          Kind = "simultaneous"
	BothSides      Kind = "both sides match" // the player under two names against himself
)

// Kinds are all kinds: for Options.With, where nothing shall be left out.
var Kinds = []Kind{Normal, Variant, SetUp, Engine, Forfeit, NoMoves, Correspondence, Simul, BothSides}

// Games with fewer half-moves than these were not played. A single move with a result
// is how forfeits and lost scores are entered by programs that insist on one (common
// practice); without a result it is a game that broke off, or its start. Where a tag
// speaks of a forfeit, a few may have been made before somebody noticed or left.
const (
	playedFrom        = 2
	playedFromForfeit = 10
)

// anyMoves stands for a number of moves not yet known.
const anyMoves = 1 << 30

// Classify tells the kind from the header and the number of half-moves. The kinds
// that exclude a game from the opponent's openings come before those that keep
// it apart.
func Classify(h *pgn.Header, moves int) Kind {
	switch {
	case h.Start == pgn.OtherVariant:
		return Variant
	case h.Start == pgn.SetUp:
		return SetUp
	case h.White.Machine || h.Black.Machine:
		return Engine
	case h.Unplayed && moves < playedFromForfeit, moves < playedFrom && (decided(h.Result) || h.ByDefault):
		return Forfeit
	case moves == 0, moves < playedFrom && h.Result != "":
		return NoMoves
	case h.Manner == pgn.Correspondence:
		return Correspondence
	case h.Manner == pgn.Simultaneous:
		return Simul
	}
	return Normal
}

func decided(result string) bool { return result == "1-0" || result == "0-1" }
