package hindsight

import (
	"math"

	"foreply/profile/stat"
)

// calibration is stat.Calibration in a form that several tests can be joined
// in: ten equal bins of probabilities, lower end included.
type calibration [stat.CalibrationBins]stat.CalibrationBin

func (c *calibration) add(p float64, came bool) {
	b := &c[max(0, min(int(p*stat.CalibrationBins), stat.CalibrationBins-1))]
	b.N++
	b.Sum += p
	if came {
		b.Hits++
	}
}

func (c *calibration) merge(o *calibration) {
	for i, b := range o {
		c[i].N += b.N
		c[i].Sum += b.Sum
		c[i].Hits += b.Hits
	}
}

// ece is the expected calibration error, the sum over the bins of
// |sum of p - hits| / n.
func (c *calibration) ece() float64 {
	n, sum := 0, 0.0
	for _, b := range c {
		n += b.N
		sum += math.Abs(b.Sum - float64(b.Hits))
	}
	if n == 0 {
		return 0
	}
	return sum / float64(n)
}
