package compare

import (
	"fmt"

	"foreply/compare/fact"
	"foreply/compare/walk"
	"foreply/compare/words"
	"foreply/profile"
	"foreply/profile/board"
	"foreply/profile/stat"
)

// Options are told of the positions that matter most.
const (
	optionPositions = 3
	optionReach     = 0.05
)

// options sets the user's answers side by side where the book has several, from
// the first move on, each followed by a walk of its own.
func (c *comparison) options(w *walk.Walk) []fact.Option {
	var out []fact.Option
	positions := 0
	for _, s := range w.Order {
		answers := c.book.Answers(s.Key)
		if s.Pos.Turn() != c.book.Mine || len(answers) < 2 || s.Mass < optionReach || positions == optionPositions {
			continue
		}
		positions++
		choice := make([]option, len(answers))
		for i, m := range answers {
			choice[i] = c.option(s, m)
			choice[i].Character = c.book.Character(s.Key, i)
		}
		choice[0].Main = true
		if !c.counted { // few games set nothing apart
			judge(choice)
		}
		c.arrange(choice)
		for i := range choice {
			choice[i].Text = choice[i].words(i == 0, c.counted) + choice[i].styleWords(c.opt.Need)
			if i == 0 {
				choice[i].Text = c.opt.situationLead() + choice[i].Text
			}
			if i == len(choice)-1 {
				choice[i].Text += "; " + verdict(choice)
			}
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

func (c *comparison) option(s *walk.State, m board.Move) option {
	after := s.Pos
	after.Play(m)
	w := c.walkFrom(after, s.Ply+1, c.opt.Threshold)
	line := walk.NewTrack(s.Path()).And(m)
	o := option{Option: fact.Option{
		Line: line.SANs[:s.Ply], Move: line.SANs[s.Ply], Reach: s.Mass,
		Score: c.expectedScore(line), Covered: w.AnsweredNext(), Depth: w.Depth(),
	}}
	if n := c.tree.At(s.Key); n != nil {
		if e := n.Edge(m); e != nil {
			o.Familiar = int(e.Games)
		}
	}
	if e := c.look.At(&after); len(e.Moves) > 0 {
		first := e.Moves[0]
		o.Likeliest, o.Known = after.SAN(first.Move), first.P
		o.CoveredLo, o.CoveredHi = around(profile.Between(o.Covered, e.Strength))
		o.KnownLo, o.KnownHi = around(first.Range)
	}
	o.Style = c.styleOf(line.End.Key())
	o.rated = o.Score.P + c.ratingsExplain(line.End.Key())
	return o
}

// around is an interval that holds its probability: near 0 and 1 the quantiles
// of a skewed distribution may both lie beyond its mean.
func around(r profile.Range) (lo, hi float64) { return min(r.Lo, r.P), max(r.Hi, r.P) }

// expectedScore is the user's expected score after a line: the opponent's
// results shrunk along the line towards their results with the colour.
func (c *comparison) expectedScore(t walk.Track) fact.Share {
	r := c.look.Results(t.Keys)
	yours := 1 - r.Score()
	lo, hi := stat.BetaInterval(yours, r.Strength())
	return fact.Share{P: yours, Lo: lo, Hi: hi, Seen: r.Games, Of: r.All}
}

// ratingsExplain is what must be added to the user's expected score after a
// position for the other players' ratings: those who met it may have scored well
// because they were the stronger. It is the opponent's expectation by the Elo
// formula less an even score, in games with both ratings, shrunk as the results
// are.
func (c *comparison) ratingsExplain(key uint64) float64 {
	sum, games := 0.0, 0
	for g := range c.found().Of(c.found().Visits(key)) {
		if g.Result == profile.NoResult {
			continue
		}
		games++
		if g.Elo > 0 && g.RivalElo > 0 {
			sum += stat.EloExpectation(float64(g.Elo-g.RivalElo)) - 0.5
		}
	}
	return sum / (float64(games) + profile.ResultsPrior)
}

// judge recommends an option only if something sets it apart from all the
// others by more than its uncertainty: results, beyond what the ratings explain,
// or how much of what follows the book answers. Where the two point to different
// options there is nothing to recommend. Familiar and predictable pull opposite
// ways and recommend nothing.
func judge(options []option) {
	byScore := apart(options, func(o *option) (lo, hi float64) {
		down, up := o.Score.P-o.Score.Lo, o.Score.Hi-o.Score.P
		return min(o.Score.P, o.rated) - down, max(o.Score.P, o.rated) + up
	})
	byBook := apart(options, func(o *option) (lo, hi float64) { return o.CoveredLo, o.CoveredHi })
	if byScore >= 0 && byBook >= 0 && byScore != byBook {
		return
	}
	if best := max(byScore, byBook); best >= 0 {
		o := &options[best]
		o.Recommended = true
		o.Reason = o.reason(byScore >= 0, byBook >= 0)
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

func (o *option) reason(byScore, byBook bool) string {
	score := fmt.Sprintf("their results against it are worse than chance and ratings explain (%s)", words.Plural(o.Score.Seen, "game"))
	book := o.covers("what they play then") + ", clearly more than after the others"
	switch {
	case byScore && byBook:
		return score + ", and " + book
	case byScore:
		return score
	}
	return book
}

// verdict is said once for the options of a position.
func verdict(options []option) string {
	for i := range options {
		if o := &options[i]; o.Recommended {
			return fmt.Sprintf("%s is recommended: %s", o.numbered(), o.Reason)
		}
	}
	return "results don't separate these: play what you know best"
}

func (o *option) numbered() string { return words.Movetext([]string{o.Move}, len(o.Line)) }

// words says what an option is; the first of a position says where it is.
func (o *option) words(first, counted bool) string {
	text := "or " + o.numbered()
	if first {
		text = o.numbered()
		if len(o.Line) > 0 {
			text = "after " + words.Parted(o.Line, nil) + ", " + text
		}
	}
	if counted {
		return fmt.Sprintf("%s: prepared to about move %.0f; %s", text, o.Depth, words.Familiar(o.Familiar))
	}
	text += fmt.Sprintf(": %s and holds to about move %.0f; %s", o.covers("their next moves"), o.Depth, words.Familiar(o.Familiar))
	if o.Likeliest != "" {
		text += fmt.Sprintf("; likeliest then %s, %s", words.Movetext([]string{o.Likeliest}, len(o.Line)+1),
			words.Tens(fact.Chance{P: o.Known, Lo: o.KnownLo, Hi: o.KnownHi}))
	}
	return text + fmt.Sprintf("; your expected score %.0f of 100, likely %.0f-%.0f",
		100*o.Score.P, 100*o.Score.Lo, 100*o.Score.Hi)
}

func (o *option) covers(what string) string {
	return words.Covers(fact.Chance{P: o.Covered, Lo: o.CoveredLo, Hi: o.CoveredHi}, what)
}
