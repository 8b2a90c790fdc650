package words

import (
	"testing"

	"foreply/compare/fact"
	"foreply/fetch/pgn"
)

// Every number of the fact differs, so that none can stand for another.
func TestMistake(t *testing.T) {
	met := fact.Mistake{Line: []string{"e4", "e5", "f3"}, Games: 2, Reached: 3, Near: 5, Often: &fact.Often{Chance: fact.Chance{P: 0.2}, TenLo: 1, TenHi: 3}, Last: pgn.ParseDate("2026.01.30")}
	for name, c := range map[string]struct {
		change func(*fact.Mistake)
		few    bool
		want   string
	}{
		"made":            {func(*fact.Mistake) {}, false, "is a mistake of theirs in your book; made in 2 of 3 games that came here, last 30 Jan 2026"},
		"answered":        {func(m *fact.Mistake) { m.Answer = "f4" }, false, "is a mistake of theirs, you have 2...f4; made in 2 of 3 games that came here, last 30 Jan 2026"},
		"of yours":        {func(m *fact.Mistake) { m.Yours = true }, false, "is a mistake of yours to avoid; made in 2 of 3 games that came here, last 30 Jan 2026"},
		"without a date":  {func(m *fact.Mistake) { m.Last = pgn.Date{} }, false, "is a mistake of theirs in your book; made in 2 of 3 games that came here"},
		"met, not made":   {func(m *fact.Mistake) { m.Games = 0 }, false, "is a mistake of theirs in your book; 3 games of theirs came here and did not make it; the place before comes in 2 in 10 games (1–3)"},
		"met in few":      {func(m *fact.Mistake) { m.Games = 0 }, true, "is a mistake of theirs in your book; 3 games of theirs came here and did not make it"},
		"nearly":          {func(m *fact.Mistake) { m.Games, m.Reached, m.Often = 0, 0, nil }, false, "is a mistake of theirs in your book; 5 games of theirs came close"},
		"only to be seen": {func(m *fact.Mistake) { m.Games, m.Reached, m.Near = 0, 0, 0 }, false, "is a mistake of theirs in your book; the place before comes in 2 in 10 games (1–3)"},
	} {
		m := met
		c.change(&m)
		if got := Mistake(&m, c.few).String(); got != c.want {
			t.Errorf("%s: %q, want %q", name, got, c.want)
		}
	}
}

// Spans keep what they are, and the last clause can go.
func TestSentence(t *testing.T) {
	s := Mistake(&fact.Mistake{Games: 2, Reached: 3, Last: pgn.ParseDate("2026.01.30")}, false)
	var kinds []Kind
	for _, span := range s.Spans() {
		if span.Kind != Plain {
			kinds = append(kinds, span.Kind)
		}
	}
	if len(kinds) != 2 || kinds[0] != Number || kinds[1] != Day {
		t.Errorf("kinds %v", kinds)
	}
	if got := s.First(2).String(); got != "is a mistake of theirs in your book; made in 2 of 3 games that came here" {
		t.Errorf("without its last clause %q", got)
	}
}
