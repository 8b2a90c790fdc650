package rank

import (
	"cmp"
	"slices"

	"foreply/compare/fact"
)

// Options puts the options of each position in the order of what they are for: for
// a win or a draw by the user's own labels, then by the style of the games, held
// against the usual one; where time is short by how far the book holds. Results do
// not enter.
func Options(list []fact.Option, aim string, usual fact.Style) []fact.Option {
	out := slices.Clone(list)
	for from := 0; from < len(out); {
		to := from + 1
		for to < len(out) && slices.Equal(out[to].Line, out[from].Line) {
			to++
		}
		slices.SortStableFunc(out[from:to], func(a, b fact.Option) int {
			switch aim {
			case fact.ForWin:
				return cmp.Or(cmp.Compare(solidity(&a), solidity(&b)), cmp.Compare(quiet(&a.Style, &usual), quiet(&b.Style, &usual)))
			case fact.ForDraw:
				return cmp.Or(cmp.Compare(solidity(&b), solidity(&a)), cmp.Compare(quiet(&b.Style, &usual), quiet(&a.Style, &usual)))
			case fact.ForTwoRounds, fact.ForFast:
				return cmp.Compare(b.Depth, a.Depth)
			}
			return 0
		})
		from = to
	}
	return out
}

// solidity orders the user's labels.
func solidity(o *fact.Option) int {
	return slices.Index([]string{fact.Sharp, "", fact.Solid}, o.Character)
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
