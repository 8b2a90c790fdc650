package pdf

import (
	"maps"
	"slices"
	"testing"

	"foreply/compare/fact"
)

// What to expect is told by games where they are counted or nothing else is known, by whole
// lines where these never part, else by where they part.
func TestWaysToTell(t *testing.T) {
	exits := []fact.Exit{{Line: san("e4 e5")}}
	bare, one := []fact.Parting{{From: -1}}, firstMoves(1)
	for name, c := range map[string]struct {
		side fact.Side
		want int
	}{
		"counted": {fact.Side{Few: true, Partings: one, Exits: exits}, byGames}, "nothing": {fact.Side{Partings: bare}, byGames}, "lines": {fact.Side{Exits: exits}, byExits},
		"a parting of nothing": {fact.Side{Partings: bare, Exits: exits}, byExits}, "one move": {fact.Side{Partings: one, Exits: exits}, byPartings}, "moves alone": {fact.Side{Partings: one}, byPartings},
	} {
		if got := tellBy(&c.side); got != c.want {
			t.Errorf("%s: %d, want %d", name, got, c.want)
		}
	}
}

// The likeliest branches find room first, one without an answer as if it were four times as
// likely, and the way to a branch before it.
func TestOrderOfBranches(t *testing.T) {
	r := rank([]fact.Parting{
		{From: -1, Branches: []fact.Branch{{Move: "e4", Reach: 0.5, Next: -1}, {Move: "d4", Reach: 0.3, Next: 1}, {Move: "c4", Reach: 0.12, State: fact.NoAnswer, Next: -1}, {Move: "f4", Reach: 0.1, State: fact.NoAnswer, Next: -1}}},
		{From: 0, Stem: san("d4 d5"), Branches: []fact.Branch{{Move: "c4", Reach: 0.15, State: fact.NoAnswer, Next: -1}, {Move: "Nf3", Reach: 0.2, Next: -1}}},
		{From: 1, Stem: san("d4 Nf6"), Branches: []fact.Branch{{Move: "g4", Reach: 0.11, State: fact.NoAnswer, Next: -1}}},
	})
	want := []at{{0, 1}, {1, 0}, {0, 0}, {0, 2}, {2, 0}, {0, 3}, {1, 1}}
	if !slices.Equal(r.order, want) {
		t.Errorf("%v, want %v", r.order, want)
	}
	for n, want := range map[int]map[int]string{0: {}, 1: {0: "A"}, 2: {0: "A", 1: "B"}, 4: {0: "A", 1: "B"}, 5: {0: "A", 1: "B", 2: "C"}} {
		if got := r.keys(n); !maps.Equal(got, want) {
			t.Errorf("the first %d stand in %v, want %v", n, got, want)
		}
	}
	r.order = []at{{2, 0}, {0, 0}}
	if got := r.keys(1); !maps.Equal(got, map[int]string{2: "A"}) {
		t.Errorf("letters go by what stands: %v", got)
	}
}

// Lines are counted where they end, not where they go on.
func TestLinesLeftOutAreCountedOnce(t *testing.T) {
	r := rank([]fact.Parting{
		{Stem: san("e4"), From: -1, Branches: []fact.Branch{{Move: "c5", Reach: 0.6, Next: 1}, {Move: "e5", Reach: 0.3, Next: -1}}},
		{Stem: san("e4 c5 Nf3"), From: 0, Branches: []fact.Branch{{Move: "d6", Reach: 0.4, Next: -1}, {Move: "Nc6", Reach: 0.2, Next: -1}}},
	})
	if got := r.rest[0]; got.lines != 3 || got.reach < 0.899 || got.reach > 0.901 {
		t.Errorf("%+v", got)
	}
}
