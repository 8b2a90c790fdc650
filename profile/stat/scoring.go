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

// Brier returns the squared difference between a probability and what happened
// (1 or 0), whose mean is the binary form of Brier's score (Monthly Weather
// Review 78, 1950), 0..1: half of his own sum over both classes.
func Brier(p float64, happened bool) float64 {
	d := unit(p)
	if happened {
		d = 1 - d
	}
	return d * d
}

// CalibrationBins is the number of equal bins of Calibration.
const CalibrationBins = 10

// Calibration compares probabilities with what happened, in ten equal bins of
// width 0.1 (lower end included, 1 in the last). The zero value is empty.
type Calibration struct {
	bins [CalibrationBins]CalibrationBin
}

// CalibrationBin is one bin: how many probabilities fell into it, their sum,
// how many of the things forecast happened, and the variance Σp(1−p) of that
// number if the probabilities are right.
type CalibrationBin struct {
	N        int
	Sum      float64
	Hits     int
	Variance float64
}

// Add enters one probability and whether the thing happened.
func (c *Calibration) Add(p float64, happened bool) {
	p = unit(p)
	bin := &c.bins[min(int(p*CalibrationBins), CalibrationBins-1)]
	bin.N++
	bin.Sum += p
	bin.Variance += p * (1 - p)
	if happened {
		bin.Hits++
	}
}

// Bins returns the bins, lowest probabilities first.
func (c *Calibration) Bins() [CalibrationBins]CalibrationBin { return c.bins }

// Merge enters all that was entered in o.
func (c *Calibration) Merge(o *Calibration) {
	for i, b := range o.bins {
		c.bins[i].N += b.N
		c.bins[i].Sum += b.Sum
		c.bins[i].Hits += b.Hits
		c.bins[i].Variance += b.Variance
	}
}

// ECE returns the expected calibration error Σ|Σp − hits| / n over the bins,
// 0..1; 0 for none.
func (c *Calibration) ECE() float64 {
	sum := 0.0
	for _, b := range c.bins {
		sum += math.Abs(b.Sum - float64(b.Hits))
	}
	return unit(sum / float64(max(c.n(), 1)))
}

// ChanceECE returns about the ECE that probabilities which are right come to by
// chance: the mean of |x| for a normal x of standard deviation s is s·√(2/π)
// (the half-normal distribution; Johnson, Kotz and Balakrishnan, Continuous
// Univariate Distributions 1, 1994, from memory). 0 for none.
func (c *Calibration) ChanceECE() float64 {
	sum := 0.0
	for _, b := range c.bins {
		sum += math.Sqrt(b.Variance * 2 / math.Pi)
	}
	return sum / float64(max(c.n(), 1))
}

func (c *Calibration) n() int {
	n := 0
	for _, b := range c.bins {
		n += b.N
	}
	return n
}
