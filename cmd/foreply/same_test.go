package main

import (
	"runtime"
	"testing"
)

// One processor and eight, which read, count and forecast side by side as far as there
// are, print the same bytes.
func TestProcessorsChangeNothing(t *testing.T) {
	t.Setenv("HOME", t.TempDir())
	peers := testdata + "/diff/games.pgn"
	for name, args := range map[string][]string{
		"hindsight":              argsFor("hindsight", peers, []string{"Kestrel, Ada"}, "--json"),
		"hindsight, peers, book": argsFor("hindsight", demo+"opponent-*.pgn", demoNames, "--peers", peers, "--black-repertoire", demo+"black.pgn", "--json"),
		"profile":                argsFor("profile", demo+"opponent-*.pgn", demoNames, "--peers", peers, "--their-color", "black", "--json"),
		"prep":                   argsFor("prep", demo+"opponent-*.pgn", demoNames, "--peers", peers, "--repertoire", demo+"black.pgn", "--my-color", "black", "--json"),
	} {
		t.Run(name, func(t *testing.T) {
			var printed []string
			for _, processors := range []int{1, 8} {
				defer runtime.GOMAXPROCS(runtime.GOMAXPROCS(processors))
				stdout, stderr, code := call(t, args...)
				if code != 0 || len(stdout) < 1000 {
					t.Fatalf("exit code %d, %d bytes\n%s", code, len(stdout), stderr)
				}
				printed = append(printed, stdout)
			}
			if printed[1] != printed[0] {
				t.Error("other bytes with eight processors than with one")
			}
		})
	}
}
