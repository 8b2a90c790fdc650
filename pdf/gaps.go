package pdf

import (
	"slices"

	"foreply/compare/fact"
	"foreply/compare/words"
	"foreply/pdf/sheet"
)

// runIn is the reach under which a move without an answer has no row of its own, if it is
// not among the first two.
const runIn = 0.03

// gapLines is how many lines all that is known of one takes at most.
const gapLines = 30

// gaps are the moves without an answer behind those that have cards, each with its letter
// and, if it is likely, a square to tick. None of them goes: the least likely ones stand in
// one row.
func (c *column) gaps(cards int) sheet.Part {
	p := sheet.Part{Title: words.NoAnswer, Aside: words.PointsAreYours}
	var small [][]sheet.Piece
	for i := cards; i < len(c.side.Unanswered); i++ {
		u := &c.side.Unanswered[i]
		if len(u.Line) == 0 {
			continue
		}
		if i >= 2 && (u.Reach < runIn || i >= c.l.form.gaps) {
			head := letterPieces(i)
			if len(small) > 0 {
				head = append([]sheet.Piece{{S: "; "}}, head...)
			}
			small = append(small, slices.Concat(head, shortWay(u.Line), []sheet.Piece{{S: " "}, {S: howLikely(c.side, u), Whole: true}}))
			continue
		}
		way := slices.Concat([]sheet.Piece{{Look: sheet.ToTick, S: "☐"}, {S: " "}}, letterPieces(i), wayTo(u.Line, 5),
			[]sheet.Piece{{S: " · "}, {Look: sheet.Strong, S: howLikely(c.side, u), Whole: true}})
		row := c.Sentence(p.Title, append([][]sheet.Piece{way}, c.known(u, true)...), bodyStyle(), 1, gapLines)
		row.Weight = u.Reach
		p.Rows = append(p.Rows, row)
	}
	if len(small) > 0 {
		p.Rows = append(p.Rows, c.Sentence(p.Title, small, bodyStyle(), len(small), 99))
	}
	p.Short = len(p.Rows)
	return p
}

// known is what is known of a move without an answer, most wanted first: how others met
// it, what an engine plays, what it rests on, the set-up.
func (c *column) known(u *fact.Unanswered, behind bool) [][]sheet.Piece {
	join := func(c words.Clause) []sheet.Piece {
		if len(c) == 0 {
			return nil
		}
		if behind {
			return append([]sheet.Piece{{S: " · "}}, clausePieces(c)...)
		}
		behind = true
		return clausePieces(c)
	}
	var list [][]sheet.Piece
	add := func(pieces []sheet.Piece) {
		if len(pieces) > 0 {
			list = append(list, pieces)
		}
	}
	for i, met := range words.Answers(u.Others, len(u.Line)) {
		if i == 0 {
			add(join(met))
		} else {
			add(clausePieces(met))
		}
	}
	add(join(words.Apart(u)))
	for i := range u.Others {
		for n, on := range words.Onward(&u.Others[i], len(u.Line)) {
			if n == 0 {
				add(join(on))
			} else {
				add(clausePieces(on))
			}
		}
	}
	add(join(words.PeersAnswer(u)))
	for _, best := range words.BestMoves(u.Best, len(u.Line), c.side.MyColor) {
		add(join(best))
	}
	if !c.side.Counted() { // else the row has said it
		add(join(words.SeenIn(u)))
	}
	add(join(words.YourSetUp(u.SetUp)))
	return list
}
