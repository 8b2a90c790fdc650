package hindsight

import (
	"fmt"
	"io"
	"math"
	"strings"
)

// Text writes a result as sentences that a player understands. who is the
// opponent's name, or how several are called together.
func (r *Result) Text(w io.Writer, who string) error {
	var b strings.Builder
	for _, side := range [...]struct {
		name string
		f    *Figures
	}{{"with White", &r.White}, {"with Black", &r.Black}, {"both colours", &r.Pooled}} {
		if side.f.Predictions > 0 {
			fmt.Fprintf(&b, "%s, %s\n%s\n", who, side.name, indent(side.f.sentences()))
		}
	}
	b.WriteString(r.Verdict())
	b.WriteByte('\n')
	_, err := io.WriteString(w, b.String())
	return err
}

func indent(lines []string) string {
	return "  " + strings.Join(lines, "\n  ") + "\n"
}

// sentences are the figures of one side in words.
func (f *Figures) sentences() []string {
	out := []string{
		fmt.Sprintf("%s in %s; the move played was the first guess in %s, among the first three in %s",
			count(f.Predictions, "forecast"), count(f.Games, "past game"), outOf(f.Top1, f.Predictions), outOf(f.Top3, f.Predictions)),
	}
	if bin := f.middle(); bin != nil {
		out = append(out, fmt.Sprintf("when it said %.1f in 10, the move came %.1f in 10 (%s)", 10*bin.P, 10*bin.Observed, count(bin.N, "time")))
	}
	if f.Intervals > 0 {
		out = append(out, fmt.Sprintf("its '4 in 5' ranges held in %s", outOf(f.Coverage, f.Intervals)))
	}
	return append(out, f.gain())
}

func (f *Figures) gain() string {
	bits := fmt.Sprintf("%.3f bits a move, counts alone %.3f", f.OneEvent, f.RawBits)
	change := f.OneEvent/f.RawBits - 1
	switch {
	case f.RawBits == 0:
		return bits
	case change < -0.005:
		return fmt.Sprintf("%s: %.0f %% less surprise", bits, -100*change)
	case change > 0.005:
		return fmt.Sprintf("%s: %.0f %% more surprise", bits, 100*change)
	}
	return bits + ": no better"
}

// middle is the bin of probabilities nearest to one half that has something in
// it.
func (f *Figures) middle() *Bin {
	var best *Bin
	for i := range f.Reliability {
		b := &f.Reliability[i]
		if best == nil || math.Abs(b.P-0.5) < math.Abs(best.P-0.5) {
			best = b
		}
	}
	return best
}

// Limits of the verdict.
const (
	enough   = 100  // predictions below which no verdict is given
	faithful = 0.03 // calibration error up to which shares may be taken as printed
	coarse   = 0.08 // up to which they tell likely from unlikely
)

// Verdict says in one sentence how far to trust the forecast.
func (r *Result) Verdict() string {
	f := &r.Pooled
	guess := fmt.Sprintf("expect the first guess to be right about %s", inTen(f.Top1))
	switch {
	case f.Predictions == 0:
		return "These games do not suffice for a test: take the forecast as a list of what was played."
	case f.Predictions < enough:
		return fmt.Sprintf("Only %s could be tested: too few to say how far to trust the forecast.", count(f.Predictions, "forecast"))
	case f.OneEvent > f.RawBits:
		return fmt.Sprintf("For this opponent the forecast was no better than counting: take its shares as rough, and %s.", guess)
	case f.ECE <= faithful:
		return fmt.Sprintf("The shares can be taken as printed: on average they were off by %.0f in 100; %s.", math.Ceil(100*f.ECE), guess)
	case f.ECE <= coarse:
		return fmt.Sprintf("The shares tell likely from unlikely, no more: on average they were off by %.0f in 100; %s.", math.Ceil(100*f.ECE), guess)
	}
	return fmt.Sprintf("Take the order of the moves, not their shares: these were off by %.0f in 100 on average; %s.", math.Ceil(100*f.ECE), guess)
}

func inTen(p float64) string { return fmt.Sprintf("%.0f times in 10", 10*p) }

func outOf(p float64, n int) string { return fmt.Sprintf("%.0f of %d", p*float64(n), n) }

func count(n int, one string) string {
	if n == 1 {
		return "1 " + one
	}
	return fmt.Sprintf("%d %ss", n, one)
}
