package uci

import (
	"context"
	"errors"
	"fmt"
	"os"
	"path/filepath"
	"slices"
	"strings"
	"testing"
	"time"

	"foreply/profile/board"
	"foreply/profile/uci/scripted"
)

// scriptEnv makes the test binary an engine.
const scriptEnv = "UCI_TEST_SCRIPT"

func TestMain(m *testing.M) {
	if script := os.Getenv(scriptEnv); script != "" {
		os.Exit(scripted.Main(script, os.Stdin, os.Stdout, os.Stderr))
	}
	os.Exit(m.Run())
}

// brief are time-outs for tests: short where a script never comes to an end.
var brief = Options{Handshake: 20 * time.Second, Search: 20 * time.Second, Stop: 300 * time.Millisecond}

func play(t *testing.T, script string) (*Engine, error) {
	t.Helper()
	t.Setenv(scriptEnv, script)
	opt := brief
	switch script {
	case scripted.Mute, scripted.Babbles, scripted.Drones:
		opt.Handshake = 300 * time.Millisecond
	case scripted.Slow, scripted.Lost:
		opt.Search = 300 * time.Millisecond
	}
	e, err := Start(t.Context(), []string{os.Args[0]}, opt)
	if err == nil {
		t.Cleanup(e.Close)
	}
	return e, err
}

// What an engine does wrong before it plays is an error within the time, and no
// process is left.
func TestStartFails(t *testing.T) {
	for script, want := range map[string]struct {
		err  error
		says string
	}{
		scripted.Mute:    {ErrSilent, `no answer to "uci" within 300ms`},
		scripted.Babbles: {ErrSilent, "is it a UCI engine"},
		scripted.Drones:  {ErrSilent, "is it a UCI engine"},
		scripted.Dead:    {ErrEnded, "exit status 3: a library is missing"},
	} {
		t.Run(script, func(t *testing.T) {
			begun := time.Now()
			_, err := play(t, script)
			if !errors.Is(err, want.err) || !strings.Contains(err.Error(), want.says) {
				t.Errorf("error %v, want %v with %q", err, want.err, want.says)
			}
			if spent := time.Since(begun); spent > 10*time.Second {
				t.Errorf("took %v", spent)
			}
		})
	}
	if _, err := Start(t.Context(), []string{filepath.Join(t.TempDir(), "none")}, brief); !errors.Is(err, os.ErrNotExist) {
		t.Errorf("a path that is not there: %v", err)
	}
}

// hanging is a position where a queen hangs for White to take: 1.e4 d5 2.exd5
// Qxd5 3.Nc3 Nc6 is worked out by hand: 4.Nxd5 wins the queen for a knight at
// most.
func hanging(t *testing.T) board.Position {
	t.Helper()
	pos, err := board.ParseFEN("r1b1kbnr/ppp1pppp/2n5/3q4/8/2N5/PPPP1PPP/R1BQKBNR w KQkq - 2 4")
	if err != nil {
		t.Fatal(err)
	}
	return pos
}

func TestSearch(t *testing.T) {
	for script, want := range map[string]struct {
		lines int
		score Score // of the first
		err   error
	}{
		scripted.Well:   {2, Score{Centipawns: 900}, nil},
		scripted.Floods: {2, Score{Centipawns: 900}, nil},
		scripted.Late:   {2, Score{Centipawns: 900}, nil},
		scripted.Single: {1, Score{Centipawns: 900}, nil},
		scripted.Mates:  {2, Score{Mate: 2}, nil},
		scripted.Wrong:  {err: ErrNonsense},
		scripted.Silent: {err: ErrNonsense},
		scripted.Slow:   {err: ErrSlow},
		scripted.Lost:   {err: ErrSilent},
	} {
		t.Run(script, func(t *testing.T) {
			e, err := play(t, script)
			if err != nil {
				t.Fatal(err)
			}
			got, err := e.Search(t.Context(), hanging(t), 1000, 2)
			if !errors.Is(err, want.err) {
				t.Fatalf("error %v, want %v", err, want.err)
			}
			if len(got.Lines) != want.lines {
				t.Fatalf("%d lines, want %d: %v", len(got.Lines), want.lines, got)
			}
			if want.lines == 0 {
				return
			}
			first := got.Lines[0]
			if first.Moves[0].UCI() != "c3d5" || first.Score != want.score || first.Depth != 2 {
				t.Errorf("first line %v %+v", first.Moves[0].UCI(), first)
			}
		})
	}
}

// A search that was stopped costs this position only.
func TestSlowGoesOn(t *testing.T) {
	e, err := play(t, scripted.Slow)
	if err != nil {
		t.Fatal(err)
	}
	for range 2 {
		if _, err := e.Search(t.Context(), board.Start(), 1000, 1); !errors.Is(err, ErrSlow) || err.Error() != "the search takes too long: 1000 nodes are not done in 300ms" {
			t.Fatalf("error %v", err)
		}
	}
}

// The evaluation is White's whoever is to move.
func TestBlackToMove(t *testing.T) {
	e, err := play(t, scripted.Well)
	if err != nil {
		t.Fatal(err)
	}
	// The same with colours turned: Black takes the queen.
	pos, err := board.ParseFEN("r1bqkbnr/pppp1ppp/2n5/8/3Q4/2N5/PPP1PPPP/R1B1KBNR b KQkq - 2 4")
	if err != nil {
		t.Fatal(err)
	}
	got, err := e.Search(t.Context(), pos, 1000, 1)
	if err != nil || len(got.Lines) != 1 || got.Lines[0].Score != (Score{Centipawns: -900}) || pos.SAN(got.Lines[0].Moves[0]) != "Nxd4" {
		t.Errorf("%+v, %v", got, err)
	}
}

func TestDiesInTheMiddle(t *testing.T) {
	e, err := play(t, scripted.Dies)
	if err != nil {
		t.Fatal(err)
	}
	for i := range 3 {
		_, err := e.Search(t.Context(), board.Start(), 1000, 1)
		if want := i == 2; errors.Is(err, ErrEnded) != want {
			t.Fatalf("search %d: %v", i+1, err)
		}
	}
	if _, err := e.Search(t.Context(), board.Start(), 1000, 1); !errors.Is(err, ErrEnded) {
		t.Errorf("after its end: %v", err)
	}
}

func TestInterrupted(t *testing.T) {
	e, err := play(t, scripted.Lost)
	if err != nil {
		t.Fatal(err)
	}
	ctx, cancel := context.WithCancel(t.Context())
	time.AfterFunc(50*time.Millisecond, cancel)
	if _, err := e.Search(ctx, board.Start(), 1000, 1); !errors.Is(err, context.Canceled) {
		t.Errorf("error %v", err)
	}
}

func TestStubbornIsEnded(t *testing.T) {
	t.Setenv(scriptEnv, scripted.Stubborn)
	e, err := Start(t.Context(), []string{os.Args[0]}, brief)
	if err != nil {
		t.Fatal(err)
	}
	begun := time.Now()
	e.Close()
	if spent := time.Since(begun); spent > 5*time.Second {
		t.Errorf("closing took %v", spent)
	}
}

func TestOptions(t *testing.T) {
	t.Setenv(scriptEnv, scripted.Well)
	opt := brief
	opt.Set = []Setting{{"threads", "2"}}
	e, err := Start(t.Context(), []string{os.Args[0]}, opt)
	if err != nil {
		t.Fatal(err)
	}
	e.Close()
	if e.Name() != "Scripted 1.0" || e.Author() != "the tests" || !e.offers("Hash") {
		t.Errorf("%q by %q offers %q", e.Name(), e.Author(), e.offered)
	}
	opt.Set = []Setting{{"Sharpness", "9"}}
	if _, err := Start(t.Context(), []string{os.Args[0]}, opt); err == nil || !strings.Contains(err.Error(), `no option "Sharpness"`) {
		t.Errorf("an option that it has not: %v", err)
	}
}

func TestParse(t *testing.T) {
	for text, want := range map[string]string{
		"info depth 7 seldepth 9 multipv 2 score cp 31 nodes 12 pv e2e4 e7e5 e1e3": "e2e4 e7e5 cp 31 rank 2 depth 7",
		"info depth 7 score cp 31 pv e2e4 e7e4 e7e5":                               "e2e4 cp 31 rank 1 depth 7",
		"info depth 7 multipv 218 score cp 31 pv e2e4":                             "e2e4 cp 31 rank 218 depth 7",
		"info depth 7 multipv 219 score cp 31 pv e2e4":                             "",
		"info depth 7 score cp 31 upperbound pv e2e4":                              "e2e4 cp 31 rank 1 depth 7 bound",
		"info depth 7 score mate -3 pv d2d4":                                       "d2d4 mate -3 rank 1 depth 7",
		"info score cp -5 lowerbound depth 3 pv g1f3 0000":                         "g1f3 cp -5 rank 1 depth 3 bound",
		"info depth 7 score cp 31 wdl 4 900 96 refutation pv e2e4":                 "e2e4 cp 31 rank 1 depth 7",
		"info score cp 31 depth":                                                   "",
		"info depth 7 pv e2e4":                                                     "",
		"info depth 7 score cp 31":                                                 "",
		"info depth 7 score cp 31 pv e7e5":                                         "",
		"info depth 7 multipv 0 score cp 31 pv e2e4":                               "",
		"info depth 255 score cp 31 pv e2e4":                                       "e2e4 cp 31 rank 1 depth 255",
		"info depth 0 score cp 31 pv e2e4":                                         "e2e4 cp 31 rank 1 depth 0",
		"info depth -1 score cp 31 pv e2e4":                                        "",
		"info depth 256 score cp 31 pv e2e4":                                       "",
		"info string depth 7 score cp 31 pv e2e4":                                  "",
		"info depth 7 currmove e2e4 currmovenumber 1":                              "",
	} {
		c := newCollector(board.Start())
		i, ok := c.parse(strings.Fields(text)[1:])
		if got := describe(i, ok); got != want {
			t.Errorf("%s\n got %q\nwant %q", text, got, want)
		}
	}
}

func describe(i info, ok bool) string {
	if !ok {
		return ""
	}
	var b strings.Builder
	for _, m := range i.line.Moves {
		b.WriteString(m.UCI() + " ")
	}
	if s := i.line.Score; s.Mate != 0 {
		fmt.Fprintf(&b, "mate %d", s.Mate)
	} else {
		fmt.Fprintf(&b, "cp %d", s.Centipawns)
	}
	fmt.Fprintf(&b, " rank %d depth %d", i.rank, i.line.Depth)
	if i.bound {
		b.WriteString(" bound")
	}
	return b.String()
}

func TestValue(t *testing.T) {
	rising := []Score{{Mate: -1}, {Mate: -9}, {Centipawns: -900}, {}, {Centipawns: 40}, {Mate: 9}, {Mate: 1}}
	for i := range rising[1:] {
		if rising[i].Value() >= rising[i+1].Value() {
			t.Errorf("%v is not under %v", rising[i], rising[i+1])
		}
	}
}

// As many lines are asked for as are wanted, each time anew.
func TestFewerLinesThanBefore(t *testing.T) {
	e, err := play(t, scripted.Well)
	if err != nil {
		t.Fatal(err)
	}
	for _, lines := range []int{2, 1, 2, 1} {
		if got, err := e.Search(t.Context(), hanging(t), 1000, lines); err != nil || len(got.Lines) != lines {
			t.Errorf("%d lines, %v, want %d", len(got.Lines), err, lines)
		}
	}
}

// What is taken of all that an engine says: the deepest lines that are all there, and where
// there are none the last evaluation that is no bound.
func TestLinesThatAreTaken(t *testing.T) {
	for name, c := range map[string]struct {
		said string
		want []string // move, centipawns and depth
	}{
		"the deeper search has one line only": {"depth 2 multipv 1 score cp 30 pv e2e4/depth 2 multipv 2 score cp 20 pv d2d4/depth 3 multipv 1 score cp 40 pv e2e4",
			[]string{"e2e4 30 2", "d2d4 20 2"}},
		"the deeper search has both": {"depth 2 multipv 1 score cp 30 pv e2e4/depth 2 multipv 2 score cp 20 pv d2d4/depth 3 multipv 1 score cp 25 pv d2d4/depth 3 multipv 2 score cp 15 pv e2e4",
			[]string{"d2d4 25 3", "e2e4 15 3"}},
		"a bound behind an evaluation": {"depth 3 multipv 1 score cp 50 pv e2e4/depth 3 multipv 2 score cp 40 upperbound pv d2d4/depth 4 multipv 1 score cp 400 lowerbound pv e2e4",
			[]string{"e2e4 50 3"}},
		"one move in both lines": {"depth 2 multipv 1 score cp 30 pv e2e4/depth 2 multipv 2 score cp 20 pv d2d4/depth 3 multipv 1 score cp 40 pv d2d4/depth 3 multipv 2 score cp 30 pv d2d4",
			[]string{"e2e4 30 2", "d2d4 20 2"}},
		"of depth 0":            {"depth 0 multipv 1 score cp 30 pv e2e4/depth 0 multipv 2 score cp 20 pv d2d4", []string{"e2e4 30 0", "d2d4 20 0"}},
		"of depth 255":          {"depth 255 multipv 1 score cp 30 pv e2e4/depth 255 multipv 2 score cp 20 pv d2d4", []string{"e2e4 30 255", "d2d4 20 255"}},
		"nothing but a bound":   {"depth 1 multipv 1 score cp 10 lowerbound pv e2e4", []string{"e2e4 10 1"}},
		"the second line first": {"depth 2 multipv 2 score cp 20 pv d2d4/depth 2 multipv 1 score cp 30 pv e2e4", []string{"e2e4 30 2", "d2d4 20 2"}},
		"the first line of the deeper search is a bound": {"depth 2 multipv 1 score cp 30 pv e2e4/depth 2 multipv 2 score cp 20 pv d2d4/depth 3 multipv 1 score cp 90 lowerbound pv e2e4/depth 3 multipv 2 score cp 25 pv d2d4",
			[]string{"e2e4 30 2", "d2d4 20 2"}},
	} {
		said := newCollector(board.Start())
		for line := range strings.SplitSeq(c.said, "/") {
			said.read("info " + line)
		}
		said.read("bestmove e2e4")
		r, err := said.result()
		var got []string
		for _, l := range r.Lines {
			got = append(got, fmt.Sprintf("%s %d %d", l.Moves[0].UCI(), l.Score.Centipawns, l.Depth))
		}
		if err != nil || !slices.Equal(got, c.want) {
			t.Errorf("%s: %q, %v, want %q", name, got, err, c.want)
		}
	}
}

// sent is the way to an engine that is not there: it keeps what is written.
type sent struct{ strings.Builder }

func (*sent) Close() error { return nil }

// answering is an engine that has said all these lines already.
func answering(opt Options, said ...string) (*Engine, *sent) {
	in, lines := &sent{}, make(chan string, len(said))
	for _, line := range said {
		lines <- line
	}
	return &Engine{opt: opt.WithDefaults(), lines: 1, in: in, out: &lineWriter{lines: lines}, errs: &troubles{}, done: make(chan struct{})}, in
}

// What an engine is told before it plays: the user's options, then the threads and the
// table if it has them, whatever the capitals; and of each search its memory emptied, as
// many lines as are wanted if that changed, the position and the nodes.
func TestWhatAnEngineIsTold(t *testing.T) {
	e, in := answering(Options{Threads: 3, Hash: 64, Set: []Setting{{"style", "sharp"}, {"Depth", "7"}}}, "id name  Scripted   1.0", "id author the  tests", "option name threads type spin",
		"option name Hash type spin", "option name MultiPV type spin", "option name Style type combo", "option name Depth type spin", "uciok", "readyok")
	if err := e.greet(t.Context()); err != nil {
		t.Fatal(err)
	}
	if want := "uci\nsetoption name style value sharp\nsetoption name Depth value 7\nsetoption name Threads value 3\nsetoption name Hash value 64\nisready\n"; in.String() != want || e.Name() != "Scripted 1.0" || e.Author() != "the tests" {
		t.Errorf("%q by %q told\n%s, want\n%s", e.Name(), e.Author(), in.String(), want)
	}
	plain, in := answering(Options{}, "uciok", "readyok")
	if err := plain.greet(t.Context()); err != nil || in.String() != "uci\nisready\n" || plain.Name() != "the engine" {
		t.Errorf("%q is told %q, %v", plain.Name(), in.String(), err)
	}
	const found, last = "info depth 2 multipv 1 score cp 30 pv e2e4", "bestmove e2e4"
	e, in = answering(Options{}, "readyok", found, "info depth 2 multipv 2 score cp 20 pv d2d4", last, "readyok", found, "info depth 2 multipv 2 score cp 20 pv d2d4", last, "readyok", found, last)
	e.offered = []string{"MultiPV"}
	for _, c := range []struct {
		lines int
		told  string
	}{{2, "ucinewgame\nsetoption name MultiPV value 2\nisready\n"}, {2, "ucinewgame\nisready\n"}, {1, "ucinewgame\nsetoption name MultiPV value 1\nisready\n"}} {
		in.Reset()
		r, err := e.Search(t.Context(), board.Start(), 500, c.lines)
		want := c.told + "position fen rnbqkbnr/pppppppp/8/8/8/8/PPPPPPPP/RNBQKBNR w KQkq - 0 1\ngo nodes 500\n"
		if err != nil || len(r.Lines) != c.lines || in.String() != want {
			t.Errorf("%d lines, %v: told\n%s, want\n%s", len(r.Lines), err, in.String(), want)
		}
	}
}

func TestDefaultsOfAnEngine(t *testing.T) {
	want := Options{Threads: 1, Hash: 32, Handshake: 20 * time.Second, Search: time.Minute, Stop: 3 * time.Second}
	if got := (Options{}).WithDefaults(); fmt.Sprint(got) != fmt.Sprint(want) {
		t.Errorf("%+v, want %+v", got, want)
	}
	if got := (Options{Threads: 2}).WithDefaults(); got.Threads != 2 || got.Hash != 32 {
		t.Errorf("%+v", got)
	}
	if got := (Options{Hash: 3}).WithDefaults(); got.Threads != 1 || got.Hash != 3 {
		t.Errorf("%+v", got)
	}
	own := Options{Threads: 2, Hash: 3, Set: []Setting{{"a", "b"}}, Handshake: 4, Search: 5, Stop: 6}
	if got := own.WithDefaults(); fmt.Sprint(got) != fmt.Sprint(own) {
		t.Errorf("%+v, want %+v", got, own)
	}
}
