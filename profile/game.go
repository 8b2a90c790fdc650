package profile

import (
	"cmp"
	"strconv"
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

// Game is one game of the opponent, replayed.
type Game struct {
	Source, File  string
	Index, Line   int // number in the file, and line it begins on
	White, Black  string
	Theirs        board.Color // the opponent's colour
	Result        Result
	Date          string // the Date tag
	Span          Span   // possible days; only if Dated
	Dated         bool
	Time          int32 // seconds since midnight, -1 unknown
	Class         Class
	Elo, RivalElo int // the opponent's and the other player's, 0 unknown
	ECO           string
	Moves         []board.Move // legal main line from the usual position
	Clock         int          // seconds for 60 moves by the TimeControl tag, 0 unknown
	played        string       // rating list where no source is configured
	evals         []int16      // see Eval
	spent         []uint16     // see Spent
}

func newGame(g *pgn.Game, theirs board.Color, moves []board.Move) Game {
	span, dated := ParseDate(g.Tags.Get("Date"))
	white, black := rating(g.Tags.Get("WhiteElo")), rating(g.Tags.Get("BlackElo"))
	out := Game{
		Source: g.Source, File: g.File, Index: g.Index, Line: g.Line,
		White: g.Tags.Get("White"), Black: g.Tags.Get("Black"), Theirs: theirs,
		Result: resultFor(theirs, g.Result()),
		Date:   g.Tags.Get("Date"), Span: span, Dated: dated,
		Time: timeOf(g.Tags), Class: ClassOf(g.Tags.Get("TimeControl")),
		Elo: white, RivalElo: black, ECO: g.Tags.Get("ECO"),
		Moves: moves, played: whereOf(g.Tags),
		evals: evalsOf(g, len(moves)), spent: timesOf(g, theirs, len(moves)),
	}
	out.Clock, _ = timeFor60(strings.TrimSpace(g.Tags.Get("TimeControl")))
	if theirs == board.Black {
		out.Elo, out.RivalElo = black, white
	}
	return out
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

func timeOf(tags pgn.Tags) int32 {
	for _, name := range [...]string{"UTCTime", "StartTime", "Time"} {
		if t := parseTime(tags.Get(name)); t >= 0 {
			return t
		}
	}
	return -1
}

// rating reads an Elo tag: an integer from 1 to 3999; anything else is unknown.
func rating(tag string) int {
	n, err := strconv.Atoi(strings.TrimSpace(tag))
	if err != nil || n < 1 || n > 3999 {
		return 0
	}
	return n
}

// older orders games by time: undated ones first, then by the middle of their
// possible dates, the time tag, the file and the place in it.
func older(a, b *Game) int {
	if a.Dated != b.Dated {
		if b.Dated {
			return -1
		}
		return 1
	}
	return cmp.Or(
		cmp.Compare(a.Span.Middle(), b.Span.Middle()),
		cmp.Compare(a.Time, b.Time),
		strings.Compare(a.File, b.File),
		cmp.Compare(a.Index, b.Index),
	)
}
