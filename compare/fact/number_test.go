package fact

import (
	"encoding/json"
	"strings"
	"testing"
)

// What is hardly known has its probability in the JSON, and no tenths.
func TestHardlyKnownInJSON(t *testing.T) {
	wide, narrow := Chance{P: 0.5, Lo: 0.2, Hi: 0.8}, Chance{P: 0.5, Lo: 0.3, Hi: 0.7}
	for name, c := range map[string]struct {
		value  any
		hardly bool
	}{
		"a share":            {NewShare(narrow, 9, 20), false},
		"a wide share":       {NewShare(wide, 9, 20), true},
		"a share of 2 games": {NewShare(narrow, 1, 2), true},
		"how often":          {NewOften(narrow, 9, 20), false},
		"how often, wide":    {NewOften(wide, 9, 20), true},
	} {
		text, err := json.Marshal(c.value)
		if err != nil {
			t.Fatal(err)
		}
		var own map[string]any
		if err := json.Unmarshal(text, &own); err != nil {
			t.Fatal(err)
		}
		delete(own, "share")
		tens := false
		for key := range own {
			tens = tens || strings.HasPrefix(key, "ten")
		}
		if said := own["hardly_known"] == true; said != c.hardly || tens == c.hardly || own["lo"] == nil {
			t.Errorf("%s: %s", name, text)
		}
	}
}

// A count and a forecast that a reader takes for two things are told so, by one rule.
func TestFar(t *testing.T) {
	for name, c := range map[string]struct {
		p        float64
		seen, of int
		want     int
	}{
		"as counted": {0.5, 9, 17, 0}, "seen once in 19, expected in 2 of 10": {0.2, 1, 19, 1}, "twice as often, but rare": {0.09, 4, 100, 0},
		"dropped": {0.03, 190, 740, -1}, "taken up": {0.36, 90, 399, 1}, "half as often again": {0.36, 10, 40, 0}, "less": {0.55, 17, 20, -1}, "nothing counted": {0.4, 0, 5, 0}, "never here": {0.4, 0, 0, 0},
	} {
		if got := NewShare(Chance{P: c.p, Lo: c.p, Hi: c.p}, c.seen, c.of).Far(); got != c.want {
			t.Errorf("%s: %d, want %d", name, got, c.want)
		}
	}
}

// A line is told from where it parts from another, and its last move always is.
func TestParts(t *testing.T) {
	line := []string{"e4", "e5", "Nf3"}
	for _, c := range []struct {
		stem []string
		want int
	}{{nil, 0}, {[]string{"d4"}, 0}, {[]string{"e4", "c5"}, 1}, {[]string{"e4", "e5"}, 2}, {line, 2}, {[]string{"e4", "e5", "Nf3", "Nc6"}, 2}} {
		if got := Parts(line, c.stem); got != c.want {
			t.Errorf("after %q: %d, want %d", c.stem, got, c.want)
		}
	}
	if got := Parts(nil, line); got != 0 {
		t.Errorf("of no line: %d", got)
	}
}

// An order of theirs matters as far as they do not come back, one of yours as far as they
// play their line.
func TestMatters(t *testing.T) {
	for kind, want := range map[string]float64{TheirOrder: 0.15, YourOrder: 0.05} {
		if got := (&Order{Kind: kind, Reach: 0.2, Share: Share{P: 0.25}}).Matters(); got < want-1e-12 || got > want+1e-12 {
			t.Errorf("%s: %v, want %v", kind, got, want)
		}
	}
}
