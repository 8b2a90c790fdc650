package pdf

import (
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
		}
		list = append(list, p)
	}
	return list
}

// sentencePieces are the clauses of a sentence for the kernel.
func sentencePieces(s words.Sentence) [][]sheet.Piece {
	var list [][]sheet.Piece
	for _, c := range s {
		list = append(list, clausePieces(c))
	}
	return list
}
