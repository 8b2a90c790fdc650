package book

import (
	"fmt"
	"slices"
	"strings"

	"foreply/compare/fact"
	"foreply/fetch/pgn"
	"foreply/profile"
	"foreply/profile/board"
)

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
			a.noteRival(p, key, pos, n)
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
func (a *adder) mark(p *node, fileLine int) {
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

func (a *adder) at(key uint64) *node {
	p := a.book.nodes[key]
	if p == nil {
		p = &node{chapter: noChapter}
		a.book.nodes[key] = p
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

// ChapterName takes the first of the tags that people name chapters by.
func ChapterName(g *pgn.Game) string {
	h := g.Header()
	for _, told := range [...]string{h.Event, h.White.Name, h.Black.Name, h.Opening} {
		if told != "" {
			return strings.TrimSpace(told)
		}
	}
	return fmt.Sprintf("chapter %d", g.Index)
}

// Of makes a book for a colour of lines from the usual start. Where two of them give an
// answer at the same position, the first is the main choice.
func Of(mine board.Color, lines [][]board.Move) *Book {
	b, start := New(mine), board.Start()
	c := Chapter{startKey: start.Key()}
	a := adder{book: b, chapter: &c}
	for _, moves := range lines {
		pos := board.Start()
		for i := range moves {
			a.move(&profile.Node{Move: moves[i]}, &pos, moves[:i])
		}
	}
	b.Chapters = append(b.Chapters, c)
	return b
}

// Add reads one chapter, a game read with its variations. An illegal move ends
// its line; the rest of the chapter counts. What is wrong goes to Problems.
func (b *Book) Add(g *pgn.Game) {
	if !slices.Contains(b.Files, g.File) {
		b.Files = append(b.Files, g.File)
	}
	b.Problems = append(b.Problems, g.Problems...)
	start, err := profile.Start(g.Header())
	if err != nil {
		b.Problems = append(b.Problems, pgn.Problem{
			Kind: pgn.BadSetUp, Severity: pgn.Error, Source: g.Source, File: g.File, Line: g.Line, Game: g.Index,
			Token: g.Tags().Get("FEN"), Message: fmt.Sprintf("bad set-up position: %v", err),
			Hint: "mend the FEN tag; the chapter is left out",
		})
		return
	}
	line, problems := profile.Replay(g, start)
	b.Problems = append(b.Problems, problems...)
	usual := board.Start()
	c := Chapter{
		Name: ChapterName(g), Role: b.roleToday(g), Character: b.readCharacter(g), File: g.File, Line: g.Line, Game: g.Index,
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
	if b.First != nil && b.First(ChapterName(g), g.File) {
		return ChosenRole
	}
	return b.role(g)
}

func (b *Book) role(g *pgn.Game) Role {
	switch tag := g.Header().Role; tag {
	case "":
		return NoRole
	case "main":
		return MainRole
	case "surprise":
		return SurpriseRole
	case "rest":
		return RestRole
	default:
		b.Problems = append(b.Problems, pgn.Problem{
			Kind: pgn.BadTag, Severity: pgn.Warning, Source: g.Source, File: g.File, Line: g.Line, Game: g.Index,
			Token: tag, Message: fmt.Sprintf("unknown Role %q, left aside", tag),
			Hint: `the Role tag may be "main", "surprise" or "rest"`,
		})
		return NoRole
	}
}

// readCharacter reads the label of a chapter.
func (b *Book) readCharacter(g *pgn.Game) string {
	switch tag := g.Header().Character; tag {
	case "", fact.Sharp, fact.Solid:
		return tag
	default:
		b.Problems = append(b.Problems, pgn.Problem{
			Kind: pgn.BadTag, Severity: pgn.Warning, Source: g.Source, File: g.File, Line: g.Line, Game: g.Index,
			Token: tag, Message: fmt.Sprintf("unknown Character %q, left aside", tag),
			Hint: `the Character tag may be "sharp" or "solid"`,
		})
		return ""
	}
}

// answer adds a prepared move behind those given before it of its role: main
// chapters come before others, these before surprises, whatever the order of the
// files.
func (p *node) answer(n answer) {
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
