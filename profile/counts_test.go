package profile

import (
	"fmt"
	"strings"
	"testing"

	"foreply/profile/board"
)

// A dump is a line for each position, the moves in it, the commonest first.
func TestDump(t *testing.T) {
	c := NewCounts(2)
	for g := range gamesOf("2026.01.02 1-0 -: e4 e5", "2026.01.01 0-1 -: d4", "2026.01.03 1/2-1/2 -: d4", "2026.01.04 * -: e4 c5", "2026.??.?? 1-0 -: e4") {
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
		after() + " 5 2 1 1 e2e4 3 2 0 0 20260104 " + after("e4") + " d2d4 2 0 1 1 20260103 " + after("d4") + "\n",
		after("e4") + " 2 1 0 0 c7c5 1 0 0 0 20260104 " + after("e4", "c5") + " e7e5 1 1 0 0 20260102 " + after("e4", "e5") + "\n",
		after("d4") + " 0 0 0 0\n", after("e4", "e5") + " 0 0 0 0\n",
	} {
		if text := "\n" + b.String(); !strings.Contains(text, "\n"+want) {
			t.Errorf("%s has no line %s", text, want)
		}
	}
}
