package stat

import "testing"

func TestWilsonAgainstTables(t *testing.T) {
	checked := 0
	for _, r := range table(t, "stats_intervals.tsv") {
		if r["method"] != "wilson" {
			continue // a method that we don't have
		}
		k, n := r.float(t, "r"), r.float(t, "n")
		lo, hi := Wilson(k, n, 0.95)
		// seven printed digits
		if !near(lo, r.float(t, "computed_low"), 6e-8) || !near(hi, r.float(t, "computed_high"), 6e-8) {
			t.Errorf("%v of %v: %.7f..%.7f, want %s..%s", k, n, lo, hi, r["computed_low"], r["computed_high"])
		}
		if r["published_low"] != "" && (!near(lo, r.float(t, "published_low"), 5.1e-5) || !near(hi, r.float(t, "published_high"), 5.1e-5)) {
			t.Errorf("%v of %v: %.4f..%.4f, published %s..%s", k, n, lo, hi, r["published_low"], r["published_high"])
		}
		checked++
	}
	if checked < 16 {
		t.Errorf("only %d rows checked", checked)
	}
}

func TestWilsonProperties(t *testing.T) {
	for _, k := range oddFloats {
		for _, n := range oddFloats {
			for _, confidence := range oddFloats {
				if lo, hi := Wilson(k, n, confidence); !inUnit(lo) || !inUnit(hi) || lo > hi {
					t.Errorf("Wilson(%v, %v, %v) = %v, %v", k, n, confidence, lo, hi)
				}
			}
		}
	}
	for n := 1.0; n <= 12; n++ {
		for k := 0.0; k <= n; k++ {
			lo, hi := Wilson(k, n, 0.8)
			l, h := Wilson(n-k, n, 0.8)
			if !near(l, 1-hi, 1e-12) || !near(h, 1-lo, 1e-12) {
				t.Errorf("%v of %v does not mirror: %v..%v, %v..%v", k, n, lo, hi, l, h)
			}
			if wideLo, wideHi := Wilson(k, n, 0.95); wideLo > lo || wideHi < hi {
				t.Errorf("%v of %v narrows with confidence", k, n)
			}
		}
	}
	for _, c := range [][3]float64{{0, 0, 0.95}, {3, -1, 0.95}, {3, 10, 1}, {3, 10, 2}} {
		if lo, hi := Wilson(c[0], c[1], c[2]); lo != 0 || hi != 1 {
			t.Errorf("%v of %v with confidence %v: %v..%v", c[0], c[1], c[2], lo, hi)
		}
	}
	for n := 0.25; n < 60; n += 0.75 { // exact at the ends
		lo, _ := Wilson(-1, n, 0.9)
		_, hi := Wilson(n+1, n, 0.9)
		if lo != 0 || hi != 1 {
			t.Errorf("none of %v from %v, all to %v", n, lo, hi)
		}
	}
}
