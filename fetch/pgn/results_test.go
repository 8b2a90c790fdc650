package pgn

import "testing"

// What people write for a result, and what only looks like one.
func TestResultsAsPeopleWriteThem(t *testing.T) {
	for text, want := range map[string]string{
		"1-0": "1-0", "0-1": "0-1", "1/2-1/2": "1/2-1/2", "*": "*", " 1-0 ": "1-0", "1 - 0": "1-0", "1  -  0": "1-0", "1   - 0": "", "1 -   0": "",
		"1:0": "1-0", "0:1": "0-1", "0 : 1": "0-1", "1–0": "1-0", "0—1": "0-1", "1-O": "1-0", "o-1": "0-1", "O-O": "", "1-1": "", "0-0": "", "2-0": "", "1-2": "",
		"1/2": "1/2-1/2", "1/2:1/2": "1/2-1/2", "1/2 - 1/2": "1/2-1/2", "½": "1/2-1/2", "½-½": "1/2-1/2", "½ : ½": "1/2-1/2", "1/2-½": "1/2-1/2", "½-1/2": "1/2-1/2", "1/3": "", "2/2": "", "/2": "", "1/": "", "1/2-": "", "½-1": "",
		"0.5-0.5": "1/2-1/2", "0,5:0,5": "1/2-1/2", "0.5 - 0.5": "1/2-1/2", "0.6-0.5": "", "0.5-0.4": "", "1.5-0.5": "", "0;5-0.5": "", "0.5": "", ".5-.5": "",
		"11-0": "", "1-01": "", "1-0-": "", "-1-0": "", "=1-0": "", "/1-0": "", "$1-0": "", "1-0/": "", "1-0:": "", "a1-0": "", "**": "", "1-0 won": "", "won 1-0": "", "won": "", "": "", "1-": "", "-0": "", "1- 0": "1-0", "1 -0": "",
	} {
		if got := ResultValue(text); got != want {
			t.Errorf("%q means %q, want %q", text, got, want)
		}
	}
}

// The tag counts, unless it says nothing: then the marker at the end, unless that says
// nothing either.
func TestResultOfTagAndMarker(t *testing.T) {
	for _, c := range []struct{ tag, marker, want string }{
		{"1-0", "0-1", "1-0"}, {"1/2-1/2", "*", "1/2-1/2"}, {"*", "0-1", "0-1"}, {"won", "1/2-1/2", "1/2-1/2"}, {"?", "*", ""}, {"*", "*", ""}, {"1:0", "", "1-0"}, {"", "", ""},
	} {
		g := &Game{tags: Tags{{"Result", c.tag}}, Termination: c.marker}
		if got := g.Result(); got != c.want {
			t.Errorf("tag %q, marker %q: %q, want %q", c.tag, c.marker, got, c.want)
		}
	}
}
