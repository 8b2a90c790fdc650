package pgn

import (
	"html"
	"strings"
	"unicode/utf8"
	"unsafe"
)

// mostTags is how many tags of a game are compared to find one given twice.
const mostTags = 128

// head reads what comes before the movetext: tags, comments.
func (p *parser) head() {
	sc := &p.sc
	sc.b = p.b[:p.sp.body]
	for {
		sc.skipSpace()
		if sc.i >= len(sc.b) {
			return
		}
		switch sc.b[sc.i] {
		case '[':
			p.endStray()
			p.tag(sc.i)
		case '{', ';':
			p.endStray()
			if t := sc.slow(); t.open { // leading reads its text
				p.openComment(t)
			}
		case '<': // of a web page; means as little as in movetext
			sc.i = bracketEnd(sc.b, sc.i, '>')
		default:
			t := token{start: sc.i, line: sc.line, lineStart: sc.lineStart}
			sc.stray(&t, sc.i+1)
			p.strayText(t)
		}
	}
}

// tag reads the tag pair at b[i].
func (p *parser) tag(i int) {
	var t *tagPair
	if len(p.pairs) > 0 && p.pairs[0].start == i {
		t, p.pairs = &p.pairs[0], p.pairs[1:]
	} else {
		scanned := scanTag(p.b[:p.sp.body], i)
		t = &scanned
	}
	at := token{start: i, end: t.end, line: p.sc.line, lineStart: p.sc.lineStart}
	if t.nameEnd > t.name && !(t.fault != "" && p.has(t)) {
		p.addTag(t, at)
	}
	if t.fault != "" {
		p.report(Problem{Kind: BadTag, Severity: Warning, Message: t.fault,
			Hint: `a tag is written [Name "value"]`}, at)
	}
	if !t.plain {
		p.sc.countLines(i, t.end)
	}
	p.sc.i = t.end
}

// has reports whether a tag of the name was given before. A malformed pair, as
// [White Elo "2000"], doesn't take its place.
func (p *parser) has(t *tagPair) bool {
	return p.game.tags.Has(tagName(string(p.b[t.name:t.nameEnd])))
}

func (p *parser) addTag(t *tagPair, at token) {
	g := &p.game
	if p.text == "" {
		p.text = p.tagText()
	}
	tag := Tag{Name: tagName(p.text[t.name:t.nameEnd]), Value: p.text[t.value:t.valueEnd]}
	if !t.plain {
		tag.Value = unescape(tag.Value)
	}
	if k := strings.IndexByte(tag.Value, '&'); k >= 0 && strings.IndexByte(tag.Value[k:], ';') > 0 {
		tag.Value = html.UnescapeString(tag.Value)
	}
	bit := uint64(1) << ((uint(tag.Name[0]) + 5*uint(tag.Name[len(tag.Name)-1]) + 11*uint(len(tag.Name))) % 64)
	if p.names&bit != 0 && len(g.tags) < mostTags && g.tags.Has(tag.Name) {
		p.report(Problem{Kind: RepeatedTag, Severity: Warning,
			Message: "tag " + tag.Name + " given twice; the last value counts"}, at)
	}
	p.names |= bit
	if tag.Name == "Result" {
		p.resultAt = at
	}
	g.tags = append(g.tags, tag)
}

// tagText is the text of the tag section. A passing game shares the bytes of the
// input, which saves most of what reading an archive allocates; they do not change
// while the game is valid.
func (p *parser) tagText() string {
	b := p.b[:p.sp.body]
	if p.opt.Passing && len(b) > 0 {
		return unsafe.String(&b[0], len(b))
	}
	return string(b)
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
		switch c {
		case '\r':
			continue
		case '\n':
			c = ' '
		}
		b.WriteByte(c)
	}
	return b.String()
}

// leading puts the comments among the tags into the tree.
func (p *parser) leading() {
	sc := scanner{b: p.b[:p.sp.body]}
	for {
		sc.skipSpace()
		if sc.i >= len(sc.b) {
			return
		}
		switch sc.b[sc.i] {
		case '[':
			sc.i = scanTag(sc.b, sc.i).end
		case '{', ';':
			p.hang(sc.slow())
		default:
			sc.stray(&token{}, sc.i+1)
		}
	}
}

// checkEncoding converts the game if its movetext is not UTF-8.
func (p *parser) checkEncoding() {
	if !p.converted {
		body := p.b[p.sp.body:]
		if isASCII(body) {
			return
		}
		p.ascii = false
		if utf8.Valid(body) {
			return
		}
		p.convert()
	}
	if p.told {
		return
	}
	p.told = true
	p.report(Problem{Kind: BadEncoding, Severity: Note,
		Message: "text is not UTF-8 from here on; read as Windows-1252"},
		token{line: p.game.Line, end: 0})
}
