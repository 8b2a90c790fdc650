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

// gaps are the moves without an answer behind those that have cards: how games went on behind
// each answer stands in lines of its own where nothing of theirs is lost by that.
func (c *column) gaps(cards int, rows map[string]bool) sheet.Part {
	airy, dense := c.Measure(c.gapRows(cards, rows, true)), c.Measure(c.gapRows(cards, rows, false))
	p := sheet.Part{Title: dense.Title, Least: dense.Least, Want: airy.Want}
	p.At = func(h float64) sheet.Block {
		if b := airy.At(h); len(b.Lost) == 0 {
			return b
		}
		return dense.At(h)
	}
	return p
}

// gapRows are the moves without an answer, each with its letter and, if it is likely, a
// square to tick. None of them goes: the least likely ones stand in one row. The line of one
// whose letter no row of the tree bears is told whole.
func (c *column) gapRows(cards int, rows map[string]bool, apart bool) sheet.Part {
	p := sheet.Part{Title: words.NoAnswer, Asides: []string{words.PointsAreYours}}
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
			small = append(small, slices.Concat(head, wayOf(u.Line, rows[letter(i)], shortWay(u.Line)), []sheet.Piece{{S: " "}, {S: howLikely(c.side, u), Whole: true}}))
			continue
		}
		way := slices.Concat(tickPieces(), letterPieces(i), wayOf(u.Line, rows[letter(i)], wayTo(u.Line, 5)),
			[]sheet.Piece{{S: " · "}, {Look: sheet.Strong, S: howLikely(c.side, u), Whole: true}})
		row := c.knownRow(p.Title, way, u, apart)
		row.Weight = u.Reach
		p.Rows = append(p.Rows, row)
	}
	if len(small) > 0 {
		p.Rows = append(p.Rows, c.Sentence(p.Title, small, bodyStyle(), len(small), 99))
	}
	p.Short = len(p.Rows)
	return p
}

// wayOf is the end of a line whose row stands, else all of it.
func wayOf(line []string, stands bool, end []sheet.Piece) []sheet.Piece {
	if stands {
		return end
	}
	return wayTo(line, len(line))
}

// knownRow is a move without an answer with what is known of it.
func (c *column) knownRow(title string, way []sheet.Piece, u *fact.Unanswered, apart bool) sheet.Row {
	return c.Sentence(title, append([][]sheet.Piece{way}, c.known(u, apart)...), bodyStyle(), 1, gapLines)
}

// known is what is known of a move without an answer, most wanted first: how others met
// it, what an engine plays, what it rests on, the set-up; then how games went on behind each
// answer. The user's moves are strong in it.
func (c *column) known(u *fact.Unanswered, apart bool) [][]sheet.Piece {
	return slices.Concat(c.metSo(u), c.restsOn(u), c.onward(u, apart))
}

// metSo is how others met it, and whether that separates the answers.
func (c *column) metSo(u *fact.Unanswered) [][]sheet.Piece {
	list := c.behind(words.Answers(u.Others, len(u.Line)))
	return append(list, c.behind(words.Sentence{}.And(words.Apart(u)))...)
}

// onward is how games went on behind each answer, in lines apart if told so.
func (c *column) onward(u *fact.Unanswered, apart bool) [][]sheet.Piece {
	var list [][]sheet.Piece
	for i := range u.Others {
		if on := c.behind(words.Onward(&u.Others[i], len(u.Line))); len(on) > 0 {
			on[0][0].Ends = apart
			for n := range u.Others[i].Then {
				if k := u.Others[i].Then[n].Gap; k > 0 {
					on[n] = append(on[n], sheet.Piece{S: words.AlsoGap}, sheet.Piece{Look: sheet.OnDisc, S: letter(k - 1)}, sheet.Piece{S: ")"})
				}
			}
			list = append(list, on...)
		}
	}
	return list
}

// restsOn is what peers did, what an engine plays, the games behind it and the set-up.
func (c *column) restsOn(u *fact.Unanswered) [][]sheet.Piece {
	list := c.behind(words.Sentence{}.And(words.PeersAnswer(u)))
	for _, best := range words.BestMoves(u.Best, len(u.Line), c.side.MyColor) {
		list = append(list, c.behind(words.Sentence{best})...)
	}
	if !c.side.Counted() { // else the row has said it
		list = append(list, c.behind(words.Sentence{}.And(words.SeenIn(u)))...)
	}
	return append(list, c.behind(words.Sentence{}.And(words.YourSetUp(u)))...)
}

// behind is a sentence that follows another on its line.
func (c *column) behind(s words.Sentence) [][]sheet.Piece {
	var list [][]sheet.Piece
	for i, clause := range s {
		pieces := c.yoursStrong(clause)
		if i == 0 {
			pieces = append([]sheet.Piece{{S: " · "}}, pieces...)
		}
		list = append(list, pieces)
	}
	return list
}
