package profile

import (
	"fmt"
	"testing"
)

// Two lists and two bands. Over the board 1900 scores 1.5 of 2 against 1850 and
// 1850: Ra 1850, 75 % is +193 (FIDE Handbook B.02, table 8.1.1), and table 8.1.2
// expects 0.57 a game for 50 points.
func TestRecordsByBand(t *testing.T) {
	p := &Profile{Games: []Game{
		{Result: Win, Elo: 1900, RivalElo: 1850, Class: Classical}, {Result: Draw, Elo: 1900, RivalElo: 1850},
		{Result: NoResult, Elo: 1900, RivalElo: 1850}, {Result: Loss, Elo: 1900},
		{Source: "club", Result: Loss, Elo: 2100, RivalElo: 2050, Class: Blitz},
	}}
	got := ""
	for _, r := range p.Records(ByBand, nil) {
		got += fmt.Sprintf("%s %s: +%d =%d -%d ?%d, %.1f of %d (%.2f expected), performance %d\n",
			r.List, r.Group, r.Wins, r.Draws, r.Losses, r.Unknown, r.Points, r.Rated, r.Expected, r.Performance.Rating)
	}
	want := `club 2000-2199: +0 =0 -1 ?0, 0.0 of 1 (0.57 expected), performance 1250
over the board 1800-1999: +1 =1 -0 ?1, 1.5 of 2 (1.14 expected), performance 2043
over the board no rating: +0 =0 -1 ?0, 0.0 of 0 (0.00 expected), performance 0
`
	if got != want {
		t.Errorf("got\n%swant\n%s", got, want)
	}
}
