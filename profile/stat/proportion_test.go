package stat

import "testing"

type interval func(k, n, confidence float64) (lo, hi float64)

var intervals = map[string]interval{
	"wilson": Wilson, "clopper_pearson": ClopperPearson, "jeffreys": Jeffreys,
}

func TestProportionIntervalsAgainstTables(t *testing.T) {
	checked := 0
	for _, r := range table(t, "stats_intervals.tsv") {
		f, ok := intervals[r["method"]]
		if !ok {
			continue // a method of the table that we don't have
		}
		k, n := r.float(t, "r"), r.float(t, "n")
		lo, hi := f(k, n, 0.95)
		// seven printed digits
		if !near(lo, r.float(t, "computed_low"), 6e-8) || !near(hi, r.float(t, "computed_high"), 6e-8) {
			t.Errorf("%s %v of %v: %.7f..%.7f, want %s..%s", r["method"], k, n, lo, hi, r["computed_low"], r["computed_high"])
		}
		if r["published_low"] != "" && (!near(lo, r.float(t, "published_low"), 5.1e-5) || !near(hi, r.float(t, "published_high"), 5.1e-5)) {
			t.Errorf("%s %v of %v: %.4f..%.4f, published %s..%s", r["method"], k, n, lo, hi, r["published_low"], r["published_high"])
		}
		checked++
	}
	if checked < 40 {
		t.Errorf("only %d rows checked", checked)
	}
}

func TestProportionIntervalProperties(t *testing.T) {
	for name, f := range intervals {
		for _, k := range oddFloats {
			for _, n := range oddFloats {
				for _, confidence := range oddFloats {
					if lo, hi := f(k, n, confidence); !inUnit(lo) || !inUnit(hi) || lo > hi {
						t.Errorf("%s(%v, %v, %v) = %v, %v", name, k, n, confidence, lo, hi)
					}
				}
			}
		}
		for n := 1.0; n <= 12; n++ {
			for k := 0.0; k <= n; k++ {
				lo, hi := f(k, n, 0.8)
				l, h := f(n-k, n, 0.8)
				if !near(l, 1-hi, 1e-12) || !near(h, 1-lo, 1e-12) {
					t.Errorf("%s: %v of %v does not mirror: %v..%v, %v..%v", name, k, n, lo, hi, l, h)
				}
				wideLo, wideHi := f(k, n, 0.95)
				if wideLo > lo || wideHi < hi {
					t.Errorf("%s: %v of %v narrows with confidence", name, k, n)
				}
			}
		}
		if lo, hi := f(0, 0, 0.95); lo != 0 || hi != 1 {
			t.Errorf("%s of no trials = %v..%v", name, lo, hi)
		}
	}
}
