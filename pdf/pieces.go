package pdf

import (
	"strings"

	"foreply/compare/words"
	"foreply/pdf/sheet"
)

// clausePieces are the spans of a clause for the kernel: moves strong, with figurines and
// their number at the start of a line; what a player or a game wrote as noted.
func clausePieces(c words.Clause) []sheet.Piece {
	var list []sheet.Piece
	for _, span := range c {
		p := sheet.Piece{S: span.Text}
		switch span.Kind {
		case words.Move:
			p = sheet.Piece{Look: sheet.Strong, S: figurine(span.Text)}
			if span.Ply >= 0 {
				p.First = figurine(span.Numbered())
			}
		case words.Own:
			p.Look = sheet.Noted
		case words.Number, words.Day:
			p.Whole = true
		case words.Frequency:
			p.Whole = len(span.Text) <= shortFrequency
		}
		list = append(list, p)
	}
	return list
}

// yoursStrong are the spans of a clause in which the moves of the user's side alone stand out.
func (c *column) yoursStrong(clause words.Clause) []sheet.Piece {
	list := clausePieces(clause)
	for i, span := range clause {
		if span.Kind == words.Move && span.Ply >= 0 && (span.Ply%2 == 0) != (c.side.MyColor == "white") {
			list[i].Look = sheet.Usual
		}
	}
	return list
}

// shortFrequency is the length up to which a frequency stays on one line: '1 in 35',
// '4 in 10 (2–6)'.
const shortFrequency = 18

// sentencePieces are the clauses of a sentence for the kernel.
func sentencePieces(s words.Sentence) [][]sheet.Piece {
	var list [][]sheet.Piece
	for _, c := range s {
		list = append(list, clausePieces(c))
	}
	return list
}

// lineOf sets moves with their numbers behind so many plies, strong where told so.
func lineOf(san []string, ply int, strong func(ply int) bool) []sheet.Piece {
	var list []sheet.Piece
	for i, m := range san {
		p := sheet.Piece{S: figurine(m), First: numbered(m, ply+i)}
		if i == 0 || (ply+i)%2 == 0 {
			p.S, p.First = p.First, ""
		}
		if strong(ply + i) {
			p.Look = sheet.Strong
		}
		if i > 0 {
			list = append(list, sheet.Piece{S: " "})
		}
		list = append(list, p)
	}
	return list
}

// wayTo is the end of a line, so many moves of it at most, the last one strong.
func wayTo(line []string, most int) []sheet.Piece {
	from := max(0, len(line)-most)
	return lineOf(line[from:], from, func(ply int) bool { return ply == len(line)-1 })
}

// wholeOr is a line of so many plies at most from its first move, else its end: that of a
// short one alone would fit others, too.
func wholeOr(line []string, most, end int) []sheet.Piece {
	if len(line) <= most {
		end = most
	}
	return wayTo(line, end)
}

// shortWay is a line in few words: of five plies at most whole, else the last three.
func shortWay(line []string) []sheet.Piece { return wholeOr(line, 5, 3) }

// knownWay is a line that no row of the tree tells: of eight plies at most whole, else the last four.
func knownWay(line []string) []sheet.Piece { return wholeOr(line, 8, 4) }

// plainly are pieces in which nothing is strong.
func plainly(list []sheet.Piece) []sheet.Piece {
	for i := range list {
		if list[i].Look == sheet.Strong {
			list[i].Look = sheet.Usual
		}
	}
	return list
}

// numbered is a move with its number, black ones with three periods.
func numbered(san string, ply int) string { return figurine(words.Movetext([]string{san}, ply)) }

// The solid figurines of both colours: at ten points and in a photocopy they
// hold where the outlined ones break up.
var solid = strings.NewReplacer("K", "♚", "Q", "♛", "R", "♜", "B", "♝", "N", "♞")

// figurine puts a figurine for the letter of the piece.
func figurine(san string) string { return solid.Replace(san) }
