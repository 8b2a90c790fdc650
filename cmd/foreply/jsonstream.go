package main

import (
	"bufio"
	"bytes"
	"fmt"
	"io"
	"strings"
)

// jsonStream writes JSON piece by piece, so that a long list need not lie in memory: to the
// byte what writeJSON would write. Every value stands in a row of its own.
type jsonStream struct {
	w     *bufio.Writer
	buf   bytes.Buffer // the piece at hand
	depth int
	any   bool // whether the object or list at hand has a member
	err   error
}

func newJSONStream(w io.Writer) *jsonStream { return &jsonStream{w: bufio.NewWriter(w)} }

// list writes a list, the member of an object by that name.
func (s *jsonStream) list(name string, fill func()) {
	s.name(name)
	s.nest('[', ']', fill)
}

// member writes an object, the member of another by that name.
func (s *jsonStream) member(name string, fill func()) {
	s.name(name)
	s.nest('{', '}', fill)
}

func (s *jsonStream) name(name string) {
	s.next()
	s.w.WriteString(`"` + name + `": `)
}

// object writes an object, the member of a list or the whole.
func (s *jsonStream) object(fill func()) {
	if s.depth > 0 {
		s.next()
	}
	s.nest('{', '}', fill)
}

// value writes a member of a list.
func (s *jsonStream) value(v any) {
	s.next()
	s.w.Write(s.encode(v, s.depth))
}

// fields writes those of a struct, members of the object at hand.
func (s *jsonStream) fields(v any) {
	text := s.encode(v, s.depth-1)
	text = bytes.TrimSpace(bytes.TrimSuffix(bytes.TrimPrefix(text, []byte("{")), []byte("}")))
	if len(text) == 0 {
		return
	}
	s.next()
	s.w.Write(text)
}

// end writes the last line's end, and reports what went wrong since the beginning.
func (s *jsonStream) end() error {
	s.w.WriteByte('\n')
	if err := s.w.Flush(); err != nil && s.err == nil {
		s.err = err
	}
	if s.err != nil {
		return fmt.Errorf("writing JSON: %w", s.err)
	}
	return nil
}

func (s *jsonStream) nest(open, shut byte, fill func()) {
	s.w.WriteByte(open)
	s.depth++
	s.any = false
	fill()
	s.depth--
	if s.any {
		s.row()
	}
	s.w.WriteByte(shut)
	s.any = true
}

// next begins a member.
func (s *jsonStream) next() {
	if s.any {
		s.w.WriteByte(',')
	}
	s.any = true
	s.row()
}

func (s *jsonStream) row() {
	s.w.WriteByte('\n')
	for range s.depth {
		s.w.WriteString(jsonIndent)
	}
}

// encode returns the text of a value that stands so deep; it holds until the next call.
func (s *jsonStream) encode(v any, depth int) []byte {
	s.buf.Reset()
	if err := encodeJSON(&s.buf, v, strings.Repeat(jsonIndent, depth)); err != nil && s.err == nil {
		s.err = err
	}
	return bytes.TrimSuffix(s.buf.Bytes(), []byte("\n"))
}
