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

// Share hands out the games of All, and keeps the same account.
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
		g.Share(func() func(*pgn.Game) {
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

// What is remembered is what Classify says, for all the games that its own tests
// know, and for tags that only together say something.
func TestSorterIsClassify(t *testing.T) {
	kinds := newSorter()
	values := []string{"", "?", "1", "0", "BOT", "program", "Computer", "1/86400", "300+3", "Simul", "Open", "forfeit",
		"Atomic", "Standard", "EM", usualStart + " 0 1", "8/8/4k3/8/4P3/4K3/8/8 b - - 0 17"}
	names := []string{"White", "Black", "Event", "EventType", "TimeControl", "Termination", "Variant", "Mode",
		"FEN", "SetUp", "WhiteType", "BlackType", "WhiteTitle", "BlackTitle", "Result", "Site"}
	for range 2 {
		for _, a := range names {
			for _, b := range names {
				for i, v := range values {
					tags := pgn.Tags{{Name: a, Value: v}, {Name: b, Value: values[(i*7+len(a))%len(values)]}, {Name: a, Value: values[(i*3+1)%len(values)]}}
					for _, moves := range []int{0, 1, 5, 40, anyMoves} {
						if got, want := kinds.classify(tags, moves), Classify(tags, moves); got != want {
							t.Fatalf("%v with %d moves: %s, want %s", tags, moves, got, want)
						}
					}
				}
			}
		}
	}
}
