package pgn

import "slices"

// Plain movetext, the quick way: what these take in, token (parse.go) would take in
// alike.

// plainMovetext reads plain moves and plain comments until something else comes or
// Options.Plies are read, and returns the place behind the last of them; 0 for none.
func (p *parser) plainMovetext() (to int) {
	for room := p.room(); room > 0; room = p.room() {
		if n := p.sc.plain(p.plain[:room]); n > 0 {
			p.plainMoves(p.plain[:n])
			to = int(p.plain[n-1].end)
			continue
		}
		if !p.plainNote() {
			break
		}
		to = p.sc.i
	}
	return to
}

// plainNote takes in a plain comment in the main line, which in many files stands
// behind each move; false when none is next. It does what token does, quicker.
func (p *parser) plainNote() bool {
	s, top := &p.sc, &p.frames[len(p.frames)-1]
	if s.i >= len(s.b) || s.b[s.i] != '{' || len(p.frames) > 1 || top.line != nil || !top.moves {
		return false
	}
	end := plainComment(s.b, s.i)
	if end == 0 {
		return false
	}
	p.endStray()
	t := token{kind: commentToken, start: s.i, end: end}
	s.pass(end)
	s.last = commentToken
	if raw := p.b[t.start:end:end]; !isEmpty(raw) {
		p.note(t, raw)
	}
	return true
}

// room is how many moves may be read at a time, 0 when Options.Plies are.
func (p *parser) room() int {
	if p.opt.Plies <= 0 || p.opt.Variations {
		return len(p.plain)
	}
	return min(len(p.plain), max(0, p.opt.Plies-len(p.game.Moves)))
}

// plainMoves takes in moves that are no null moves and stand in the text as they
// are handed out.
func (p *parser) plainMoves(moves []plainMove) {
	if p.stray.end > 0 {
		p.endStrayBefore(moves[0].token())
	}
	top := &p.frames[len(p.frames)-1]
	if len(p.frames) > 1 || top.line != nil {
		for _, m := range moves {
			p.move(m.token(), &p.frames[len(p.frames)-1])
		}
		return
	}
	top.ply += len(moves)
	top.moves = true
	for _, m := range moves {
		p.addMove(p.b[m.start:m.end:m.end], int(m.line), p.column(int(m.start), int(m.lineStart)))
	}
}

// addMove adds a move to the main line. It sets the fields in place, which is
// quicker than to append a Move.
func (p *parser) addMove(san []byte, line, column int) {
	n := len(p.game.Moves)
	if n == cap(p.game.Moves) {
		p.game.Moves = slices.Grow(p.game.Moves, max(n, 128))
	}
	p.game.Moves = p.game.Moves[:n+1]
	m := &p.game.Moves[n]
	m.SAN, m.Note = san, nil
	m.Line, m.Column = int32(line), int32(column)
}
