package main

import (
	"testing"

	"foreply/fetch"
)

func TestNearest(t *testing.T) {
	list := []string{"games", "opponent", "repertoire", "my-color", "out"}
	for word, want := range map[string]string{
		"game": "games", "oponent": "opponent", "repetoire": "repertoire", "my-colour": "my-color",
		"ot": "out", "gamse": "games", "clock": "", "": "", "Game": "games", "GAMES": "games", "ou": "out", "o": "", "gamx": "", "opponentxyz": "opponent", "peertoire": "repertoire",
	} {
		if got, ok := nearest(word, list); ok != (want != "") || ok && got != want {
			t.Errorf("nearest(%q) is %q, %v; want %q", word, got, ok, want)
		}
	}
}

func TestDistance(t *testing.T) {
	for _, test := range []struct {
		a, b string
		want int
	}{{"", "", 0}, {"abc", "", 3}, {"abc", "abd", 1}, {"abc", "acb", 1}, {"łukasz", "lukasz", 1}, {"kitten", "sitting", 3}} {
		if got := fetch.Distance(test.a, test.b); got != test.want {
			t.Errorf("distance(%q, %q) = %d, want %d", test.a, test.b, got, test.want)
		}
	}
}
