package find

import (
	"cmp"
	"slices"

	"foreply/compare/book"
	"foreply/compare/fact"
	"foreply/compare/walk"
)

// A game has nearly met a mistake if it came to within nearPlies of its place,
// on a way of at least nearFrom plies: everybody shares the first moves.
const (
	nearPlies = 2
	nearFrom  = 6
)

// Mistakes lists the moves the book marks as mistakes, of either side, that they
// met, or nearly: those made most often first, then those whose position they
// reached, then those expected, then the near ones.
func Mistakes(w *walk.Walk, games Games) []fact.Mistake {
	reach, at := w.ByPosition()
	var out []fact.Mistake
	for i := range w.Book.Mistakes {
		m := &w.Book.Mistakes[i]
		line, ok := lineTo(m, at[m.Key], games)
		if !ok {
			continue
		}
		mistake := mistakeOf(w.Book, m, line, games)
		if s := at[m.Key]; s != nil {
			mistake.Reach, mistake.Often = reach[m.Key], oftenAt(w, s, games)
		}
		if mistake.Near == 0 && mistake.Reach == 0 {
			continue
		}
		out = append(out, mistake)
	}
	slices.SortStableFunc(out, func(a, b fact.Mistake) int {
		return cmp.Or(
			cmp.Compare(b.Games, a.Games), cmp.Compare(b.Reached, a.Reached),
			cmp.Compare(b.Reach, a.Reach), cmp.Compare(b.Near, a.Near),
		)
	})
	return out
}

// lineTo is the way to a marked move from the usual start: the chapter's own, or
// for a chapter that begins elsewhere the way of the walk or of their newest
// game that came there.
func lineTo(m *book.Marked, expected *walk.State, games Games) (walk.Track, bool) {
	if !m.SetUp {
		return walk.NewTrack(m.Line), true
	}
	if expected != nil {
		return walk.NewTrack(expected.Path()).And(m.Move), true
	}
	visits := games.Visits(m.Key)
	if len(visits) == 0 {
		return walk.Track{}, false
	}
	v := visits[len(visits)-1]
	return walk.NewTrack(games.All[v.Game].Moves[:v.Ply]).And(m.Move), true
}

func mistakeOf(b *book.Book, m *book.Marked, line walk.Track, games Games) fact.Mistake {
	mistake := fact.Mistake{Line: line.SANs, Yours: m.Mine, Note: m.Note, File: m.File, FileLine: m.FileLine}
	if !m.Mine {
		mistake.Answer = answerAt(b, &line.End)
	}
	mistake.Games, mistake.Last, _ = games.Cite(games.With(m.Key, m.Move))
	mistake.Reached, _, _ = games.Cite(games.Visits(m.Key))
	mistake.Near = mistake.Reached
	if before := len(line.Moves) - 1 - nearPlies; before >= nearFrom {
		near, _, _ := games.Cite(games.Visits(line.Keys[before]))
		mistake.Near = max(mistake.Near, near)
	}
	return mistake
}
