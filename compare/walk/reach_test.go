package walk

import (
	"math"
	"testing"
)

// The interval of a reach: of one choice of 0.1 at strength 10 it is that of Beta(1, 9); the
// second moment of two orders has a part for both together.
func TestReachInterval(t *testing.T) {
	w := walked(whiteBook(orders), twoOrders, Options{MaxPly: 10, Threshold: 0.01})
	lo, hi := w.Sorted()[2].Interval()
	if math.Abs(lo-(1-math.Pow(0.9, 1.0/9))) > 1e-6 || math.Abs(hi-(1-math.Pow(0.1, 1.0/9))) > 1e-6 {
		t.Errorf("%v to %v", lo, hi)
	}
	moment := func(p float64) float64 { return p * (10*p + 1) / 11 }
	both := 2 * (0.6 * 0.3 * 10 / 11) * 0.7 * 1
	s := state(t, w, "d4 d5 c4 Nf6")
	if want := moment(0.6)*moment(0.7) + moment(0.3) + both; math.Abs(s.Square-want) > near || math.Abs(s.Mass-0.72) > near || s.Orders != 2 {
		t.Errorf("%v, want %v; mass %v", s.Square, want, s.Mass)
	}
	often := s.Often(7, 9)
	if lo, hi := s.Interval(); often.P != s.Mass || often.Lo != lo || often.Hi != hi || often.Games != 7 || often.Of != 9 || lo >= s.Mass || hi <= s.Mass {
		t.Errorf("%+v", often)
	}
	if lo, hi := w.Order[0].Interval(); lo != 1 || hi != 1 {
		t.Errorf("the start comes in %v to %v", lo, hi)
	}
}
