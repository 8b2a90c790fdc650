package profile

import (
	"fmt"
	"strings"
	"testing"

	"foreply/fetch/pgn"
	"foreply/profile/board"
)

// Games that begin elsewhere, pass a turn or have no legal move don't count; one that goes
// wrong counts up to there.
func TestGamesThatCount(t *testing.T) {
	for text, want := range map[string]bool{
		"1. e4 e5 *": true, "1. e4 Ke4 *": true, "1. e4 -- 2. d4 *": false, "1. e5 *": false, "*": false,
		"[SetUp \"1\"]\n[FEN \"4k3/8/8/8/8/8/4P3/4K3 w - - 0 1\"]\n\n1. e4 *": false,
	} {
		c := NewCounts(10)
		r := pgn.NewReader(strings.NewReader(text+"\n"), pgn.Options{File: "x.pgn"})
		for g := range r.All() {
			if got := c.Add(g); got != want || c.Games() != map[bool]int{true: 1}[got] {
				t.Errorf("%s: %v, %d games", text, got, c.Games())
			}
		}
	}
}

// A dump is a line for each position, the moves in it, the commonest first.
func TestDump(t *testing.T) {
	c := NewCounts(2)
	for g := range gamesOf("2026.01.02 1-0 -: e4 e5", "2026.01.01 0-1 -: d4", "2026.01.03 1/2-1/2 -: d4", "2026.01.04 * -: e4 c5", "2026.??.?? 1-0 -: e4", "2026.01.02 0-1 -: e4 e6", "2026.01.02 0-1 -: d4 d5") {
		c.Add(g)
	}
	var b strings.Builder
	if err := c.Dump(&b); err != nil {
		t.Fatal(err)
	}
	after := func(moves ...string) string {
		pos := board.Start()
		for _, san := range moves {
			m, err := pos.Resolve([]byte(san))
			if err != nil {
				t.Fatal(err)
			}
			pos.Play(m)
		}
		return fmt.Sprintf("%016x", pos.Key())
	}
	for _, want := range []string{
		after() + " 7 2 1 3 e2e4 4 2 0 1 20260104 " + after("e4") + " d2d4 3 0 1 2 20260103 " + after("d4") + "\n",
		after("e4") + " 3 1 0 1 c7c5 1 0 0 0 20260104 " + after("e4", "c5") + " e7e5 1 1 0 0 20260102 " + after("e4", "e5") + " e7e6 1 0 0 1 20260102 " + after("e4", "e6") + "\n",
		after("d4") + " 1 0 0 1 d7d5 1 0 0 1 20260102 " + after("d4", "d5") + "\n", after("d4", "d5") + " 0 0 0 0\n", after("e4", "e5") + " 0 0 0 0\n",
	} {
		if text := "\n" + b.String(); !strings.Contains(text, "\n"+want) {
			t.Errorf("%s has no line %s", text, want)
		}
	}
}

// A walk through a tree takes the most played moves first and comes to each position once.
func TestWalkThroughATree(t *testing.T) {
	tree := builtFrom("2026.01.01 1-0 -: e4 e5 Nf3", "2026.01.02 1-0 -: d4 d5 Nf3", "2026.01.03 1-0 -: d4 Nf6 c4", "2026.01.04 1-0 -: d4 Nf6 c4", "2026.01.05 1-0 -: Nf3 d5 d4 Nf6").Tree(board.White)
	var got []string
	for pos, n := range tree.All() {
		got = append(got, fmt.Sprint(pos.Ply(), ":", pos.SAN(n.Edges[0].Move)))
	}
	// The start, 1.d4, ...Nf6, ...d5 with 2.Nf3 next (where 1.Nf3 d5 2.d4 meets it), then the others.
	if want := "0:d4 1:Nf6 2:c4 2:Nf3 3:Nf6 1:d5 2:d4 1:e5 2:Nf3"; strings.Join(got, " ") != want {
		t.Errorf("%s, want %s", strings.Join(got, " "), want)
	}
}
