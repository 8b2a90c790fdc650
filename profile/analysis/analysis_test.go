package analysis

import (
	"context"
	"errors"
	"fmt"
	"io/fs"
	"os"
	"path/filepath"
	"runtime"
	"slices"
	"strings"
	"sync"
	"testing"
	"time"

	"foreply/profile/board"
	"foreply/profile/uci"
	"foreply/profile/uci/scripted"
)

// scriptEnv makes the test binary an engine.
const scriptEnv = "ANALYSIS_TEST_SCRIPT"

func TestMain(m *testing.M) {
	if script := os.Getenv(scriptEnv); script != "" {
		os.Exit(engine(script))
	}
	os.Exit(m.Run())
}

// options ask the scripted engine with one process and a clock by which each
// search takes a second.
func options(t *testing.T, script string) Options {
	t.Helper()
	t.Setenv(scriptEnv, script)
	patience := 20 * time.Second
	if script == scripted.Slow {
		patience = 200 * time.Millisecond
	}
	return Options{
		Command: []string{os.Args[0]}, Folder: t.TempDir(), Processes: 1, Nodes: 100,
		Engine: uci.Options{Search: patience, Stop: 300 * time.Millisecond},
		Now:    ticking(),
	}
}

// ticking is a clock that goes on by a second whenever it is looked at.
func ticking() func() time.Time {
	now := time.Time{}
	var mu sync.Mutex
	return func() time.Time {
		mu.Lock()
		defer mu.Unlock()
		now = now.Add(time.Second)
		return now
	}
}

// first are the positions after each first move, in order of the board.
func first(n int) []board.Position {
	start := board.Start()
	var out []board.Position
	for _, m := range start.Legal(nil)[:n] {
		pos := start
		pos.Play(m)
		out = append(out, pos)
	}
	return out
}

func mustLook(t *testing.T, positions []board.Position, opt Options) *Found {
	t.Helper()
	f, err := Look(t.Context(), positions, opt)
	if err != nil {
		t.Fatal(err)
	}
	return f
}

// known tells of which positions something was found.
func known(f *Found, positions []board.Position) []int {
	var out []int
	for i := range positions {
		if f.Lines(&positions[i]) != nil {
			out = append(out, i)
		}
	}
	return out
}

// The time is spent on what comes first, and the same is found again at once.
func TestBudget(t *testing.T) {
	opt := options(t, scripted.Well)
	opt.Budget = 3 * time.Second
	asked := first(8)
	f := mustLook(t, asked, opt)
	if got := known(f, asked); !slices.Equal(got, []int{0, 1, 2}) || f.Asked != 8 || f.Len() != 3 || f.Engine != "Scripted 1.0" || f.Trouble != nil {
		t.Fatalf("%+v knows %v", f, got)
	}
	opt.Now = func() time.Time { t.Error("something was looked at again"); return time.Time{} }
	again := mustLook(t, asked, opt)
	if got := known(again, asked); !slices.Equal(got, []int{0, 1, 2}) {
		t.Errorf("again %v", got)
	}
	for i := range 3 {
		if a, b := f.Lines(&asked[i]), again.Lines(&asked[i]); !slices.EqualFunc(a, b, func(a, b uci.Line) bool {
			return a.Score == b.Score && a.Depth == b.Depth && slices.Equal(a.Moves, b.Moves)
		}) {
			t.Errorf("first %v, then %v", a, b)
		}
	}
	opt.Now, opt.Budget = ticking(), 5*time.Second
	if got := known(mustLook(t, asked, opt), asked); !slices.Equal(got, []int{0, 1, 2, 3, 4}) {
		t.Errorf("with more time %v", got)
	}
}

// Each position is asked for once, and none where the game is over.
func TestDistinct(t *testing.T) {
	mated, err := board.ParseFEN("rnb1kbnr/pppp1ppp/8/4p3/6Pq/5P2/PPPPP2P/RNBQKBNR w KQkq - 1 3")
	if err != nil {
		t.Fatal(err)
	}
	asked := append(first(2), mated, first(2)[1])
	if f := mustLook(t, asked, options(t, scripted.Well)); f.Asked != 2 || f.Len() != 2 {
		t.Errorf("%+v", f)
	}
}

// More processes find the same.
func TestProcesses(t *testing.T) {
	opt := options(t, scripted.Well)
	asked := first(20)
	one := mustLook(t, asked, opt)
	opt.Processes, opt.Folder = 4, ""
	four := mustLook(t, asked, opt)
	for i := range asked {
		a, b := one.Lines(&asked[i]), four.Lines(&asked[i])
		if len(a) != 2 || len(b) != 2 || a[0].Score != b[0].Score || a[1].Moves[0] != b[1].Moves[0] {
			t.Errorf("%d: one %v, four %v", i, a, b)
		}
	}
}

// What goes wrong costs what would have been found, nothing else.
func TestTrouble(t *testing.T) {
	for script, want := range map[string]struct {
		err   error
		known int
	}{
		scripted.Dead:  {uci.ErrEnded, 0},
		scripted.Dies:  {uci.ErrEnded, 2},
		scripted.Wrong: {uci.ErrNonsense, 0},
		scripted.Slow:  {uci.ErrSlow, 0},
	} {
		t.Run(script, func(t *testing.T) {
			opt := options(t, script)
			opt.Budget = 4 * time.Second
			f := mustLook(t, first(6), opt)
			if !errors.Is(f.Trouble, want.err) || f.Len() != want.known {
				t.Errorf("%d found, trouble %v", f.Len(), f.Trouble)
			}
		})
	}
	opt := options(t, scripted.Well)
	opt.Command = []string{filepath.Join(t.TempDir(), "none")}
	if f := mustLook(t, first(1), opt); !errors.Is(f.Trouble, fs.ErrNotExist) {
		t.Errorf("no such program: %v", f.Trouble)
	}
	opt = options(t, scripted.Well)
	opt.Folder = filepath.Join(opt.Command[0], "under a file")
	if f := mustLook(t, first(2), opt); f.Trouble == nil || f.Len() != 2 {
		t.Errorf("no folder: %d found, trouble %v", f.Len(), f.Trouble)
	}
}

// What was found before an interrupt is there the next time.
func TestInterruptKeeps(t *testing.T) {
	opt := options(t, scripted.Well)
	ctx, cancel := context.WithCancel(t.Context())
	opt.Progress = func(done, of int) {
		if done == 2 {
			cancel()
		}
	}
	asked := first(6)
	if _, err := Look(ctx, asked, opt); !errors.Is(err, context.Canceled) {
		t.Fatalf("error %v", err)
	}
	opt.Progress, opt.Budget = nil, time.Second
	if got := known(mustLook(t, asked, opt), asked); !slices.Equal(got, []int{0, 1}) {
		t.Errorf("knows %v", got)
	}
}

// A file that was cut off or tampered with is read as far as it is true.
func TestShelfIsJudged(t *testing.T) {
	opt := options(t, scripted.Well)
	asked := first(4)
	mustLook(t, asked, opt)
	files, err := filepath.Glob(filepath.Join(opt.Folder, "*.jsonl"))
	if err != nil || len(files) != 1 {
		t.Fatalf("%v, %v", files, err)
	}
	data, err := os.ReadFile(files[0])
	if err != nil {
		t.Fatal(err)
	}
	lines := strings.SplitAfter(string(data), "\n")
	lines[2] = strings.Replace(lines[2], `"moves":["`, `"moves":["a1h8","`, 1) // an illegal move
	lines[3] = "\x00\n"
	lines[4] = lines[4][:len(lines[4])/2] // cut off
	if err := os.WriteFile(files[0], []byte(strings.Join(lines[:5], "")), 0o666); err != nil {
		t.Fatal(err)
	}
	searched := 0
	opt.Progress = func(int, int) { searched++ }
	if f := mustLook(t, asked, opt); f.Len() != 4 || searched != 3 {
		t.Errorf("%d known, %d of them looked at again, want 4 and 3", f.Len(), searched)
	}
	searched = 0
	if f := mustLook(t, asked, opt); f.Len() != 4 || searched != 0 {
		t.Errorf("after mending: %d known, %d looked at again", f.Len(), searched)
	}
}

// Two runs at once share a file.
func TestTwoRuns(t *testing.T) {
	opt := options(t, scripted.Well)
	var both sync.WaitGroup
	asked := first(20)
	for _, half := range [][]board.Position{asked[:12], asked[8:]} {
		both.Go(func() {
			if _, err := Look(t.Context(), half, opt); err != nil {
				t.Error(err)
			}
		})
	}
	both.Wait()
	opt.Progress = func(int, int) { t.Error("looked at again") }
	if f := mustLook(t, asked, opt); f.Len() != 20 {
		t.Errorf("%d known", f.Len())
	}
}

// position is one of a FEN, with what reads moves in it.
func position(t *testing.T, fen string) (board.Position, func(text string) board.Move) {
	t.Helper()
	pos, err := board.ParseFEN(fen)
	if err != nil {
		t.Fatal(err)
	}
	return pos, func(text string) board.Move {
		t.Helper()
		m, err := pos.ParseUCI(text)
		if err != nil {
			t.Fatal(err)
		}
		return m
	}
}

func TestJudge(t *testing.T) {
	// 1.f3 e5 2.g4, and Black mates by 2...Qh4.
	pos, move := position(t, "rnbqkbnr/pppp1ppp/8/4p3/6P1/5P2/PPPPP2P/RNBQKBNR b KQkq - 0 2")
	f := &Found{results: map[string]uci.Result{
		pos.EPD(): {Lines: []uci.Line{{Score: uci.Score{Centipawns: 30}, Moves: []board.Move{move("b8c6")}}}},
	}}
	after := pos
	after.Play(move("d7d5"))
	f.results[after.EPD()] = uci.Result{Lines: []uci.Line{{Score: uci.Score{Mate: -3}, Moves: []board.Move{1}}}}
	after = pos
	after.Play(move("a7a6"))
	f.results[after.EPD()] = uci.Result{Lines: []uci.Line{{Score: uci.Score{Mate: 3}, Moves: []board.Move{1}}}}
	after = pos
	after.Play(move("a7a5"))
	f.results[after.EPD()] = uci.Result{Lines: []uci.Line{{Score: uci.Score{Centipawns: 120}, Moves: []board.Move{1}}}}
	for text, want := range map[string]struct {
		score uci.Score
		plies int
		loss  int
		ok    bool
	}{
		"b8c6": {uci.Score{Centipawns: 30}, 1, 0, true},
		"a7a5": {uci.Score{Centipawns: 120}, 2, 90, true},
		"d7d5": {uci.Score{Mate: -4}, 2, 0, true}, // Black mates in three after it: better than what was found before
		"a7a6": {uci.Score{Mate: 3}, 2, Decided - 30, true},
		"d8h4": {uci.Score{Mate: -1}, 1, 0, true},
		"h7h6": {uci.Score{}, 0, 0, false},
	} {
		j, ok := f.Judge(&pos, move(text))
		if j.Played.Score != want.score || ok != want.ok || j.Loss != want.loss || len(j.Played.Moves) != want.plies {
			t.Errorf("%s: %+v, %v", text, j, ok)
		}
	}
}

func TestDefaultsOfALook(t *testing.T) {
	o := Options{Engine: uci.Options{Threads: 2}}.withDefaults()
	if want := max(1, runtime.NumCPU()/2); o.Nodes != 400_000 || o.Lines != 2 || o.Budget != 3*time.Minute || o.Processes != want || o.Engine.Hash != 32 {
		t.Errorf("%+v, want %d processes", o, want)
	}
	if o := (Options{Nodes: 1, Lines: 3, Budget: 4, Processes: 5}).withDefaults(); o.Nodes != 1 || o.Lines != 3 || o.Budget != 4 || o.Processes != 5 {
		t.Errorf("%+v", o)
	}
}

// A result is kept as it was, its time rounded up to milliseconds; what is no result of the
// position is passed over.
func TestShelfKeepsResults(t *testing.T) {
	opt := Options{Folder: t.TempDir(), Nodes: 100, Lines: 2}.withDefaults()
	start := board.Start()
	line := func(s uci.Score, depth int, moves ...string) uci.Line {
		l, pos := uci.Line{Score: s, Depth: depth}, start
		for _, text := range moves {
			m, err := pos.ParseUCI(text)
			if err != nil {
				t.Fatal(err)
			}
			l.Moves = append(l.Moves, m)
			pos.Play(m)
		}
		return l
	}
	want := uci.Result{Lines: []uci.Line{line(uci.Score{Centipawns: -31}, 7, "e2e4", "e7e5", "g1f3"), line(uci.Score{Mate: -3}, 6, "f2f3")}}
	s := openShelf(&opt, "Scripted 1.0")
	s.add(start.EPD(), entry{want, 2*time.Millisecond + 1})
	for _, text := range []string{
		`{"epd":"x","lines":[{"moves":["e2e4"]}]}`, `{"epd":"8/8/8/8/8/8/8/K1k5 w - -","lines":[]}`, `{"epd":"8/8/8/8/8/8/8/K1k5 b - -","lines":[{"moves":[]}]}`,
		`{"epd":"8/8/8/8/8/8/K7/2k5 w - -","lines":[{"moves":["0000"]}]}`, `{"epd":"8/8/8/8/8/K7/8/2k5 w - -","lines":[{"moves":["a3a4"]},{"moves":["a3a5"]}]}`,
	} {
		s.write([]byte(text))
	}
	if s.close(); s.err != nil {
		t.Fatal(s.err)
	}
	again := openShelf(&opt, "Scripted 1.0")
	defer again.close()
	if got := again.kept[start.EPD()]; len(again.kept) != 1 || fmt.Sprint(got.result) != fmt.Sprint(want) || got.spent != 3*time.Millisecond {
		t.Errorf("%+v, want %+v alone", again.kept, want)
	}
	// What results depend on has a file of its own.
	for name, change := range map[string]func(*Options){
		"nodes": func(o *Options) { o.Nodes++ }, "lines": func(o *Options) { o.Lines++ }, "threads": func(o *Options) { o.Engine.Threads++ }, "the table": func(o *Options) { o.Engine.Hash++ },
		"a setting": func(o *Options) { o.Engine.Set = []uci.Setting{{Name: "a", Value: "b"}} }, "the engine": func(*Options) {},
	} {
		other, engine := opt, "Scripted 1.0"
		if change(&other); name == "the engine" {
			engine = "Scripted 2.0"
		}
		s := openShelf(&other, engine)
		if s.close(); len(s.kept) != 0 {
			t.Errorf("%s: %d kept", name, len(s.kept))
		}
	}
	if opt.Engine.Threads == opt.Engine.Hash {
		t.Error("threads and table could be taken for each other")
	}
}

// A line through a move is one ply deeper than what was seen behind it; stalemate is a draw,
// and of what wasn't looked at nothing is said.
func TestThroughAMove(t *testing.T) {
	pos, move := position(t, "7k/8/8/6Q1/8/8/8/K7 w - - 0 1")
	f := NewFound("x", 1)
	if j, ok := f.Judge(&pos, move("g5g6")); ok || len(j.Played.Moves) != 0 {
		t.Errorf("nothing is known: %+v", j)
	}
	best := uci.Line{Score: uci.Score{Mate: 4}, Depth: 9, Moves: []board.Move{move("a1b2")}}
	f.Add(&pos, uci.Result{Lines: []uci.Line{best, {Score: uci.Score{Centipawns: 450}, Depth: 9, Moves: []board.Move{move("g5f5")}}}})
	after := pos
	after.Play(move("g5g7"))
	if j, ok := f.Judge(&pos, move("g5g6")); !ok || fmt.Sprint(j) != fmt.Sprint(Judged{Played: uci.Line{Moves: []board.Move{move("g5g6")}}, Best: best, Loss: Decided}) {
		t.Errorf("stalemate: %+v, %v", j, ok)
	}
	if j, ok := f.Judge(&pos, move("g5f5")); !ok || j.Loss != 50 || fmt.Sprint(j.Best) != fmt.Sprint(best) || j.Played.Score.Centipawns != 450 {
		t.Errorf("the second line: %+v, %v", j, ok)
	}
	next := pos
	next.Play(move("g5d8"))
	answer := next.Legal(nil)[0]
	f.Add(&next, uci.Result{Lines: []uci.Line{{Score: uci.Score{Centipawns: 430}, Depth: 8, Moves: []board.Move{answer}}, {Score: uci.Score{Centipawns: 440}, Depth: 8, Moves: []board.Move{next.Legal(nil)[1]}}}})
	if j, ok := f.Judge(&pos, move("g5d8")); !ok || j.Loss != 70 || fmt.Sprint(j.Played) != fmt.Sprint(uci.Line{Score: uci.Score{Centipawns: 430}, Depth: 9, Moves: []board.Move{move("g5d8"), answer}}) {
		t.Errorf("seen behind it: %+v, %v", j, ok)
	}
	if j, ok := f.Judge(&pos, move("a1a2")); ok || fmt.Sprint(j) != fmt.Sprint(Judged{}) {
		t.Errorf("not seen: %+v, %v", j, ok)
	}
	if (*Found)(nil).Lines(&pos) != nil {
		t.Error("nothing found has lines")
	}
}
