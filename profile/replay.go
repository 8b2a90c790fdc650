package profile

import (
	"errors"
	"fmt"
	"slices"
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

// Start returns the position a game begins with: that of its FEN, else the usual
// one.
func Start(h *pgn.Header) (board.Position, error) {
	if h.FEN == "" {
		return board.Start(), nil
	}
	return board.ParseFEN(h.FEN)
}

// Replay resolves a game's tree of moves. Each line ends before its first move
// that is not legal; the problems say where. Moves, brackets and numbers are put
// together as they must be meant (typed.go); where several readings can be played,
// the problems say which was taken. The game must have been read with its
// variations.
func Replay(g *pgn.Game, start board.Position) (*Line, []pgn.Problem) {
	r := replayer{game: g, told: map[pgn.Kind]int{}}
	main := &strand{line: &Line{}, first: 1, before: []board.Position{start}, shift: start.Ply()}
	if g.Tree != nil {
		r.small = smallLetters(g.Tree)
		main.line.Comments = g.Tree.Comments
		if first := g.Tree.Moves; g.Tags().Has("FEN") && len(first) > 0 && first[0].Told > 0 {
			main.shift = first[0].Told - 1
		}
		r.run(g.Tree.Moves, main, false)
	}
	return main.line, r.sumUp()
}

type replayer struct {
	game     *pgn.Game
	small    bool // pieces are written in small letters
	problems []pgn.Problem
	told     map[pgn.Kind]int
}

// mostOfKind is how many problems of a kind a game reports one by one; what goes
// beyond is counted.
const mostOfKind = 100

func (r *replayer) report(p pgn.Problem) {
	if r.told[p.Kind]++; r.told[p.Kind] <= mostOfKind {
		r.problems = append(r.problems, r.game.Locate(p))
	}
}

// sumUp returns the problems, and of each kind how many more there were.
func (r *replayer) sumUp() []pgn.Problem {
	for _, p := range slices.Clone(r.problems) {
		if more := r.told[p.Kind] - mostOfKind; more > 0 {
			delete(r.told, p.Kind)
			p.Message = fmt.Sprintf("%s, and %d more times in this game", p.Kind, more)
			r.problems = append(r.problems, p)
		}
	}
	return r.problems
}

// moveProblem is the problem of a move that can't be played: san, told as the token that
// stands in the text. Whoever has the game locates it.
func moveProblem(token, san string, ply, line, column int, pos *board.Position, err error) pgn.Problem {
	p := pgn.Problem{
		Kind: pgn.UnreadableMove, Severity: pgn.Error, Line: line, Column: column, Ply: ply, Token: token,
	}
	number := MoveNumber(pos) + token
	switch {
	case errors.Is(err, board.ErrIllegal) && lacksPiece(pos, san):
		p.Kind = pgn.IllegalMove
		p.Message = fmt.Sprintf("%s promotes to what?", number)
		p.Hint = "write the piece that the pawn becomes, as in e8=Q"
	case errors.Is(err, board.ErrIllegal):
		p.Kind = pgn.IllegalMove
		p.Message = fmt.Sprintf("illegal move %s", number)
		p.Hint = "the line is read up to this move; check the move or a missing one before it"
	case errors.Is(err, board.ErrAmbiguous):
		p.Kind = pgn.AmbiguousMove
		p.Message = fmt.Sprintf("ambiguous move %s: %s", number, candidates(pos, san))
		p.Hint = "write which piece moves"
	default:
		p.Message = fmt.Sprintf("unreadable move %s", number)
		p.Hint = "moves are read in SAN, as Nf3, exd5, O-O, e8=Q"
	}
	return p
}

// lacksPiece reports whether a move is illegal only because it doesn't say what its
// pawn becomes.
func lacksPiece(pos *board.Position, san string) bool {
	bare := strings.TrimRight(san, "+#!?")
	_, err := pos.Resolve([]byte(bare + "=Q"))
	return err == nil
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
		if strings.HasSuffix(san, bare[len(bare)-2:]) || san[1] == 'x' && san[2] == bare[len(bare)-1] {
			found = append(found, san)
		}
	}
	return strings.Join(found, " or ")
}
