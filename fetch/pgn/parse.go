package pgn

import (
	"bytes"
	"fmt"
	"strings"
	"unicode/utf8"
)

// maxStray is how many pieces of stray text a game reports one by one.
const maxStray = 5

// frame is an open line: the main line or a variation.
type frame struct {
	ply    int   // of its last move; of the move before it when it has none
	moves  bool  // it has a move
	extra  int   // open parentheses passed over in it, whose closing ones are, too
	line   *Line // nil without a tree
	opened token
}

// parser reads one game after another; its buffers are used again.
type parser struct {
	game    Game
	b       []byte // the game's text
	sp      span
	sc      scanner
	ascii   bool
	frames  []frame
	text    string // b as a string, for the tree
	scratch []byte // notes put together
	utf8    []byte // text converted

	noteFrom, noteEnd int  // the note of the last main move in b
	noteOpen          bool // nothing but comments since
	stray, inStray    int  // pieces of stray text; in one
	strayAt           token
	colStart, colAt   int // for column: a line, a place on it
	col               int // and its column
}

// game reads one game; nil when it is not wanted or not a game.
func (r *Reader) game(text []byte, sp span, place Problem, long bool) *Game {
	p := &r.parser
	p.reset(text, sp, place)
	p.game.Index = r.games + 1
	p.head()
	isGame := sp.tags > 0
	if isGame {
		r.games++
		if r.opt.Want != nil && !r.opt.Want(p.game.Tags) {
			return nil
		}
	}
	p.movetext(r.opt.Variations, long)
	if !isGame {
		if len(p.game.Moves) == 0 {
			r.outside(p)
			return nil
		}
		r.games++
		if r.opt.Want != nil && !r.opt.Want(p.game.Tags) {
			return nil
		}
	}
	if long {
		p.tooLong(r.opt.MaxGame)
	}
	return &p.game
}

// reset makes the parser ready for the next game.
func (p *parser) reset(text []byte, sp span, place Problem) {
	g := &p.game
	*g = Game{
		Source: place.Source, File: place.File, Line: place.Line, column: place.Column,
		Tags: g.Tags[:0], Moves: g.Moves[:0], Termination: sp.value,
	}
	p.ascii = isASCII(text)
	converted := false
	if !p.ascii && !utf8.Valid(text) {
		text, sp = p.toUTF8(text, sp)
		converted = true
	}
	g.Text, p.b, p.sp, p.text = text, text, sp, ""
	p.sc = scanner{b: text, line: g.Line}
	p.scratch = p.scratch[:0]
	p.noteOpen, p.inStray, p.stray = false, 0, 0
	p.colStart, p.colAt, p.col = 0, 0, g.column
	p.frames = append(p.frames[:0], frame{})
	if converted {
		p.problem(Problem{Kind: BadEncoding, Severity: Note, Line: g.Line, Column: g.column,
			Message: "text is not UTF-8; read as Windows-1252"})
	}
}

// head reads what comes before the movetext: tags, comments.
func (p *parser) head() {
	sc := &p.sc
	for {
		sc.skipSpace()
		if sc.i >= p.sp.body {
			return
		}
		if p.b[sc.i] == '[' {
			p.tag(sc.i)
			continue
		}
		t := sc.next()
		if t.kind == commentToken {
			continue // movetext reads it
		}
		p.strayText(t)
	}
}

// tag reads the tag pair at b[i].
func (p *parser) tag(i int) {
	t := scanTag(p.b, i)
	at := token{start: i, end: min(t.end, lineEnd(p.b, i)), line: p.sc.line, lineStart: p.sc.lineStart}
	p.inStray = 0
	if t.nameEnd > t.name {
		p.addTag(t, at)
	}
	if t.fault != "" {
		p.report(Problem{Kind: BadTag, Severity: Warning, Message: t.fault,
			Hint: `a tag is written [Name "value"]`}, at)
	}
	p.sc.countLines(i, t.end)
	p.sc.i = t.end
}

func (p *parser) addTag(t tagPair, at token) {
	g := &p.game
	if p.text == "" {
		p.text = string(p.b[:p.sp.body])
	}
	tag := Tag{Name: p.text[t.name:t.nameEnd], Value: p.text[t.value:t.valueEnd]}
	if strings.ContainsAny(tag.Value, "\\\n\r") {
		tag.Value = unescape(tag.Value)
	}
	if g.Tags.Has(tag.Name) {
		p.report(Problem{Kind: RepeatedTag, Severity: Warning,
			Message: fmt.Sprintf("tag %s given twice; %q counts", tag.Name, tag.Value)}, at)
	}
	g.Tags = append(g.Tags, tag)
}

// unescape undoes \" and \\ (PGN standard 7.1) and joins a value over two lines.
func unescape(s string) string {
	var b strings.Builder
	for i := 0; i < len(s); i++ {
		c := s[i]
		if c == '\\' && i+1 < len(s) && (s[i+1] == '"' || s[i+1] == '\\') {
			i++
			c = s[i]
		}
		if c == '\r' {
			continue
		}
		if c == '\n' {
			c = ' '
		}
		b.WriteByte(c)
	}
	return b.String()
}

// movetext reads the moves and what hangs on them.
func (p *parser) movetext(tree, long bool) {
	if tree {
		p.text = string(p.b)
		p.game.Tree = &Line{}
		p.frames[0].line = p.game.Tree
		p.leading()
	}
	p.sc.b = p.b[:p.sp.bodyEnd]
	if long {
		p.sc.b = p.sc.b[:lastBlank(p.sc.b)]
	}
	for {
		t := p.sc.next()
		if t.kind == endToken {
			break
		}
		p.token(t)
	}
	p.ending(long)
}

// lastBlank returns the place of the last white space in b, to cut no token.
func lastBlank(b []byte) int {
	i := len(b)
	for i > 0 && !isSpace(b[i-1]) {
		i--
	}
	return i
}

// leading puts the comments between the tags into the tree.
func (p *parser) leading() {
	sc := scanner{b: p.b[:p.sp.body], line: p.game.Line}
	for {
		sc.skipSpace()
		if sc.i >= len(sc.b) {
			return
		}
		if sc.b[sc.i] == '[' {
			sc.i = scanTag(sc.b, sc.i).end
			continue
		}
		if t := sc.next(); t.kind == commentToken {
			p.comment(t)
		}
	}
}

// token takes in one token.
func (p *parser) token(t token) {
	if t.kind != strayToken && t.kind != numberToken {
		p.inStray = 0
	}
	top := &p.frames[len(p.frames)-1]
	switch t.kind {
	case moveToken:
		p.move(t, top)
	case glyphToken:
		p.glyph(t, top)
	case commentToken:
		p.comment(t)
		return
	case openToken:
		p.open(t, top)
	case closeToken:
		p.close(t, top)
	case strayToken:
		p.strayText(t)
	}
	if t.kind != numberToken {
		p.noteOpen = false
	}
}

func (p *parser) move(t token, top *frame) {
	top.ply++
	top.moves = true
	if len(p.frames) == 1 {
		p.game.Moves = append(p.game.Moves, Move{
			SAN: p.b[t.start:t.end:t.end], Line: int32(t.line), Column: int32(p.column(t))})
		if isNull(p.b[t.start:t.end]) {
			p.nullMove(t)
		}
	}
	if top.line != nil {
		top.line.Moves = append(top.line.Moves, Node{
			SAN: p.text[t.start:t.end], Line: t.line, Column: p.column(t)})
	}
}

func isNull(san []byte) bool { return string(san) == "--" || string(san) == "Z0" }

// nullMove reports the first null move of the main line.
func (p *parser) nullMove(t token) {
	for _, q := range p.game.Problems {
		if q.Kind == NullInMain {
			return
		}
	}
	p.report(Problem{Kind: NullInMain, Severity: Warning, Ply: p.frames[0].ply,
		Message: "null move in the main line: a lesson, not a game"}, t)
}

func (p *parser) glyph(t token, top *frame) {
	if t.glyph < 0 {
		return
	}
	if !top.moves {
		p.strayText(t)
		return
	}
	if top.line != nil {
		n := &top.line.Moves[len(top.line.Moves)-1]
		n.NAGs = append(n.NAGs, t.glyph)
	}
}

// comment hangs a comment on the move before it.
func (p *parser) comment(t token) {
	if t.open {
		p.report(Problem{Kind: OpenComment, Severity: Error,
			Message: "comment not closed; the rest of the game is read as its text",
			Hint:    "close it with }"}, firstLine(p.b, t))
	}
	top := &p.frames[len(p.frames)-1]
	if len(p.frames) == 1 && top.moves {
		p.note(t)
	}
	if top.line == nil {
		return
	}
	text := commentText(p.text[t.start:t.end])
	switch {
	case text == "":
	case len(top.line.Moves) == 0:
		top.line.Comments = append(top.line.Comments, text)
	default:
		n := &top.line.Moves[len(top.line.Moves)-1]
		n.Comments = append(n.Comments, text)
	}
}

// firstLine is the token without what goes beyond its line.
func firstLine(b []byte, t token) token {
	t.end = min(t.end, lineEnd(b, t.start))
	return t
}

// note adds a comment to the note of the last move. Comments that follow each
// other are a piece of the text; others are put together.
func (p *parser) note(t token) {
	m := &p.game.Moves[len(p.game.Moves)-1]
	raw := p.b[t.start:t.end:t.end]
	switch {
	case m.Note == nil && commentText(raw) == nil:
		return
	case m.Note == nil:
		p.noteFrom, p.noteOpen = t.start, true
		m.Note = raw
	case p.noteOpen:
		m.Note = p.b[p.noteFrom:t.end:t.end]
	default:
		k := len(p.scratch)
		p.scratch = append(append(append(p.scratch, m.Note...), '\n'), raw...)
		m.Note = p.scratch[k:len(p.scratch):len(p.scratch)]
	}
}

func (p *parser) open(t token, top *frame) {
	if !top.moves {
		top.extra++
		p.report(Problem{Kind: StrayOpen, Severity: Warning, Ply: top.ply,
			Message: "variation before any move; parenthesis passed over"}, t)
		return
	}
	f := frame{ply: top.ply - 1, opened: t}
	if top.line != nil {
		f.line = &Line{}
		n := &top.line.Moves[len(top.line.Moves)-1]
		n.Variations = append(n.Variations, f.line)
	}
	p.frames = append(p.frames, f)
}

func (p *parser) close(t token, top *frame) {
	switch {
	case top.extra > 0:
		top.extra--
	case len(p.frames) == 1:
		p.report(Problem{Kind: StrayClose, Severity: Warning, Ply: top.ply,
			Message: "closing parenthesis without an open one"}, t)
	default:
		p.frames = p.frames[:len(p.frames)-1]
		p.dropEmpty()
	}
}

// dropEmpty removes the variation just closed when nothing is in it.
func (p *parser) dropEmpty() {
	top := &p.frames[len(p.frames)-1]
	if top.line == nil {
		return
	}
	n := &top.line.Moves[len(top.line.Moves)-1]
	v := n.Variations[len(n.Variations)-1]
	if len(v.Moves) > 0 {
		return
	}
	n.Comments = append(n.Comments, v.Comments...)
	n.Variations = n.Variations[:len(n.Variations)-1]
}

// ending looks at how the game ends.
func (p *parser) ending(long bool) {
	if len(p.frames) > 1 {
		f := p.frames[1]
		p.report(Problem{Kind: OpenVariation, Severity: Warning, Ply: f.ply + 1,
			Message: "variation not closed", Hint: "close it with )"}, f.opened)
	}
	p.frames = p.frames[:1]
	if p.stray > maxStray {
		p.report(Problem{Kind: StrayText, Severity: Warning,
			Message: fmt.Sprintf("%d more pieces of text that are no move", p.stray-maxStray)}, p.strayAt)
	}
	if long {
		return
	}
	p.sc.b = p.b
	at := p.sc.next()
	at.kind = markToken
	at.end = p.sp.markEnd
	p.result(at)
	p.sc.i = p.sp.markEnd
	for t := p.sc.next(); t.kind != endToken; t = p.sc.next() {
		p.comment(t)
	}
}

// result compares the termination marker with the Result tag.
func (p *parser) result(at token) {
	g := &p.game
	tag := g.Tags.Get("Result")
	if g.Termination == "" {
		why := "no result at the end"
		if p.sp.byOne {
			why = "no result at the end; move number 1 after a blank line starts the next game"
		}
		at.start = len(bytes.TrimRight(p.b[:p.sp.bodyEnd], " \t\r\n"))
		at.end = at.start
		at = p.relocate(at)
		p.report(Problem{Kind: NoTermination, Severity: Note, Message: why}, at)
		return
	}
	if tag == g.Termination || !g.Tags.Has("Result") {
		return
	}
	sev := Warning
	if tag == "*" {
		sev = Note
	}
	p.report(Problem{Kind: ResultClash, Severity: sev,
		Message: fmt.Sprintf("result %s at the end, %q in the tag", g.Termination, tag)}, at)
}

// relocate finds the line of a token whose start was moved.
func (p *parser) relocate(t token) token {
	sc := scanner{b: p.b, line: p.game.Line}
	sc.countLines(0, t.start)
	t.line, t.lineStart = sc.line, sc.lineStart
	return t
}

// strayText takes note of text that is no move. Pieces next to each other are
// one.
func (p *parser) strayText(t token) {
	p.inStray++
	if p.inStray > 1 {
		return
	}
	p.stray++
	if p.stray > maxStray {
		if p.stray == maxStray+1 {
			p.strayAt = t
		}
		return
	}
	end := t.end
	for end < len(p.sc.b) && (class[p.sc.b[end]]&stop == 0 || p.sc.b[end] == ' ') && end < t.start+40 {
		end++
	}
	t.end = end
	p.report(Problem{Kind: StrayText, Severity: Warning,
		Message: "text that is no move, passed over",
		Hint:    "put text between { and }"}, t)
}

// tooLong reports a game that was cut off.
func (p *parser) tooLong(most int) {
	p.report(Problem{Kind: TooLong, Severity: Error,
		Message: fmt.Sprintf("game longer than %d bytes; the rest is left out", most)},
		token{line: p.game.Line})
}

// outside reports a text that is no game.
func (r *Reader) outside(p *parser) {
	g := &p.game
	text := bytes.TrimSpace(p.b[:p.sp.end])
	q := Problem{Kind: StrayText, Severity: Warning, Message: "text outside of any game, passed over"}
	switch {
	case g.Termination != "" && len(text) == p.sp.markEnd-p.sp.bodyEnd:
		q.Message = "result without a game, passed over"
	case len(g.Problems) == 0:
		return // comments only
	}
	r.loosen(p, q)
}

func (r *Reader) loosen(p *parser, q Problem) {
	if len(r.loose) >= maxLoose {
		r.looseMore++
		return
	}
	p.game.Index = 0
	p.game.Problems = nil
	p.report(q, firstLine(p.b, token{line: p.game.Line, end: min(len(p.b), 40)}))
	r.loose = append(r.loose, p.game.Problems...)
}

// column returns the column of a token, in runes from 1. It goes on from the
// last place asked for on the same line.
func (p *parser) column(t token) int {
	base := 1
	if t.lineStart == 0 {
		base = p.game.column
	}
	if p.ascii {
		return t.start - t.lineStart + base
	}
	if p.colStart != t.lineStart || p.colAt > t.start || p.colAt < t.lineStart {
		p.colStart, p.colAt, p.col = t.lineStart, t.lineStart, base
	}
	p.col += utf8.RuneCount(p.b[p.colAt:t.start])
	p.colAt = t.start
	return p.col
}

// report files a problem at a token.
func (p *parser) report(q Problem, t token) {
	q.Line, q.Column = t.line, p.column(t)
	if q.Token == "" {
		q.Token = clean(string(p.b[t.start:t.end]), 60)
	}
	p.problem(q)
}

func (p *parser) problem(q Problem) {
	g := &p.game
	q.Source, q.File, q.Game = g.Source, g.File, g.Index
	q.Excerpt, q.ExcerptFrom = g.excerptAt(q.Line, q.Column)
	g.Problems = append(g.Problems, q)
}
