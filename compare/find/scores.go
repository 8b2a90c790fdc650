package find

import (
	"math"

	"foreply/compare/fact"
	"foreply/compare/walk"
	"foreply/profile"
)

const (
	scoreLeast = 5    // games with a result from which a score is told
	scoreFrom  = 2.   // standard errors above what was to be expected
	scorePly   = 3    // plies from which a position is a line
	scoreLeft  = 0.02 // what must be left of it, 0..1, weighed with their other games
	byChance   = 0.1  // chance above which such a score is said to turn up by itself
)

// Scores finds the positions of the lines to expect from which they scored best
// and worst, against what their ratings, or else their record with the colour,
// let expect. Positions that comments call decided are passed over. What one
// position tells of results is little, so the shrunk figure stands beside it, and
// whether such a score would turn up somewhere on the lines anyway: its normal
// tail times the number of positions looked at.
func Scores(w *walk.Walk, look *profile.Outlook, games Games) []fact.Trap {
	usual, spread := games.spread()
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
		got := games.sum(s, usual)
		if got.games < scoreLeast || games.decided(s) {
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
	for _, x := range []struct {
		kind string
		extreme
	}{{fact.TheyScore, best}, {fact.TheyFail, worst}} {
		if x.at == nil {
			continue
		}
		t := games.scoreTrap(x.kind, x.at, look)
		t.Usual, t.ByChance = usual, 2*float64(looks)*normalTail(x.z) > byChance
		if t.ByChance || math.Abs(t.Weighed-usual) < scoreLeft { // chance, or gone once it is weighed with their other games
			continue
		}
		if x.kind == fact.TheyFail {
			games.repaired(&t, x.at)
		}
		out = append(out, t)
	}
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

func (g Games) sum(s *walk.State, usual float64) sum {
	var out sum
	for game := range g.Of(g.Visits(s.Key)) {
		if game.Result == profile.NoResult {
			continue
		}
		out.games++
		out.points += ResultPoints(game.Result)
		out.expected += expectedOf(game, usual)
	}
	return out
}

// decided reports whether the comments of their games hold the position for no
// longer level.
func (g Games) decided(s *walk.State) bool {
	total, n := 0, 0
	for _, v := range g.Visits(s.Key) {
		if e, ok := g.All[v.Game].Eval(int(v.Ply), g.Tree.Theirs); ok {
			total, n = total+e, n+1
		}
	}
	return n > 0 && max(total/n, -total/n) > profile.LevelWithin
}

func (g Games) scoreTrap(kind string, s *walk.State, look *profile.Outlook) fact.Trap {
	line := walk.NewTrack(s.Path())
	places := once(g.Visits(s.Key))
	t := fact.Trap{
		Kind: kind, Line: line.SANs, Where: fact.InBook, Reach: s.Mass, Need: s.Mass / 2,
		Games: len(places), Of: len(places), Weighed: look.Results(line.Keys).Score(),
	}
	g.citeTrap(&t, places)
	return t
}

// once are the places of games that visits are of, each once.
func once(visits []profile.Visit) []int32 {
	var places []int32
	for i, v := range visits {
		if i == 0 || v.Game != visits[i-1].Game {
			places = append(places, v.Game)
		}
	}
	return places
}

// repaired tells whether they chose otherwise at their last move on the way to s
// since the last of the games, more often than one who goes on mixing would.
func (g Games) repaired(t *fact.Trap, s *walk.State) {
	visits := g.Visits(s.Key)
	last := visits[len(visits)-1].Game
	for s.Via != nil && s.Via.Pos.Turn() != g.Tree.Theirs {
		s = s.Via
	}
	if s.Via == nil {
		return
	}
	chosen, before := 0., 0.
	for _, v := range g.Visits(s.Via.Key) {
		switch {
		case v.Game > last:
			t.Since++
			t.Then, t.ThenPly = s.Via.Pos.SAN(v.Move), s.Via.Ply
		case v.Move == s.Move:
			chosen++
			before++
		default:
			before++
		}
	}
	t.Repaired = t.Since > 0 && math.Pow(1-chosen/before, float64(t.Since)) <= byChance
}
