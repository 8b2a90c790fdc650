package find

import (
	"slices"

	"foreply/compare/fact"
)

// returnsShown is how many ways back are told for when they surprise.
const returnsShown = 3

// Surprise gathers what helps when they leave early: the note nearest to the
// likeliest unanswered move, else the first one of the book, the user's usual
// moves, and those ways back that the lines to expect don't tell.
func Surprise(fine *Fine, unanswered []fact.Unanswered, ways []fact.WayBack, told []fact.Parting) fact.Surprise {
	start := fine.Order[0]
	var s fact.Surprise
	for _, back := range ways {
		if len(s.Returns) < returnsShown && !tells(told, back.Line) {
			s.Returns = append(s.Returns, back)
		}
	}
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

// tells reports whether a line is the way to a branch of partings, or begins how it goes on
// from there.
func tells(partings []fact.Parting, line []string) bool {
	for _, p := range partings {
		for _, b := range p.Branches {
			whole := slices.Concat(p.Stem, []string{b.Move, b.Answer}, b.Then)
			if len(line) > len(p.Stem) && len(line) <= len(whole) && slices.Equal(line, whole[:len(line)]) {
				return true
			}
		}
	}
	return false
}
