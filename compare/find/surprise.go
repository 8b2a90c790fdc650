package find

import "foreply/compare/fact"

// returnsShown is how many ways back are told for when they surprise.
const returnsShown = 3

// Surprise gathers what helps when they leave early: the note nearest to the
// likeliest unanswered move, else the first one of the book, the user's usual
// moves, and ways back.
func Surprise(fine *Fine, unanswered []fact.Unanswered, ways []fact.WayBack) fact.Surprise {
	start := fine.Order[0]
	s := fact.Surprise{Returns: ways[:min(len(ways), returnsShown)]}
	if usual := usualMoves(start, 1, nil, fine); len(usual) >= setUpLeast {
		s.SetUp = usual
	}
	for _, u := range unanswered {
		if s.Note == "" && u.Note != "" {
			s.Note, s.NoteLine = u.Note, u.Line[:u.NotePly]
		}
	}
	if s.Note == "" {
		s.Note = fine.Book.Note(start.Key)
	}
	return s
}
