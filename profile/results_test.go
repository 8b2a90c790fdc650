package profile

import (
	"math"
	"testing"

	"foreply/profile/board"
)

// Four wins of four after 1.e4, one draw and one loss after 1.d4, all of one
// day before: the record of the colour is 4.5 of 6 = 0.75; after 1.e4 the
// shrunk score is (4 + 250*0.75)/254 = 0.753937.
func TestResultsShrink(t *testing.T) {
	p := builtFrom(
		"2026.05.01 1-0 60: e4 e5", "2026.05.01 1-0 60: e4 c5", "2026.05.01 1-0 60: e4 e6", "2026.05.01 1-0 60: e4 c6",
		"2026.05.01 1/2-1/2 60: d4 d5", "2026.05.01 0-1 60: d4 d5", "2026.05.01 * 60: d4 d5",
	)
	pos := board.Start()
	keys := []uint64{pos.Key()}
	m, err := pos.Resolve([]byte("e4"))
	if err != nil {
		t.Fatal(err)
	}
	pos.Play(m)
	keys = append(keys, pos.Key())
	r := NewForecast(p, board.White, ForecastOptions{Model: ageless()}).On(on("2026.05.02")).Results(keys)
	if math.Abs(r.Score()-0.753937) > 1e-6 || math.Abs(r.Strength()-254) > 1e-6 || r.Games != 4 || r.All != 6 {
		t.Errorf("%+v, score %.6f", r, r.Score())
	}
}

// A game that comes back to a position counts once there: a win in which the first moves
// were taken back, and a loss, are two games.
func TestResultsCountAGameOnce(t *testing.T) {
	p := builtFrom("2026.05.01 1-0 60: Nf3 Nf6 Ng1 Ng8 Nf3 Nf6 Ng1 Ng8 e4", "2026.05.01 0-1 60: Nf3 d5")
	start := board.Start()
	look := NewForecast(p, board.White, ForecastOptions{Model: ageless()}).On(on("2026.05.02"))
	if r := look.Results([]uint64{start.Key()}); r.Games != 2 || r.Win != 0.5 || r.Loss != 0.5 {
		t.Errorf("%+v", r)
	}
	if c := look.Record(start.Key()); c.Games != 2 || c.Wins != 1 || c.Losses != 1 {
		t.Errorf("%+v", c)
	}
}

// The usual gap is how much higher the opponent was rated, shrunk by twenty games of equals.
func TestGap(t *testing.T) {
	p := builtFrom("2026.05.01 1-0 -: e4 e5", "2026.05.02 1-0 -: e4 e5", "2026.05.03 1-0 -: e4 e5", "2026.05.04 1-0 -: e4 e5", "2026.06.01 1-0 -: e4 e5")
	for i, ratings := range [][2]int{{2000, 1900}, {2000, 1790}, {2000, 0}, {0, 1500}, {2000, 1000}} {
		p.Games[i].Elo, p.Games[i].RivalElo = ratings[0], ratings[1]
	}
	if mean, games := NewForecast(p, board.White, ForecastOptions{}).On(on("2026.05.10")).Gap(); games != 2 || math.Abs(mean-310./22) > 1e-12 {
		t.Errorf("%v of %d games, want %v of 2", mean, games, 310./22)
	}
	p.Games[1].Theirs = board.Black
	p = p.Only(func(*Game) bool { return true })
	o := NewForecast(p, board.White, ForecastOptions{}).On(on("2026.05.10"))
	if mean, games := o.Gap(); games != 1 || math.Abs(mean-100./21) > 1e-12 {
		t.Errorf("of one colour: %v of %d games", mean, games)
	}
	// As far above the other as usual nothing tilts.
	if r := (Results{Win: 0.4, Draw: 0.3, Loss: 0.3}); o.Against(r, 100./21) != r {
		t.Errorf("at the usual gap: %+v", o.Against(r, 100./21))
	}
}

// A tilt by hand: 40, 30 and 30 in 100, 100 points better than usual:
// exp(1.5*100/400) = 1.4549914; 0.4*1.4549914, 0.3, 0.3/1.4549914 over their sum
// 1.0881834.
func TestResultsTiltWithTheRatings(t *testing.T) {
	o := NewForecast(builtFrom(), board.White, ForecastOptions{}).On(on("2026.05.10"))
	r := o.Against(Results{Win: 0.4, Draw: 0.3, Loss: 0.3}, 100)
	for i, d := range []float64{r.Win - 0.5348332, r.Draw - 0.2756888, r.Loss - 0.1894779} {
		if math.Abs(d) > 1e-6 {
			t.Errorf("outcome %d is off by %.7f: %+v", i, d, r)
		}
	}
}

// Wins, draws and losses each by hand: two wins, a draw and three losses in all, of which two
// losses and the draw came after 1.d4; a year, the half-life, makes a game half as much. After
// 1.d4 of this year's loss, last year's loss and draw: 250 games of the colour's record, a win
// of 1.5, a draw of 0.5 and losses of 2 in 4, beside 0, 0.5 and 1.5.
func TestResultsByHand(t *testing.T) {
	p := builtFrom(
		"2025.05.01 1-0 -: e4 e5", "2025.05.01 1/2-1/2 -: d4 d5", "2025.05.01 0-1 -: d4 d5",
		"2026.05.01 1-0 -: e4 e5", "2026.05.01 0-1 -: d4 d5", "2025.05.01 0-1 -: e4 e5", "2026.05.01 * -: d4 d5",
	)
	m := DefaultModel()
	m.HalfLifeDays = 365
	start, d4 := board.Start(), after(t, "d4")
	look := NewForecast(p, board.White, ForecastOptions{Model: &m}).On(on("2026.05.02"))
	age := math.Exp2(-1. / 365) // a day
	want := func(w, d, l float64, games int, weight float64) Results {
		return Results{Win: w, Draw: d, Loss: l, Games: games, All: 6, weight: weight}
	}
	for i, c := range []struct {
		got, want Results
	}{
		{look.Results([]uint64{start.Key()}), want(1.5/4, 0.5/4, 2./4, 6, 4*age+1)},
		{look.Results([]uint64{start.Key(), d4.Key()}), want(250*1.5/4/(2*age+250), (0.5*age+250*0.5/4)/(2*age+250), (1.5*age+250*2./4)/(2*age+250), 3, 2*age+250)},
	} {
		g, w := c.got, c.want
		if !near(g.Win, w.Win) || !near(g.Draw, w.Draw) || !near(g.Loss, w.Loss) || g.Games != w.Games || g.All != w.All || !near(g.Strength(), w.weight) {
			t.Errorf("line of %d: %+v, want %+v", i+1, g, w)
		}
	}
	none := NewForecast(builtFrom(), board.White, ForecastOptions{}).On(on("2026.05.02")).Results([]uint64{start.Key(), d4.Key()})
	if !near(none.Win, 1./3) || !near(none.Draw, 1./3) || !near(none.Loss, 1./3) || none.Games != 0 || none.All != 0 {
		t.Errorf("without a game: %+v", none)
	}
}
