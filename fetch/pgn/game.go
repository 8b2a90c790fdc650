package pgn

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
	Tags   Tags
	Moves  []Move // the main line

	// Tree is the main line with its variations, comments and NAGs; only set
	// when Options.Variations asks for it.
	Tree *Line

	// Termination as the movetext has it: 1-0, 0-1, 1/2-1/2, *; empty when missing.
	Termination string
	Problems    []Problem
	Text        []byte // the bytes of the whole game, tags included
}

// Move is one move of the main line.
type Move struct {
	SAN []byte // as written, without number and suffix glyphs: Nf3, O-O, 0-0, e8Q, e2e4, --
	// Note is the raw comment text behind the move, braces included; several
	// comments stand in it as in the file. Nil when there is none. Clk, Emt and
	// Eval read their commands from it.
	Note   []byte
	Line   int32 // place of SAN
	Column int32
}

// Line is a sequence of moves with what hangs on them.
type Line struct {
	Comments []string // before the first move
	Moves    []Node
}

// Node is one move of a Line.
type Node struct {
	SAN        string // as Move.SAN
	NAGs       []int  // numeric glyphs in order of the text: ! is 1, ? 2, !! 3, ?? 4, !? 5, ?! 6
	Comments   []string
	Variations []*Line // alternatives to this move
	Line       int
	Column     int
}
