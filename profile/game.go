package profile

import (
	"cmp"
	"strings"

	"foreply/fetch/pgn"
	"foreply/profile/board"
)

// Result of a game from the opponent's side.
type Result uint8

const (
	NoResult Result = iota // '*' or missing
	Win
	Draw
	Loss
)

// Points prints a result as the opponent's score.
func (r Result) Points() string { return [...]string{"*", "1", "½", "0"}[r] }

// Game is one game of the opponent, replayed. What its tags tell stands in the
// Header; whatever is not known is zero.
type Game struct {
	pgn.Header
	Source, File  string
	Index, Line   int         // number in the file, and line it begins on
	Theirs        board.Color // the opponent's colour
	Result        Result
	Span          pgn.Span     // possible days
	Class         Class        // by the time control alone, as the forecast weighs games; Speed goes by words of the event, too
	Elo, RivalElo int          // the opponent's and the other player's
	Moves         []board.Move // legal main line from the usual position
	evals         []int16      // see Eval
	spent         []uint16     // see Spent
}

func newGame(g *pgn.Game, theirs board.Color, moves []board.Move) Game {
	h := g.Header()
	out := Game{
		Header: *h,
		Source: g.Source, File: g.File, Index: g.Index, Line: g.Line, Theirs: theirs,
		Result: resultFor(theirs, g.Result()), Span: h.Date.Span(), Class: h.Control.Speed(),
		Elo: h.White.Elo, RivalElo: h.Black.Elo, Moves: moves,
		evals: evalsOf(g, len(moves)), spent: timesOf(g, theirs, len(moves)),
	}
	if theirs == board.Black {
		out.Elo, out.RivalElo = out.RivalElo, out.Elo
	}
	return out
}

// Rival is the other player.
func (g *Game) Rival() *pgn.Player {
	if g.Theirs == board.White {
		return &g.Black
	}
	return &g.White
}

// knownOn reports whether the game may be known to one that is played within
// when: not if it may be of that day or later. A day that is not known is later than
// all games; so is it for games without a date.
func (g *Game) knownOn(when pgn.Span) bool {
	return !g.Span.Known() || !when.Known() || g.Span.Before(when)
}

func resultFor(theirs board.Color, result string) Result {
	switch {
	case result == "1/2-1/2":
		return Draw
	case result == "1-0" && theirs == board.White, result == "0-1" && theirs == board.Black:
		return Win
	case result == "1-0", result == "0-1":
		return Loss
	}
	return NoResult
}

// older orders games by time: undated ones first, then by the middle of their
// possible dates, the time of day, the file and the place in it.
func older(a, b *Game) int {
	return cmp.Or(
		cmp.Compare(a.Span.Middle(), b.Span.Middle()),
		cmp.Compare(a.Began(), b.Began()),
		strings.Compare(a.File, b.File),
		cmp.Compare(a.Index, b.Index),
	)
}
