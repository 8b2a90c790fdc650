package uci

import (
	"context"
	"errors"
	"fmt"
	"strconv"

	"foreply/profile/board"
)

// Result is what an engine says of a position.
type Result struct {
	Lines []Line // best first for the side to move; one at least
}

// Line is one of the best moves with its evaluation, and how the game would go
// on.
type Line struct {
	Score Score
	Depth int          // plies, as the engine counts them
	Moves []board.Move // legal one after the other; one at least
}

// Search asks for the best moves of a position, so many lines as wanted if the
// engine can, after a fixed number of nodes. The engine's memory is emptied
// before, so that the answer doesn't depend on what was asked earlier. The
// counters of the position are not told.
//
// ErrSlow: it was stopped, and can be asked again; after any other error the
// engine is of no more use.
func (e *Engine) Search(ctx context.Context, pos board.Position, nodes, lines int) (Result, error) {
	if err := e.prepare(ctx, lines); err != nil {
		return Result{}, err
	}
	c := newCollector(pos)
	e.send("position fen " + pos.EPD() + " 0 1")
	asked := "go nodes " + strconv.Itoa(nodes)
	err := e.ask(ctx, asked, "bestmove", e.opt.Search, c.read)
	switch {
	case err == nil:
		return c.result()
	case !errors.Is(err, ErrSilent):
		return Result{}, err
	}
	if err := e.ask(ctx, "stop", "bestmove", e.opt.Stop, c.read); err != nil {
		return Result{}, err
	}
	return Result{}, fmt.Errorf("%w: %d nodes are not done in %v", ErrSlow, nodes, e.opt.Search)
}

// prepare empties the engine's memory and sets how many lines are wanted.
func (e *Engine) prepare(ctx context.Context, lines int) error {
	e.send("ucinewgame")
	if lines != e.lines {
		e.setIfOffered("MultiPV", lines)
		e.lines = lines
	}
	return e.ready(ctx)
}
