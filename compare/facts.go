package compare

import (
	"cmp"
	"fmt"
	"math"
	"slices"

	"foreply/compare/fact"
	"foreply/compare/words"
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
	timedLeast = 6    // games with clocks
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
	fact.Fact
	by float64
}

// expectation is a range of a share that is usual.
type expectation struct{ lo, hi float64 }

// habitTable holds what is told of habits and what is usual without peers: the
// range between two worlds as far apart as an opponent's may be, 999 online games
// of a day by players of all levels (mostly blitz) and 3,100 games over the board
// of two masters and their rivals. Measured for this table in November 2026 with
// profile.Tally; not published. What lies outside is unusual against both.
// Each has words for often and, where that tells something, for seldom; '12 of 40
// games' goes into them.
var habitTable = []struct {
	habit         profile.Habit
	usual         expectation
	often, seldom string
}{
	{profile.LongCastling, expectation{0.10, 0.14}, "castles long: in %s", ""},
	{
		profile.LateCastling, expectation{0.13, 0.20},
		"castles late or never: uncastled at move 20 in %s", "castles early: uncastled at move 20 in %s",
	},
	{
		profile.EarlyQueens, expectation{0.13, 0.24},
		"queens come off early: by move 20 in %s", "keeps the queens on: off by move 20 in %s",
	},
	{profile.OppositeSides, expectation{0.11, 0.16}, "castling on opposite sides: in %s", ""},
	{profile.ShortDraw, expectation{0.003, 0.07}, "draws early: before move 25 in %s", ""},
	{profile.LongGame, expectation{0.07, 0.17}, "long games: 60 moves or more in %s", "short games: 60 moves or more in %s"},
}

// usualInstant is the median number of moves played at once in the 1,400 blitz
// and rapid games of the same online day.
const usualInstant = 6

// about tells at most three facts of the opponent that are worth a player's
// attention: what is most unusual, then their plain record with the colours at
// hand.
func about(in *Input, r *fact.Report, opt Options) []fact.Fact {
	var facts []fact.Fact
	games := comparableGames(in.Profile, opt.Class)
	odd := slices.Concat(games.habits(in.Peers), games.scores(), instant(in.Profile))
	slices.SortStableFunc(odd, func(a, b oddity) int { return cmp.Compare(b.by, a.by) })
	for i := range odd {
		facts = append(facts, odd[i].Fact)
	}
	for i := range r.Sides {
		if r.Sides[i].Games > 0 {
			facts = append(facts, plainRecord(&r.Sides[i], in, in.Books[i].Mine.Other()))
		}
	}
	return facts[:min(len(facts), aboutShown)]
}

// aboutSet is the games that habits and scores are counted in, and what they
// are called.
type aboutSet struct {
	games []*profile.Game
	word  string // 'game', 'slow game'
}

// comparableGames are those of the speed of the coming game, if they are enough
// to count; else all.
func comparableGames(p *profile.Profile, class profile.Class) aboutSet {
	all, same := aboutSet{word: "game"}, aboutSet{word: class.Speed() + " game"}
	for i := range p.Games {
		g := &p.Games[i]
		all.games = append(all.games, g)
		if g.Class.Speed() == class.Speed() {
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
		usual, source, at := row.usual, "usual", (row.usual.lo+row.usual.hi)/2
		if peers != nil && peers.Habits[row.habit].N >= aboutPeers {
			p := peers.Habits[row.habit]
			usual.lo, usual.hi = stat.Wilson(float64(p.K), float64(p.N), 0.9)
			source, at = "players like them", max(float64(p.K), 0.5)/float64(p.N)
		}
		by, often := outside(float64(t.K), float64(t.N), usual)
		text := row.seldom
		if often {
			text = row.often
		}
		if by <= 0 || text == "" {
			continue
		}
		count := fmt.Sprintf("%d of %s", t.K, words.Plural(t.N, set.word))
		out = append(out, oddity{by: by, Fact: fact.Fact{
			Text: fmt.Sprintf(text, count) + fmt.Sprintf(" (%s: %s)", source, words.Rate(at)), N: t.N,
		}})
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
	for _, kind := range []struct {
		text string
		edge float64 // part of the edge that ratings give
		in   func(*profile.Game) bool
	}{
		{fmt.Sprintf("against players %d or more above them", muchHigher), 1, func(g *profile.Game) bool { return gap(g) >= muchHigher }},
		{fmt.Sprintf("against players %d or more below them", muchHigher), 1, func(g *profile.Game) bool { return gap(g) <= -muchHigher }},
		{fmt.Sprintf("in games of %d moves or more", longScore), longEdge, func(g *profile.Game) bool { return len(g.Moves) >= 2*longScore-1 }},
	} {
		s, expected := set.score(kind.in)
		points, n := float64(s.Wins)+float64(s.Draws)/2, float64(s.Games()-s.Unknown)
		if n < aboutGames {
			continue
		}
		share := 0.5 + kind.edge*(expected/n-0.5)
		by, above := outside(points, n, expectation{share, share})
		if by <= 0 {
			continue
		}
		how := "did badly "
		if above {
			how = "did well "
		}
		out = append(out, oddity{by: by, Fact: fact.Fact{
			Text: how + kind.text + fmt.Sprintf(": scored %s, expected about %.0f", words.Points(s), share*n), N: s.Games(),
		}})
	}
	return out
}

// score counts the results of some games, and what was to be expected of them:
// by both ratings, else the mean of all.
func (set *aboutSet) score(in func(*profile.Game) bool) (s fact.Score, expected float64) {
	points, games := 0.0, 0.0
	for _, g := range set.games {
		if g.Result != profile.NoResult {
			points, games = points+pointsFor(g.Result), games+1
		}
	}
	for _, g := range set.games {
		if !in(g) {
			continue
		}
		addResult(&s, g.Result)
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
		if !ok || p.Games[i].Class.Slow() { // what is usual was measured in fast games
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
	slices.Sort(moves)
	by, far := outside(above, max(above+below, 1), expectation{0.5, 0.5})
	if by <= 0 {
		return nil
	}
	middle, games := moves[len(moves)/2], words.Plural(len(moves), "fast game")
	text := fmt.Sprintf("usually instant to move %d (%s with clocks; others to move %d)", middle, games, usualInstant)
	if !far {
		text = fmt.Sprintf("thinks early, usually from move %d on (%s with clocks; others from move %d)", middle+1, games, usualInstant+1)
	}
	return []oddity{{by: by, Fact: fact.Fact{Text: text, N: len(moves)}}}
}

// plainRecord is their score with a colour, beside what ratings let expect.
func plainRecord(s *fact.Side, in *Input, theirs board.Color) fact.Fact {
	return fact.Fact{
		Text: fmt.Sprintf("with %s they scored %s", colourWord(theirs), words.Points(s.Score)) + asRated(in.Profile, theirs), N: s.Games - s.Score.Unknown,
	}
}
