package pgn

import (
	"bytes"
	"errors"
	"io"
	"math/rand/v2"
	"os"
	"path/filepath"
	"reflect"
	"slices"
	"strings"
	"sync"
	"testing"
)

// outcome is all that reading an input gives.
type outcome struct {
	Games    []*Game
	Seen     int
	Problems []Problem
	Err      error
}

// readAlone reads with All.
func readAlone(src io.Reader, opt Options) outcome {
	r := NewReader(src, opt)
	var o outcome
	for g := range r.All() {
		o.Games = append(o.Games, g.Clone())
	}
	o.Seen, o.Problems, o.Err = r.Games(), r.Problems(), r.Err()
	return o
}

// readShared reads with Spread and puts the games in order.
func readShared(src io.Reader, opt Options, workers, size int) outcome {
	r := NewReader(src, opt)
	var o outcome
	hands := make([]Worker, workers)
	for i := range hands {
		var found []*Game
		hands[i] = Worker{
			Want: opt.Want,
			Game: func(g *Game) { found = append(found, g.Clone()) },
			Done: func() func(Passed) bool {
				games := found
				found = nil
				return func(p Passed) bool {
					for _, g := range games {
						p.Place(g)
						o.Games = append(o.Games, g)
					}
					return true
				}
			},
		}
	}
	(&spreader{r: r, size: size}).run(hands)
	o.Seen, o.Problems, o.Err = r.Games(), r.Problems(), r.Err()
	return o
}

func sameOutcome(t *testing.T, got, want outcome) {
	t.Helper()
	for _, o := range []*outcome{&got, &want} {
		for _, g := range o.Games {
			g.Problems, g.tags, g.Moves = orNil(g.Problems), orNil(g.tags), orNil(g.Moves)
		}
	}
	sameGames(t, got.Games, want.Games)
	if got.Seen != want.Seen || !reflect.DeepEqual(got.Problems, want.Problems) || (got.Err == nil) != (want.Err == nil) {
		t.Fatalf("%d games, %v, %v\nwant %d, %v, %v", got.Seen, got.Err, got.Problems, want.Seen, want.Err, want.Problems)
	}
}

// orNil makes no difference between nil and empty.
func orNil[S ~[]T, T any](s S) S {
	if len(s) == 0 {
		return nil
	}
	return s
}

func fixtures(t testing.TB) [][]byte {
	t.Helper()
	var all [][]byte
	for _, dir := range []string{tortureDir, quirkDir} {
		files, err := filepath.Glob(dir + "/*.pgn")
		if err != nil || len(files) == 0 {
			t.Fatalf("no fixtures in %s: %v", dir, err)
		}
		for _, file := range files {
			text, err := os.ReadFile(file)
			if err != nil {
				t.Fatal(err)
			}
			all = append(all, text)
		}
	}
	return all
}

// Whatever stands in a file, and in whatever order, it is read the same by one
// worker and by many, in blocks of any size.
func TestSpreadGivesTheSame(t *testing.T) {
	files := append(fixtures(t), []byte(lastGame), []byte("\n"+lastGame+"\n"), []byte("\n\n"), []byte("1-0\n\n"),
		[]byte("[A \"x 1-0\n\n"), []byte("; 1-0\n"), []byte("{ 1-0\n\n"), []byte("1. e4 ( 1. d4 1-0\n\n"), []byte("\xE9 1-0\n"))
	rnd := rand.New(rand.NewPCG(3, 1))
	for trial := range 60 {
		var text []byte
		for size := 20_000 + rnd.IntN(120_000); len(text) < size; {
			file := files[rnd.IntN(len(files))]
			if rnd.IntN(4) == 0 {
				file = bytes.ReplaceAll(file, []byte("\n"), []byte("\n \t"))
			}
			text = append(text, file...)
		}
		for _, opt := range []Options{
			{File: "all.pgn"},
			{File: "all.pgn", Variations: true, MaxGame: 400},
			{File: "all.pgn", MaxGame: 3000, Plies: 12, Want: func(g *Game) bool { return len(g.tags.Get("White"))%2 == 0 }},
		} {
			want := readAlone(bytes.NewReader(text), opt)
			for _, workers := range []int{1, 2, 8} {
				sameOutcome(t, readShared(bytes.NewReader(text), opt, workers, 1+rnd.IntN(40_000)), want)
			}
		}
		if t.Failed() {
			t.Fatalf("trial %d", trial)
		}
	}
}

// What blocks give is put together in their order: games, problems outside of games, the one
// note of the encoding, and the error of the input.
func TestSpreadPutsTogether(t *testing.T) {
	tidy := "[White \"%s\"]\n\n1. e4 {a} e5 x 2. Nf3 1-0\n\n"
	var b strings.Builder
	b.WriteString("\ufeff")
	for i := range 40 {
		b.WriteString(strings.ReplaceAll(tidy, "%s", strings.Repeat("é", i)))
		switch i % 8 {
		case 2:
			b.WriteString(strings.Repeat("junk *\n", 15))
		case 3:
			b.WriteString("1. d4 {\xe9} *\n\n\ufeff")
		case 5:
			b.WriteString("[White \"Long\"]\n\n" + strings.Repeat("1. c4 c5 ", 60) + "\n\n")
		case 6:
			b.WriteString(strings.Repeat("[White \"No result\"]\n\n1. c4 {b} c5\n\n", 5) + "1. c3 * ")
		}
	}
	opt := Options{File: "all.pgn", MaxGame: 400, Variations: true, Want: func(g *Game) bool { return len(g.tags.Get("White"))%3 != 2 }}
	for _, err := range []error{io.EOF, errFull} {
		src := func() io.Reader { return io.MultiReader(strings.NewReader(b.String()), errReader{err}) }
		want := readAlone(src(), opt)
		if len(want.Problems) != maxLoose+1 || len(want.Games) < 50 {
			t.Fatalf("%d problems, %d games", len(want.Problems), len(want.Games))
		}
		for _, workers := range []int{1, 3} {
			for _, size := range []int{1, 200, 1000, 4000} {
				sameOutcome(t, readShared(src(), opt, workers, size), want)
			}
		}
	}
}

// Long files of one kind of game, with nothing odd to stop them.
func TestShareOfManyGames(t *testing.T) {
	for name, text := range map[string][]byte{
		"tidy": benchGames(1500, false), "clocked": benchGames(400, true),
		"no results": bytes.ReplaceAll(benchGames(1500, false), []byte("1-0\n"), []byte("\n")),
		"crlf":       bytes.ReplaceAll(benchGames(1500, false), []byte("\n"), []byte("\r\n")),
		"indented":   bytes.ReplaceAll(benchGames(1500, false), []byte("\n"), []byte("\n  ")),
		"one line":   bytes.ReplaceAll(benchGames(700, false), []byte(" "), []byte("  ")),
	} {
		t.Run(name, func(t *testing.T) {
			opt := Options{File: "many.pgn", MaxGame: 100_000}
			want := readAlone(bytes.NewReader(text), opt)
			for _, workers := range []int{1, 2, 8} {
				sameOutcome(t, readShared(bytes.NewReader(text), opt, workers, 30_000), want)
			}
		})
	}
}

// The work is really shared: tidy games are cut in blocks, and each worker gets
// some of them.
func TestShareUsesAllWorkers(t *testing.T) {
	var meet sync.WaitGroup
	meet.Add(3)
	workers := make([]Worker, 3)
	for i := range workers {
		here := sync.OnceFunc(func() { meet.Done(); meet.Wait() })
		workers[i] = Worker{Game: func(*Game) { here() }}
	}
	r := NewReader(bytes.NewReader(benchGames(4000, false)), Options{})
	r.Spread(workers)
	if r.Games() != 4000 {
		t.Errorf("%d games, want 4000", r.Games())
	}
}

// A caller that has enough ends the reading.
func TestShareStops(t *testing.T) {
	for _, n := range []int{1, 4} {
		blocks := 0
		workers := make([]Worker, n)
		for i := range workers {
			workers[i] = Worker{Game: func(*Game) {}, Done: func() func(Passed) bool {
				return func(Passed) bool { blocks++; return blocks < 2 }
			}}
		}
		endless := &repeated{text: benchGames(100, false)}
		NewReader(endless, Options{}).Spread(workers)
		if blocks != 2 {
			t.Errorf("%d workers: %d blocks, want 2", n, blocks)
		}
	}
}

// repeated is a text without end.
type repeated struct {
	text []byte
	at   int
}

func (r *repeated) Read(p []byte) (int, error) {
	n := copy(p, r.text[r.at:])
	r.at = (r.at + n) % len(r.text)
	return n, nil
}

// An input that breaks off loses the game it breaks off in, and no other.
func TestShareOfBrokenInput(t *testing.T) {
	text := benchGames(3000, false)
	broken := errors.New("cut off")
	for _, at := range []int{0, 100, len(text) / 2, len(text) - 5} {
		src := func() io.Reader { return io.MultiReader(bytes.NewReader(text[:at]), errReader{broken}) }
		want := readAlone(src(), Options{})
		for _, workers := range []int{1, 3} {
			got := readShared(src(), Options{}, workers, 50_000)
			sameOutcome(t, got, want)
			if !errors.Is(got.Err, broken) {
				t.Errorf("error %v", got.Err)
			}
		}
	}
}

func TestSafeCut(t *testing.T) {
	const tag = "\n[Event \"x\"]\n"
	const indented = "\n\n \t [Event \"x\"]\n"
	for text, safe := range map[string]bool{
		"1. e4 1-0\n" + tag:                     true,
		"1. e4 *" + tag:                         true,
		"1. e4 {good} 0-1" + tag:                true,
		"1. e4 {good}0-1 \r\n" + tag:            true,
		"1. e4 { [%clk 0:01] } 1/2-1/2\n" + tag: true,
		"1. e4 {a} 1-0" + indented:              true,
		"1. e4 {so 1-0" + indented:              false,
		"1. e4 1-0" + indented[2:]:              false, // starts no line
		"1. e4 e5\n" + tag:                      false, // no marker
		"1. e4 {so 1-0\n" + tag:                 false, // in a comment
		"1. e4 {a} {so 1-0\n" + tag:             false,
		"1. e4 ; why not 1-0\n" + tag:           false,
		"1. e4 {a} ; {why not} 1-0\n" + tag:     false,
		"[Result \"1-0\n" + tag:                 false,
		"% 1-0\n" + tag:                         false,
		"1. e4 <1-0\n" + tag:                    false,
		"1. e4 {a} [1-0\n" + tag:                false,
		"1. e4 11-0\n" + tag:                    false,
		"1. e4 1-0 {good}\n" + tag:              false, // not searched for
		"1. e4 1-0\n\n[Event x]\n":              false,
		"1. e4 1-0\n\n1. d4 1-0\n":              false,
	} {
		want := 0
		if safe {
			want = strings.Index(text, "[Event")
		}
		if got := safeCut([]byte(text), 0); got != want {
			t.Errorf("%q: cut at %d, want %d", text, got, want)
		}
	}
}

// Behind so many half-moves nothing is read, and the next game is not harmed.
func TestPlies(t *testing.T) {
	text := "[White \"A\"]\n\n1. e4 e5 (1... c5 2. Nf3) 2. Nf3 {here} rubbish Nc6 (2... d6\n3. Bb5 1-0\n\n[White \"B\"]\n\n1. d4 0-1\n"
	o := readAlone(strings.NewReader(text), Options{Plies: 3})
	var got []string
	for _, g := range o.Games {
		row := g.tags.Get("White") + g.Termination
		for _, m := range g.Moves {
			row += " " + string(m.SAN)
		}
		got = append(got, row)
		if len(g.Problems) > 0 {
			t.Errorf("problems behind the plies asked for: %v", g.Problems)
		}
	}
	if want := []string{"A1-0 e4 e5 Nf3", "B0-1 d4"}; !slices.Equal(got, want) {
		t.Errorf("%q, want %q", got, want)
	}
}

func FuzzSpread(f *testing.F) {
	addSeeds(f)
	f.Fuzz(func(t *testing.T, text []byte) {
		// Twice, with games between that are easily cut, so that there are borders.
		game := []byte("\n\n" + lastGame + "\n")
		text = slices.Concat(text, bytes.Repeat(game, 20), text, bytes.Repeat(game, 20))
		for _, opt := range []Options{{File: "fuzz.pgn"}, {File: "fuzz.pgn", Variations: true, MaxGame: 300}} {
			want := readAlone(bytes.NewReader(text), opt)
			sameOutcome(t, readShared(bytes.NewReader(text), opt, 2, 1000), want)
		}
	})
}
