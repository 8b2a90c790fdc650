package hindsight

import (
	"fmt"
	"math"
	"slices"
	"strings"
	"testing"

	"foreply/fetch/pgn"
	"foreply/profile"
	"foreply/profile/board"
)

// Three games by hand, both players always rated 1500, so that nothing tilts; the
// two known games a day old. Judged from two known games
// on: only the third, which the opponent wins after 1.e4 e5; known are a win
// after 1.e4 e5 and a loss after 1.d4.
//
//	overall: 1 win of 2, 0.5, 1 bit
//	shrunk, after each of five moves (no known game moved on after the sixth):
//	q = (w + 250*q)/(w + 250) from 0.5, with w = 2^(-1/2200) = 0.999685: 0.509878,
//	0.971776 bits
//	raw: (1 + 1/3)/(1 + 1) = 2/3, 0.584963 bits
func TestResultsByHand(t *testing.T) {
	var games []*pgn.Game
	for _, row := range [][3]string{
		{"2020.01.01", "1-0", "e4 e5 Nf3 Nc6 Bb5 a6"}, {"2020.01.01", "0-1", "d4 d5 c4 e6 Nc3 Nf6"}, {"2020.01.02", "1-0", "e4 e5 Nf3 Nc6 Bb5 a6"},
	} {
		g := &pgn.Game{File: "hand.pgn", Index: len(games) + 1}
		g.SetTags(pgn.Tags{
			{Name: "White", Value: "Kestrel, Ada"}, {Name: "Black", Value: "Plover, Ivo"}, {Name: "Date", Value: row[0]},
			{Name: "Result", Value: row[1]}, {Name: "WhiteElo", Value: "1500"}, {Name: "BlackElo", Value: "1500"},
		})
		for san := range strings.FieldsSeq(row[2]) {
			g.Moves = append(g.Moves, pgn.Move{SAN: []byte(san)})
		}
		games = append(games, g)
	}
	f := TestResults(build(games), 2)
	if f.Games != 1 || off(f.Overall, 1) || off(f.Elo, 1) || off(f.Raw, 0.5849625) {
		t.Errorf("%+v", f)
	}
	if off(f.Shrunk, 0.971776) || off(f.Tilted, f.Shrunk) {
		t.Errorf("shrunk to %.6f bits", f.Shrunk)
	}
}

// By the ratings alone: 100 points are worth 1/(1 + 10^(-1/4)) = 0.640065. With
// a tenth of draws the win gets 0.590065; of six in ten there is room for 0.359935.
func TestByRatings(t *testing.T) {
	g := &profile.Game{Elo: 1600, RivalElo: 1500}
	if r := byRatings(g, 0.1); off(r.Win, 0.590065) || off(r.Draw, 0.1) || off(r.Loss, 0.309935) {
		t.Errorf("%+v", r)
	}
	if r := byRatings(g, 0.6); off(r.Win, 0.460097) || off(r.Draw, 0.359935) || off(r.Loss, 0.179968) {
		t.Errorf("%+v", r)
	}
}

// Which games' results are judged: those with a result and both ratings, once so many of the
// colour, one at least, are known.
func TestWhichResultsAreJudged(t *testing.T) {
	var games []*pgn.Game
	for i, c := range []struct{ result, own, rival string }{
		{"1-0", "1700", "1500"}, {"1-0", "1700", "1500"}, {"*", "1700", "1500"}, {"1/2-1/2", "1700", ""}, {"1-0", "", "1500"}, {"1/2-1/2", "1700", "1500"},
	} {
		g := played("e4 e5 Nf3 Nc6 Bb5 a6")[0]
		g.SetTags(append(slices.Clone(g.Tags()), pgn.Tag{Name: "Date", Value: fmt.Sprintf("2020.03.%02d", i+1)}, pgn.Tag{Name: "Result", Value: c.result},
			pgn.Tag{Name: "WhiteElo", Value: c.own}, pgn.Tag{Name: "BlackElo", Value: c.rival}))
		games = append(games, g)
	}
	for known, want := range map[int]int{0: 2, 1: 2, 2: 1, 5: 1, 6: 0} {
		if f := TestResults(build(games), known); f.Games != want {
			t.Errorf("%d known: %d games, want %d", known, f.Games, want)
		}
	}
	// The draw, of a stronger player, by each way of reckoning.
	p := build(games)
	look := profile.NewForecast(p, board.White, profile.ForecastOptions{Untuned: true}).On(p.Games[5].Span)
	keys := pathOf(&p.Games[5], look)
	here, overall := look.Results(keys), look.Results(keys[:1])
	e := 1 / (1 + math.Pow(10, -0.5)) // 200 points
	draws := min(overall.Draw, 1-e)
	for name, c := range map[string][2]float64{
		"raw":     {TestResults(p, 5).Raw, -math.Log2((1 + 1./3) / (4 + 1))}, // of four games with a result one was drawn
		"overall": {TestResults(p, 5).Overall, -math.Log2(overall.Draw)}, "elo": {TestResults(p, 5).Elo, -math.Log2(draws)},
		"shrunk": {TestResults(p, 5).Shrunk, -math.Log2(here.Draw)}, "tilted": {TestResults(p, 5).Tilted, -math.Log2(look.Against(here, 200).Draw)},
	} {
		if off(c[0], c[1]) {
			t.Errorf("%s: %v bits, want %v", name, c[0], c[1])
		}
	}
	// Of two games the mean is taken.
	two := TestResults(p, 1)
	p = p.Only(func(g *profile.Game) bool { return g.Date.Day < 6 })
	if one := TestResults(p, 1); one.Games != 1 || two.Games != 2 || off(two.Raw, (one.Raw+TestResults(build(games), 5).Raw)/2) || off(two.Tilted, (one.Tilted+TestResults(build(games), 5).Tilted)/2) {
		t.Errorf("two %+v, one %+v", two, one)
	}
}

// A way goes as long as known games did, 24 plies at most; shares are of the result that came.
func TestSharesOfResults(t *testing.T) {
	long := strings.Repeat(shuffle, 8)
	p := build(played(long, long))
	look := profile.NewForecast(p, board.White, profile.ForecastOptions{Untuned: true}).On(p.Games[1].Span)
	if keys := pathOf(&p.Games[1], look); len(keys) != 25 {
		t.Errorf("%d positions", len(keys))
	}
	r := profile.Results{Win: 0.5, Draw: 0.3, Loss: 0.2}
	count := profile.Count{Games: 12, Wins: 5, Draws: 2, Losses: 1, Unknown: 4}
	for came, want := range map[profile.Result][2]float64{profile.Win: {0.5, (5 + 1./3) / 9}, profile.Draw: {0.3, (2 + 1./3) / 9}, profile.Loss: {0.2, (1 + 1./3) / 9}} {
		if off(share(r, came), want[0]) || off(rawShare(count, came), want[1]) {
			t.Errorf("%s: %v and %v, want %v", came.Points(), share(r, came), rawShare(count, came), want)
		}
	}
}
