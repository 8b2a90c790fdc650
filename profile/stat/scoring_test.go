package stat

import (
	"encoding/json"
	"math"
	"math/rand/v2"
	"testing"
)

func TestLogLossWorkedExamples(t *testing.T) {
	for _, c := range worked(t).LogLoss.Examples {
		// the examples are in natural logarithms
		sum := 0.0
		for _, p := range c.P {
			sum += Bits(p) * math.Ln2
		}
		if got := sum / float64(len(c.P)); !near(got, c.Value, 1e-8) {
			t.Errorf("the mean over %v is %v nats, want %v", c.P, got, c.Value)
		}
	}
	for p, want := range map[float64]float64{1: 0, 0.5: 1, 0.25: 2, 2: 0, 0: math.Inf(1)} {
		if got := Bits(p); got != want || math.Signbit(got) {
			t.Errorf("Bits(%v) = %v, want %v", p, got, want)
		}
	}
}

func TestBrierWorkedExamples(t *testing.T) {
	for _, c := range worked(t).Brier.Examples {
		given, happened, classes, want := c.P, make([]bool, len(c.Y)), 1.0, c.Binary
		for i, y := range c.Y {
			happened[i] = y == 1
		}
		if c.ForecastClass != nil {
			// Brier's sum over k classes is k times the binary mean
			// over every class of every forecast.
			given, happened = flatten(t, c.ForecastClass)
			classes, want = float64(len(given)/len(c.ForecastClass)), c.Original
		}
		sum := 0.0
		for i, p := range given {
			sum += Brier(p, happened[i])
		}
		if got := sum / float64(len(given)) * classes; !near(got, want, 1e-12) {
			t.Errorf("Brier of %v = %v, want %v", given, got, want)
		}
	}
}

// flatten turns [[probabilities, class], …] into single forecasts.
func flatten(t *testing.T, pairs []json.RawMessage) (given []float64, happened []bool) {
	t.Helper()
	for _, raw := range pairs {
		var p []float64
		var class int
		if err := json.Unmarshal(raw, &[]any{&p, &class}); err != nil {
			t.Fatal(err)
		}
		for i := range p {
			given, happened = append(given, p[i]), append(happened, i == class)
		}
	}
	return given, happened
}

func TestCalibrationByHand(t *testing.T) {
	var c Calibration
	// bin 0.2: 0.2+0.25 = 0.45 against 1; bin 0.9: 0.9+1 = 1.9 against 1;
	// bin 0.0: 0 against 0
	c.Add(0.2, true)
	c.Add(0.25, false)
	c.Add(0.9, true)
	c.Add(1, false)
	c.Add(0, false)
	if got, want := c.ECE(), (0.55+0.9)/5; !near(got, want, 1e-15) {
		t.Errorf("ECE = %v, want %v", got, want)
	}
	var both Calibration
	both.Merge(&c)
	both.Merge(&c)
	if b := both.Bins()[9]; both.ECE() != c.ECE() || b.N != 4 || b.Hits != 2 || !near(b.Sum, 3.8, 1e-12) || !near(b.Variance, 2*0.9*0.1, 1e-12) {
		t.Errorf("merged with itself: %v", both)
	}
	for i, n := range map[int]int{0: 1, 2: 2, 9: 2, 5: 0} {
		if got := c.Bins()[i].N; got != n {
			t.Errorf("bin %d holds %d, want %d", i, got, n)
		}
	}
}

func TestCalibrationLowerEndBelongsToTheBin(t *testing.T) {
	for i, p := range []float64{0, 0.1, 0.2, 0.3, 0.4, 0.5, 0.6, 0.7, 0.8, 0.9} {
		var c Calibration
		c.Add(p, false)
		if c.Bins()[i].N != 1 {
			t.Errorf("%v is not in bin %d", p, i)
		}
	}
}

func TestScoresStayInRange(t *testing.T) {
	for _, p := range oddFloats {
		for _, happened := range []bool{false, true} {
			if got := Brier(p, happened); !inUnit(got) {
				t.Errorf("Brier(%v, %v) = %v", p, happened, got)
			}
			var c Calibration
			c.Add(p, happened)
			if got := c.ECE(); !inUnit(got) {
				t.Errorf("ECE(%v, %v) = %v", p, happened, got)
			}
		}
		if got := Bits(p); !(got >= 0) {
			t.Errorf("Bits(%v) = %v", p, got)
		}
	}
	var none Calibration
	if none.ECE() != 0 || none.ChanceECE() != 0 {
		t.Error("a score of nothing is not 0")
	}
}

// What chance makes of probabilities that are right, by simulation: the ece of
// 200 forecasts of each tenth's middle, over many drawings.
func TestErrorOfChance(t *testing.T) {
	random := rand.New(rand.NewPCG(1, 2))
	const drawings = 400
	sum, chance := 0.0, 0.0
	for range drawings {
		var c Calibration
		for b := range 10 {
			p := (float64(b) + 0.5) / 10
			for range 200 {
				c.Add(p, random.Float64() < p)
			}
		}
		sum += c.ECE() / drawings
		chance = c.ChanceECE()
	}
	if sum < 0.95*chance || sum > 1.05*chance {
		t.Errorf("drawn %.4f, worked out %.4f", sum, chance)
	}
}
