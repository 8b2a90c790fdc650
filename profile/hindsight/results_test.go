package hindsight

import (
	"strings"
	"testing"

	"foreply/fetch/pgn"
	"foreply/profile"
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
