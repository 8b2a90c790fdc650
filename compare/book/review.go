package book

import (
	"slices"

	"foreply/profile/board"
)

// Review is what a repertoire alone tells: what it offers, and where it wants
// work. What could not be read is in the Book's Problems.
type Review struct {
	Stops     []Stop
	Choices   []Choice
	Unreached []Chapter // chapters that no line from the first move leads to
}

// Stop is a line of the repertoire that ends on the opponent's move: no line of
// any chapter has an answer there.
type Stop struct {
	Chapter  string
	Line     []string // SAN from the chapter's first move
	Ply      int      // plies of the game before it
	File     string
	FileLine int
	key      uint64
}

// Choice is a position for which the repertoire has several answers: an
// option, no error.
type Choice struct {
	Line  []string // one way to it, SAN from the first move
	Moves []string // the main choice first
}

// Review reads the repertoire alone.
func (b *Book) Review() Review {
	var r Review
	seen := b.reached(func(pos board.Position, line []string) {
		if answers := b.Answers(pos.Key()); len(answers) > 1 {
			choice := Choice{Line: line}
			for _, m := range answers {
				choice.Moves = append(choice.Moves, pos.SAN(m))
			}
			r.Choices = append(r.Choices, choice)
		}
	})
	for _, c := range b.Chapters {
		if c.Role == RestRole {
			continue
		}
		for _, s := range c.stops {
			if len(b.Answers(s.key)) == 0 {
				r.Stops = append(r.Stops, s)
			}
		}
		if !seen[c.startKey] {
			r.Unreached = append(r.Unreached, c)
		}
	}
	return r
}

// Each visits every position of the book that a line from the first move leads to.
func (b *Book) Each(visit func(pos *board.Position)) {
	b.reached(func(pos board.Position, _ []string) { visit(&pos) })
}

// reached visits every position of the book that a line from the first move
// leads to, nearest first, and returns their keys.
func (b *Book) reached(visit func(pos board.Position, line []string)) map[uint64]bool {
	type stop struct {
		pos  board.Position
		line []string
	}
	start := board.Start()
	seen := map[uint64]bool{start.Key(): true}
	queue := []stop{{pos: start}}
	for ; len(queue) > 0; queue = queue[1:] {
		s := queue[0]
		visit(s.pos, s.line)
		for _, m := range b.Moves(&s.pos) {
			next := s.pos
			next.Play(m)
			if !seen[next.Key()] {
				seen[next.Key()] = true
				queue = append(queue, stop{next, append(s.line[:len(s.line):len(s.line)], s.pos.SAN(m))})
			}
		}
	}
	return seen
}

// Moves lists what the book has at a position, each once: all answers, or the covered
// moves and those that meet a position with an answer.
func (b *Book) Moves(pos *board.Position) []board.Move {
	p := b.nodes[pos.Key()]
	if pos.Turn() == b.Mine {
		return b.Answers(pos.Key())
	}
	if p == nil {
		return nil
	}
	moves := append([]board.Move(nil), p.covered...)
	for _, m := range pos.Legal(nil) {
		after := *pos
		after.Play(m)
		if b.HasAnswer(after.Key()) && !slices.Contains(moves, m) {
			moves = append(moves, m)
		}
	}
	return moves
}
