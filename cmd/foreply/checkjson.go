package main

import (
	"io"
	"slices"

	"foreply/fetch/pgn"
	"foreply/profile"
	"foreply/profile/board"
)

// The JSON of check: an object with the games, one after the other, and the problems that
// belong to no game. It is written as it arises, since one game may have a million moves:
// a game is its head, its moves and its tail, and so is a move with its variations.
type (
	gameHead struct {
		Tags         map[string]string `json:"tags"`
		Termination  *string           `json:"termination"` // null when missing
		StartFEN     string            `json:"start_fen"`
		GameComments []string          `json:"game_comments"` // before the first move
	}
	gameTail struct {
		Errors   int           `json:"errors"` // moves that could not be played
		Problems []pgn.Problem `json:"problems"`
	}
	moveHead struct {
		Ply      int      `json:"ply"` // by the move number: 34 is Black's move 17
		SAN      string   `json:"san"`
		UCI      string   `json:"uci"`
		NAGs     []int    `json:"nags"`
		Comments []string `json:"comments"`
	}
	moveTail struct {
		Clk   *float64  `json:"clk_seconds,omitempty"`
		Emt   *float64  `json:"emt_seconds,omitempty"`
		Eval  *evalJSON `json:"eval_white,omitempty"`
		Depth int       `json:"eval_depth,omitempty"`
	}
	// evalJSON has one of its fields, from White's side.
	evalJSON struct {
		CP   *int `json:"cp,omitempty"`
		Mate *int `json:"mate,omitempty"`
	}
)

// checkJSON writes nothing before all files are read, so that one that can't be read
// leaves no half of an object.
func (a *app) checkJSON(files []string) error {
	var games []*pgn.Game
	stray, err := a.readChapters(files, func(g *pgn.Game) { games = append(games, g) })
	if err != nil {
		return err
	}
	broken, err := writeGames(a.stdout, games, stray)
	switch {
	case err != nil:
		return err
	case broken:
		return errBroken
	}
	return nil
}

// writeGames reports whether there is something to mend in a game. It lets go of each game
// when it is written.
func writeGames(w io.Writer, games []*pgn.Game, stray []pgn.Problem) (broken bool, err error) {
	out := newJSONStream(w)
	out.object(func() {
		out.list("games", func() {
			for i, g := range games {
				games[i] = nil
				broken = writeGame(out, g) || broken
			}
		})
		out.list("problems", func() { writeEach(out, stray) })
	})
	return broken, out.end()
}

func writeEach[T any](out *jsonStream, all []T) {
	for i := range all {
		out.value(&all[i])
	}
}

// writeGame reports whether there is something to mend in the game.
func writeGame(out *jsonStream, g *pgn.Game) (broken bool) {
	head := gameHead{Tags: map[string]string{}}
	for _, tag := range g.Tags() {
		head.Tags[tag.Name] = tag.Value
	}
	if g.Termination != "" {
		head.Termination = &g.Termination
	}
	r := replayed(g)
	head.StartFEN, head.GameComments = r.start, append([]string{}, r.line.Comments...)
	tail := gameTail{Errors: r.errors, Problems: append(append([]pgn.Problem{}, g.Problems...), r.problems...)}
	out.object(func() {
		out.fields(&head)
		out.list("main_line_san", func() {
			for i := range r.line.Moves {
				out.value(r.line.Moves[i].SAN)
			}
		})
		out.member("line", func() {
			out.list("start_comments", func() {})
			writeMoves(out, r.line, r.before)
		})
		out.fields(&tail)
	})
	return errorsIn(tail.Problems) > 0
}

// replay is what a game's moves are.
type replay struct {
	line     *profile.Line
	start    string // a FEN
	before   int    // plies that the starting position has behind it
	errors   int    // moves that could not be played
	problems []pgn.Problem
}

// replayed replays a game. One of another variant, or from no position, has no moves and a
// problem that says so.
func replayed(g *pgn.Game) replay {
	none := replay{line: &profile.Line{}, start: g.Tags().Get("FEN")}
	if p := notChess(g); p != nil {
		none.problems = []pgn.Problem{*p}
		return none
	}
	start, err := profile.Start(g.Header())
	if err != nil {
		none.problems = []pgn.Problem{{
			Kind: pgn.BadSetUp, Severity: pgn.Error, File: g.File, Line: g.Line, Game: g.Index,
			Token: none.start, Message: err.Error(), Hint: "mend the FEN tag",
		}}
		return none
	}
	line, problems := profile.Replay(g, start)
	before := 2 * (start.FullMove() - 1)
	if start.Turn() == board.Black {
		before++
	}
	return replay{line: line, start: start.FEN(), before: before, errors: errorsIn(problems), problems: problems}
}

func errorsIn(problems []pgn.Problem) int {
	n := 0
	for _, p := range problems {
		if p.Severity == pgn.Error {
			n++
		}
	}
	return n
}

// writeMoves numbers plies from the first move of a game; before is how many
// the starting position has behind it.
func writeMoves(out *jsonStream, line *profile.Line, before int) {
	out.list("moves", func() {
		for i := range line.Moves {
			out.object(func() { writeMove(out, &line.Moves[i], before) })
		}
	})
}

func writeMove(out *jsonStream, n *profile.Node, before int) {
	head := moveHead{
		Ply: before + n.Ply, SAN: n.SAN, UCI: n.Move.UCI(),
		NAGs:     slices.Compact(slices.Sorted(slices.Values(n.NAGs))),
		Comments: append([]string{}, n.Comments...),
	}
	if head.NAGs == nil {
		head.NAGs = []int{}
	}
	out.fields(&head)
	out.list("variations", func() {
		for _, v := range n.Variations {
			out.object(func() {
				out.list("start_comments", func() { writeEach(out, v.Comments) })
				writeMoves(out, v, before)
			})
		}
	})
	var tail moveTail
	for _, comment := range n.Comments {
		tail.readCommands(comment)
	}
	out.fields(&tail)
}

// readCommands takes clock and evaluation from a comment.
func (m *moveTail) readCommands(comment string) {
	if s, ok := pgn.ParseClk(comment); ok {
		m.Clk = &s
	}
	if s, ok := pgn.ParseEmt(comment); ok {
		m.Emt = &s
	}
	e, ok := pgn.ParseEval(comment)
	if !ok {
		return
	}
	m.Depth = e.Depth
	if e.IsMate {
		m.Eval = &evalJSON{Mate: &e.Mate}
	} else {
		m.Eval = &evalJSON{CP: &e.Centipawns}
	}
}
