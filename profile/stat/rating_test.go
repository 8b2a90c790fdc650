package stat

import (
	"math"
	"strconv"
	"testing"
)

func TestEloWorkedExamples(t *testing.T) {
	for diff, want := range worked(t).Elo.Values {
		d, err := strconv.ParseFloat(diff, 64)
		if err != nil {
			t.Fatal(err)
		}
		if got := EloExpectation(d); !near(got, want, 5.1e-7) {
			t.Errorf("EloExpectation(%v) = %v, want %v", d, got, want)
		}
		if got := EloExpectation(-d); !near(got, 1-want, 5.1e-7) {
			t.Errorf("EloExpectation(%v) = %v, want %v", -d, got, 1-want)
		}
	}
	for _, d := range oddFloats {
		if !inUnit(EloExpectation(d)) || !inUnit(EloExpectation(-d)) {
			t.Errorf("EloExpectation(±%v) leaves 0..1", d)
		}
	}
}

func TestFIDETable811(t *testing.T) {
	rows := table(t, "fide_b02_table_811_p_to_dp.tsv")
	if len(rows) != 101 {
		t.Fatalf("%d rows, want 101", len(rows))
	}
	for _, r := range rows {
		percent, dp := r.int(t, "p_hundredths"), r.int(t, "dp")
		if got := fideDifferenceOf(percent); got != dp {
			t.Errorf("dp of %d %% = %d, want %d", percent, got, dp)
		}
		if fideDifferenceOf(percent) != -fideDifferenceOf(100-percent) {
			t.Errorf("dp of %d %% is not symmetric", percent)
		}
		if percent > 0 && fideDifferenceOf(percent) <= fideDifferenceOf(percent-1) {
			t.Errorf("dp does not rise at %d %%", percent)
		}
		checkNormalCurve(t, percent, dp)
	}
}

// checkNormalCurve guards against typing errors: the table was made from a
// normal curve with standard deviation 2000/7 and stays within 2 points of it,
// rounded, but for the 12 of 1 and 99 per cent.
func checkNormalCurve(t *testing.T, percent, dp int) {
	t.Helper()
	if percent == 0 || percent == 100 {
		return
	}
	curve := math.Round(2000.0 / 7 * math.Sqrt2 * math.Erfinv(2*float64(percent)/100-1))
	allowed := 2.0
	if percent == 1 || percent == 99 {
		allowed = 12
	}
	if math.Abs(curve-float64(dp)) > allowed {
		t.Errorf("dp of %d %% = %d is far from the curve's %v", percent, dp, curve)
	}
}

func TestFIDETable812(t *testing.T) {
	rows := table(t, "fide_b02_table_812_d_to_pd.tsv")
	if len(rows) != 51 {
		t.Fatalf("%d rows, want 51", len(rows))
	}
	next := 0
	for _, r := range rows {
		from, to := r.int(t, "d_from"), 4000
		if r["d_to"] != "" {
			to = r.int(t, "d_to")
		}
		if from != next {
			t.Errorf("gap or overlap: a row begins at %d, want %d", from, next)
		}
		next = to + 1
		high, low := r.float(t, "pd_high"), r.float(t, "pd_low")
		for d := from; d <= to; d++ {
			if got := FIDEScore(d); got != high {
				t.Errorf("FIDEScore(%d) = %v, want %v", d, got, high)
			}
			if got := FIDEScore(-d); got != low {
				t.Errorf("FIDEScore(%d) = %v, want %v", -d, got, low)
			}
		}
	}
}

func TestFIDEExpectationStandard(t *testing.T) {
	for _, r := range table(t, "expected_standard.tsv") {
		own, opponent := r.int(t, "own"), r.int(t, "opponent")
		if got := FIDEDifference(own, opponent, StandardList); got != r.int(t, "d_counted") {
			t.Errorf("%d against %d counts as %d, want %s", own, opponent, got, r["d_counted"])
		}
		if got := FIDEExpectation(own, opponent, StandardList); got != r.float(t, "pd") {
			t.Errorf("%d against %d: %v, want %s", own, opponent, got, r["pd"])
		}
	}
}

func TestFIDEExpectationRapidHasNoExemption(t *testing.T) {
	if got := FIDEDifference(2700, 1800, RapidBlitzList); got != 400 {
		t.Errorf("2700 against 1800 counts as %d, want 400", got)
	}
	if got := FIDEExpectation(1800, 2700, RapidBlitzList); got != 0.08 {
		t.Errorf("1800 against 2700: %v, want 0.08", got)
	}
	for _, d := range []int{math.MinInt, -736, 736, math.MaxInt} {
		if got := FIDEScore(d); got != 0 && got != 1 {
			t.Errorf("FIDEScore(%d) = %v", d, got)
		}
	}
}

func TestFIDEPerformance(t *testing.T) {
	for _, r := range table(t, "performance.tsv") {
		t.Run(r["case"], func(t *testing.T) {
			got, ok := FIDEPerformance(r.int(t, "games"), r.int(t, "sum_opponents"), r.float(t, "score"))
			percent := r.int(t, "p_hundredths")
			want := Performance{
				Games: r.int(t, "games"), Average: r.int(t, "ra"), Percent: percent,
				Difference: r.int(t, "dp"), Rating: r.int(t, "rp"),
				Notional: percent == 0 || percent == 100,
			}
			if !ok || got != want {
				t.Errorf("got %+v, %v, want %+v", got, ok, want)
			}
		})
	}
}

func TestFIDEPerformanceRefuses(t *testing.T) {
	for _, c := range []struct {
		name       string
		games, sum int
		points     float64
	}{
		{"no games", 0, 0, 0},
		{"more points than games", 3, 6000, 3.5},
		{"negative points", 3, 6000, -0.5},
		{"a quarter point", 3, 6000, 1.25},
		{"negative ratings", 3, -6000, 1},
		{"not a number", 3, 6000, math.NaN()},
		{"infinite", 3, 6000, math.Inf(1)},
	} {
		t.Run(c.name, func(t *testing.T) {
			if got, ok := FIDEPerformance(c.games, c.sum, c.points); ok {
				t.Errorf("got %+v", got)
			}
		})
	}
}
