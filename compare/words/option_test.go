package words

import (
	"strings"
	"testing"

	"foreply/compare/fact"
)

// Every number of the fact differs, so that none can stand for another.
func optionSide() fact.Side {
	line := []string{"e4", "e5"}
	return fact.Side{Games: 40, Options: []fact.Option{
		{Line: line, Move: "Nf3", Main: true, Covered: 0.8, CoveredLo: 0.7, CoveredHi: 0.9, Depth: 11.4, Familiar: 23, Likeliest: "Nc6", Known: fact.NewShare(fact.Chance{P: 0.6, Lo: 0.5, Hi: 0.7}, 6, 10),
			Score: fact.Share{P: 0.52, Lo: 0.48, Hi: 0.56, Seen: 19}, Character: fact.Solid, Style: fact.Style{Of: 17, QueensOff: 6, ShortDraws: 3, Opposite: 2}},
		{Line: line, Move: "Nc3", Covered: 0.4, CoveredLo: 0.4, CoveredHi: 0.4, Depth: 6.6, Likeliest: "Nf6", Known: fact.NewShare(fact.Chance{P: 0.3, Lo: 0.2, Hi: 0.4}, 3, 10),
			Score: fact.Share{P: 0.51, Lo: 0.47, Hi: 0.55}},
	}}
}

func TestOptions(t *testing.T) {
	const (
		first  = "after 1.e4 e5, 2.Nf3: your book answers 8 in 10 (7–9) of their next moves and holds to about move 11; they have met it in 23 games; likeliest then 2...Nc6, 6 in 10 (5–7); your expected score 52 of 100, likely 48-56"
		second = "or 2.Nc3: your book answers 4 in 10 of their next moves and holds to about move 7; new to them in the games found; likeliest then 2...Nf6, 3 in 10 (2–4); your expected score 51 of 100, likely 47-55"
		open   = "; results don't separate these: play what you know best"
		style  = "; you call it solid; in 17 games: queens off by move 20 in 6, drawn before move 25 in 3, opposite castling in 2"
	)
	for name, c := range map[string]struct {
		change func(*fact.Side)
		want   []string
	}{
		"any":         {func(*fact.Side) {}, []string{first, second + open}},
		"for a win":   {func(s *fact.Side) { s.Aim = fact.ForWin }, []string{"for a win: " + first + style, second + open}},
		"for a draw":  {func(s *fact.Side) { s.Aim = fact.ForDraw }, []string{"for a draw: " + first + style, second + open}},
		"two rounds":  {func(s *fact.Side) { s.Aim = fact.ForTwoRounds }, []string{"with two rounds a day: " + first, second + open}},
		"a fast game": {func(s *fact.Side) { s.Aim = fact.ForFast }, []string{"at this clock: " + first, second + open}},
		"by results": {func(s *fact.Side) { s.Options[0].Reasons = []string{fact.ByResults} },
			[]string{first, second + "; 2.Nf3 is recommended: their results against it are worse than chance and ratings explain (19 games)"}},
		"by the book": {func(s *fact.Side) { s.Options[0].Reasons = []string{fact.ByBook} },
			[]string{first, second + "; 2.Nf3 is recommended: your book answers 8 in 10 (7–9) of what they play then, clearly more than after the others"}},
		"by both": {func(s *fact.Side) { s.Options[0].Reasons = []string{fact.ByResults, fact.ByBook} },
			[]string{first, second + "; 2.Nf3 is recommended: their results against it are worse than chance and ratings explain (19 games), and your book answers 8 in 10 (7–9) of what they play then, clearly more than after the others"}},
		"few games": {func(s *fact.Side) { s.Few = true }, []string{
			"after 1.e4 e5, 2.Nf3: prepared to about move 11; they have met it in 23 games", "or 2.Nc3: prepared to about move 7; new to them in the games found" + open,
		}},
		"hardly known": {func(s *fact.Side) { s.Options[0].CoveredLo = 0.3 }, []string{strings.Replace(first, "8 in 10 (7–9) of their next moves", "some of their next moves (how many is hardly known)", 1)}},
		"two positions": {func(s *fact.Side) {
			s.Aim, s.Options[0].Line, s.Options[1].Line = fact.ForFast, nil, []string{"d4", "d5"}
		}, []string{
			strings.NewReplacer("after 1.e4 e5, 2.Nf3", "at this clock: 1.Nf3", "2...Nc6", "1...Nc6").Replace(first) + open,
			strings.Replace(second, "or ", "at this clock: after 1.d4 d5, ", 1) + open,
		}},
	} {
		s := optionSide()
		c.change(&s)
		got := Strings(Options(&s))
		for i, want := range c.want {
			if got[i] != want {
				t.Errorf("%s: %q, want %q", name, got[i], want)
			}
		}
	}
}

// Whatever the user named, it is said whether it changed something.
func TestSituationSaid(t *testing.T) {
	line := []string{"e4", "e5", "Nf3", "Nc6", "Bc4"}
	check(t, map[string]string{
		"needing a win puts 3.Bc4, 1.e4 before your main choice":                                            Situation(&fact.Situation{Aim: fact.ForWin, Places: 2, First: [][]string{line, line[:1]}})[0].String(),
		"needing a draw changes nothing: your main choices come first as they are":                          Situation(&fact.Situation{Aim: fact.ForDraw, Places: 2})[0].String(),
		"a second round that day changes nothing: your book has one answer wherever these lines pass often": Situation(&fact.Situation{Aim: fact.ForTwoRounds})[0].String(),
	})
	if got := Situation(nil); got != nil {
		t.Errorf("%q", got)
	}
}
