package analysis

import (
	"context"
	"errors"
	"fmt"
	"io"
	"os"
	"path/filepath"
	"runtime"
	"slices"
	"strings"
	"testing"
	"time"

	"foreply/profile/board"
	"foreply/profile/uci"
	"foreply/profile/uci/scripted"
)

// traceEnv is a folder in which the engine of the tests leaves a file when it starts and one
// when it ends as it was told to.
const traceEnv = "ANALYSIS_TEST_TRACE"

// onlyFirst is a script by which the first engine to start plays along and all others are dead.
const onlyFirst = "only first"

// engine plays a script, and leaves its traces.
func engine(script string) int {
	folder := os.Getenv(traceEnv)
	if folder == "" {
		return scripted.Main(script, os.Stdin, os.Stdout, os.Stderr)
	}
	leave := func(what string) bool {
		f, err := os.OpenFile(filepath.Join(folder, what), os.O_CREATE|os.O_EXCL|os.O_WRONLY, 0o600)
		return err == nil && f.Close() == nil
	}
	leave(fmt.Sprint("start ", os.Getpid()))
	if script == onlyFirst {
		if script = scripted.Well; !leave("first") {
			script = scripted.Dead
		}
	}
	code := scripted.Main(script, os.Stdin, os.Stdout, os.Stderr)
	leave(fmt.Sprint("end ", os.Getpid()))
	return code
}

// traced counts the engines that were started and ended in a look.
func traced(t *testing.T, positions []board.Position, opt Options) (f *Found, started, ended int) {
	t.Helper()
	folder := t.TempDir()
	t.Setenv(traceEnv, folder)
	f = mustLook(t, positions, opt)
	files, err := os.ReadDir(folder)
	if err != nil {
		t.Fatal(err)
	}
	for _, file := range files {
		switch {
		case strings.HasPrefix(file.Name(), "start"):
			started++
		case strings.HasPrefix(file.Name(), "end"):
			ended++
		}
	}
	return f, started, ended
}

// As many processes run as there is work for, and all have ended when the look is over; where
// nothing is missing, or no time left, only the one that is asked for its name.
func TestProcessesThatRun(t *testing.T) {
	opt := options(t, scripted.Well)
	opt.Processes = 3
	for _, c := range []struct {
		quirk     string
		positions int
		budget    time.Duration
		started   int
	}{{"more processes than positions", 2, time.Hour, 2}, {"more positions", 6, time.Hour, 3}, {"all known", 6, time.Hour, 1}, {"the time is over", 9, time.Second, 1}, {"nothing wanted", 0, time.Hour, 0}} {
		opt.Budget = c.budget
		f, started, ended := traced(t, first(c.positions), opt)
		if started != c.started || ended != started || f.Trouble != nil || f.Nodes != 100 {
			t.Errorf("%s: %d started, %d ended, trouble %v; want %d", c.quirk, started, ended, f.Trouble, c.started)
		}
	}
	none := options(t, scripted.Well)
	none.Command = []string{filepath.Join(t.TempDir(), "none")}
	if f := mustLook(t, nil, none); f.Trouble != nil || f.Asked != 0 {
		t.Errorf("nothing wanted of no engine: %+v", f)
	}
}

// A process that can't be started beside others is told.
func TestSecondProcessInTrouble(t *testing.T) {
	opt := options(t, onlyFirst)
	opt.Processes = 2
	if f, started, _ := traced(t, first(20), opt); !errors.Is(f.Trouble, uci.ErrEnded) || started != 2 {
		t.Errorf("%d started, trouble %v", started, f.Trouble)
	}
}

// A search that takes too long costs its time and no more: the next position is looked at while
// there is time. What the engine did tells before what couldn't be kept.
func TestWhatTroubleCosts(t *testing.T) {
	opt := options(t, scripted.Slow)
	opt.Budget, opt.Engine.Search = 3*time.Second, 50*time.Millisecond
	now, looks := opt.Now, 0
	opt.Now = func() time.Time { looks++; return now() }
	if f := mustLook(t, first(6), opt); !errors.Is(f.Trouble, uci.ErrSlow) || looks != 2*3 || f.Len() != 0 {
		t.Errorf("%d searches, trouble %v", looks/2, f.Trouble)
	}
	opt = options(t, scripted.Dies)
	opt.Folder = filepath.Join(opt.Command[0], "under a file")
	if f := mustLook(t, first(6), opt); !errors.Is(f.Trouble, uci.ErrEnded) || f.Len() != 2 {
		t.Errorf("%d found, trouble %v", f.Len(), f.Trouble)
	}
}

// The budget is each process's; of what goes wrong the first is told, unless the look was ended
// from outside, and no further position is handed out.
func TestBudgetAndTroubleOfALook(t *testing.T) {
	l := &look{opt: Options{Budget: 3 * time.Second, Processes: 2}, found: NewFound("x", 7), wanted: first(4)}
	for spent, over := range map[time.Duration]bool{5 * time.Second: false, 6*time.Second - 1: false, 6 * time.Second: true} {
		if l.spent = spent; l.over() != over {
			t.Errorf("%v spent by two: over %v", spent, !over)
		}
	}
	if l.found.Nodes != 7 || l.found.Engine != "x" {
		t.Errorf("%+v", l.found)
	}
	l.spent = 0
	if pos, ok := l.take(); !ok || pos != l.wanted[0] {
		t.Error("the first position isn't the first")
	}
	ended, cancel := context.WithCancel(t.Context())
	cancel()
	if l.trouble(ended, io.ErrClosedPipe); l.found.Trouble != nil {
		t.Errorf("ended from outside: %v", l.found.Trouble)
	}
	l.next = 0
	l.trouble(t.Context(), io.ErrUnexpectedEOF)
	l.trouble(t.Context(), io.ErrNoProgress)
	if _, ok := l.take(); ok || !errors.Is(l.found.Trouble, io.ErrUnexpectedEOF) {
		t.Errorf("trouble %v, goes on %v", l.found.Trouble, ok)
	}
}

// A result is found and kept with ten plies of its lines and its own time, and told as one of
// those wanted.
func TestResultThatIsDone(t *testing.T) {
	var told []int
	opt := Options{Folder: t.TempDir(), Progress: func(done, of int) { told = append(told, done, of) }}.withDefaults()
	pos := board.Start()
	long := uci.Line{Depth: 3}
	at := pos
	for i := range 12 {
		m, err := at.ParseUCI([]string{"g1f3", "g8f6", "f3g1", "f6g8"}[i%4])
		if err != nil {
			t.Fatal(err)
		}
		long.Moves = append(long.Moves, m)
		at.Play(m)
	}
	l := &look{opt: opt, found: NewFound("x", 1), wanted: first(5), next: 4, shelf: openShelf(&opt, "x"), spent: time.Minute}
	l.done(&pos, uci.Result{Lines: []uci.Line{long, {Moves: long.Moves[:2]}}}, nil, 2*time.Second)
	l.shelf.close()
	lines := l.found.Lines(&pos)
	if len(lines) != 2 || len(lines[0].Moves) != 10 || len(lines[1].Moves) != 2 || fmt.Sprint(told) != "[1 5]" || l.spent != time.Minute+2*time.Second {
		t.Errorf("%v, told %v, %v spent", lines, told, l.spent)
	}
	again := openShelf(&opt, "x")
	defer again.close()
	if e := again.kept[pos.EPD()]; e.spent != 2*time.Second || len(e.result.Lines) != 2 || !slices.Equal(e.result.Lines[0].Moves, long.Moves[:10]) {
		t.Errorf("kept %+v", e)
	}
}

// One process at least, however many threads it takes.
func TestProcessesOfManyThreads(t *testing.T) {
	if o := (Options{Engine: uci.Options{Threads: 4 * runtime.NumCPU()}}).withDefaults(); o.Processes != 1 {
		t.Errorf("%d processes", o.Processes)
	}
}

// Of two results of a position the later counts; a line that isn't legal to its end is none;
// where nothing can be kept the first reason is told, and nothing more is tried.
func TestShelfInTrouble(t *testing.T) {
	const head, first, second = `{"engine":"x"}`, `{"epd":"8/8/8/8/8/8/8/K1k5 w - -","ms":1500,"lines":[{"cp":1,"depth":2,"moves":["a1a2"]}]}`, `{"epd":"8/8/8/8/8/8/8/K1k5 w - -","ms":7,"lines":[{"cp":-5,"depth":3,"moves":["a1a2"]}]}`
	s := &shelf{kept: map[string]entry{}}
	s.read([]byte(head + "\n" + first + "\n" + second + "\n" + `{"epd":"8/8/8/8/8/K7/8/2k5 w - -","lines":[{"moves":["a3a4","c1c5"]}]}`))
	if e := s.kept["8/8/8/8/8/8/8/K1k5 w - -"]; len(s.kept) != 1 || e.spent != 7*time.Millisecond || e.result.Lines[0].Score.Centipawns != -5 || e.result.Lines[0].Depth != 3 {
		t.Errorf("%+v", s.kept)
	}
	if s := openShelf(&Options{}, "x"); s.file != nil || s.err != nil {
		t.Errorf("no folder: %+v", s)
	}
	name := filepath.Join(t.TempDir(), "a.jsonl")
	f, err := os.Create(name)
	if err != nil {
		t.Fatal(err)
	}
	s.file = f
	pos := board.Start()
	m := pos.Legal(nil)[0]
	result := entry{result: uci.Result{Lines: []uci.Line{{Moves: []board.Move{m}}}}}
	s.add(pos.EPD(), result)
	s.fail(io.ErrShortWrite)
	s.fail(io.ErrClosedPipe)
	s.add(pos.EPD(), result) // not kept any more
	if data, err := os.ReadFile(name); err != nil || strings.Count(string(data), "\n") != 1 {
		t.Errorf("%q, %v", data, err)
	}
	if !errors.Is(s.err, io.ErrShortWrite) || s.err.Error() != "keeping what the engine finds: short write" {
		t.Errorf("%v", s.err)
	}
	f.Close()
	s.err = nil
	if s.add(pos.EPD(), result); !errors.Is(s.err, os.ErrClosed) {
		t.Errorf("a write that failed: %v", s.err)
	}
	s.err = nil
	if s.close(); !errors.Is(s.err, os.ErrClosed) {
		t.Errorf("a file that can't be closed: %v", s.err)
	}
}
