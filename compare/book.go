package compare

import (
	"fmt"
	"slices"
	"strings"

	"foreply/fetch/pgn"
	"foreply/profile"
	"foreply/profile/board"
)

// Book is the user's repertoire for one colour, as a graph of positions:
// answers where the user is to move, covered moves where the opponent is.
type Book struct {
	Mine board.Color
	// First tells by its name whether a chapter comes first today, whatever its
	// Role tag says; nil: none does. It must be set before the first Add.
	First    func(name string) bool
	Files    []string
	Chapters []Chapter
	Mistakes []Marked // moves marked ? or ??, in order of the files
	Problems []pgn.Problem
	Notes    int
	places   map[uint64]*place
	glyphs   map[marked][]int // NAGs of moves, as first given
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
	ChosenRole   Role = iota - 1 // the user wants it first today
	MainRole                     // no tag, or "main"
	SurpriseRole                 // its answers come after those of main chapters
	RestRole                     // isn't walked today
)

// place is a position of the book.
type place struct {
	answers []answer     // user to move: main choice first
	covered []board.Move // opponent to move: in order of the files
	note    string       // the comment on the move that led here
	file    string
	line    int
	chapter int32 // index of the one chapter that has it, several, or none
}

// Of a place's chapter.
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

// NewBook returns an empty book for the colour the user will have.
func NewBook(mine board.Color) *Book {
	return &Book{Mine: mine, places: map[uint64]*place{}, glyphs: map[marked][]int{}}
}

// Add reads one chapter, a game read with its variations. An illegal move ends
// its line; the rest of the chapter counts. What is wrong goes to Problems.
func (b *Book) Add(g *pgn.Game) {
	if !slices.Contains(b.Files, g.File) {
		b.Files = append(b.Files, g.File)
	}
	b.Problems = append(b.Problems, g.Problems...)
	start, err := profile.Start(g.Tags)
	if err != nil {
		b.Problems = append(b.Problems, pgn.Problem{
			Kind: pgn.BadSetUp, Severity: pgn.Error, Source: g.Source, File: g.File, Line: g.Line, Game: g.Index,
			Token: g.Tags.Get("FEN"), Message: fmt.Sprintf("bad set-up position: %v", err),
			Hint: "mend the FEN tag; the chapter is left out",
		})
		return
	}
	line, problems := profile.Replay(g, start)
	b.Problems = append(b.Problems, problems...)
	usual := board.Start()
	c := Chapter{
		Name: chapterName(g), Role: b.roleToday(g), Character: b.character(g), File: g.File, Line: g.Line, Game: g.Index,
		SetUp: start.Key() != usual.Key(), startKey: start.Key(),
	}
	a := adder{book: b, chapter: &c, index: int32(len(b.Chapters)), startPly: start.Ply()}
	if c.intro = noteText(line.Comments); c.intro != "" {
		a.note(start.Key(), c.intro)
	}
	a.line(line, start, nil)
	b.Chapters = append(b.Chapters, c)
}

// roleToday is the role of a chapter, unless the user wants it first today.
func (b *Book) roleToday(g *pgn.Game) Role {
	if b.First != nil && b.First(chapterName(g)) {
		return ChosenRole
	}
	return b.role(g)
}

// chapterName takes the first of the tags that people name chapters by.
func chapterName(g *pgn.Game) string {
	for _, tag := range [...]string{"Event", "White", "Black", "Opening"} {
		if v := strings.TrimSpace(g.Tags.Get(tag)); v != "" && v != "?" {
			return v
		}
	}
	return fmt.Sprintf("chapter %d", g.Index)
}

func (b *Book) role(g *pgn.Game) Role {
	switch tag := strings.ToLower(strings.TrimSpace(g.Tags.Get("Role"))); tag {
	case "", "main":
		return MainRole
	case "surprise":
		return SurpriseRole
	case "rest":
		return RestRole
	default:
		b.Problems = append(b.Problems, pgn.Problem{
			Kind: pgn.BadTag, Severity: pgn.Warning, Source: g.Source, File: g.File, Line: g.Line, Game: g.Index,
			Token: tag, Message: fmt.Sprintf("unknown Role %q, taken as main", tag),
			Hint: `the Role tag may be "main", "surprise" or "rest"`,
		})
		return MainRole
	}
}

// adder puts a chapter's moves into the book.
type adder struct {
	book     *Book
	chapter  *Chapter
	index    int32 // of the chapter
	sans     []string
	startPly int // plies of the game before the chapter's first move
}

func (a *adder) line(line *profile.Line, pos board.Position, moves []board.Move) {
	for i := range line.Moves {
		n, before := &line.Moves[i], pos
		goesOn := a.move(n, &pos, moves)
		for _, v := range n.Variations {
			saved := len(a.sans)
			a.variation(v, before, slices.Clip(moves))
			a.sans = a.sans[:saved]
		}
		if !goesOn {
			return
		}
		moves = append(moves, n.Move)
		a.sans = append(a.sans, n.SAN)
	}
	if len(line.Moves) > 0 && pos.Turn() == a.book.Mine {
		last := &line.Moves[len(line.Moves)-1]
		a.chapter.stops = append(a.chapter.stops, Stop{
			Chapter: a.chapter.Name, Line: slices.Clone(a.sans), Ply: a.startPly, File: a.chapter.File,
			FileLine: last.FileLine, key: pos.Key(),
		})
	}
}

// variation adds an alternative. A comment before its first move is about that
// move.
func (a *adder) variation(v *profile.Line, pos board.Position, moves []board.Move) {
	if len(v.Comments) > 0 && len(v.Moves) > 0 {
		first := v.Moves[0]
		first.Comments = slices.Concat(v.Comments, first.Comments)
		v = &profile.Line{Moves: append([]profile.Node{first}, v.Moves[1:]...)}
	}
	a.line(v, pos, moves)
}

// move adds one move and plays it; false ends the line: a move the book marks
// as the user's mistake is no answer, and what follows it is no preparation;
// nor is what follows a passed turn.
func (a *adder) move(n *profile.Node, pos *board.Position, moves []board.Move) bool {
	if n.Move == board.NullMove {
		return false
	}
	b, key := a.book, pos.Key()
	mine := pos.Turn() == b.Mine
	if slices.Contains(n.NAGs, 2) || slices.Contains(n.NAGs, 4) {
		b.Mistakes = append(b.Mistakes, Marked{
			Line: append(slices.Clone(moves), n.Move), SetUp: a.chapter.SetUp, Key: key, Move: n.Move, Mine: mine, Note: noteText(n.Comments),
			File: a.chapter.File, FileLine: n.FileLine,
		})
		if mine {
			return false
		}
	}
	a.chapter.Moves++
	if at := (marked{key, n.Move}); len(n.NAGs) > 0 && b.glyphs[at] == nil {
		b.glyphs[at] = n.NAGs
	}
	if a.chapter.Role != RestRole {
		p := a.at(key)
		a.mark(p, n.FileLine)
		if mine {
			p.answer(answer{
				move: n.Move, role: a.chapter.Role, character: a.chapter.Character, file: a.chapter.File, line: n.FileLine,
			})
		} else if !slices.Contains(p.covered, n.Move) {
			p.covered = append(p.covered, n.Move)
		}
	}
	pos.Play(n.Move)
	if note := noteText(n.Comments); note != "" {
		a.note(pos.Key(), note)
		if a.chapter.Role != RestRole {
			a.mark(a.at(pos.Key()), n.FileLine)
		}
	}
	return true
}

// mark notes where a position stands.
func (a *adder) mark(p *place, fileLine int) {
	if p.line == 0 {
		p.file, p.line = a.chapter.File, fileLine
	}
	switch p.chapter {
	case noChapter:
		p.chapter = a.index
	case a.index:
	default:
		p.chapter = several
	}
}

func (a *adder) at(key uint64) *place {
	p := a.book.places[key]
	if p == nil {
		p = &place{chapter: noChapter}
		a.book.places[key] = p
	}
	return p
}

func (a *adder) note(key uint64, text string) {
	a.book.Notes++
	if a.chapter.Role == RestRole {
		return
	}
	if p := a.at(key); p.note == "" {
		p.note = text
	}
}

// answer adds a prepared move behind those given before it; main chapters come
// before surprises, whatever the order of the files.
func (p *place) answer(n answer) {
	i := slices.IndexFunc(p.answers, func(o answer) bool { return o.move == n.move })
	if i >= 0 {
		n.mixed = p.answers[i].mixed || p.answers[i].character != n.character
		if n.role >= p.answers[i].role {
			p.answers[i].mixed = n.mixed
			return
		}
		p.answers = slices.Delete(p.answers, i, i+1)
	}
	at := slices.IndexFunc(p.answers, func(o answer) bool { return o.role > n.role })
	if at < 0 {
		at = len(p.answers)
	}
	p.answers = slices.Insert(p.answers, at, n)
}

// noteText joins the words of comments, without commands.
func noteText(comments []string) string {
	var parts []string
	for _, c := range comments {
		if text := pgn.PlainComment(c); text != "" {
			parts = append(parts, text)
		}
	}
	return strings.Join(parts, " ")
}

// Answers returns the user's prepared moves at a position, the main choice
// first.
func (b *Book) Answers(key uint64) []board.Move {
	p := b.places[key]
	if p == nil {
		return nil
	}
	moves := make([]board.Move, len(p.answers))
	for i, a := range p.answers {
		moves[i] = a.move
	}
	return moves
}

// answers reports whether an answer is prepared at a position.
func (b *Book) answers(key uint64) bool {
	p := b.places[key]
	return p != nil && len(p.answers) > 0
}

// Covered returns the moves of theirs that the book writes at a position, in
// order of the files.
func (b *Book) Covered(key uint64) []board.Move {
	if p := b.places[key]; p != nil {
		return p.covered
	}
	return nil
}

// Spot is where a position stands in the files; line 0 where it does not.
func (b *Book) Spot(key uint64) (file string, line int) {
	if p := b.places[key]; p != nil {
		return p.file, p.line
	}
	return "", 0
}

// Glyphs returns the NAGs of a move at a position, as first given.
func (b *Book) Glyphs(key uint64, m board.Move) []int { return b.glyphs[marked{key, m}] }

// Note returns the comment on the move that led to a position.
func (b *Book) Note(key uint64) string {
	if p := b.places[key]; p != nil {
		return p.note
	}
	return ""
}

// intro returns the comment before the first move of the one chapter that a line
// runs through at its deepest position in the book; empty if there are several.
func (b *Book) intro(keys []uint64) string {
	for _, key := range slices.Backward(keys) {
		p := b.places[key]
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

// Positions counts positions with a prepared answer.
func (b *Book) Positions() int {
	n := 0
	for _, p := range b.places {
		if len(p.answers) > 0 {
			n++
		}
	}
	return n
}

// Holds reports whether the book has something to say at pos.
func (b *Book) Holds(pos *board.Position) bool {
	if pos.Turn() == b.Mine {
		return b.answers(pos.Key())
	}
	return len(b.Covered(pos.Key())) > 0
}
