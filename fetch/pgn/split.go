package pgn

import (
	"bytes"
	"slices"
)

// A game goes from its first comment, tag or move to
//   - its termination marker and the comments behind it on the same line, or
//   - a tag pair once there were moves; when there were none, a tag pair with a
//     name already given, if it follows a blank line or is a second Event behind
//     a Result, or
//   - a line that starts with move number 1 of White, when there was a move and a
//     blank line before it, or two moves and no variation is open, or
//   - the end of the input.
//
// split is all there is to find borders, needs no state from what came before,
// and never looks at a game twice unless it lacks its end. Nor does it look at the
// moves that the parser has read ahead (ahead.go). Blocks for workers are cut where
// it would find a border, whatever stands before (spread.go).

// span tells where the parts of a game lie in the text.
type span struct {
	tags    int // end of the tag section; 0 without tags
	body    int // start of the movetext
	bodyEnd int // its end; the termination marker follows
	markEnd int // equal to bodyEnd when there is no marker
	end     int // end of the game with the comments behind the marker
	value   string
	byOne   bool // ended because a line starts with move number 1
}

// lookahead is how many bytes split wants to see behind a sign before it judges
// it, unless they are the last.
const lookahead = 64

// splitter is the state of split. It can be used again.
type splitter struct {
	pairs []tagPair // the tag pairs of the game

	// ahead reads the game's first moves, if it can: up to the place that it
	// returns, where movetext goes on, with the number of moves before. Nil reads none.
	ahead func(b []byte, sp span) (to, moves int)

	b     []byte
	final bool
	i     int
	sp    span
	blank bool // a blank line since the last tag

	depth   int
	openAt  int // behind the last open parenthesis and comments after it
	linesTo int // up to here lines are known to have a next line
	seenTo  int // moves were looked for up to here
	seen    int // how many there are; two are as good as more
}

// split finds the parts of the game that starts at b[0], which is no white
// space. ok is false when the end of the game is not in b; final says that
// nothing will be added to b, then ok is always true.
func (s *splitter) split(b []byte, final bool) (sp span, ok bool) {
	*s = splitter{b: b, final: final, openAt: -1, pairs: s.pairs[:0], ahead: s.ahead}
	done, ok := s.head()
	if ok && !done {
		if s.ahead != nil && s.sp.tags > 0 {
			s.i, s.seen = s.ahead(b, s.sp)
			s.seenTo = s.i
		}
		ok = s.movetext()
	}
	return s.sp, ok
}

// head goes through comments and tags up to the movetext. done says that the
// game ends here.
func (s *splitter) head() (done, ok bool) {
	for {
		i, breaks := skipSpace(s.b, s.i)
		if i >= len(s.b) {
			return true, s.stopAt(len(s.b))
		}
		s.blank = s.blank || breaks > 1
		s.i = i
		switch s.b[i] {
		case '{':
			c, ok := commentEnd(s.b, i, s.final)
			if !ok || c.open {
				return true, ok && s.endAt(c.end)
			}
			s.i = c.end
		case ';':
			s.i = lineEnd(s.b, i)
		case '[':
			if done, ok := s.tag(); done || !ok {
				return done, ok
			}
		default:
			s.startBody(i)
			return false, true
		}
	}
}

// tag takes in the tag pair at s.i or ends the game before it.
func (s *splitter) tag() (done, ok bool) {
	n := len(s.pairs)
	if n == cap(s.pairs) {
		s.pairs = slices.Grow(s.pairs, max(n, 32))
	}
	t := &s.pairs[:n+1][n] // filled in place, which is quicker than to append
	if !plainTag(s.b, s.i, t) {
		if !s.twoLines() {
			return false, false
		}
		*t = scanTag(s.b, s.i)
	}
	if s.restarts(s.b[t.name:t.nameEnd]) {
		return true, s.endAt(s.i)
	}
	s.pairs = s.pairs[:n+1]
	s.i, s.sp.tags = t.end, t.end
	s.blank = false
	return false, true
}

// twoLines reports whether the rest of this line and the next are in b.
func (s *splitter) twoLines() bool {
	if s.final {
		return true
	}
	if s.i < s.linesTo {
		return true
	}
	line := lineEnd(s.b, s.i)
	if line >= len(s.b) || lineEnd(s.b, line+1) >= len(s.b) {
		return false
	}
	s.linesTo = line
	return true
}

// restarts reports whether a tag of that name belongs to another game than the
// tags before it.
func (s *splitter) restarts(name []byte) bool {
	if s.blank {
		return s.given(name)
	}
	return string(name) == "Event" && s.given(name) && s.given([]byte("Result"))
}

// given reports whether the section so far has a tag of that name. It looks at
// the first of them only, so that a hostile section doesn't cost the square of
// its length.
func (s *splitter) given(name []byte) bool {
	for _, t := range s.pairs[:min(len(s.pairs), mostTags)] {
		if bytes.Equal(s.b[t.name:t.nameEnd], name) {
			return true
		}
	}
	return false
}

func (s *splitter) startBody(i int) {
	s.i, s.sp.body, s.seenTo = i, i, i
	s.depth, s.openAt, s.seen = 0, -1, 0
}

// movetext goes on to the end of the game.
func (s *splitter) movetext() (ok bool) {
	for {
		s.skipQuiet()
		if s.i >= len(s.b) {
			return s.stopAt(len(s.b))
		}
		if !s.final && len(s.b)-s.i < lookahead {
			return false
		}
		if s.b[s.i] == '{' && s.openAt < 0 {
			if end := plainComment(s.b, s.i); end > 0 {
				s.i = end
				continue
			}
		}
		done, ok := s.sign(s.b[s.i])
		if done || !ok {
			return ok
		}
	}
}

// skipQuiet goes to the next byte that may mean something.
func (s *splitter) skipQuiet() {
	b, i := s.b, s.i
	for i < len(b) && class[b[i]]&quiet != 0 {
		i++
	}
	s.i = i
}

// sign deals with the byte c at s.i.
func (s *splitter) sign(c byte) (done, ok bool) {
	switch c {
	case '\n':
		return s.newLine()
	case '{':
		return s.comment()
	case ';':
		return false, s.semicolon()
	case '<':
		s.i = bracketEnd(s.b, s.i, '>')
	case '[':
		return s.bracket(false)
	case '(':
		s.depth++
		s.i++
		s.openAt = s.i
	case ')':
		s.depth = max(0, s.depth-1)
		s.i++
	default:
		return s.marker()
	}
	return false, true
}

// semicolon skips the comment behind the semicolon at s.i, if it starts one.
func (s *splitter) semicolon() (ok bool) {
	if endsEntity(s.b, s.i) {
		s.i++
		return true
	}
	if s.depth > 0 {
		if near := s.b[s.i:]; !s.final && len(near) < farBracket && lineEnd(near, 0) == len(near) {
			return false
		}
		if separates(s.b, s.i) {
			s.i++
			return true
		}
	}
	s.i = lineEnd(s.b, s.i)
	return true
}

// comment skips the brace comment at s.i.
func (s *splitter) comment() (done, ok bool) {
	c, ok := commentEnd(s.b, s.i, s.final)
	if !ok || c.open {
		return true, ok && s.endAt(c.end)
	}
	if s.openAt >= 0 {
		if j, _ := skipSpace(s.b, s.openAt); j == s.i {
			s.openAt = c.end
		}
	}
	s.i = c.end
	return false, true
}

// newLine looks whether a new game starts on the line that follows.
func (s *splitter) newLine() (done, ok bool) {
	j, breaks := skipSpace(s.b, s.i)
	if j >= len(s.b) {
		return true, s.stopAt(j)
	}
	if !s.final && len(s.b)-j < lookahead {
		return false, false
	}
	from := s.i
	s.i = j
	switch {
	case s.b[j] == '[':
		return s.bracket(breaks > 1)
	case s.b[j] == '1' && firstNumber(s.b, j) && s.startsOver(from, breaks > 1):
		s.sp.byOne = true
		return true, s.endAt(j)
	}
	return false, true
}

// startsOver reports whether a move number 1 on the line behind the place starts
// another game. People paste lines one after another, with a blank line between
// them or without. In a variation, and after a single move, an early number 1
// without a blank line may be one too many.
func (s *splitter) startsOver(from int, blank bool) bool {
	if blank {
		return s.between(from) && s.moves(from) > 0
	}
	return s.depth == 0 && s.moves(from) > 1
}

// between reports whether the place is not right behind an open parenthesis.
func (s *splitter) between(i int) bool {
	if s.openAt < 0 {
		return true
	}
	j, _ := skipSpace(s.b, s.openAt)
	return j < i
}

// bracket judges a '[' in the movetext: a tag pair ends the game once there were
// moves. After a blank line a tag without quotes is one, too.
func (s *splitter) bracket(blank bool) (done, ok bool) {
	if !s.twoLines() {
		return false, false
	}
	if !startsTag(s.b, s.i) && !(blank && tagLike(s.b, s.i)) {
		s.i = bracketEnd(s.b, s.i, ']')
		return false, true
	}
	if s.sp.tags == 0 || s.moves(s.i) > 0 {
		return true, s.endAt(s.i)
	}
	s.blank = s.blank || blank
	done, ok = s.tag()
	if !ok || done {
		return done, ok
	}
	s.sp.body = 0
	return s.head()
}

// moves returns how many moves the movetext has up to the place; it stops at two.
func (s *splitter) moves(to int) int {
	if s.seen > 1 || s.seenTo >= to {
		return s.seen
	}
	sc := scanner{b: s.b[:to], i: s.seenTo}
	for s.seen < 2 {
		t := sc.next()
		if t.kind == endToken {
			break
		}
		if t.kind == moveToken {
			s.seen++
		}
	}
	s.seenTo = to
	return s.seen
}
