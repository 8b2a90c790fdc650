package compare

import (
	"cmp"
	"slices"

	"foreply/compare/book"
	"foreply/compare/fact"
	"foreply/compare/walk"
	"foreply/compare/words"
)

// A game has nearly met a mistake if it came to within nearPlies of its place,
// on a way of at least nearFrom plies: everybody shares the first moves.
const (
	nearPlies = 2
	nearFrom  = 6
)

// mistakes lists the moves the book marks as mistakes, of either side, that they
// met, or nearly: those made most often first, then those whose position they
// reached, then those expected, then the near ones.
func (c *comparison) mistakes(w *walk.Walk) []fact.Mistake {
	reach, at := w.ByPosition()
	var out []fact.Mistake
	for i := range c.book.Mistakes {
		m := &c.book.Mistakes[i]
		line, ok := c.lineTo(m, at[m.Key])
		if !ok {
			continue
		}
		mistake := c.mistake(m, line)
		mistake.Reach = reach[m.Key]
		if mistake.Near == 0 && mistake.Reach == 0 {
			continue
		}
		mistake.Text = words.Mistake(&mistake, c.counted)
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
func (c *comparison) lineTo(m *book.Marked, expected *walk.State) (walk.Track, bool) {
	if !m.SetUp {
		return walk.NewTrack(m.Line), true
	}
	if expected != nil {
		return walk.NewTrack(expected.Path()).And(m.Move), true
	}
	visits := nodeVisits(c.tree.At(m.Key))
	if len(visits) == 0 {
		return walk.Track{}, false
	}
	v := visits[len(visits)-1]
	return walk.NewTrack(c.in.Profile.Games[v.Game].Moves[:v.Ply]).And(m.Move), true
}

func (c *comparison) mistake(m *book.Marked, line walk.Track) fact.Mistake {
	mistake := fact.Mistake{Line: line.SANs, Whose: "theirs", Note: m.Note, File: m.File, FileLine: m.FileLine}
	if m.Mine {
		mistake.Whose = "yours"
	}
	here := c.tree.At(m.Key)
	mistake.Games, mistake.Last, _ = c.cite(visitsWith(here, m.Move))
	mistake.Reached, _, _ = c.cite(nodeVisits(here))
	mistake.Near = mistake.Reached
	if before := len(line.Moves) - 1 - nearPlies; before >= nearFrom {
		near, _, _ := c.cite(nodeVisits(c.tree.At(line.Keys[before])))
		mistake.Near = max(mistake.Near, near)
	}
	return mistake
}
