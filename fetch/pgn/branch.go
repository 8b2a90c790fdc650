package pgn

import (
	"bytes"
	"fmt"
	"strconv"
)

// GoesBack is the kind of lines of text that go on from an earlier move.
const GoesBack Kind = "line goes back"

// branch starts a variation where a line of text begins with the number of a move
// that is there already, as in lines noted down one below the other without
// parentheses:
//
//  1. e4 c5 2. Nf3 d6 3. d4 cxd4
//  2. c3 d5
//
// It returns the frame that the move at t belongs to. Only trees are read so: the
// main line of a game is what was played.
func (p *parser) branch(t token, top *frame) *frame {
	if !p.outermost() {
		return top
	}
	ply := p.numberedPly(t)
	switch {
	case ply == 0 || ply == top.ply+1:
		return top
	case ply > top.ply:
		return p.backTo(ply)
	}
	for len(p.frames) > 1 && ply <= top.first {
		p.frames = p.frames[:len(p.frames)-1]
		top = &p.frames[len(p.frames)-1]
	}
	v := &Line{}
	n := &top.line.Moves[ply-max(top.first, 1)]
	n.Variations = append(n.Variations, v)
	p.frames = append(p.frames, frame{ply: ply - 1, first: ply, line: v, opened: t})
	p.report(Problem{Kind: GoesBack, Severity: Warning, Ply: ply,
		Message: fmt.Sprintf("the line goes back to move %d, read as a variation", (ply+1)/2), Hint: "put variations between ( and )"}, t)
	return &p.frames[len(p.frames)-1]
}

// backTo leaves the variations of branch if a line that they are in goes on with
// this half-move.
func (p *parser) backTo(ply int) *frame {
	for k := len(p.frames) - 1; k >= 0; k-- {
		if p.frames[k].ply+1 == ply {
			p.frames = p.frames[:k+1]
			break
		}
	}
	return &p.frames[len(p.frames)-1]
}

// outermost reports whether no variation is open but those of branch.
func (p *parser) outermost() bool {
	return len(p.frames) == 1 || p.frames[len(p.frames)-1].first > 0
}

// farNumber is how far from the start of its line a move may be and still have the
// first number there, in bytes.
const farNumber = 24

// numberedPly returns the half-move that the number before a move tells, if it is
// the first on its line and numbers count from the usual start; else 0.
func (p *parser) numberedPly(t token) int {
	line := p.b[t.lineStart:t.start]
	line = line[min(skipTabs(line, skipEscapes(line, 0)), len(line)):]
	digits := 0
	for digits < len(line) && class[line[digits]]&digit != 0 {
		digits++
	}
	signs := line[digits:]
	if digits == 0 || digits > 3 || len(bytes.Trim(signs, " .…\t")) > 0 || p.game.Tags.Has("FEN") {
		return 0
	}
	n, err := strconv.Atoi(string(line[:digits]))
	dots := bytes.Count(signs, []byte(".")) + 3*bytes.Count(signs, []byte("…"))
	if err != nil || n == 0 || dots == 0 {
		return 0
	}
	if dots > 1 {
		return 2 * n
	}
	return 2*n - 1
}
