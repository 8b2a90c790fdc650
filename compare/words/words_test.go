package words

import (
	"testing"

	"foreply/compare/fact"
	"foreply/fetch/pgn"
	"foreply/profile/stat"
)

func TestInN(t *testing.T) {
	for _, c := range []struct {
		p    float64
		want string
	}{
		{0.004, "under 1 in 100"}, {0.01, "1 in 100"}, {0.021, "1 in 50"}, {0.05, "1 in 20"}, {0.0115, "1 in 90"}, {0.083, "1 in 12"},
		{0.14, "1 in 7"}, {0.15, "2 in 10"}, {0.5, "5 in 10"}, {0.94, "9 in 10"}, {0.96, "nearly always"}, {1, "nearly always"},
	} {
		if got := InN(c.p); got != c.want {
			t.Errorf("InN(%v) = %q, want %q", c.p, got, c.want)
		}
	}
}

func TestCounted(t *testing.T) {
	for want, s := range map[string]fact.Share{
		"9 of 17 games": {Seen: 9, Of: 17, P: 0.5}, "1 of 1 game": {Seen: 1, Of: 1, P: 0.4},
		"190 of 740 games, expect less": {Seen: 190, Of: 740, P: 0.03}, "5 of 90 games, expect more": {Seen: 5, Of: 90, P: 0.2},
		"1 of 90 games": {Seen: 1, Of: 90, P: 0.05}, "1 of 19 games, expect more": {Seen: 1, Of: 19, P: 0.2},
		"7 of 9 games by any order": {Seen: 7, Of: 9, P: 0.7, AnyOrder: true},
		"not seen from them":        {Of: 4}, "never been here in the games found": {},
	} {
		if got := Counted(s); got != want {
			t.Errorf("Counted(%+v) = %q, want %q", s, got, want)
		}
	}
}

func TestMovetext(t *testing.T) {
	for _, c := range []struct {
		line []string
		ply  int
		want string
	}{
		{[]string{"e4", "c5", "Nf3"}, 0, "1.e4 c5 2.Nf3"},
		{[]string{"c5", "Nf3"}, 1, "1...c5 2.Nf3"},
		{[]string{"Qb6"}, 9, "5...Qb6"},
		{nil, 0, ""},
	} {
		if got := Movetext(c.line, c.ply); got != c.want {
			t.Errorf("Movetext(%v, %d) = %q, want %q", c.line, c.ply, got, c.want)
		}
	}
}

func TestPoints(t *testing.T) {
	for want, s := range map[string]fact.Score{
		"4½ of 12": {Wins: 3, Draws: 3, Losses: 6, Unknown: 1}, "½ of 1": {Draws: 1}, "0 of 0": {}, "3 of 3": {Wins: 3},
	} {
		if got := Points(s); got != want {
			t.Errorf("%+v: %q, want %q", s, got, want)
		}
	}
}

func TestDateWords(t *testing.T) {
	for tag, want := range map[string]string{
		"2026.11.02": "2 Nov 2026", "2026.11.??": "Nov 2026", "2026.??.??": "2026", "????.??.??": "date unknown",
		"": "date unknown", "soon": "date unknown", "2026.13.40": "2026",
		"2 Mar 2026": "2 Mar 2026", "7.3.2026": "7 Mar 2026", "20190306": "6 Mar 2019", "2026-11-02": "2 Nov 2026", "2/3/2026": "2026",
	} {
		if got := Date(pgn.ParseDate(tag)); got != want {
			t.Errorf("DateWords(%q) = %q, want %q", tag, got, want)
		}
	}
}

// chanceOf is a chance held as Beta(p*s, (1-p)*s), of a place that 3 of 7 games came to.
func chanceOf(p, s float64) fact.Often {
	if p <= 0 || p >= 1 {
		return fact.NewOften(fact.Chance{P: p, Lo: p, Hi: p}, 3, 7)
	}
	a, b := p*s, (1-p)*s
	lo, hi := min(stat.BetaQuantile(0.1, a, b), p), max(stat.BetaQuantile(0.9, a, b), p)
	return fact.NewOften(fact.Chance{P: p, Lo: lo, Hi: hi}, 3, 7)
}

func TestOften(t *testing.T) {
	for _, c := range []struct {
		p, strength float64
		want        string
	}{
		{0, 5, "no game"},
		{1, 5, "nearly every game"},
		{0.5, 2, "hardly known: in 3 of 7 games"},
		{0.5, 10, "5 in 10 games (3–7)"},
		{0.5, 1e6, "5 in 10 games"},
		{0.085, 10, "1 in 12 games (0–2)"},
		{1.0 / 16, 1e8, "1 in 15 games"},
		{0.004, 1e6, "under 1 in 100 games"},
	} {
		if got := Often(chanceOf(c.p, c.strength)); got != c.want {
			t.Errorf("often(%v at strength %v) = %q, want %q", c.p, c.strength, got, c.want)
		}
	}
	byOrders := chanceOf(0.5, 10)
	byOrders.AnyOrder = true
	if got := Often(byOrders); got != "5 in 10 games by any order (3–7)" {
		t.Errorf("%q", got)
	}
}

// Where others seldom went as the user plays, the count of a line tells of them.
func TestOftenOfGamesThatOthersLed(t *testing.T) {
	for games, want := range map[int]string{39: "hardly known how often", 120: "in 120 of 740 games, expect more", 300: "in 300 of 740 games"} {
		if got := Often(fact.NewOften(fact.Chance{P: 0.35, Lo: 0.05, Hi: 0.7}, games, 740)); got != want {
			t.Errorf("%d games: %q", games, got)
		}
	}
}

func TestOftenWithoutGames(t *testing.T) {
	if got := Often(fact.NewOften(fact.Chance{P: 0.5, Hi: 1}, 0, 0)); got != "5 in 10 games" {
		t.Errorf("%q", got)
	}
}

func TestRare(t *testing.T) {
	if got := Rare(0.35, 0.01); got != "lines under 1 game in 100 are not followed: together 4 in 10 games" {
		t.Errorf("%q", got)
	}
	if got := Rare(0.02, 0.01); got != "" {
		t.Errorf("%q", got)
	}
}
