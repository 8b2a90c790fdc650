package pgn

import (
	"bytes"
	"unicode/utf8"
)

// verdict says what became of a text that split cut out.
type verdict uint8

const (
	noGame   verdict = iota // neither tags nor moves
	unwanted                // refused by Options.Want
	wanted
)

// parser reads games that split has cut out, one after another. It needs nothing
// of the Reader, and each worker of Spread has its own. Its buffers are used again.
type parser struct {
	opt  *Options
	game Game

	b         []byte // the game's text in UTF-8
	sp        span
	pairs     []tagPair // as split found them; they end early when b was converted
	sc        scanner
	ascii     bool // b has nothing but ASCII
	converted bool
	names     uint64 // a filter of the names of tags
	begun     bool   // ahead has read the start of the game
	asked     bool   // whether it is wanted: answer
	answer    bool
	told      bool // that a text is not UTF-8; once is enough
	utf8      []byte

	frames []frame
	text   string // b, for the strings of tags and tree

	noteFrom int   // where the note of the last main move starts
	noteOpen bool  // only comments since
	stray    token // the stray text just read; its end is 0 when there is none
	foreign  token // the first move with a piece letter of another language; likewise
	resultAt token // the Result tag
	closed   int   // line of the first comment behind a semicolon in a variation that has a ) in it, 0 without
	plain    [64]plainMove
	place    placer
	counts   []count
}

// frame is a line that is being read: the main line or a variation.
type frame struct {
	ply    int   // of its last move; of the move before it when it has none
	moves  bool  // it has a move
	extra  int   // open parentheses passed over in it, whose closing ones are, too
	line   *Line // nil without a tree
	opened token
	early  []*Line // variations before its first move, which they are alternatives to
	before bool    // it stands so itself
}

// read reads a piece of text into p.game.
func (p *parser) read(c *piece) verdict {
	defer func() { p.asked, p.begun = false, false }()
	if p.begun {
		if !p.answer {
			return unwanted
		}
		if p.finish(c) {
			return wanted
		}
	}
	p.reset(c.text, c.sp, c.pairs, c.at)
	p.head()
	if c.sp.tags > 0 && !p.want() {
		return unwanted
	}
	p.movetext(c.long)
	if c.sp.tags > 0 {
		return wanted
	}
	switch {
	case len(p.game.Moves) == 0:
		return noGame
	case !p.want():
		return unwanted
	}
	return wanted
}

// want asks Options.Want, once for a game.
func (p *parser) want() bool {
	if !p.asked {
		p.asked, p.answer = true, p.opt.Want == nil || p.opt.Want(&p.game)
	}
	return p.answer
}

func (p *parser) reset(text []byte, sp span, pairs []tagPair, at Problem) {
	g := &p.game
	*g = Game{
		Source: p.opt.Source, File: p.opt.File, Index: at.Game, Line: at.Line, column: at.Column,
		tags: g.tags[:0], Moves: g.Moves[:0], Termination: sp.value, header: g.header,
	}
	p.b, p.sp, p.pairs, p.text = text, sp, pairs, ""
	p.sc = scanner{b: text, line: g.Line, fixed: p.sc.fixed}
	p.frames = append(p.frames[:0], frame{})
	p.noteOpen, p.converted, p.names = false, false, 0
	p.stray, p.foreign, p.resultAt, p.closed = token{}, token{}, token{}, 0
	p.counts = p.counts[:0]
	p.place = placer{first: g.column}
	p.ascii = isASCII(text[:sp.body])
	if !p.ascii && !utf8.Valid(text[:sp.body]) {
		p.convert()
	}
}

// movetext reads the moves and what hangs on them.
func (p *parser) movetext(long bool) {
	p.checkEncoding()
	if p.opt.Variations {
		p.text = string(p.b)
		p.game.Tree = &Line{Moves: make([]Node, 0, min(8+(p.sp.bodyEnd-p.sp.body)/8, 128))}
		p.frames[0].line = p.game.Tree
		p.leading()
	}
	p.rest(long)
}

// rest reads the moves that are not read yet.
func (p *parser) rest(long bool) {
	p.game.Text = p.b
	p.sc.b = p.b[:p.sp.bodyEnd]
	if long {
		p.sc.b = p.sc.b[:max(p.sp.body, lastBlank(p.sc.b))]
	}
	p.tokens()
	p.ending(long)
	if p.foreign.end > 0 && !p.opt.Variations {
		p.translate(p.foreign)
	}
	p.sumUp()
}

// tokens reads the movetext.
func (p *parser) tokens() {
	for p.plainMovetext(); p.room() > 0; p.plainMovetext() {
		t := p.sc.slow()
		if t.kind == endToken {
			p.endStray()
			return
		}
		p.token(t)
	}
	p.sc.countLines(p.sc.i, len(p.sc.b))
	p.sc.i = len(p.sc.b)
}

// lastBlank returns the place behind the last white space in b, so that no token
// is cut.
func lastBlank(b []byte) int {
	i := len(b)
	for i > 0 && !isSpace(b[i-1]) {
		i--
	}
	return i
}

// token takes in one token.
func (p *parser) token(t token) {
	if t.kind == strayToken || t.kind == closeToken && p.b[t.start] == ']' && !p.inBracket() || p.isLabel(t) {
		p.strayText(t)
		p.noteOpen = false
		return
	}
	if t.kind == idleToken && p.stray.end > 0 && p.b[t.start] == '*' {
		return // emphasis of the text
	}
	p.endStrayBefore(t)
	top := &p.frames[len(p.frames)-1]
	switch t.kind {
	case moveToken:
		p.lookForeign(t)
		p.move(t, top)
	case commentToken:
		p.comment(t)
		return
	case glyphToken:
		p.glyph(t, top)
	case openToken:
		p.open(t, top)
	case closeToken:
		p.close(t, top)
	}
	p.noteOpen = false
}

func (p *parser) move(t token, top *frame) {
	top.ply++
	top.moves = true
	column := p.column(t.start, t.lineStart)
	san := p.b[t.start:t.end:t.end]
	if t.fixed {
		san = bytes.Clone(p.sc.fixed)
	}
	if len(p.frames) == 1 {
		p.addMove(san, t.line, column)
		if san[0] == '-' || san[0] == 'Z' || string(san) == "0000" {
			p.nullMove(t)
		}
	}
	if top.line == nil {
		return
	}
	n := Node{SAN: p.text[t.start:t.end], Told: toldPly(p.b, t.start), Line: t.line, Column: column}
	if t.fixed {
		n.SAN = string(san)
	}
	n.Variations, top.early = top.early, nil
	top.line.Moves = append(top.line.Moves, n)
}

// lastNode is the last move of a line that has one.
func lastNode(l *Line) *Node { return &l.Moves[len(l.Moves)-1] }

func (p *parser) glyph(t token, top *frame) {
	if !top.moves {
		p.report(Problem{Kind: StrayText, Severity: Warning, Message: "annotation sign before any move, passed over"}, t)
		return
	}
	if top.line != nil {
		n := lastNode(top.line)
		n.NAGs = append(n.NAGs, t.glyph)
	}
}

func (p *parser) comment(t token) {
	if t.open {
		p.openComment(t)
	}
	if p.closed == 0 && len(p.frames) > 1 && p.b[t.start] == ';' && bytes.IndexByte(p.b[t.start:t.end], ')') >= 0 {
		p.closed = t.line
	}
	p.hang(t)
}

// hang hangs a comment on the move before it.
func (p *parser) hang(t token) {
	raw := p.b[t.start:t.end:t.end]
	if isEmpty(raw) {
		return
	}
	top := &p.frames[len(p.frames)-1]
	if len(p.frames) == 1 && top.moves {
		p.note(t, raw)
	}
	if top.line == nil {
		return
	}
	text := commentText(p.text[t.start:t.end])
	if top.moves {
		n := lastNode(top.line)
		n.Comments = append(n.Comments, text)
	} else {
		top.line.Comments = append(top.line.Comments, text)
	}
}

// note adds a comment to the note of the last main move. Comments next to each
// other are a piece of the text; others are put together.
func (p *parser) note(t token, raw []byte) {
	m := &p.game.Moves[len(p.game.Moves)-1]
	switch {
	case m.Note == nil:
		p.noteFrom, p.noteOpen = t.start, true
		m.Note = raw
	case p.noteOpen:
		m.Note = p.b[p.noteFrom:t.end:t.end]
	default:
		joined := make([]byte, 0, len(m.Note)+1+len(raw))
		m.Note = append(append(append(joined, m.Note...), '\n'), raw...)
	}
}

func (p *parser) open(t token, top *frame) {
	if !top.moves && p.standsBefore(t, top) {
		v := &Line{}
		top.early = append(top.early, v)
		p.frames = append(p.frames, frame{ply: top.ply, opened: t, line: v, before: true})
		p.sc.inside = true
		return
	}
	if !top.moves {
		top.extra++
		p.report(Problem{Kind: StrayOpen, Severity: Warning,
			Message: "variation before any move; its parentheses are passed over"}, t)
		return
	}
	f := frame{ply: top.ply - 1, opened: t}
	if top.line != nil {
		f.line = &Line{}
		n := lastNode(top.line)
		n.Variations = append(n.Variations, f.line)
	}
	p.frames = append(p.frames, f)
	p.sc.inside = true
}

func (p *parser) close(t token, top *frame) {
	switch {
	case top.extra > 0:
		top.extra--
	case len(p.frames) == 1 && p.numbered(t.start):
	case len(p.frames) == 1:
		p.report(Problem{Kind: StrayClose, Severity: Warning,
			Message: "closing parenthesis without an open one, passed over"}, t)
	default:
		p.leave()
	}
}

// leave ends the variation being read.
func (p *parser) leave() {
	closed := p.frames[len(p.frames)-1]
	p.frames = p.frames[:len(p.frames)-1]
	if p.sc.inside = len(p.frames) > 1; !p.sc.inside {
		p.closed = 0 // what stands there left nothing open
	}
	if !closed.before {
		p.dropEmpty()
	}
}

// inBracket reports whether the variation being read was opened by a bracket.
func (p *parser) inBracket() bool {
	return len(p.frames) > 1 && p.b[p.frames[len(p.frames)-1].opened.start] == '['
}

// numbered reports whether a move number stands before b[i], as in 1) e4.
func (p *parser) numbered(i int) bool {
	k := i
	for k > 0 && class[p.b[k-1]]&digit != 0 {
		k--
	}
	return k < i && (k == 0 || isSpace(p.b[k-1]))
}

// dropEmpty removes the variation just closed when it has no moves; its comments
// go to the move before it.
func (p *parser) dropEmpty() {
	top := &p.frames[len(p.frames)-1]
	if top.line == nil {
		return
	}
	n := lastNode(top.line)
	k := len(n.Variations) - 1
	if v := n.Variations[k]; len(v.Moves) == 0 {
		n.Comments = append(n.Comments, v.Comments...)
		n.Variations = n.Variations[:k]
	}
}

// ending closes what is open, reads the termination marker and the comments
// behind it.
func (p *parser) ending(long bool) {
	if len(p.frames) > 1 {
		p.openVariation()
	}
	if p.opt.Variations {
		for len(p.frames) > 1 {
			p.leave()
		}
	}
	p.frames = p.frames[:1]
	p.sc.inside = false
	if long {
		p.tooLong()
		return
	}
	p.sc.b = p.b
	at := token{start: p.sp.bodyEnd, end: p.sp.markEnd, line: p.sc.line, lineStart: p.sc.lineStart}
	p.setUp()
	p.result(at)
	p.sc.i = p.sp.markEnd
	for t := p.sc.next(); t.kind != endToken; t = p.sc.next() {
		if t.kind == commentToken {
			p.comment(t)
		}
	}
}
