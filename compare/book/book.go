package book

import (
	"slices"

	"foreply/fetch/pgn"
	"foreply/profile/board"
)

// Book is the user's repertoire for one colour, as a graph of positions:
// answers where the user is to move, covered moves where the opponent is.
type Book struct {
	Mine board.Color
	// First tells by its name and file whether a chapter comes first today, whatever
	// its Role tag says; nil: none does. It must be set before the first Add.
	First    func(name, file string) bool
	Files    []string
	Chapters []Chapter
	Mistakes []Marked // moves marked ? or ??, in order of the files
	Problems []pgn.Problem
	Notes    int
	nodes    map[uint64]*node
	glyphs   map[marked][]int // NAGs of moves, as first given
	rivals   map[uint64]rival // positions where a second file gave another answer
}

// marked is a move of a position.
type marked struct {
	key  uint64
	move board.Move
}

// Chapter is one game of a repertoire file.
type Chapter struct {
	Name      string
	Role      Role
	Character string // the user's label: Sharp, Solid or none
	File      string
	Line      int
	Game      int
	Moves     int
	SetUp     bool // begins with another position
	startKey  uint64
	intro     string // the comment before its first move
	stops     []Stop
}

// Marked is a move the repertoire marks as a mistake.
type Marked struct {
	Line     []board.Move // ends with the marked move; from the chapter's first position
	SetUp    bool         // which is not the usual one
	Key      uint64       // of the position before the move
	Move     board.Move
	Mine     bool
	Note     string
	File     string
	FileLine int
}

// Role says what a chapter is for, by its Role tag.
type Role int8

const (
	ChosenRole   Role = iota - 2 // the user wants it first today
	MainRole                     // "main": comes before chapters that say nothing
	NoRole                       // no tag
	SurpriseRole                 // its answers come after those of the others
	RestRole                     // isn't walked today
)

// node is a position of the book.
type node struct {
	answers []answer     // user to move: main choice first
	covered []board.Move // opponent to move: in order of the files
	note    string       // the comment on the move that led here
	file    string
	line    int
	chapter int32 // index of the one chapter that has it, several, or none
}

// Of a node's chapter.
const (
	noChapter = -1
	several   = -2
)

// answer is a prepared move of the user.
type answer struct {
	move      board.Move
	role      Role
	character string // of the chapter that gives it
	mixed     bool   // chapters of another character give it too
	file      string
	line      int
}

// New returns an empty book for the colour the user will have.
func New(mine board.Color) *Book {
	return &Book{Mine: mine, nodes: map[uint64]*node{}, glyphs: map[marked][]int{}, rivals: map[uint64]rival{}}
}

// Answers returns the user's prepared moves at a position, the main choice
// first.
func (b *Book) Answers(key uint64) []board.Move {
	p := b.nodes[key]
	if p == nil {
		return nil
	}
	moves := make([]board.Move, len(p.answers))
	for i, a := range p.answers {
		moves[i] = a.move
	}
	return moves
}

// HasAnswer reports whether an answer is prepared at a position.
func (b *Book) HasAnswer(key uint64) bool {
	p := b.nodes[key]
	return p != nil && len(p.answers) > 0
}

// Covered returns the moves of theirs that the book writes at a position, in
// order of the files.
func (b *Book) Covered(key uint64) []board.Move {
	if p := b.nodes[key]; p != nil {
		return p.covered
	}
	return nil
}

// Spot is where a position stands in the files; line 0 where it does not.
func (b *Book) Spot(key uint64) (file string, line int) {
	if p := b.nodes[key]; p != nil {
		return p.file, p.line
	}
	return "", 0
}

// Glyphs returns the NAGs of a move at a position, as first given.
func (b *Book) Glyphs(key uint64, m board.Move) []int { return b.glyphs[marked{key, m}] }

// Note returns the comment on the move that led to a position.
func (b *Book) Note(key uint64) string {
	if p := b.nodes[key]; p != nil {
		return p.note
	}
	return ""
}

// Intro returns the comment before the first move of the one chapter that a line
// runs through at its deepest position in the book; empty if there are several.
func (b *Book) Intro(keys []uint64) string {
	for _, key := range slices.Backward(keys) {
		p := b.nodes[key]
		switch {
		case p == nil || p.line == 0:
		case p.chapter < 0:
			return ""
		default:
			return b.Chapters[p.chapter].intro
		}
	}
	return ""
}

// Size counts the positions that the book holds anything of.
func (b *Book) Size() int { return len(b.nodes) }

// Positions counts positions with a prepared answer.
func (b *Book) Positions() int {
	n := 0
	for _, p := range b.nodes {
		if len(p.answers) > 0 {
			n++
		}
	}
	return n
}

// Branching is how many moves the book has on average where the user is to move,
// and where the opponent is; 0 where it has none. Whoever prepares has one answer to
// each of several moves, so in a book of the other colour the first is larger.
func (b *Book) Branching() (mine, theirs float64) {
	var at, moves [2]int
	for _, p := range b.nodes {
		for i, n := range [...]int{len(p.answers), len(p.covered)} {
			if n > 0 {
				at[i]++
				moves[i] += n
			}
		}
	}
	return float64(moves[0]) / float64(max(1, at[0])), float64(moves[1]) / float64(max(1, at[1]))
}

// Holds reports whether the book has something to say at pos.
func (b *Book) Holds(pos *board.Position) bool {
	if pos.Turn() == b.Mine {
		return b.HasAnswer(pos.Key())
	}
	return len(b.Covered(pos.Key())) > 0
}

// Character is the label of the chapters that give an answer, empty where they
// give several.
func (b *Book) Character(key uint64, answer int) string {
	if p := b.nodes[key]; p != nil && answer < len(p.answers) && !p.answers[answer].mixed {
		return p.answers[answer].character
	}
	return ""
}
