package compare

import (
	"cmp"
	"fmt"
	"slices"

	"foreply/compare/fact"
	"foreply/compare/words"
	"foreply/profile"
)

// enter counts a game.
func enterStyle(s *fact.Style, g *profile.Game) {
	var t profile.Tally
	traits := g.Traits()
	t.Enter(&traits, g.Theirs, g.Result == profile.Draw)
	if t[profile.EarlyQueens].N+t[profile.ShortDraw].K == 0 {
		return
	}
	s.Of++
	s.QueensOff += t[profile.EarlyQueens].K
	s.ShortDraws += t[profile.ShortDraw].K
	s.Opposite += t[profile.OppositeSides].K
}

// styleOf counts the games through a position.
func (c *comparison) styleOf(key uint64) fact.Style {
	var s fact.Style
	for g := range c.found().Of(c.found().Visits(key)) {
		enterStyle(&s, g)
	}
	return s
}

// stylePrior is how many games' weight their usual style has beside that after
// an option: with few games there, what they show is mostly chance.
const stylePrior = 20

// quiet is how quiet their games after an option are: early exchanges and short
// draws less opposite castling, each game once, shrunk to what is usual.
func quiet(s *fact.Style, usual *fact.Style) float64 {
	mean := func(s *fact.Style) float64 { return float64(s.QueensOff + s.ShortDraws - s.Opposite) }
	if usual.Of == 0 {
		return 0
	}
	return (mean(s) + stylePrior*mean(usual)/float64(usual.Of)) / float64(s.Of+stylePrior)
}

// arrange puts the options of a position in the order of the situation: for a win
// or a draw by the user's own labels, then by the style of the games; else, where
// time is short, by how far the book holds. Results do not enter.
func (c *comparison) arrange(options []option) {
	var usual fact.Style
	if c.opt.Need != fact.AnyResult {
		for g := range c.in.Profile.With(c.tree.Theirs) {
			enterStyle(&usual, g)
		}
	}
	rank := func(o *option) int {
		at := slices.Index([]string{fact.Sharp, "", fact.Solid}, o.Character)
		if c.opt.Need == fact.NeedDraw {
			return -at
		}
		return at
	}
	slices.SortStableFunc(options, func(a, b option) int {
		switch c.opt.Need {
		case fact.NeedWin:
			return cmp.Or(cmp.Compare(rank(&a), rank(&b)), cmp.Compare(quiet(&a.Style, &usual), quiet(&b.Style, &usual)))
		case fact.NeedDraw:
			return cmp.Or(cmp.Compare(rank(&a), rank(&b)), cmp.Compare(quiet(&b.Style, &usual), quiet(&a.Style, &usual)))
		}
		if c.opt.short() {
			return cmp.Compare(b.Depth, a.Depth)
		}
		return 0
	})
}

// short reports whether time is short: a fast game, or another round on the same
// day.
func (o *Options) short() bool {
	return o.DoubleRound || o.Class != profile.UnknownClass && !o.Class.Slow()
}

// situationLead begins the options of a position with what they are ordered for.
func (o *Options) situationLead() string {
	switch {
	case o.Need == fact.NeedWin:
		return "for a win: "
	case o.Need == fact.NeedDraw:
		return "for a draw: "
	case o.DoubleRound:
		return "with two rounds a day: "
	case o.short():
		return "at this clock: "
	}
	return ""
}

// styleWords tells the user's label and the style of the games, where the
// situation asks for it.
func (o *option) styleWords(need fact.Need) string {
	if need == fact.AnyResult {
		return ""
	}
	text := ""
	if o.Character != "" {
		text = "; you call it " + o.Character
	}
	if s := o.Style; s.Of > 0 {
		text += fmt.Sprintf("; in %s: queens off by move 20 in %d, drawn before move 25 in %d, opposite castling in %d",
			words.Plural(s.Of, "game"), s.QueensOff, s.ShortDraws, s.Opposite)
	}
	return text
}

// situationTasks are the places where the situation asks for another answer than
// the main choice: only where the user's own labels say so.
func situationTasks(options []fact.Option, need fact.Need, stem []string) []fact.Task {
	wanted := [...]string{fact.NeedWin: fact.Sharp, fact.NeedDraw: fact.Solid}
	if need == fact.AnyResult {
		return nil
	}
	var tasks []fact.Task
	for i := range options {
		o := &options[i]
		firstHere := i == 0 || !slices.Equal(options[i-1].Line, o.Line)
		if !firstHere || o.Main || o.Character != wanted[need] {
			continue
		}
		line := slices.Concat(o.Line, []string{o.Move})
		tasks = append(tasks, fact.Task{
			Kind: "look", Lead: "choose", Moves: line, Need: o.Reach / 2, Minutes: chooseMinutes,
			Text: fmt.Sprintf("%s for a %s: you call it %s", words.Parted(line, stem), need, o.Character),
		})
	}
	return tasks
}
