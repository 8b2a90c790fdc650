package pgn

import (
	"bytes"
	"fmt"
	"math/rand/v2"
	"slices"
	"testing"
)

// aheadOptions are ways to read in which reading ahead could make a difference. The
// games of some are refused by their White.
func aheadOptions() []Options {
	some := func(g *Game) bool { return len(g.tags.Get("White"))%3 != 1 }
	return []Options{{}, {Want: some}, {Plies: 3}, {Plies: 7, Want: some}, {MaxGame: 300}, {Passing: true}}
}

// checkAhead compares a Reader with one that doesn't read ahead, and counts that
// each is asked as often whether a game is wanted.
func checkAhead(t *testing.T, text []byte) {
	t.Helper()
	for _, opt := range aheadOptions() {
		var outcomes [2]outcome
		var asked [2]int
		for i := range outcomes {
			opt := opt
			want := opt.Want
			opt.Want = func(g *Game) bool {
				asked[i]++
				return want == nil || want(g)
			}
			r := NewReader(bytes.NewReader(text), opt)
			if i == 0 {
				r.splitter.ahead = nil
			}
			for g := range r.All() {
				outcomes[i].Games = append(outcomes[i].Games, g.Clone())
			}
			outcomes[i].Problems, outcomes[i].Seen, outcomes[i].Err = r.Problems(), r.Games(), r.Err()
		}
		sameOutcome(t, outcomes[1], outcomes[0])
		if asked[0] != asked[1] {
			t.Errorf("asked for %d games, want %d", asked[1], asked[0])
		}
	}
}

// oddities are put into good games at random places.
var oddities = []string{
	" ", "\n", "\n\n", "\r\n", "1-0", " 1/2-1/2 ", "*", " 0-1\n", "1.", "\n1. ", "\n1.d4 ", "1", "31-0", " 2 ", "{", "}", "{}", "{ }", "{[%clk 0:01]}", "{héé}",
	"\xe9", "½-½", "(", ")", "(1... c5)", "[", "]", "[White \"X\"]\n", "\n\n[White \"Y\"]\n\n", "\n[Event \"Z\"]\n", ";", "; 1-0\n", "\n% 1-0\n", "$1", "!", "Nf3", "Sf3 ", "O-O ", "0-0 ",
	"--", "e8=Q ", "e8", "e.p.", "\n> ", "\n- ", "&nbsp;", "<x>", "...", "…", "0.5-0.5", "O-1", "1-O ", ":", "\uFEFF",
}

func TestAhead(t *testing.T) {
	for _, text := range fixtures(t) {
		checkAhead(t, text)
	}
	const game = "[Event \"E\"]\n[White \"%s\"]\n[Result \"1-0\"]\n\n1. e4 {[%%clk 0:03]} c5 2. Nf3 {a\nnote} d6\n3. d4 cxd4 4. Nxd4 Nf6 11. Nc3 {x}{y} a6\n{z} 12. O-O 1-0\n\n"
	r := rand.New(rand.NewPCG(1, 2))
	for n := range 3000 {
		text := fmt.Appendf(nil, game+game+game, "A", "Bo", "Cat")
		for range 1 + n%3 {
			odd := oddities[r.IntN(len(oddities))]
			at := r.IntN(len(text))
			text = slices.Concat(text[:at], []byte(odd), text[at:])
		}
		lineEnds := []string{"\n", "\r\n", "\n  ", "\r\n\t", "\n  > "}
		text = bytes.ReplaceAll(text, []byte("\n"), []byte(lineEnds[n%len(lineEnds)]))
		checkAhead(t, text)
		if t.Failed() {
			t.Fatalf("reading ahead makes a difference to\n%s", text)
		}
	}
}

func FuzzAhead(f *testing.F) {
	addSeeds(f)
	f.Fuzz(func(t *testing.T, text []byte) {
		checkAhead(t, text)
		checkAhead(t, slices.Concat([]byte(lastGame), text, []byte("\n\n"+lastGame)))
	})
}
