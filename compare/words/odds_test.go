package words

import (
	"testing"

	"foreply/compare/fact"
)

// In few words a share is told by what it rests on.
func TestOdds(t *testing.T) {
	for want, s := range map[string]fact.Share{
		"not seen":                        {},
		"hardly known: 1 of 2 games":      {P: 0.4, Seen: 1, Of: 2, TenLo: 1, TenHi: 8},
		"hardly known: 1 of 1 game":       {P: 0.4, Seen: 1, Of: 1, TenLo: 1, TenHi: 8},
		"not seen in 2 games":             {P: 0.4, Of: 2, TenLo: 1, TenHi: 8},
		"4 of 6 games":                    {P: 0.6, Seen: 4, Of: 6, TenLo: 2, TenHi: 9, Hardly: true},
		"not seen in 7 games":             {P: 0.19, Of: 7, TenHi: 6, Hardly: true},
		"9 of 421 games, expect more":     {P: 0.33, Seen: 9, Of: 421, TenLo: 1, TenHi: 6, Hardly: true},
		"not seen; other players 3 in 10": {P: 0.3, TenHi: 9, Hardly: true},
		"6 in 10 (4–8)":                   {P: 0.6, Seen: 4, Of: 6, TenLo: 4, TenHi: 8},
		"nearly always":                   {P: 0.97, Seen: 40, Of: 41, TenLo: 9, TenHi: 10},
		"3 in 10":                         {P: 0.3, Seen: 300, Of: 1000, TenLo: 3, TenHi: 3},
		"1 in 15 (0–2)":                   {P: 0.066, Seen: 2, Of: 31, TenHi: 2},
		"1 in 15":                         {P: 0.066, Seen: 2, Of: 31, TenHi: 1},
		"1 in 15, not seen":               {P: 0.066, Of: 31, TenHi: 1},
		"under 1 in 100":                  {P: 0.002, Seen: 1, Of: 500},
	} {
		if got := Odds(s); got != want {
			t.Errorf("%+v: %q, want %q", s, got, want)
		}
	}
}

func TestOthers(t *testing.T) {
	for p, want := range map[float64]string{0: "", 0.09: "", 0.1: "else 1 in 10", 0.36: "else 4 in 10"} {
		if got := Others(p, false); got != want {
			t.Errorf("%g: %q, want %q", p, got, want)
		}
	}
	for p, want := range map[float64]string{0.28: "", 0.36: "else 4"} {
		if got := Others(p, true); got != want {
			t.Errorf("%g in a narrow column: %q, want %q", p, got, want)
		}
	}
}
