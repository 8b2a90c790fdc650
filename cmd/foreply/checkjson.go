package main

import (
	"slices"

	"foreply/fetch/pgn"
	"foreply/profile"
	"foreply/profile/board"
)

// The JSON of check: what was read, game by game.
type (
	gamesJSON struct {
		Games    []gameJSON    `json:"games"`
		Problems []pgn.Problem `json:"problems"` // those that belong to no game
	}
	gameJSON struct {
		Tags         map[string]string `json:"tags"`
		Termination  *string           `json:"termination"` // null when missing
		StartFEN     string            `json:"start_fen"`
		GameComments []string          `json:"game_comments"` // before the first move
		MainLine     []string          `json:"main_line_san"`
		Line         lineJSON          `json:"line"`
		Errors       int               `json:"errors"` // moves that could not be played
		Problems     []pgn.Problem     `json:"problems"`
	}
	lineJSON struct {
		StartComments []string   `json:"start_comments"`
		Moves         []moveJSON `json:"moves"`
	}
	moveJSON struct {
		Ply        int        `json:"ply"` // by the move number: 34 is Black's move 17
		SAN        string     `json:"san"`
		UCI        string     `json:"uci"`
		NAGs       []int      `json:"nags"`
		Comments   []string   `json:"comments"`
		Variations []lineJSON `json:"variations"`
		Clk        *float64   `json:"clk_seconds,omitempty"`
		Emt        *float64   `json:"emt_seconds,omitempty"`
		Eval       *evalJSON  `json:"eval_white,omitempty"`
		Depth      int        `json:"eval_depth,omitempty"`
	}
	// evalJSON has one of its fields, from White's side.
	evalJSON struct {
		CP   *int `json:"cp,omitempty"`
		Mate *int `json:"mate,omitempty"`
	}
)

func (a *app) checkJSON(files []string) error {
	out := gamesJSON{Games: []gameJSON{}, Problems: []pgn.Problem{}}
	stray, err := a.readChapters(files, func(g *pgn.Game) { out.Games = append(out.Games, gameToJSON(g)) })
	if err != nil {
		return err
	}
	out.Problems = append(out.Problems, stray...)
	if err := writeJSON(a.stdout, out); err != nil {
		return err
	}
	for _, g := range out.Games {
		if slices.ContainsFunc(g.Problems, func(p pgn.Problem) bool { return p.Severity == pgn.Error }) {
			return errBroken
		}
	}
	return nil
}

// gameToJSON replays a game. One of another variant gives its tags only, and a
// problem that says so.
func gameToJSON(g *pgn.Game) gameJSON {
	out := gameJSON{
		Tags: map[string]string{}, GameComments: []string{}, MainLine: []string{},
		Line: lineJSON{StartComments: []string{}, Moves: []moveJSON{}}, Problems: append([]pgn.Problem{}, g.Problems...),
	}
	for _, tag := range g.Tags() {
		out.Tags[tag.Name] = tag.Value
	}
	if g.Termination != "" {
		termination := g.Termination
		out.Termination = &termination
	}
	if p := notChess(g); p != nil {
		out.StartFEN = g.Tags().Get("FEN")
		out.Problems = append(out.Problems, *p)
		return out
	}
	start, err := profile.Start(g.Header())
	if err != nil {
		out.StartFEN = g.Tags().Get("FEN")
		out.Problems = append(out.Problems, pgn.Problem{
			Kind: pgn.BadSetUp, Severity: pgn.Error, File: g.File, Line: g.Line, Game: g.Index,
			Token: out.StartFEN, Message: err.Error(), Hint: "mend the FEN tag",
		})
		return out
	}
	out.StartFEN = start.FEN()
	line, problems := profile.Replay(g, start)
	out.Problems = append(out.Problems, problems...)
	out.Errors = errorsIn(problems)
	before := 2 * (start.FullMove() - 1)
	if start.Turn() == board.Black {
		before++
	}
	out.Line = lineToJSON(line, before)
	out.GameComments, out.Line.StartComments = out.Line.StartComments, []string{}
	for _, n := range line.Moves {
		out.MainLine = append(out.MainLine, n.SAN)
	}
	return out
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

// lineToJSON numbers plies from the first move of a game; before is how many
// the starting position has behind it.
func lineToJSON(line *profile.Line, before int) lineJSON {
	out := lineJSON{StartComments: append([]string{}, line.Comments...), Moves: []moveJSON{}}
	for i := range line.Moves {
		out.Moves = append(out.Moves, moveToJSON(&line.Moves[i], before))
	}
	return out
}

func moveToJSON(n *profile.Node, before int) moveJSON {
	out := moveJSON{
		Ply: before + n.Ply, SAN: n.SAN, UCI: n.Move.UCI(),
		NAGs:     slices.Compact(slices.Sorted(slices.Values(n.NAGs))),
		Comments: append([]string{}, n.Comments...), Variations: []lineJSON{},
	}
	if out.NAGs == nil {
		out.NAGs = []int{}
	}
	for _, v := range n.Variations {
		out.Variations = append(out.Variations, lineToJSON(v, before))
	}
	for _, comment := range n.Comments {
		out.readCommands(comment)
	}
	return out
}

// readCommands takes clock and evaluation from a comment.
func (m *moveJSON) readCommands(comment string) {
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
