package find

import (
	"cmp"
	"math"
	"slices"

	"foreply/compare/fact"
	"foreply/profile"
	"foreply/profile/board"
	"foreply/profile/stat"
)

// Limits of what is told about the opponent.
const (
	aboutShown = 3
	aboutGames = 12   // games from which a habit or a score is looked at
	aboutSlow  = 30   // games of the speed of the coming one from which the others are left aside
	aboutSure  = 0.98 // what is told lies outside what is usual by the whole of this interval
	aboutPeers = 200  // chances of peers to show a habit from which they, and not the table, say what is usual
	muchHigher = 200  // rating points
	longScore  = 50   // full moves from which a game is long for its score
	// longEdge is how much of the edge that ratings give is left in games that
	// last so long, since the favourite wins most of the others sooner: from 0.3 to
	// 0.8 in five sets of games (1,550 long ones), measured in November 2026.
	longEdge = 0.6
)

// oddity is a fact with how far it lies from what is usual: the distance of the
// near end of its interval from the near end of the expectation, in log odds.
type oddity struct {
	fact.About
	by float64
}

// expectation is a range of a share that is usual.
type expectation struct{ lo, hi float64 }

// habitTable holds what is told of habits and what is usual without peers: the
// range between two worlds as far apart as an opponent's may be, 999 online games
// of a day by players of all levels (mostly blitz) and 3,100 games over the board
// of two masters and their rivals. Measured for this table in November 2026 with
// profile.Tally; not published. What lies outside is unusual against both.
// Of some only what is often tells something.
var habitTable = []struct {
	habit     profile.Habit
	kind      string
	usual     expectation
	seldomToo bool // what is seldom is worth a word as well
}{
	{profile.LongCastling, fact.LongCastling, expectation{0.10, 0.14}, false},
	{profile.LateCastling, fact.LateCastling, expectation{0.13, 0.20}, true},
	{profile.EarlyQueens, fact.EarlyQueens, expectation{0.13, 0.24}, true},
	{profile.OppositeSides, fact.OppositeSides, expectation{0.11, 0.16}, false},
	{profile.ShortDraw, fact.ShortDraw, expectation{0.003, 0.07}, false},
	{profile.LongGame, fact.LongGame, expectation{0.07, 0.17}, true},
}

// usualInstant is the median number of moves played at once in the 1,400 blitz
// and rapid games of the same online day.
const usualInstant = 6

// About tells facts of the opponent that are worth a player's attention, most
// unusual first, then their plain record with each colour asked for.
func About(p *profile.Profile, class profile.Class, peers *profile.Peers, colors ...board.Color) []fact.About {
	var facts []fact.About
	games := comparableGames(p, class)
	odd := slices.Concat(games.habits(peers), games.scores(), instant(p))
	slices.SortStableFunc(odd, func(a, b oddity) int { return cmp.Compare(b.by, a.by) })
	for i := range odd {
		facts = append(facts, odd[i].About)
	}
	for _, theirs := range colors {
		if r := record(p, theirs); r.N+r.Score.Unknown > 0 {
			facts = append(facts, r)
		}
	}
	return facts[:min(len(facts), aboutShown)]
}

// aboutSet is the games that habits and scores are counted in, and their speed
// if it is not all games.
type aboutSet struct {
	games []*profile.Game
	speed string
}

// comparableGames are those of the speed of the coming game, if they are enough
// to count; else all.
func comparableGames(p *profile.Profile, class profile.Class) aboutSet {
	all, same := aboutSet{}, aboutSet{speed: class.Pace()}
	for i := range p.Games {
		g := &p.Games[i]
		all.games = append(all.games, g)
		if g.Speed != profile.UnknownClass && g.Speed.Pace() == class.Pace() { // of a speed that is not known nothing is said
			same.games = append(same.games, g)
		}
	}
	if len(same.games) >= aboutSlow && len(same.games) < len(all.games) {
		return same
	}
	return all
}

// habits are those that differ from what is usual.
func (set *aboutSet) habits(peers *profile.Peers) []oddity {
	var tally profile.Tally
	for _, g := range set.games {
		traits := g.Traits()
		tally.Enter(&traits, g.Theirs, g.Result == profile.Draw)
	}
	var out []oddity
	for _, row := range habitTable {
		t := tally[row.habit]
		if t.N < aboutGames {
			continue
		}
		a := fact.About{Kind: row.kind, K: t.K, N: t.N, Speed: set.speed, Usual: (row.usual.lo + row.usual.hi) / 2}
		usual := row.usual
		if peers != nil && peers.Habits[row.habit].N >= aboutPeers {
			p := peers.Habits[row.habit]
			usual.lo, usual.hi = stat.Wilson(float64(p.K), float64(p.N), 0.9)
			a.Peers, a.Usual = true, max(float64(p.K), 0.5)/float64(p.N)
		}
		by, often := outside(float64(t.K), float64(t.N), usual)
		if a.Above = often; by <= 0 || !often && !row.seldomToo {
			continue
		}
		out = append(out, oddity{a, by})
	}
	return out
}

// outside tells how far k of n lies outside what is usual, in log odds between
// the near ends of both intervals, and on which side; 0 or less is inside.
func outside(k, n float64, usual expectation) (by float64, above bool) {
	lo, hi := stat.Wilson(k, n, aboutSure)
	up, down := logOdds(lo)-logOdds(usual.hi), logOdds(usual.lo)-logOdds(hi)
	return max(up, down), up > down
}

// logOdds keeps 0 and 1 finite.
func logOdds(p float64) float64 {
	const least = 1e-3
	p = min(max(p, least), 1-least)
	return math.Log(p / (1 - p))
}

// scores are results that differ from what their ratings, or else their record,
// let expect.
func (set *aboutSet) scores() []oddity {
	gap := func(g *profile.Game) int {
		if g.Elo == 0 || g.RivalElo == 0 {
			return 0
		}
		return g.RivalElo - g.Elo
	}
	var out []oddity
	for _, row := range []struct {
		kind  string
		limit int
		edge  float64 // part of the edge that ratings give
		in    func(*profile.Game) bool
	}{
		{fact.AgainstLower, muchHigher, 1, func(g *profile.Game) bool { return gap(g) <= -muchHigher }},
		{fact.InLongGames, longScore, longEdge, func(g *profile.Game) bool { return len(g.Moves) >= 2*longScore-1 }},
	} {
		s, expected := set.score(row.in)
		points, n := float64(s.Wins)+float64(s.Draws)/2, float64(s.Games()-s.Unknown)
		if n < aboutGames {
			continue
		}
		share := 0.5 + row.edge*(expected/n-0.5)
		by, above := outside(points, n, expectation{share, share})
		if by <= 0 {
			continue
		}
		out = append(out, oddity{fact.About{
			Kind: row.kind, N: s.Games(), Above: above, Speed: set.speed, Score: s, Expected: share * n, Limit: row.limit,
		}, by})
	}
	return out
}

// score counts the results of some games, and what was to be expected of them:
// by both ratings, else the mean of all.
func (set *aboutSet) score(in func(*profile.Game) bool) (s fact.Score, expected float64) {
	points, games := 0.0, 0.0
	for _, g := range set.games {
		if g.Result != profile.NoResult {
			points, games = points+ResultPoints(g.Result), games+1
		}
	}
	for _, g := range set.games {
		if !in(g) {
			continue
		}
		AddResult(&s, g.Result)
		switch {
		case g.Result == profile.NoResult:
		case g.Elo > 0 && g.RivalElo > 0:
			expected += stat.EloExpectation(float64(g.Elo - g.RivalElo))
		default:
			expected += points / games
		}
	}
	return s, expected
}

// instant tells up to which move they usually play at once. How unusual that is
// is told by how many of the games go beyond, or fall short of, the usual
// number of moves: half would.
func instant(p *profile.Profile) []oddity {
	var moves []int
	above, below := 0.0, 0.0
	for i := range p.Games {
		n, ok := p.Games[i].Instant()
		if !ok || !p.Games[i].Class.Fast() { // what is usual was measured in fast games
			continue
		}
		moves = append(moves, n)
		switch {
		case n > usualInstant:
			above++
		case n < usualInstant:
			below++
		}
	}
	if len(moves) < timedLeast {
		return nil
	}
	by, far := outside(above, max(above+below, 1), expectation{0.5, 0.5})
	if by <= 0 {
		return nil
	}
	return []oddity{{fact.About{
		Kind: fact.AtOnce, N: len(moves), Above: far, Move: median(moves), UsualMove: usualInstant,
	}, by}}
}

// record is their results with a colour, beside what ratings let expect.
func record(p *profile.Profile, theirs board.Color) fact.About {
	a := fact.About{Kind: fact.PlainRecord, Color: theirs.String(), Rated: rated(p, theirs)}
	for g := range p.With(theirs) {
		AddResult(&a.Score, g.Result)
	}
	a.N = a.Score.Games() - a.Score.Unknown
	return a
}
