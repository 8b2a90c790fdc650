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
	p := builtFrom("2026.05.01 1-0 -: e4 e5", "2026.05.02 1-0 -: e4 e5", "2026.05.03 1-0 -: e4 e5", "2026.06.01 1-0 -: e4 e5")
	for i, ratings := range [][2]int{{2000, 1900}, {2000, 1790}, {2000, 0}, {2000, 1000}} {
		p.Games[i].Elo, p.Games[i].RivalElo = ratings[0], ratings[1]
	}
	if mean, games := NewForecast(p, board.White, ForecastOptions{}).On(on("2026.05.10")).Gap(); games != 2 || math.Abs(mean-310./22) > 1e-12 {
		t.Errorf("%v of %d games, want %v of 2", mean, games, 310./22)
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
