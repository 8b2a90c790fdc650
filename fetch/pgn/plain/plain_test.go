package plain

import (
	"slices"
	"strings"
	"testing"
)

func TestColumns(t *testing.T) {
	for s, want := range map[string]int{"": 0, "Dvořák": 6, "Dvor\u030ca\u0301k": 6, "棋士": 4, "ＡＢ": 4, "½–…": 3, "a\u20dd": 1, "♘f3": 3} {
		if got := Columns(s); got != want {
			t.Errorf("%q takes %d, want %d", s, got, want)
		}
	}
}

func TestSteers(t *testing.T) {
	for _, r := range "\x1b\n\t\u0085\u200f\u202e\u2066\u2028\u2029\ue000\U000e0041\ufeff" {
		if !Steers(r) {
			t.Errorf("%U does not steer", r)
		}
	}
	if !Steers(0xD800) {
		t.Error("half of a character does not steer")
	}
	for _, r := range "aé棋½ \u00a0♘" {
		if Steers(r) {
			t.Errorf("%U steers", r)
		}
	}
}

func TestWrap(t *testing.T) {
	for _, c := range []struct {
		head, text string
		want       []string
	}{
		{"", "", []string{""}},
		{"- ", "", []string{"- "}},
		{"- ", "four five", []string{"- four", "  five"}},
		{"- ", "four fiv", []string{"- four fiv"}},
		{"", "a wonderfully long b", []string{"a", "  wonderfully", "  long b"}},
		{"", "棋士棋士 abc", []string{"棋士棋士", "  abc"}},
	} {
		if got := Wrap(c.head, "  ", strings.Fields(c.text), 10); !slices.Equal(got, c.want) {
			t.Errorf("%q, want %q", got, c.want)
		}
	}
}
