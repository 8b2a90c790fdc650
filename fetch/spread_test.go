package fetch

import (
	"reflect"
	"strings"
	"sync"
	"testing"

	"foreply/fetch/pgn"
)

// All that is handed out, and the whole account of it, is the same whatever the
// number of workers.
func TestWorkersChangeNothing(t *testing.T) {
	one, two := twoCollections(1)
	broken := strings.Replace(two, "1. ", "\xE9 1. e4 (( ", 3)
	dir := folder(t, "1.pgn", one, "2.pgn.gz", packGzip(two+one), "3.zip", packZip("a.pgn", broken, "b.pgn", one), "4.pgn", "stray")
	for name, opt := range map[string]Options{
		"one player": bothSpellings, "all games": {}, "everything": {With: Kinds, Plies: 12}, "nobody there": alder,
	} {
		t.Run(name, func(t *testing.T) {
			opt.Workers = 1
			want := run(t, opt, dir)
			for _, workers := range []int{2, 8} {
				opt.Workers = workers
				got := run(t, opt, dir)
				if len(got.games) != len(want.games) {
					t.Fatalf("%d workers: %d games, want %d", workers, len(got.games), len(want.games))
				}
				for i := range got.games {
					if !reflect.DeepEqual(got.games[i], want.games[i]) {
						t.Fatalf("%d workers: game %d\n%+v, want\n%+v", workers, i, got.games[i], want.games[i])
					}
				}
				if !reflect.DeepEqual(got.Summary, want.Summary) {
					t.Errorf("%d workers:\n%+v, want\n%+v", workers, got.Summary, want.Summary)
				}
			}
		})
	}
}

// Spread hands out the games of All, and keeps the same account.
func TestShareHandsOutAll(t *testing.T) {
	one, two := twoCollections(1)
	dir := folder(t, "1.pgn", one, "2.pgn", two)
	want := run(t, Options{}, dir)
	for _, workers := range []int{1, 3} {
		g, err := Open(t.Context(), []Input{{Pattern: dir}}, Options{Workers: workers})
		if err != nil {
			t.Fatal(err)
		}
		var (
			lock   sync.Mutex
			hands  int
			counts = map[string]int{}
		)
		g.Spread(func() func(*pgn.Game) {
			hands++
			return func(game *pgn.Game) {
				lock.Lock()
				defer lock.Unlock()
				counts[string(game.Text)]++
			}
		})
		for _, game := range want.games {
			counts[string(game.Text)]--
		}
		for text, n := range counts {
			if n != 0 {
				t.Errorf("%d workers: %+d times %s", workers, n, text)
			}
		}
		if hands != workers || !reflect.DeepEqual(g.Summary(), want.Summary) {
			t.Errorf("%d hands for %d workers: %+v, want %+v", hands, workers, g.Summary(), want.Summary)
		}
	}
}
