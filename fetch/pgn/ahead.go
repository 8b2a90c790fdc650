package pgn

import "unicode/utf8"

// Reading ahead. A Reader cuts a game out (split.go) and then reads it (parse.go),
// so each byte is looked at twice. Most movetext is plain: moves, their numbers and
// short comments, in which no game can end. The parser reads such moves while split
// waits, and split goes on behind them. What comes of a game is the same either
// way, which TestAhead and FuzzAhead hold the Reader to; where anything is odd, the
// game is read from its start again.

// ahead reads the tags of a game and, if it is wanted, its moves as far as they are
// plain. b goes on behind the game, and may end within it; the game has tags. ahead
// returns the place behind the last of the moves, and how many there are.
func (p *parser) ahead(b []byte, sp span, pairs []tagPair, at Problem) (to, moves int) {
	p.begun = false
	first := scanner{b: b, i: sp.body}
	if p.opt.Variations || first.plain(p.plain[:1]) == 0 {
		return sp.body, 0
	}
	p.reset(b, sp, pairs, at)
	if p.converted {
		return sp.body, 0
	}
	p.head()
	p.begun = true
	if !p.want() {
		return sp.body, 0
	}
	p.sc.b = b
	to = p.plainMovetext()
	// Excerpts of what is wrong would go on behind the game, and columns count runes.
	if len(p.game.Problems) > 0 || !isASCII(b[sp.body:to]) {
		p.begun = false
		return sp.body, 0
	}
	return to, len(p.game.Moves)
}

// finish reads the rest of a game that ahead has begun, now that its end is known;
// false when it must be read from its start.
func (p *parser) finish(c *piece) bool {
	body := c.text[c.sp.body:]
	plain := isASCII(body)
	if c.long || !plain && !utf8.Valid(body) {
		return false
	}
	p.b, p.sp, p.game.Termination = c.text, c.sp, c.sp.value
	p.ascii = p.ascii && plain
	p.rest(false)
	return true
}
