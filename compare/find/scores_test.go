package find

import (
	"math"
	"reflect"
	"slices"
	"strings"
	"testing"

	"foreply/compare/fact"
	"foreply/profile"
	"foreply/profile/board"
)

// ratedGame is a game of theirs with Black of so many plies, by the ratings of theirs and the
// other's; 0 is none.
func ratedGame(r profile.Result, elo, rival, plies int) *profile.Game {
	return &profile.Game{Theirs: board.Black, Result: r, Elo: elo, RivalElo: rival, Moves: make([]board.Move, plies)}
}

func times(n int, g *profile.Game) []*profile.Game {
	return slices.Repeat([]*profile.Game{g}, n)
}

// Results against lower rated and in long games: told of twelve games with a result on, beside
// what the ratings let expect, of long games six tenths of their edge. A game with one rating
// shows no gap, one of 98 plies is not long, one without a result is counted and expects nothing.
func TestScoresWhole(t *testing.T) {
	unrated := times(20, ratedGame(profile.Win, 2000, 0, 2))
	lost, drawn, open := ratedGame(profile.Loss, 2000, 1800, 2), ratedGame(profile.Draw, 2000, 1800, 2), ratedGame(profile.NoResult, 2000, 1800, 2)
	fast, slow := 1/(1+math.Pow(10, -0.5)), 1/(1+math.Pow(10, -199.0/400))
	lower := fact.About{Kind: fact.AgainstLower, N: 13, Speed: "slow", Score: fact.Score{Draws: 2, Losses: 10, Unknown: 1}, Expected: 12 * fast, Limit: 200}
	inLong := fact.About{Kind: fact.InLongGames, N: 20, Above: true, Speed: "slow", Score: fact.Score{Wins: 20}, Expected: 20 * (0.5 + 0.6*(slow-0.5)), Limit: 50}
	for name, c := range map[string]struct {
		games []*profile.Game
		want  []fact.About
		by    float64
	}{
		"against lower":    {slices.Concat(unrated, times(10, lost), times(2, drawn), times(1, open)), []fact.About{lower}, outsideOf(1, 12, fast)},
		"eleven games":     {slices.Concat(unrated, times(10, lost), times(1, drawn), times(3, open)), nil, 0},
		"all drawn":        {times(12, drawn), nil, 0},
		"in long games":    {times(20, ratedGame(profile.Win, 2000, 1801, 99)), []fact.About{inLong}, outsideOf(20, 20, 0.5+0.6*(slow-0.5))},
		"a ply too short":  {times(20, ratedGame(profile.Win, 2000, 1801, 98)), nil, 0},
		"those far higher": {times(20, ratedGame(profile.Loss, 0, 1801, 2)), nil, 0},
	} {
		set := aboutSet{c.games, "slow"}
		var got []fact.About
		for _, o := range set.scores() {
			if math.Abs(o.by-c.by) > 1e-9 {
				t.Errorf("%s: %v outside, want %v", name, o.by, c.by)
			}
			got = append(got, o.About)
		}
		for i := range min(len(got), len(c.want)) {
			if math.Abs(got[i].Expected-c.want[i].Expected) < 1e-9 {
				got[i].Expected = c.want[i].Expected
			}
		}
		if !reflect.DeepEqual(got, c.want) {
			t.Errorf("%s: %+v", name, got)
		}
	}
}

func outsideOf(k, n, usual float64) float64 {
	by, _ := outside(k, n, expectation{usual, usual})
	return by
}

// What is to be expected of games: by both ratings, else the mean of all games with a result,
// 3½ of 5 here; of one without a result nothing.
func TestScoreExpected(t *testing.T) {
	set := aboutSet{games: []*profile.Game{
		ratedGame(profile.Win, 0, 0, 2), ratedGame(profile.Win, 0, 0, 2), ratedGame(profile.Loss, 0, 0, 2), ratedGame(profile.Win, 2000, 0, 2), ratedGame(profile.Draw, 2000, 2000, 2),
		ratedGame(profile.NoResult, 0, 0, 2), ratedGame(profile.NoResult, 2000, 2000, 2),
	}}
	s, expected := set.score(func(*profile.Game) bool { return true })
	if s != (fact.Score{Wins: 3, Draws: 1, Losses: 1, Unknown: 2}) || math.Abs(expected-(4*0.7+0.5)) > 1e-9 {
		t.Errorf("%+v, expected %v", s, expected)
	}
	if logOdds(0.5) != 0 || math.Abs(logOdds(0.75)-math.Log(3)) > 1e-9 || math.Abs(logOdds(0)+logOdds(1)) > 1e-9 || math.IsInf(logOdds(1), 0) {
		t.Errorf("%v %v %v %v", logOdds(0.5), logOdds(0.75), logOdds(0), logOdds(1))
	}
}

// The mean of games with the colour, and how far results lie from it: 2½ of 4, one without a
// result beside them, none known of the other colour. Where there is no game half is expected.
func TestSpreadOfResults(t *testing.T) {
	p := &profile.Profile{}
	for _, g := range []*profile.Game{ratedGame(profile.Win, 0, 0, 2), ratedGame(profile.Win, 0, 0, 2), ratedGame(profile.Draw, 2000, 0, 2), ratedGame(profile.Loss, 0, 2000, 2), ratedGame(profile.NoResult, 0, 0, 2)} {
		p.Games = append(p.Games, *g)
	}
	games := Games{All: p.Games, Tree: &profile.Tree{Theirs: board.Black}}
	if mean, variance := games.spread(); mean != 0.625 || variance != 2.25/4-0.625*0.625 {
		t.Errorf("mean %v, variance %v", mean, variance)
	}
	if mean, variance := (Games{All: p.Games, Tree: &profile.Tree{}}).spread(); mean != 0.5 || variance != 0 {
		t.Errorf("no game: mean %v, variance %v", mean, variance)
	}
	visits := []profile.Visit{{Game: 2}, {Game: 3}, {Game: 4}} // one rating tells nothing
	if got := games.Expected(visits); got != 1.25 {
		t.Errorf("expected %v", got)
	}
	// Of a gap: 1, 1, ½ and 0 are 2.25 in squares, less 2.5²/4, over three.
	g := gap{games: games}
	if got := g.spread([]profile.Visit{{Game: 0}, {Game: 1}, {Game: 2}, {Game: 3}, {Game: 4}}); math.Abs(got-(2.25-6.25/4)/3) > 1e-9 {
		t.Errorf("spread %v", got)
	}
	if got := g.spread([]profile.Visit{{Game: 0}, {Game: 4}}); got != 0 {
		t.Errorf("of one result %v", got)
	}
	if ResultPoints(profile.Win) != 1 || ResultPoints(profile.Draw) != 0.5 || ResultPoints(profile.Loss) != 0 {
		t.Error("what a result is worth")
	}
}

// Twelve games tell a habit, with their speed; beside two hundred chances of peers these say
// what is usual, be it never.
func TestHabitsAtTheirEdges(t *testing.T) {
	long := slices.Repeat([]*profile.Game{ratedGame(profile.Win, 0, 0, 120)}, 12)
	told := func(games []*profile.Game, peers *profile.Peers) *fact.About {
		set := aboutSet{games, "blitz"}
		for _, o := range set.habits(peers) {
			if o.Kind == fact.LongGame {
				o.Usual = math.Round(1e9*o.Usual) / 1e9
				return &o.About
			}
		}
		return nil
	}
	peers := func(k, n int) *profile.Peers {
		p := &profile.Peers{}
		p.Habits[profile.LongGame].K, p.Habits[profile.LongGame].N = k, n
		return p
	}
	for name, c := range map[string]struct {
		games []*profile.Game
		peers *profile.Peers
		want  *fact.About
	}{
		"alone":              {long, nil, &fact.About{Kind: fact.LongGame, K: 12, N: 12, Above: true, Speed: "blitz", Usual: 0.12}},
		"eleven games":       {long[:11], nil, nil},
		"beside peers":       {long, peers(20, 200), &fact.About{Kind: fact.LongGame, K: 12, N: 12, Above: true, Speed: "blitz", Usual: 0.1, Peers: true}},
		"peers who never do": {long, peers(0, 200), &fact.About{Kind: fact.LongGame, K: 12, N: 12, Above: true, Speed: "blitz", Usual: 0.0025, Peers: true}},
		"peers who all do":   {long, peers(400, 400), nil},
	} {
		if got := told(c.games, c.peers); !reflect.DeepEqual(got, c.want) {
			t.Errorf("%s: %+v", name, got)
		}
	}
	// Theirs, with Black, castles at once; the other side never does.
	moves := ": e4 e5 Nf3 Nf6 Bc4 Bc5 d3 O-O" + strings.Repeat(" Qe2 Qe7 Qd1 Qd8", 12)
	if a := about(t, repeated(60, "0-1 300 -"+moves)...)[fact.LateCastling]; a.Above || a.K != 0 || a.N != 60 {
		t.Errorf("late castling: %+v", a)
	}
	p := &profile.Profile{Games: make([]profile.Game, 60)} // half of them of unknown speed
	for i := range 30 {
		p.Games[i].Speed = profile.Blitz
	}
	for class, want := range map[profile.Class]int{profile.UnknownClass: 60, profile.Blitz: 30} {
		if set := comparableGames(p, class); len(set.games) != want {
			t.Errorf("before a game of class %v: %d games", class, len(set.games))
		}
	}
}

// Their record with each colour asked for, in that order, each beside the ratings of its own
// games; three facts at most. One without a result is no less one of the list.
func TestRecordsOfBothColours(t *testing.T) {
	p := &profile.Profile{}
	add := func(n int, theirs board.Color, r profile.Result) {
		for range n {
			p.Games = append(p.Games, profile.Game{Source: "club", Theirs: theirs, Result: r, Elo: 1500, RivalElo: 1500})
		}
	}
	add(8, board.White, profile.Win)
	add(2, board.White, profile.Loss)
	add(5, board.Black, profile.Win)
	add(5, board.Black, profile.Loss)
	add(1, board.Black, profile.NoResult)
	got := About(p, profile.Blitz, nil, board.Black, board.White)
	want := []fact.About{
		{Kind: fact.PlainRecord, Color: "black", N: 10, Score: fact.Score{Wins: 5, Losses: 5, Unknown: 1}, Rated: &fact.Rated{List: "club", Games: 10, Points: 5, Expected: 5, All: true}},
		{Kind: fact.PlainRecord, Color: "white", N: 10, Score: fact.Score{Wins: 8, Losses: 2}, Rated: &fact.Rated{List: "club", Games: 10, Points: 8, Expected: 5, Beside: 1, All: true}},
	}
	if !reflect.DeepEqual(got, want) {
		t.Errorf("got\n  %+v\nwant\n  %+v", got, want)
	}
}

// The newest rating of a list; over the board no speed is named with it.
func TestRatingOverTheBoard(t *testing.T) {
	p := gamesOf(t, "2026.01.02 1-0 300 1800: e4 e5", "2026.01.03 1-0 5400 1800 Club Blitz: e4 e5")
	got := NewestRatings(p)
	if len(got) != 1 || got[0].Speed != "" || got[0].Value != 2000 || got[0].Date.Day != 3 {
		t.Errorf("%+v", got)
	}
}
