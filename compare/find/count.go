package find

import (
	"foreply/compare/book"
	"foreply/compare/fact"
	"foreply/fetch/pgn"
	"foreply/profile"
)

// Count fills in what is counted of their games with a colour.
func Count(s *fact.Side, games Games) {
	for g := range games.Theirs() {
		s.Games++
		switch {
		case g.Speed == profile.UnknownClass:
			s.NoSpeed++
		case g.Speed.Fast():
			s.Fast++
		default:
			s.Slow++
		}
		AddResult(&s.Score, g.Result)
		if g.Date.Known() {
			s.Last = g.Date
		}
	}
}

// BookFacts sums up the user's repertoire for a colour.
func BookFacts(b *book.Book) fact.BookFacts {
	f := fact.BookFacts{Files: append([]string{}, b.Files...), Chapters: len(b.Chapters), Positions: b.Positions(), Notes: b.Notes}
	for i := range b.Problems {
		p := &b.Problems[i]
		if p.Severity != pgn.Error {
			continue
		}
		if f.Unread++; f.Unread == 1 {
			f.File, f.FileLine = p.File, p.Line
		}
	}
	return f
}
