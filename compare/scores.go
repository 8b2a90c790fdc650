package compare

import (
	"fmt"
	"math"
	"slices"
	"strings"

	"foreply/compare/fact"
	"foreply/compare/find"
	"foreply/compare/walk"
	"foreply/compare/words"
	"foreply/profile"
	"foreply/profile/stat"
)

const (
	scoreLeast = 5   // games with a result from which a score is told
	scoreFrom  = 2.  // standard errors above what was to be expected
	scorePly   = 3   // plies from which a position is a line
	byChance   = 0.1 // chance above which such a score is said to turn up by itself
)

// scores finds the positions of the lines to expect from which they scored best
// and worst, against what their ratings, or else their record with the colour,
// let expect. Positions that comments call decided are passed over. What one
// position tells of results is little, so the shrunk figure stands beside it, and
// whether such a score would turn up somewhere on the lines anyway: its normal
// tail times the number of positions looked at.
func (c *comparison) scores(w *walk.Walk) []fact.Trap {
	usual, spread := c.usual()
	if spread <= 0 {
		return nil
	}
	best, worst := extreme{z: scoreFrom}, extreme{z: scoreFrom}
	looks := 0
	var last sum
	for _, s := range w.Order {
		if s.Ply < scorePly {
			continue
		}
		got := c.scored(s, usual)
		if got.games < scoreLeast || c.decided(s) {
			continue
		}
		if got != last { // the same games again are no new look
			looks++
		}
		last = got
		z := (got.points - got.expected) / math.Sqrt(spread*float64(got.games))
		best.take(s, z)
		worst.take(s, -z)
	}
	var out []fact.Trap
	for kind, x := range map[string]extreme{fact.TheyScore: best, fact.TheyFail: worst} {
		if x.at != nil {
			out = append(out, c.scoreTrap(kind, x.at, usual, 2*float64(looks)*normalTail(x.z)))
		}
	}
	slices.SortFunc(out, func(a, b fact.Trap) int { return strings.Compare(b.Kind, a.Kind) })
	return out
}

// extreme is the state with the score furthest from what was to be expected, in
// standard errors.
type extreme struct {
	at *walk.State
	z  float64
}

func (x *extreme) take(s *walk.State, z float64) {
	if z > x.z {
		x.at, x.z = s, z
	}
}

// sum is what they scored and what was to be expected.
type sum struct {
	games            int
	points, expected float64
}

func (c *comparison) scored(s *walk.State, usual float64) sum {
	var out sum
	for g := range c.found().Of(c.found().Visits(s.Key)) {
		if g.Result == profile.NoResult {
			continue
		}
		out.games++
		out.points += find.ResultPoints(g.Result)
		if g.Elo > 0 && g.RivalElo > 0 {
			out.expected += stat.EloExpectation(float64(g.Elo - g.RivalElo))
		} else {
			out.expected += usual
		}
	}
	return out
}

// usual is their score with the colour, 0..1, and the variance of one result.
func (c *comparison) usual() (mean, variance float64) {
	squares, games := 0.0, 0.0
	for g := range c.in.Profile.With(c.tree.Theirs) {
		if g.Result != profile.NoResult {
			p := find.ResultPoints(g.Result)
			mean, squares, games = mean+p, squares+p*p, games+1
		}
	}
	if games == 0 {
		return 0.5, 0
	}
	mean /= games
	return mean, squares/games - mean*mean
}

// decided reports whether the comments of their games hold the position for no
// longer level.
func (c *comparison) decided(s *walk.State) bool {
	total, n := 0, 0
	for _, v := range c.found().Visits(s.Key) {
		if e, ok := c.in.Profile.Games[v.Game].Eval(int(v.Ply), c.tree.Theirs); ok {
			total, n = total+e, n+1
		}
	}
	return n > 0 && max(total/n, -total/n) > profile.LevelWithin
}

func (c *comparison) scoreTrap(kind string, s *walk.State, usual, chance float64) fact.Trap {
	line := walk.NewTrack(s.Path())
	t := fact.Trap{Kind: kind, Line: line.SANs, Where: fact.InBook, Reach: s.Mass, Need: s.Mass / 2}
	visits := c.found().Visits(s.Key)
	games := []int32{}
	for i, v := range visits {
		if i == 0 || v.Game != visits[i-1].Game {
			games = append(games, v.Game)
		}
	}
	t.Games, t.Of = len(games), len(games)
	c.citeTrap(&t, games)
	got, r := c.scored(s, usual), c.look.Results(line.Keys)
	t.Text = fmt.Sprintf("they scored %s from here, where ratings and record expect %.1f; weighed with their other games %.0f in 100, usually %.0f",
		words.Points(t.Score), got.expected, 100*r.Score(), 100*usual)
	if t.Last.Known() {
		t.Text += "; last " + words.Date(t.Last)
	}
	if kind == fact.TheyFail {
		c.repaired(&t, s, games[len(games)-1])
	}
	if chance > byChance {
		t.Text += "; such a score turns up by chance"
	}
	return t
}

// repaired tells whether they chose otherwise at their last move on the way to s
// since the last of the games, more often than one who goes on mixing would.
func (c *comparison) repaired(t *fact.Trap, s *walk.State, last int32) {
	for s.Via != nil && s.Via.Pos.Turn() == c.book.Mine {
		s = s.Via
	}
	if s.Via == nil {
		return
	}
	chosen, before := 0., 0.
	for _, v := range c.found().Visits(s.Via.Key) {
		switch {
		case v.Game > last:
			t.Since++
			t.Then = s.Via.Pos.SAN(v.Move)
		case v.Move == s.Move:
			chosen++
			before++
		default:
			before++
		}
	}
	if t.Since > 0 && math.Pow(1-chosen/before, float64(t.Since)) <= byChance {
		t.Text += fmt.Sprintf("; another way since (%s, last %s): may have repaired it",
			words.Plural(t.Since, "game"), words.Movetext([]string{t.Then}, s.Via.Ply))
	}
}

// normalTail is the chance that a standard normal value is above z.
func normalTail(z float64) float64 { return math.Erfc(z/math.Sqrt2) / 2 }
