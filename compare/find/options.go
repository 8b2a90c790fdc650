package find

import (
	"foreply/compare/fact"
	"foreply/compare/walk"
	"foreply/profile"
	"foreply/profile/board"
	"foreply/profile/stat"
)

// Options are told of the positions that matter most.
const (
	optionPositions = 3
	optionReach     = 0.05
)

// Options sets the user's answers side by side where the book has several, from
// the first move on, each followed by a walk of its own. Few games set nothing
// apart.
func Options(w *walk.Walk, look *profile.Outlook, games Games, few bool) []fact.Option {
	var out []fact.Option
	positions := 0
	for _, s := range w.Order {
		answers := w.Book.Answers(s.Key)
		if s.Pos.Turn() != w.Book.Mine || len(answers) < 2 || s.Mass < optionReach || positions == optionPositions {
			continue
		}
		positions++
		choice := make([]option, len(answers))
		for i, m := range answers {
			choice[i] = optionAt(w, look, games, s, m)
			choice[i].Character = w.Book.Character(s.Key, i)
		}
		choice[0].Main = true
		if !few {
			judge(choice)
		}
		for i := range choice {
			out = append(out, choice[i].Option)
		}
	}
	return out
}

// option is an Option with what only its judging needs.
type option struct {
	fact.Option
	rated float64 // the user's expected score, corrected for the ratings of those who met it
}

func optionAt(w *walk.Walk, look *profile.Outlook, games Games, s *walk.State, m board.Move) option {
	after := walk.Played(s.Pos, m)
	then := w.From(after, s.Ply+1)
	line := walk.NewTrack(s.Path()).And(m)
	key := after.Key()
	o := option{Option: fact.Option{
		Line: line.SANs[:s.Ply], Move: line.SANs[s.Ply], Reach: s.Mass,
		Score: expectedScore(look, line), Covered: then.AnsweredNext(), Depth: then.Depth(), Familiar: cameBy(s, m, games), Style: styleOf(games, key),
	}}
	if e := look.At(&after); len(e.Moves) > 0 {
		first := e.Moves[0]
		o.Likeliest, o.Known = after.SAN(first.Move), fact.NewShare(fact.Chance(first.Range), first.N, e.Visits)
		o.CoveredLo, o.CoveredHi = around(profile.Between(o.Covered, e.Strength))
	}
	o.rated = o.Score.P + ratingsExplain(games, key)
	return o
}

// around is an interval that holds its probability: near 0 and 1 the quantiles
// of a skewed distribution may both lie beyond its mean.
func around(r profile.Range) (lo, hi float64) { return min(r.Lo, r.P), max(r.Hi, r.P) }

// expectedScore is the user's expected score after a line: the opponent's
// results shrunk along the line towards their results with the colour.
func expectedScore(look *profile.Outlook, t walk.Track) fact.Share {
	r := look.Results(t.Keys)
	yours := 1 - r.Score()
	lo, hi := stat.BetaInterval(yours, r.Strength())
	return fact.Share{P: yours, Lo: lo, Hi: hi, Seen: r.Games, Of: r.All}
}

// ratingsExplain is what must be added to the user's expected score after a
// position for the other players' ratings: those who met it may have scored well
// because they were the stronger. It is the opponent's expectation by the Elo
// formula less an even score, in games with both ratings, shrunk as the results
// are.
func ratingsExplain(of Games, key uint64) float64 {
	sum, games := 0.0, 0
	for g := range of.Of(of.Visits(key)) {
		if g.Result == profile.NoResult {
			continue
		}
		games++
		sum += expectedOf(g, 0.5) - 0.5
	}
	return sum / (float64(games) + profile.ResultsPrior)
}

// judge recommends an option only if something sets it apart from all the
// others by more than its uncertainty: results, beyond what the ratings explain,
// or how much of what follows the book answers. Where the two point to different
// options there is nothing to recommend. Familiar and predictable pull opposite
// ways and recommend nothing.
func judge(options []option) {
	byResults := apart(options, func(o *option) (lo, hi float64) {
		down, up := o.Score.P-o.Score.Lo, o.Score.Hi-o.Score.P
		return min(o.Score.P, o.rated) - down, max(o.Score.P, o.rated) + up
	})
	byBook := apart(options, func(o *option) (lo, hi float64) { return o.CoveredLo, o.CoveredHi })
	best := max(byResults, byBook)
	if best < 0 || byResults >= 0 && byBook >= 0 && byResults != byBook {
		return
	}
	if byResults >= 0 {
		options[best].Reasons = append(options[best].Reasons, fact.ByResults)
	}
	if byBook >= 0 {
		options[best].Reasons = append(options[best].Reasons, fact.ByBook)
	}
}

// apart returns the option whose whole interval lies above those of all others,
// or -1.
func apart(options []option, of func(*option) (lo, hi float64)) int {
	for i := range options {
		lo, _ := of(&options[i])
		above := true
		for j := range options {
			if _, hi := of(&options[j]); i != j && hi >= lo {
				above = false
			}
		}
		if above {
			return i
		}
	}
	return -1
}

// styleOf counts the games through a position.
func styleOf(games Games, key uint64) fact.Style {
	var s fact.Style
	for g := range games.Of(games.Visits(key)) {
		enterStyle(&s, g)
	}
	return s
}

// UsualStyle counts all their games with the colour.
func UsualStyle(games Games) fact.Style {
	var s fact.Style
	for g := range games.Theirs() {
		enterStyle(&s, g)
	}
	return s
}

// enterStyle counts a game.
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
