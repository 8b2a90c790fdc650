package pgn

import "unicode/utf8"

// What a termination marker ends.

// marker ends the game if a termination marker has its sign at s.i. A marker
// before the closing parenthesis of a variation ends nothing.
func (s *splitter) marker() (done, ok bool) {
	m, found := markAt(s.b, s.i, s.sp.body)
	if !found {
		_, n := utf8.DecodeRune(s.b[s.i:])
		s.i += n
		return false, true
	}
	if s.depth > 0 {
		inside, ok := s.beforeClose(m.end)
		if !ok {
			return false, false
		}
		if inside {
			s.i = m.end
			return false, true
		}
	}
	s.sp.bodyEnd, s.sp.markEnd, s.sp.value = m.start, m.end, m.value
	return true, s.after(m.end)
}

// beforeClose reports whether the next sign from i on, comments apart, is a
// closing parenthesis.
func (s *splitter) beforeClose(i int) (inside, ok bool) {
	for {
		i, _ = skipSpace(s.b, i)
		if i >= len(s.b) {
			return false, s.final
		}
		if s.b[i] != '{' {
			return s.b[i] == ')', true
		}
		c, ok := commentEnd(s.b, i, s.final)
		if !ok || c.open {
			return false, ok
		}
		i = c.end
	}
}

// after ends the game behind its marker and the comments on the same line.
func (s *splitter) after(i int) (ok bool) {
	s.sp.end = i
	for {
		j, breaks := skipSpace(s.b, i)
		if j >= len(s.b) && !s.final && breaks == 0 {
			return false
		}
		if breaks > 0 || j >= len(s.b) {
			return true
		}
		switch s.b[j] {
		case '{':
			c, ok := commentEnd(s.b, j, s.final)
			if !ok {
				return false
			}
			i = c.end
		case ';':
			i = lineEnd(s.b, j)
			if i >= len(s.b) && !s.final {
				return false
			}
		default:
			return true
		}
		s.sp.end = i
	}
}

// stopAt ends the game at the end of the text, if that is final.
func (s *splitter) stopAt(i int) (ok bool) {
	return s.final && s.endAt(i)
}

// endAt ends the game without a marker. It is always ok.
func (s *splitter) endAt(i int) bool {
	if s.sp.body == 0 && s.sp.tags > 0 || s.sp.body > i {
		s.sp.body = i
	}
	s.sp.bodyEnd, s.sp.markEnd, s.sp.end = i, i, i
	return true
}
