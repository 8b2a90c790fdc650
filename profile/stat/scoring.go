package stat

import "math"

// Bits returns −log₂ p, the loss of a forecast that gave p to what happened:
// 0 for certainty, 1 for even chances, +Inf for 'impossible'.
func Bits(p float64) float64 {
	p = unit(p)
	if p == 1 {
		return 0 // not the −0 of the formula
	}
	return -math.Log2(p)
}

// LogLoss returns the mean of Bits over the probabilities that were given to
// what happened; 0 for none.
func LogLoss(given []float64) float64 {
	if len(given) == 0 {
		return 0
	}
	sum := 0.0
	for _, p := range given {
		sum += Bits(p)
	}
	return sum / float64(len(given))
}

// Brier returns the mean squared difference between the probabilities and what
// happened (1 or 0): the binary form, 0..1, half of Brier's own sum over both
// classes (Monthly Weather Review 78, 1950). The slices run in step, and it
// panics if their lengths differ. 0 for none.
func Brier(given []float64, happened []bool) float64 {
	if len(given) != len(happened) {
		panic("stat: Brier: probabilities and outcomes differ in number")
	}
	if len(given) == 0 {
		return 0
	}
	sum := 0.0
	for i, p := range given {
		d := unit(p)
		if happened[i] {
			d = 1 - d
		}
		sum += d * d
	}
	return sum / float64(len(given))
}

// CalibrationBins is the number of equal bins of Calibration.
const CalibrationBins = 10

// Calibration compares probabilities with what happened, in ten equal bins of
// width 0.1 (lower end included, 1 in the last). The zero value is empty.
type Calibration struct {
	bins [CalibrationBins]CalibrationBin
}

// CalibrationBin is one bin: how many probabilities fell into it, their sum,
// and how many of the things forecast happened.
type CalibrationBin struct {
	N    int
	Sum  float64
	Hits int
}

// Add enters one probability and whether the thing happened.
func (c *Calibration) Add(p float64, happened bool) {
	p = unit(p)
	bin := &c.bins[min(int(p*CalibrationBins), CalibrationBins-1)]
	bin.N++
	bin.Sum += p
	if happened {
		bin.Hits++
	}
}

// Bins returns the bins, lowest probabilities first.
func (c *Calibration) Bins() [CalibrationBins]CalibrationBin { return c.bins }

// N returns how many probabilities were entered.
func (c *Calibration) N() int {
	n := 0
	for _, b := range c.bins {
		n += b.N
	}
	return n
}

// ECE returns the expected calibration error Σ|Σp − hits| / n over the bins,
// 0..1; 0 for none.
func (c *Calibration) ECE() float64 {
	n := c.N()
	if n == 0 {
		return 0
	}
	sum := 0.0
	for _, b := range c.bins {
		sum += math.Abs(b.Sum - float64(b.Hits))
	}
	return unit(sum / float64(n))
}
