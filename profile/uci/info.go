package uci

import (
	"fmt"
	"slices"
	"strconv"
	"strings"

	"foreply/profile/board"
)

// deepest bounds the depths that are believed.
const deepest = 255

// Score is an evaluation from White's side: centipawns, or moves to mate.
type Score struct {
	Centipawns int
	Mate       int // full moves to mate, negative if Black mates; 0: no mate was found
}

// For is the score as a side sees it.
func (s Score) For(c board.Color) Score {
	if c == board.Black {
		return Score{-s.Centipawns, -s.Mate}
	}
	return s
}

// mateValue is what a mate on the board counts in Value.
const mateValue = 100_000

// Value orders scores, in centipawns: a mate is worth more than anything, a near
// one more than a far one.
func (s Score) Value() int {
	switch {
	case s.Mate > 0:
		return mateValue - s.Mate
	case s.Mate < 0:
		return -mateValue - s.Mate
	}
	return s.Centipawns
}

// info is one line of a search.
type info struct {
	rank  int // 1 for the best
	bound bool
	line  Line
}

// collector gathers what a search tells.
type collector struct {
	pos   board.Position
	depth map[int][]Line // exact lines by depth, then by rank; Moves nil where none came
	last  []Line         // by rank, whatever their depth
	best  string         // the move that ended the search
}

func newCollector(pos board.Position) *collector {
	return &collector{pos: pos, depth: map[int][]Line{}}
}

func (c *collector) read(text string) {
	fields := strings.Fields(text)
	if len(fields) > 1 && fields[0] == "bestmove" {
		c.best = fields[1]
	}
	if len(fields) == 0 || fields[0] != "info" {
		return
	}
	i, ok := c.parse(fields[1:])
	if !ok {
		return
	}
	if !i.bound {
		c.depth[i.line.Depth] = put(c.depth[i.line.Depth], i)
	}
	if !i.bound || i.rank > len(c.last) {
		c.last = put(c.last, i)
	}
}

func put(lines []Line, i info) []Line {
	for len(lines) < i.rank {
		lines = append(lines, Line{})
	}
	lines[i.rank-1] = i.line
	return lines
}

// parse reads 'depth 7 ... multipv 2 score cp 31 ... pv e2e4 ...'. Words that it
// doesn't know are passed over; 'string' ends what can be understood.
func (c *collector) parse(fields []string) (info, bool) {
	i, scored := info{rank: 1}, false
	number := func(at int) int {
		if at >= len(fields) {
			return 0
		}
		n, _ := strconv.Atoi(fields[at])
		return n
	}
	for at, word := range fields {
		switch word {
		case "string":
			return info{}, false
		case "depth":
			i.line.Depth = number(at + 1)
		case "multipv":
			i.rank = number(at + 1)
		case "cp":
			i.line.Score, scored = Score{Centipawns: number(at + 1)}, true
		case "mate":
			i.line.Score, scored = Score{Mate: number(at + 1)}, true
		case "lowerbound", "upperbound":
			i.bound = true
		case "pv":
			i.line.Moves = c.legal(fields[at+1:])
			i.line.Score = i.line.Score.For(c.pos.Turn())
			sound := scored && i.rank >= 1 && i.rank <= mostLines && i.line.Depth >= 0 && i.line.Depth <= deepest
			return i, sound && len(i.line.Moves) > 0
		}
	}
	return info{}, false
}

// mostLines is how many lines of a position are taken; no position has more
// moves (218 is the record, common knowledge among problemists).
const mostLines = 218

// legal reads moves as far as they are legal one after the other.
func (c *collector) legal(texts []string) []board.Move {
	pos, moves := c.pos, []board.Move(nil)
	for _, text := range texts {
		m, ok := legalMove(&pos, text)
		if !ok {
			break
		}
		moves = append(moves, m)
		pos.Play(m)
	}
	return moves
}

func legalMove(pos *board.Position, text string) (board.Move, bool) {
	m, err := pos.ParseUCI(text)
	return m, err == nil && m != board.NullMove
}

// result is the deepest set of lines that is whole: as many as came of any
// depth, all exact. A search by nodes ends in the middle of one.
func (c *collector) result() (Result, error) {
	if _, ok := legalMove(&c.pos, c.best); !ok {
		return Result{}, fmt.Errorf("%w: %q is no legal move in %s", ErrNonsense, c.best, c.pos.EPD())
	}
	for depth := deepest; depth >= 0; depth-- {
		if lines := c.depth[depth]; len(lines) == len(c.last) && whole(lines) {
			return Result{lines}, nil
		}
	}
	if len(c.last) == 0 || c.last[0].Moves == nil {
		return Result{}, fmt.Errorf("%w: no evaluation with the move %s in %s", ErrNonsense, c.best, c.pos.EPD())
	}
	return Result{c.last[:1]}, nil
}

// whole tells whether no line is missing, and no first move there twice.
func whole(lines []Line) bool {
	for i, l := range lines {
		if l.Moves == nil {
			return false
		}
		if slices.ContainsFunc(lines[:i], func(o Line) bool { return o.Moves[0] == l.Moves[0] }) {
			return false
		}
	}
	return len(lines) > 0
}
