package find

import (
	"cmp"
	"slices"

	"foreply/compare/book"
	"foreply/compare/fact"
	"foreply/compare/walk"
	"foreply/profile"
	"foreply/profile/board"
)

const (
	oftenVisited = 3 // games that came to a position they reach again and again
	oftenPlayed  = 2 // games with a move of theirs that an engine judges there
	judgedFrom   = 4 // plies before the first moves worth judging
)

// Wanted are the positions of a Report that are worth an engine's look, the most
// needed first: where the book has no answer, where its lines end, the traps that
// are known, the moves of both on the lines to expect, and what the opponent plays
// again and again where the book can lead.
func Wanted(r *fact.Report, p *profile.Profile, books []*book.Book) []board.Position {
	var gaps, ends, traps, ways, usual []board.Position
	for i := range r.Sides {
		s := &r.Sides[i]
		for _, u := range s.Unanswered {
			gaps = append(gaps, walk.Resolved(u.Line).End)
		}
		for _, x := range s.Exits {
			t := walk.Resolved(x.Line)
			ends = append(ends, t.End)
			ways = append(ways, along(&t)...)
		}
		for _, t := range s.Traps {
			if t.Kind == fact.TheirSlip {
				traps = append(traps, walk.Resolved(t.Line).End)
			}
		}
		usual = append(usual, usualPlaces(p.Tree(books[i].Mine.Other()), books[i])...)
	}
	return slices.Concat(gaps, ends, traps, ways, usual)
}

// along are the positions of a line but its end.
func along(t *walk.Track) []board.Position {
	pos := board.Start()
	var out []board.Position
	for _, m := range t.Moves {
		out = append(out, pos)
		pos.Play(m)
	}
	return out[min(len(out), judgedFrom):]
}

// usualPlaces are the positions that the opponent reached again and again where the
// book can lead, the most visited first, each with those after their usual moves.
// Where the book has answers the user plays one of them, behind it what others
// played.
func usualPlaces(tree *profile.Tree, book *book.Book) []board.Position {
	type place struct {
		games int32
		all   []board.Position
	}
	var places []place
	seen := map[uint64]bool{}
	var visit func(pos board.Position, ply int)
	visit = func(pos board.Position, ply int) {
		n := tree.At(pos.Key())
		if n == nil || n.Games < oftenVisited || seen[pos.Key()] {
			return
		}
		seen[pos.Key()] = true
		here := place{n.Games, []board.Position{pos}}
		answers := book.Answers(pos.Key())
		for _, e := range n.Edges {
			after := pos
			after.Play(e.Move)
			mine := pos.Turn() == book.Mine
			if !mine && e.Games >= oftenPlayed {
				here.all = append(here.all, after)
			}
			if !mine || len(answers) == 0 || slices.Contains(answers, e.Move) {
				visit(after, ply+1)
			}
		}
		if pos.Turn() != book.Mine && ply >= judgedFrom {
			places = append(places, here)
		}
	}
	visit(board.Start(), 0)
	slices.SortStableFunc(places, func(a, b place) int { return cmp.Compare(b.games, a.games) })
	var out []board.Position
	for _, p := range places {
		out = append(out, p.all...)
	}
	return out
}
