// Package pgn reads and writes the PGN text format and knows no chess.
//
// Bytes of any origin go in, games come out one after another: tags, moves as
// they are written, comments, and a list of problems with their places. The
// writer goes the other way. Package fetch opens the files and picks the games;
// packages profile and compare replay the moves and judge them.
//
// Priorities, in order where they compete: safe on hostile input, right on valid
// PGN, fast, sensible on broken PGN.
//
// The work is done in two passes. split (split.go) finds where a game ends;
// parse (parse.go) reads what lies between. Both stand on the same functions of
// scan.go, and only split decides on borders, so a skipped game is exactly as
// long as a read one. Reader.Spread (spread.go) has several workers do both over
// blocks of games, with the same outcome as one.
package pgn

import (
	"bytes"
	"slices"
	"unicode/utf8"
)

// Tag is one tag pair, the value unescaped and in UTF-8.
type Tag struct{ Name, Value string }

// Tags are a game's tag pairs in the order of the file. When a name stands
// twice, the last value counts.
type Tags []Tag

// Game is one game. It is valid until the next one is read; Clone to keep it.
type Game struct {
	Source string // id of the configured source, empty for a plain file
	File   string // as Problem.File
	Index  int    // number of the game in its file, from 1
	Line   int    // line of its first byte, from 1
	Moves  []Move // the main line

	// Tree is the main line with its variations, comments and NAGs; only set
	// when Options.Variations asks for it.
	Tree *Line
	// foreign are the moves of Tree that have other letters in the text, by line and column.
	foreign map[[2]int]string

	// Termination as the movetext has it: 1-0, 0-1, 1/2-1/2, *; empty when missing.
	Termination string
	Problems    []Problem
	// Text is the whole game, tags included, in UTF-8 (bytes that are not are
	// read as Windows-1252); a lone CR has become an LF.
	Text []byte

	column int // column of its first byte, from 1
	tags   Tags
	header *Header
	headed headed // how much of header is that of tags; the rest is room for it
}

// Move is one move of the main line.
type Move struct {
	// SAN is the move as written, without number and suffix glyphs: Nf3, O-O, 0-0,
	// e8Q, e2e4, --. Only what no reader of moves should have to know is put
	// right: figurines and typographic dashes, piece letters of other languages,
	// blanks within a move. What merely looks like a move is handed out too (Nf9,
	// Bxf), so that a replay stops at the right place; two pawn moves without a
	// blank between them, as in e4e5, are one.
	SAN []byte
	// Note is the raw comment text behind the move, braces included; several
	// comments stand in it as in the file. Nil when there is none. Clk, Emt and
	// Eval read their commands from it.
	Note   []byte
	Line   int32 // place of SAN
	Column int32
}

// Line is a sequence of moves with what hangs on them. Comments are without
// their braces, with white space folded to single blanks and with their commands;
// empty ones are dropped.
type Line struct {
	Comments []string // before the first move
	Moves    []Node
}

// Node is one move of a Line.
type Node struct {
	SAN        string   // as Move.SAN
	NAGs       []int    // numeric glyphs in order of the text: ! is 1, ? 2, !! 3, ?? 4, !? 5, ?! 6
	Comments   []string // behind the move, and behind its variations
	Variations []*Line  // as they hang on this move in the text: alternatives to it, unless numbers tell otherwise
	Told       int      // the half-move that the number before the move tells, 0 without: 5 for 3.Nf3, 6 for 3...Nf6
	Line       int
	Column     int
}

// Result is how the game ended: 1-0, 0-1, 1/2-1/2, or nothing when that is not
// known. The tag counts, unless it says nothing; then the termination marker. Where
// they differ, Problems says so.
func (g *Game) Result() string {
	switch tag := g.Header().Result; {
	case tag == "" && g.Termination != "*":
		return g.Termination
	default:
		return tag
	}
}

// Clone returns a copy that stays valid. The tree is never used again by the
// Reader, so the copy shares it.
func (g *Game) Clone() *Game {
	c := *g
	c.tags = g.tags.clone()
	c.header, c.headed = nil, nothingRead // its strings would be those of g
	c.Problems = slices.Clone(g.Problems)
	c.Text = bytes.Clone(g.Text)
	c.Moves = slices.Clone(g.Moves)
	n := 0
	for i := range c.Moves {
		n += len(c.Moves[i].SAN) + len(c.Moves[i].Note)
	}
	arena := make([]byte, 0, n)
	keep := func(b []byte) []byte {
		if b == nil {
			return nil
		}
		k := len(arena)
		arena = append(arena, b...)
		return arena[k:len(arena):len(arena)]
	}
	for i := range c.Moves {
		c.Moves[i].SAN = keep(c.Moves[i].SAN)
		c.Moves[i].Note = keep(c.Moves[i].Note)
	}
	return &c
}

// Excerpt returns the given line of the input as far as it belongs to the game,
// fit for a terminal; empty when it is none of the game's.
func (g *Game) Excerpt(line int) string {
	b := g.line(line)
	return clean(string(b), len(b))
}

// line returns the bytes of a line, counted as in the input.
func (g *Game) line(line int) []byte {
	if line < g.Line {
		return nil
	}
	b := g.Text
	for n := g.Line; n < line; n++ {
		k := bytes.IndexByte(b, '\n')
		if k < 0 {
			return nil
		}
		b = b[k+1:]
	}
	return bytes.TrimRight(b[:lineEnd(b, 0)], "\r")
}

// Locate fills in what the game knows about a problem found in it by someone
// else: source, file, number, and the excerpt around its line and column.
func (g *Game) Locate(p Problem) Problem {
	p.Source, p.File, p.Game = g.Source, g.File, g.Index
	line := g.line(p.Line)
	first := 1
	if p.Line == g.Line {
		first = g.column
	}
	at := 0
	for n := first; n < p.Column && at < len(line); n++ {
		_, w := utf8.DecodeRune(line[at:])
		at += w
	}
	from, to := around(line, at)
	p.Excerpt = clean(string(line[from:to]), to-from)
	if p.ExcerptFrom = first + utf8.RuneCount(line[:from]); p.ExcerptFrom == 1 {
		p.ExcerptFrom = 0
	}
	return p
}

// excerptAround is how much of a line an excerpt shows on either side, in bytes.
const excerptAround = 120

// around returns the bounds of what is shown of a line around b[at], which cut
// no rune.
func around(b []byte, at int) (from, to int) {
	from = max(0, at-excerptAround)
	for from > 0 && !utf8.RuneStart(b[from]) {
		from--
	}
	to = min(at+excerptAround, len(b))
	for to < len(b) && !utf8.RuneStart(b[to]) {
		to++
	}
	return from, to
}
