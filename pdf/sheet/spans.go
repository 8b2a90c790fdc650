package sheet

import (
	"strings"
	"unicode"
)

// Look is how a piece of text stands out from the others of its sentence.
type Look uint8

const (
	Usual  Look = iota // as the sentence
	Strong             // what is looked for first
	Noted              // written by another hand
	Faint              // of the second rank
	OnDisc             // a letter that ties this place to another
	ToTick             // a square to tick, whatever it reads
)

// Piece is text of one look. It brings the blanks that belong to it: pieces without
// blanks between them make one word, which no line breaks.
type Piece struct {
	Look  Look
	S     string
	First string // what it reads at the start of a line, where that differs
	Whole bool   // its own blanks don't break either
	Ends  bool   // of a separator: what follows begins a line
	Tied  bool   // what follows stands behind a blank that doesn't break
}

// Separator parts clauses that stand on one line.
const Separator = "·"

// Style is the ink of each look.
type Style struct{ Usual, Strong, Noted, Faint, OnDisc, ToTick Ink }

// Plainly is the style in which nothing stands out.
func Plainly(k Ink) Style {
	return Style{Usual: k, Strong: k, Noted: k, Faint: k, OnDisc: k, ToTick: k}
}

func (st Style) ink(l Look) Ink {
	switch l {
	case Strong:
		return st.Strong
	case Noted:
		return st.Noted
	case Faint:
		return st.Faint
	case OnDisc:
		return st.OnDisc
	case ToTick:
		return st.ToTick
	}
	return st.Usual
}

// Spans are the words of pieces. Only here blanks become breaks: '(', '12' and ' by' are
// the words '(12' and 'by'.
func (f *Faces) Spans(pieces []Piece, st Style) []Word { return f.inkPieces(pieces, st).words(st) }

// inked is a piece with its own words, printable.
type inked struct {
	Piece
	ink   Ink
	said  []string
	first string
}

type inkedPieces []inked

func (f *Faces) inkPieces(pieces []Piece, st Style) inkedPieces {
	list := make(inkedPieces, 0, len(pieces))
	for _, p := range pieces {
		k := st.ink(p.Look)
		if p.S == "" {
			continue
		}
		one := inked{Piece: p, ink: k, said: p.split(f.face(k))}
		if p.First != "" {
			one.first = f.face(k).Reduce(p.First)
		}
		list = append(list, one)
	}
	return list
}

// words puts together what no blank parts.
func (list inkedPieces) words(st Style) []Word {
	var words []Word
	broken := true // a blank stands before what comes
	for _, p := range list {
		broken = broken || blankFirst(p.S)
		between := strings.TrimSpace(p.S) == Separator
		for i, s := range p.said {
			w := Word{S: s, Ink: p.ink, Between: between, Ends: p.Ends}
			if i == 0 {
				w.First = p.first
			}
			if broken || i > 0 {
				words = append(words, w)
			} else {
				glue(&words[len(words)-1], w)
			}
			broken = false
		}
		broken = broken || blankLast(p.S)
		if p.Tied && len(p.said) > 0 {
			glue(&words[len(words)-1], Word{S: " ", Ink: st.Usual})
		}
	}
	return words
}

// split is a piece's own words, printable with the font.
func (p Piece) split(fc *Face) []string {
	s := fc.Reduce(p.S)
	switch {
	case strings.TrimSpace(s) == "":
		return nil
	case p.Whole:
		return []string{strings.TrimSpace(s)}
	}
	return strings.Fields(s)
}

// glue adds a word to another without a blank: to its text if they look the same.
func glue(to *Word, w Word) {
	last := to
	if n := len(to.Glued); n > 0 {
		last = &to.Glued[n-1]
	}
	if last.Ink != w.Ink {
		to.Glued = append(to.Glued, w)
		return
	}
	if last.First != "" || w.First != "" {
		last.First = last.opening() + w.opening()
	}
	last.S += w.S
}

// opening is what a word without the glued ones reads at the start of a line.
func (w Word) opening() string {
	if w.First != "" {
		return w.First
	}
	return w.S
}

func blankFirst(s string) bool { return strings.TrimLeftFunc(s, unicode.IsSpace) != s }
func blankLast(s string) bool  { return strings.TrimRightFunc(s, unicode.IsSpace) != s }

// Clauses are the words of as many clauses as go whole into the lines, the first ones of
// the list, and the number of those that don't. The first always goes in, as far as there is
// room; a clause that follows others brings what joins it to them.
func (f *Faces) Clauses(clauses [][]Piece, st Style, w float64, max int) (words []Word, lost int) {
	var pieces inkedPieces
	ends := make([]int, len(clauses)) // where each clause ends
	for i, c := range clauses {
		pieces = append(pieces, f.inkPieces(c, st)...)
		ends[i] = len(pieces)
	}
	for n := len(clauses); n > 0; n-- {
		words = pieces[:ends[n-1]].words(st)
		if _, whole := f.Break(words, w, max); whole || n == 1 {
			return words, len(clauses) - n
		}
	}
	return nil, 0
}
