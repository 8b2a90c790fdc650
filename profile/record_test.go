package profile

import (
	"fmt"
	"testing"

	"foreply/fetch/pgn"
	"foreply/profile/board"
)

// Two lists and two bands. Over the board 1900 scores 1.5 of 2 against 1850 and
// 1850: Ra 1850, 75 % is +193 (FIDE Handbook B.02, table 8.1.1), and table 8.1.2
// expects 0.57 a game for 50 points.
func TestRecordsByBand(t *testing.T) {
	p := &Profile{Games: []Game{
		{Result: Win, Elo: 1900, RivalElo: 1850, Class: Classical},
		{Result: Draw, Elo: 1900, RivalElo: 1850},
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

// Lists are told by what exports of servers write.
func TestRatingLists(t *testing.T) {
	for _, c := range []struct {
		name, source string
		tags         pgn.Tags
		want         string
	}{
		{"a place", "", pgn.Tags{{Name: "Site", Value: "Weirside"}}, "over the board"},
		{"an unknown place", "", pgn.Tags{{Name: "Site", Value: "?"}}, "over the board"},
		{"an address", "", pgn.Tags{{Name: "Site", Value: "https://games.example.org:443/8afg"}}, "games.example.org"},
		{"time of a server", "", pgn.Tags{{Name: "Site", Value: "?"}, {Name: "UTCTime", Value: "10:00:00"}}, "online"},
		{"a source", "club", pgn.Tags{{Name: "Site", Value: "https://games.example.org/8afg"}}, "club"},
	} {
		tagged := &pgn.Game{Source: c.source}
		tagged.SetTags(c.tags)
		g := newGame(tagged, 0, nil)
		if got := g.List(); got != c.want {
			t.Errorf("%s: %q, want %q", c.name, got, c.want)
		}
	}
}

// Ten games between equals: 5 points expected, one standard deviation is
// sqrt(10/4) = 1.58. Six and a half points are nothing unusual, seven are more
// than that; of four games nothing is said.
func TestShowing(t *testing.T) {
	record := func(wins, draws, losses int) *Record {
		r := &Record{}
		for result, n := range map[Result]int{Win: wins, Draw: draws, Loss: losses} {
			for range n {
				r.enter(&Game{Result: result, Elo: 1500, RivalElo: 1500})
			}
		}
		return r
	}
	for points, want := range map[float64]int{3.5: AsRated, 3.51: AboveRating, 1.5: AsRated, 1.49: BelowRating} { // a deviation of just one says nothing
		if got, ok := (&Record{Rated: 5, Points: points, Expected: 2.5, spread: 1}).Showing(); got != want || !ok {
			t.Errorf("%v points: %d, %v", points, got, ok)
		}
	}
	for _, c := range []struct {
		wins, draws, losses, want int
		ok                        bool
	}{{6, 1, 3, AsRated, true}, {7, 0, 3, AboveRating, true}, {2, 2, 6, BelowRating, true}, {4, 0, 0, AsRated, false}} {
		if got, ok := record(c.wins, c.draws, c.losses).Showing(); got != c.want || ok != c.ok {
			t.Errorf("+%d =%d -%d: %d, %v", c.wins, c.draws, c.losses, got, ok)
		}
	}
}

// By class the slowest come first, by colour White; what keep doesn't want isn't there.
func TestRecordsByClassAndColor(t *testing.T) {
	p := &Profile{Games: []Game{
		{Result: Win, Header: pgn.Header{Speed: pgn.Blitz}, Theirs: board.Black}, {Result: Loss, Header: pgn.Header{Speed: pgn.Classical}}, {Result: Draw, Header: pgn.Header{Speed: pgn.Blitz}},
		{Result: Win}, {Result: Win, Index: 7},
	}}
	got := ""
	for _, by := range []func(*Game) (string, int){ByClass, ByColor} {
		for _, r := range p.Records(by, func(g *Game) bool { return g.Index != 7 }) {
			got += fmt.Sprintf("%s %d+%d=%d-, ", r.Group, r.Wins, r.Draws, r.Losses)
		}
	}
	if want := "classical 0+0=1-, blitz 1+1=0-, unknown 1+0=0-, white 1+1=1-, black 1+0=0-, "; got != want {
		t.Errorf("%s, want %s", got, want)
	}
}

// A band has its lower end and not its upper one.
func TestBands(t *testing.T) {
	for elo, want := range map[int]string{1799: "1600-1799", 1800: "1800-1999", 1999: "1800-1999", 2000: "2000-2199", 0: "no rating"} {
		if got, _ := ByBand(&Game{RivalElo: elo}); got != want {
			t.Errorf("%d stands in %s, want %s", elo, got, want)
		}
	}
}

// From 2650 on the whole difference counts in standard play, 800 points here: a sure win;
// in rapid and blitz 400 points at most: 0.92 (FIDE Handbook B.02, 8.3.1 and table 8.1.2;
// rapid and blitz, 7.3.1). A game without a clock is one over the board.
func TestRatingListOfAGame(t *testing.T) {
	for class, want := range map[Class]float64{Classical: 1, UnknownClass: 1, Rapid: 0.92, Blitz: 0.92, Bullet: 0.92} {
		r := &Record{}
		r.enter(&Game{Result: Win, Elo: 2700, RivalElo: 1900, Class: class})
		if r.Expected != want {
			t.Errorf("%v: %v expected, want %v", class, r.Expected, want)
		}
	}
}

// Lists come by their names, whatever the order of the groups in them.
func TestRecordsByListFirst(t *testing.T) {
	p := &Profile{Games: []Game{{Source: "club", Theirs: board.Black}, {Source: "a", Theirs: board.Black}, {Source: "club"}, {Source: "a"}}}
	got := ""
	for _, r := range p.Records(ByColor, nil) {
		got += r.List + " " + r.Group + ", "
	}
	if want := "a white, a black, club white, club black, "; got != want {
		t.Errorf("%s, want %s", got, want)
	}
}
