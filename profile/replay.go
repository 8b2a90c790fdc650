package profile

import (
	"errors"
	"fmt"
	"strings"

	"foreply/fetch/pgn"
	"foreply/profile/board"
)

// Line is a replayed line: moves that are legal, with what hangs on them.
type Line struct {
	Comments []string // before the first move
	Moves    []Node
}

// Node is one legal move of a Line.
type Node struct {
	Ply        int // 1 is the game's first half-move, whoever makes it
	Move       board.Move
	SAN        string // normalised
	NAGs       []int
	Comments   []string
	Variations []*Line // alternatives to this move
	FileLine   int     // place of the move in its file
	Column     int
}

// Start returns the position a game begins with: the FEN tag's, else the usual
// one. A SetUp tag of 0 beside no FEN means the usual one.
func Start(tags pgn.Tags) (board.Position, error) {
	fen := strings.TrimSpace(tags.Get("FEN"))
	if fen == "" {
		return board.Start(), nil
	}
	return board.ParseFEN(fen)
}

// FromStart reports whether the game begins with the usual position.
func FromStart(tags pgn.Tags) bool {
	if !tags.Has("FEN") {
		return true
	}
	pos, err := Start(tags)
	start := board.Start()
	return err == nil && pos.Key() == start.Key()
}

// Replay resolves a game's tree of moves. Each line ends before its first move
// that is not legal; the problems say where. The game must have been read with
// its variations.
func Replay(g *pgn.Game, start board.Position) (*Line, []pgn.Problem) {
	r := replayer{game: g}
	line := r.line(g.Tree, start, 1)
	return line, r.problems
}

type replayer struct {
	game     *pgn.Game
	problems []pgn.Problem
}

func (r *replayer) line(from *pgn.Line, pos board.Position, ply int) *Line {
	line := &Line{}
	if from == nil {
		return line
	}
	line.Comments = from.Comments
	for i := range from.Moves {
		n := &from.Moves[i]
		move, err := pos.Resolve([]byte(n.SAN))
		if err != nil {
			r.problems = append(r.problems, moveProblem(r.game, n.SAN, ply, n.Line, n.Column, &pos, err))
			return line
		}
		node := Node{
			Ply: ply, Move: move, SAN: pos.SAN(move), NAGs: n.NAGs, Comments: n.Comments,
			FileLine: n.Line, Column: n.Column,
		}
		for _, v := range n.Variations {
			node.Variations = append(node.Variations, r.line(v, pos, ply))
		}
		line.Moves = append(line.Moves, node)
		pos.Play(move)
		ply++
	}
	return line
}

func moveProblem(g *pgn.Game, token string, ply, line, column int, pos *board.Position, err error) pgn.Problem {
	p := pgn.Problem{
		Kind: pgn.UnreadableMove, Severity: pgn.Error,
		Source: g.Source, File: g.File, Line: line, Column: column, Game: g.Index, Ply: ply, Token: token,
		Excerpt: g.Excerpt(line),
	}
	number := MoveNumber(pos) + token
	switch {
	case errors.Is(err, board.ErrIllegal):
		p.Kind = pgn.IllegalMove
		p.Message = fmt.Sprintf("illegal move %s", number)
		p.Hint = "the line is read up to this move; check the move or a missing one before it"
	case errors.Is(err, board.ErrAmbiguous):
		p.Kind = pgn.AmbiguousMove
		p.Message = fmt.Sprintf("ambiguous move %s: %s", number, candidates(pos, token))
		p.Hint = "write which piece moves"
	default:
		p.Message = fmt.Sprintf("unreadable move %s", number)
		p.Hint = "moves are read in SAN, as Nf3, exd5, O-O, e8=Q"
	}
	return p
}

// MoveNumber prints the number of the move to come: '12.' or '12...'.
func MoveNumber(pos *board.Position) string {
	if pos.Turn() == board.White {
		return fmt.Sprintf("%d.", pos.FullMove())
	}
	return fmt.Sprintf("%d...", pos.FullMove())
}

// candidates lists the moves an ambiguous token may mean: those whose SAN
// begins with its piece and ends on its square, or on its file if it has no more.
func candidates(pos *board.Position, token string) string {
	bare := strings.TrimRight(token, "+#!?")
	var found []string
	for _, m := range pos.Legal(nil) {
		san := strings.TrimRight(pos.SAN(m), "+#")
		if len(bare) < 2 || san[0] != bare[0] {
			continue
		}
		if strings.HasSuffix(san, bare[len(bare)-2:]) || len(bare) < 4 && san[1] == 'x' && san[2] == bare[len(bare)-1] {
			found = append(found, san)
		}
	}
	return strings.Join(found, " or ")
}
