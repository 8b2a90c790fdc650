package find

import "foreply/compare/fact"

// Surprise gathers what helps when they leave early: the note nearest to the
// likeliest unanswered move, else the first one of the book, the user's usual
// moves, and ways back.
func Surprise(fine *Fine, unanswered []fact.Unanswered) fact.Surprise {
	start := fine.Order[0]
	s := fact.Surprise{}
	if usual := usualMoves(start, 1, nil, fine); len(usual) >= setUpLeast {
		s.SetUp = usual
	}
	for _, u := range unanswered {
		if s.Note == "" && u.Note != "" {
			s.Note, s.NoteLine = u.Note, u.Line[:u.NotePly]
		}
		if len(u.Return) > 0 && len(s.Returns) < returnsShown {
			s.Returns = append(s.Returns, fact.WayBack{Line: u.Line, Moves: u.Return})
		}
	}
	if s.Note == "" {
		s.Note = fine.Book.Note(start.Key)
	}
	return s
}
