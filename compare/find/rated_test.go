package find

import (
	"reflect"
	"testing"

	"foreply/compare/fact"
	"foreply/fetch/pgn"
	"foreply/profile"
	"foreply/profile/board"
)

// listed games of a player rated 1500 against 1500, in one rating list.
func listedGames(source string, class profile.Class, wins, losses, unrated int) []profile.Game {
	var out []profile.Game
	add := func(n int, result profile.Result, rival int) {
		for range n {
			out = append(out, profile.Game{Source: source, Class: class, Result: result, Elo: 1500, RivalElo: rival})
		}
	}
	add(wins, profile.Win, 1500)
	add(losses, profile.Loss, 1500)
	add(unrated, profile.Win, 0)
	return out
}

// Between equals half the points are expected; four points more of ten is beyond
// one standard deviation, 1.58.
func TestAsRated(t *testing.T) {
	club := listedGames("club", profile.Classical, 5, 5, 0)
	all := func(points float64, beside int) *fact.Rated {
		return &fact.Rated{List: "club", Games: 10, Points: points, Expected: 5, Beside: beside, All: true}
	}
	some := &fact.Rated{List: "club", Games: 10, Points: 5, Expected: 5}
	for _, c := range []struct {
		name  string
		want  *fact.Rated
		games []profile.Game
	}{
		{"all rated", all(5, 0), club},
		{"better", all(9, 1), listedGames("club", profile.Classical, 9, 1, 0)},
		{"worse", all(1, -1), listedGames("club", profile.Classical, 1, 9, 0)},
		{"some not rated", some, listedGames("club", profile.Classical, 5, 5, 3)},
		{"two lists", some, append(listedGames("server", profile.Blitz, 0, 6, 0), club...)},
		{"too few", nil, listedGames("club", profile.Classical, 2, 2, 9)},
		{"none", nil, nil},
	} {
		if got := rated(&profile.Profile{Games: c.games}, board.White); !reflect.DeepEqual(got, c.want) {
			t.Errorf("%s: %+v, want %+v", c.name, got, c.want)
		}
	}
}

func dated(tag string) pgn.Header { return pgn.Header{Date: pgn.ParseDate(tag)} }

func TestNewestRatings(t *testing.T) {
	p := &profile.Profile{Games: []profile.Game{
		{Source: "server", Class: profile.Blitz, Elo: 1700, Header: dated("2026.01.02")},
		{Source: "club", Elo: 1500, Header: dated("2026.02.02")},
		{Source: "server", Elo: 1800, Header: pgn.Header{Date: pgn.ParseDate("2026.03.??"), Speed: profile.Rapid}},
		{Source: "club", Header: dated("2026.04.02")},
	}}
	want := []fact.Rating{{List: "club", Value: 1500, Date: pgn.Date{Year: 2026, Month: 2, Day: 2}}, {List: "server", Speed: "rapid", Value: 1800, Date: pgn.Date{Year: 2026, Month: 3}}}
	if got := NewestRatings(p); !reflect.DeepEqual(got, want) {
		t.Errorf("%+v", got)
	}
}

// Games whose speed no tag and no word of the event tells are no slow games: habits
// are counted in all games then, and no speed is named.
func TestGamesOfUnknownSpeedAreNotSlow(t *testing.T) {
	for name, c := range map[string]struct {
		speed profile.Class
		want  string
	}{"unknown": {profile.UnknownClass, ""}, "classical": {profile.Classical, "slow"}} {
		p := &profile.Profile{}
		for i := range 60 {
			g := profile.Game{}
			if g.Speed = c.speed; i%2 == 1 {
				g.Speed = profile.Blitz
			}
			p.Games = append(p.Games, g)
		}
		set := comparableGames(p, profile.Classical)
		if set.speed != c.want || (c.want == "") != (len(set.games) == 60) {
			t.Errorf("%s: %d games of speed %q", name, len(set.games), set.speed)
		}
	}
}

// Where all games are of the speed to come none is named.
func TestGamesOfOneSpeed(t *testing.T) {
	p := &profile.Profile{Games: make([]profile.Game, 60)}
	for i := range p.Games {
		p.Games[i].Speed = profile.Classical
	}
	for class, want := range map[profile.Class]int{profile.Classical: 60, profile.Blitz: 60} {
		if set := comparableGames(p, class); set.speed != "" || len(set.games) != want {
			t.Errorf("before a game of %s: %d games of speed %q", class, len(set.games), set.speed)
		}
	}
}
