package pgn

import (
	"bytes"
	"fmt"
	"slices"
	"strings"
	"unicode/utf8"
)

// mostOfKind is how many problems of a kind a game reports one by one; what goes
// beyond is counted.
const mostOfKind = 5

// mostShown is how many characters of a token a problem shows.
const mostShown = 40

// noPly marks a problem that has nothing to do with a move.
const noPly = -1

// count counts the problems of a kind in a game.
type count struct {
	kind Kind
	n    int
	next Problem // the first that was not reported
}

// placer finds columns. It goes on from the last place asked for on a line.
type placer struct {
	first     int // column of the game's first byte
	lineStart int
	at, col   int
}

// column returns the column of a place on the line that starts at lineStart, in
// runes from 1.
func (p *parser) column(at, lineStart int) int {
	if !p.ascii {
		return p.place.column(p.b, at, lineStart)
	}
	if lineStart == 0 {
		return at + p.place.first
	}
	return at - lineStart + 1
}

func (c *placer) column(b []byte, at, lineStart int) int {
	if c.lineStart != lineStart || c.col == 0 || c.at > at {
		c.lineStart, c.at, c.col = lineStart, lineStart, 1
		if lineStart == 0 {
			c.col = c.first
		}
	}
	c.col += utf8.RuneCount(b[c.at:at])
	c.at = at
	return c.col
}

// report files a problem at a token.
func (p *parser) report(q Problem, t token) {
	g := &p.game
	q.Source, q.File, q.Game = g.Source, g.File, g.Index
	if q.Ply == 0 {
		q.Ply = p.frames[len(p.frames)-1].ply
	}
	q.Ply = max(q.Ply, 0)
	c := p.counter(q.Kind)
	c.n++
	if c.n > mostOfKind+1 {
		return
	}
	q.Line, q.Column = t.line, p.column(t.start, t.lineStart)
	q.Token = p.shown(t)
	q.Excerpt, q.ExcerptFrom = p.excerpt(t, q.Column)
	if c.n > mostOfKind {
		c.next = q
		return
	}
	g.Problems = append(g.Problems, q)
}

func (p *parser) counter(k Kind) *count {
	for i := range p.counts {
		if p.counts[i].kind == k {
			return &p.counts[i]
		}
	}
	p.counts = append(p.counts, count{kind: k})
	return &p.counts[len(p.counts)-1]
}

// sumUp adds a problem for each kind that had more than were reported and puts
// all in the order of the text.
func (p *parser) sumUp() {
	g := &p.game
	for _, c := range p.counts {
		switch {
		case c.n == mostOfKind+1:
			g.Problems = append(g.Problems, c.next)
		case c.n > mostOfKind:
			q := c.next
			q.Message = fmt.Sprintf("%s, and %d more times in this game", c.kind, c.n-mostOfKind-1)
			g.Problems = append(g.Problems, q)
		}
	}
	slices.SortStableFunc(g.Problems, func(a, b Problem) int {
		if a.Line != b.Line {
			return a.Line - b.Line
		}
		return a.Column - b.Column
	})
}

// excerpt returns what is around a token on its line, and the column it starts
// at, 0 for the first.
func (p *parser) excerpt(t token, column int) (string, int) {
	rest := p.b[t.lineStart:]
	from, to := around(rest, t.start-t.lineStart)
	from, to = from+t.lineStart, to+t.lineStart
	to = lineEnd(p.b[:to], min(t.start, to))
	line := bytes.TrimRight(p.b[from:to], "\r")
	start := column - utf8.RuneCount(p.b[from:t.start])
	if start == 1 {
		start = 0
	}
	return clean(string(line), len(line)), start
}

// foundFault reports whether a problem was found in the text itself.
func (p *parser) foundFault() bool {
	for _, c := range p.counts {
		if c.kind != NoTermination && c.kind != BadEncoding {
			return true
		}
	}
	return false
}

func (p *parser) openComment(t token) {
	p.report(Problem{Kind: OpenComment, Severity: Error,
		Message: "comment not closed; the rest of the game is taken for its text",
		Hint:    "close it with }"}, t)
}

func (p *parser) openVariation() {
	f, hint := p.frames[1], "close it with )"
	if p.closed > 0 {
		hint += fmt.Sprintf("; the one in line %d stands behind a semicolon, in a comment", p.closed)
	}
	p.report(Problem{Kind: OpenVariation, Severity: Warning, Ply: f.ply + 1,
		Message: "variation not closed; it ends with the game", Hint: hint}, f.opened)
}

func (p *parser) tooLong() {
	p.report(Problem{Kind: TooLong, Severity: Error, Ply: noPly,
		Message: fmt.Sprintf("game longer than %d bytes; the rest is left out", p.opt.MaxGame)}, p.firstByte())
}

// nullMove reports the first null move of the main line.
func (p *parser) nullMove(t token) {
	if c := p.counter(NullInMain); c.n == 0 {
		p.report(Problem{Kind: NullInMain, Severity: Warning,
			Message: "null move in the main line: a lesson, not a game"}, t)
	}
}

// strayText takes note of text that is no move. Pieces that follow each other are
// one.
func (p *parser) strayText(t token) {
	if p.stray.end == 0 {
		p.stray = t
	}
	p.stray.end = t.end
}

// endStray reports the stray text just read, if any.
func (p *parser) endStray() {
	if p.stray.end == 0 {
		return
	}
	t := p.stray
	p.stray = token{}
	p.report(Problem{Kind: StrayText, Severity: Warning,
		Message: "text that is no move, passed over: " + p.shown(t), Hint: "put text between { and }"}, t)
}

// shown returns the start of a token, fit for a message.
func (p *parser) shown(t token) string {
	end := min(t.end, lineEnd(p.b[:t.end], t.start), t.start+4*mostShown)
	return strings.TrimSpace(clean(string(p.b[t.start:end]), mostShown))
}

// result compares the termination marker with the Result tag.
func (p *parser) result(at token) {
	g := &p.game
	tag := g.tags.Get("Result")
	means := ResultValue(tag)
	if means != tag {
		p.report(Problem{Kind: BadTag, Severity: Note, Ply: noPly,
			Message: fmt.Sprintf("Result tag holds %q", clean(tag, 20)),
			Hint:    "the standard knows 1-0, 0-1, 1/2-1/2 and *"}, p.resultAt)
	}
	switch {
	case g.Termination == "":
		p.noTermination()
	case means == "" || means == g.Termination:
	default:
		severity := Warning
		if means == "*" || g.Termination == "*" {
			severity = Note
		}
		p.report(Problem{Kind: ResultClash, Severity: severity,
			Message: fmt.Sprintf("result %s in the tag, %s at the end", means, g.Termination)}, at)
	}
}

// setUp notes a set-up position that is announced and not given.
func (p *parser) setUp() {
	if tags := p.game.tags; tags.Get("SetUp") == "1" && !tags.Has("FEN") {
		p.report(Problem{Kind: BadSetUp, Severity: Warning, Ply: noPly,
			Message: "SetUp tag says 1, but there is no FEN tag"}, p.firstByte())
	}
}

func (p *parser) firstByte() token { return token{line: p.game.Line} }

// noTermination notes at the last byte of the game that its result is missing.
func (p *parser) noTermination() {
	q := Problem{Kind: NoTermination, Severity: Note, Message: "no result at the end"}
	if p.sp.byOne {
		q.Message = "no result at the end; the move number 1 below starts the next game"
	}
	end := p.sp.bodyEnd
	if p.sp.byOne { // a bullet may stand before that number
		end = bytes.LastIndexByte(p.b[:end], '\n')
	}
	for end > 0 && isSpace(p.b[end-1]) {
		end--
	}
	sc := scanner{b: p.b, line: p.game.Line}
	sc.countLines(0, end)
	p.report(q, token{start: end, end: end, line: sc.line, lineStart: sc.lineStart})
}
