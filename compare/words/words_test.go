package words

import (
	"testing"

	"foreply/compare/fact"
	"foreply/fetch/pgn"
	"foreply/profile/stat"
)

func TestOneIn(t *testing.T) {
	for _, c := range []struct {
		p    float64
		want string
	}{
		{0, "never"}, {0.004, "less than 1 game in 100"}, {0.01, "about 1 game in 100"}, {0.021, "about 1 game in 50"},
		{0.05, "about 1 game in 20"}, {0.0115, "about 1 game in 90"}, {0.083, "about 1 game in 12"}, {0.14, "about 1 game in 7"},
		{0.15, "about 2 games in 10"}, {0.5, "about 5 games in 10"}, {0.94, "about 9 games in 10"},
		{0.96, "9 games in 10 or more"}, {0.98, "nearly every game"}, {1, "nearly every game"},
	} {
		if got := OneIn(c.p); got != c.want {
			t.Errorf("OneIn(%v) = %q, want %q", c.p, got, c.want)
		}
	}
}

func TestInTen(t *testing.T) {
	for _, c := range []struct {
		s    fact.Share
		want string
	}{
		{fact.Share{P: 0.5, Ten: 5, TenLo: 3, TenHi: 7}, "5 in 10, likely 3-7"},
		{fact.Share{P: 1, Ten: 10, TenLo: 10, TenHi: 10}, "10 in 10"},
		{fact.Share{P: 0.03, Ten: 0, TenHi: 1}, "1 in 35"},
		{fact.Share{P: 0.001}, "hardly ever"},
		{fact.Share{P: 0.5, Seen: 1, Of: 2, Ten: 5, TenLo: 1, TenHi: 9, Hardly: true}, "hardly known: 2 games"},
	} {
		if got := InTen(c.s); got != c.want {
			t.Errorf("InTen(%+v) = %q, want %q", c.s, got, c.want)
		}
	}
}

func TestCounted(t *testing.T) {
	for want, s := range map[string]fact.Share{
		"9 of 17 games": {Seen: 9, Of: 17, P: 0.5}, "1 of 1 game": {Seen: 1, Of: 1, P: 0.4},
		"190 of 740 games, expect less": {Seen: 190, Of: 740, P: 0.03}, "5 of 90 games, expect more": {Seen: 5, Of: 90, P: 0.2},
		"1 of 90 games":      {Seen: 1, Of: 90, P: 0.05},
		"not seen from them": {Of: 4}, "never been here in the games found": {},
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

// oftenOf is a chance held as Beta(p*s, (1-p)*s).
func oftenOf(p, s float64) fact.Often {
	if p <= 0 || p >= 1 {
		return fact.Often{Chance: fact.Chance{P: p, Lo: p, Hi: p}, TenLo: int(10 * p), TenHi: int(10 * p)}
	}
	a, b := p*s, (1-p)*s
	from, to := stat.BetaBinomialInterval(10, a, b, 0.8)
	lo, hi := min(stat.BetaQuantile(0.1, a, b), p), max(stat.BetaQuantile(0.9, a, b), p)
	c := fact.Chance{P: p, Lo: lo, Hi: hi}
	return fact.Often{Chance: c, Games: 3, Of: 7, TenLo: from, TenHi: to, Hardly: c.Hardly()}
}

func TestOften(t *testing.T) {
	for _, c := range []struct {
		p, strength float64
		want        string
	}{
		{0, 5, "never"},
		{1, 5, "nearly every game"},
		{0.5, 2, "hardly known: played in 3 of 7 games"},
		{0.5, 10, "about 5 games in 10, likely 2-8"},
		{0.5, 1e6, "about 5 games in 10, likely 3-7"}, // what chance alone leaves of ten games
		{0.085, 100, "about 1 game in 12, likely 1 in 20 to 1 in 8"},
		{0.085, 10, "about 1 game in 12, 1 in 5 at most"},
		{1.0 / 16, 1e8, "about 1 game in 15"},
		{0.004, 1e6, "less than 1 game in 100"},
	} {
		if got := Often(oftenOf(c.p, c.strength)); got != c.want {
			t.Errorf("often(%v at strength %v) = %q, want %q", c.p, c.strength, got, c.want)
		}
	}
}

func TestOftenWithoutGames(t *testing.T) {
	if got := Often(fact.Often{Chance: fact.Chance{P: 0.5, Hi: 1}, TenHi: 10, Hardly: true}); got != "about 5 games in 10" {
		t.Errorf("%q", got)
	}
}

func TestRareText(t *testing.T) {
	if got := Rare(0.35, 0.01); got != "lines under 1 game in 100 are not followed: together about 4 games in 10" {
		t.Errorf("%q", got)
	}
	if got := Rare(0.02, 0.01); got != "" {
		t.Errorf("%q", got)
	}
}
