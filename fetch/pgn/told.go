package pgn

import "bytes"

// What people type by hand has more in it than moves and brackets: numbers that go
// back, labels before them, semicolons between alternatives. What can be told of it
// without chess is here; package profile, which knows chess, makes the tree of it.

// toldPly returns the half-move that the number before a move at b[i] tells; 0
// when no number stands there.
func toldPly(b []byte, i int) int {
	dots := 0
	for i > 0 {
		switch c := b[i-1]; {
		case isSpace(c):
			i--
		case c == '.':
			i, dots = i-1, dots+1
		case bytes.HasSuffix(b[:i], []byte("\u00A0")):
			i -= len("\u00A0")
		case bytes.HasSuffix(b[:i], []byte("…")):
			i, dots = i-len("…"), dots+3
		default:
			n := numberEnding(b[:i])
			if dots > 1 {
				return 2 * n
			}
			return max(0, 2*n-1)
		}
	}
	return 0
}

// mostNumber is how many digits a move number has at most.
const mostNumber = 3

// numberEnding reads the move number that b ends with; 0 for none. The first digit
// behind a letter belongs to its square, as in e52.Nf3.
func numberEnding(b []byte) int {
	k := len(b)
	for k > 0 && len(b)-k <= mostNumber+1 && class[b[k-1]]&digit != 0 {
		k--
	}
	if k > 0 && k < len(b) {
		switch c := b[k-1]; {
		case c-'a' < 8:
			k++
		case class[c]&(letter|joint) != 0 || c == '$' || c == '.':
			return 0
		}
	}
	if len(b)-k > mostNumber {
		return 0
	}
	n := 0
	for _, c := range b[k:] {
		n = 10*n + int(c-'0')
	}
	return n
}

// separates reports whether the semicolon at b[i] stands between alternatives, as
// in (3. e5 Bf5; 3. exd5 cxd5), and starts no comment: numbered moves follow, and
// nothing else up to the end of the line, the next semicolon, or the result of the game
// behind the closing bracket. At the start of a line it is the comment that the standard
// means. It looks no further than farBracket.
func separates(b []byte, i int) bool {
	if startsLine(b, i) {
		return false
	}
	b = b[:min(len(b), i+farBracket)]
	s := scanner{b: b[:lineEnd(b, i)], i: i + 1}
	s.skipSpace()
	if s.i >= len(s.b) || class[s.b[s.i]]&digit == 0 {
		return false
	}
	for moves, depth := 0, 1; ; {
		switch t := s.slow(); t.kind {
		case openToken:
			depth++
		case closeToken:
			depth--
		case moveToken:
			if moves++; moves == 1 && toldPly(b, t.start) == 0 {
				return false
			}
		case endToken:
			return moves > 0
		case markToken:
			return moves > 0 && depth <= 0
		case strayToken:
			return false
		}
	}
}

// Bounds of brackets before the move they belong to: how far, in bytes, the end of one
// is looked for, and how many a move has at most.
const (
	farBracket = 2 << 10
	mostBefore = 20
)

// standsBefore reports whether the variation that opens at t, before any move,
// belongs to the move behind it: both have the same number, as in
// (1. d4 d5) 1. e4.
func (p *parser) standsBefore(t token, top *frame) bool {
	if top.line == nil || top.extra > 0 || len(top.early) == mostBefore {
		return false
	}
	b := p.b[:min(p.sp.bodyEnd, t.start+farBracket)]
	s := scanner{b: b, i: t.end}
	inner := 0
	for depth := 1; ; {
		s.inside = depth > 0
		n := s.slow()
		switch n.kind {
		case endToken:
			return false
		case openToken:
			if depth++; inner == 0 {
				return false
			}
		case closeToken:
			if depth--; inner == 0 {
				return false // nothing in it
			}
		case moveToken:
			told := toldPly(b, n.start)
			switch {
			case inner == 0 && told == 0:
				return false
			case inner == 0:
				inner = told
			case depth <= 0:
				return told == inner
			}
		}
	}
}

// longestLabel is how long a label of a line is at most, in bytes.
const longestLabel = 60

// isLabel reports whether what looks like a move or a bracket is one of a label: the
// bracket of 'a)' and of 'b4)' at the start of a line, the c3 of 'with c3: 2. c3'.
func (p *parser) isLabel(t token) bool {
	switch {
	case p.opt.Variations && t.kind == closeToken && len(p.frames) == 1:
		return p.stray.end == t.start && p.stray.end > 0
	case p.opt.Variations && t.kind == moveToken && p.stray.end > 0 && toldPly(p.b, t.start) == 0:
		return p.b[t.end-1] == ':' || t.end < len(p.b) && p.b[t.end] == ':'
	case p.opt.Variations && t.kind == moveToken && len(p.frames) == 1:
		return t.end < len(p.b) && p.b[t.end] == ')' && len(bytes.TrimLeft(p.b[t.lineStart:t.start], " \t")) == 0
	}
	return false
}

// endStrayBefore reports the stray text just read, if any, and t, which comes next,
// doesn't make it the label of a line.
func (p *parser) endStrayBefore(t token) {
	if p.stray.end == 0 {
		return
	}
	if p.opt.Variations && t.kind == moveToken && toldPly(p.b, t.start) > 0 && p.startsLine(p.stray) {
		label := p.stray
		p.stray = token{}
		p.report(Problem{Kind: Label, Severity: Note, Message: "label of a line, passed over: " + p.shown(label),
			Hint: "put text between { and }"}, label)
		return
	}
	p.endStray()
}

// startsLine reports whether a short text is the first on its line, but for signs
// that set it off.
func (p *parser) startsLine(t token) bool {
	before := p.b[t.lineStart:t.start]
	return t.end-t.start <= longestLabel && len(bytes.Trim(before, " \t*#-_>\"'")) == 0
}
