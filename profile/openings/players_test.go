package openings

import (
	"strings"
	"testing"
)

// Every entry is a name of the open list, or begins one: what the list doesn't have could
// never be said.
func TestPlayersNamesAreOfTheList(t *testing.T) {
	names := map[string]bool{}
	for line := range strings.Lines(rows) {
		for name := strings.TrimSuffix(strings.SplitN(line, "\t", 3)[2], "\n"); name != ""; name = broader(name) {
			names[name] = true
		}
	}
	last := ""
	for _, f := range byHand(playersTable) {
		if len(f) != 2 || f[0] <= last || f[1] == "" || f[0] == f[1] {
			t.Fatalf("row %q, after %q", f, last)
		}
		if last = f[0]; !names[f[0]] {
			t.Errorf("%q is no name of the list", f[0])
		}
	}
	if last == "" {
		t.Error("no rows")
	}
}

func TestUnlistedPositions(t *testing.T) {
	for _, f := range byHand(unlistedTable) {
		keys := keysOf(t, f[3])
		key := keys[len(keys)-1]
		if key != parseKey(t, f[0]) {
			t.Errorf("%s: the key is %016x", f[3], key)
		}
		if o, ok := Name(key); ok {
			t.Errorf("%s is %q in the list", f[3], o.Name)
		}
	}
}

// A head that players have no name for gives none to what stands below it.
func TestNothingIsSaidOfNoName(t *testing.T) {
	for line := range strings.Lines(rows) {
		name := strings.TrimSuffix(strings.SplitN(line, "\t", 3)[2], "\n")
		if got := said(name); got == "" || got != noName && strings.HasPrefix(got, noName) {
			t.Errorf("%s is said %q", name, got)
		}
	}
}

func TestSaid(t *testing.T) {
	for line, want := range map[string]string{
		"": "", "e4": "", "e4 c5": "", // two plies say it themselves
		"e4 c5 Nf3":                       "B27 Sicilian Defense",
		"e4 c5 a3":                        "B20 Sicilian Defense: Mengarini Variation",
		"e4 c5 Nf3 Nc6 Bb5":               "B30 Sicilian Defense: Rossolimo Variation",
		"e4 c5 Nf3 Nc6 Bb5 g6":            "B31 Sicilian Defense: Rossolimo Variation, Fianchetto Variation",
		"e4 c5 Nf3 e6":                    "B40 Sicilian Defense",
		"e4 e5 Nf3 Nf6 Nxe5 d6 Nxf7":      "C42 Petroff Defense: Cochrane Gambit",
		"d4 Nf6 c4":                       "A50 Indian Defense",
		"d4 d5 Nf3 Nf6 Bf4":               "D02 London System",
		"Nf3 d5 d4 Nf6 c4 c6":             "D11 Slav Defense",
		"Nf3 d5 d4 Nf6 c4 c6 Nc3":         "D15 Slav Defense",
		"e4 e5 a4":                        "", // the list's 'King's Pawn Game' is no name
		"e4 c6 d4 d5 f3":                  "B12 Caro-Kann Defense: Fantasy Variation",
		"c4 e5 Nc3 Nf6":                   "A22 English Opening: Two Knights Variation",
		"d4 Nf6 c4 e6 Nc3 Bb4 e3 O-O Bd3": "E47 Nimzo-Indian Defense: Rubinstein System, Bishop Attack",
	} {
		o, ok := Said(keysOf(t, line))
		if got := strings.TrimSpace(o.text()); got != want || ok != (want != "") {
			t.Errorf("%q: %q, want %q", line, got, want)
		}
	}
}
