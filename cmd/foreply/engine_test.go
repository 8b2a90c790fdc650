package main

import (
	"bufio"
	"bytes"
	"encoding/json"
	"os"
	"path/filepath"
	"regexp"
	"slices"
	"strings"
	"testing"
	"time"

	"foreply/compare/fact"
	"foreply/compare/words"
	"foreply/profile/analysis"
	"foreply/profile/board"
	"foreply/profile/uci"
	"foreply/profile/uci/scripted"
)

// scriptEnv makes the test binary an engine.
const scriptEnv = "ENGINE_TEST_SCRIPT"

// Whatever an engine does, the look ends in the bound and says one clear line.
func TestEngineTroubleIsTold(t *testing.T) {
	start := board.Start()
	positions := []board.Position{start}
	for _, m := range start.Legal(nil) {
		pos := start
		pos.Play(m)
		positions = append(positions, pos)
	}
	for script, want := range map[string]string{
		scripted.Mute:    "warning: nothing from the engine: is it a UCI engine? no answer to \"uci\" within 300ms\n",
		scripted.Babbles: "warning: nothing from the engine: is it a UCI engine? no answer to \"uci\" within 300ms\n",
		scripted.Drones:  "warning: nothing from the engine: is it a UCI engine? no answer to \"uci\" within 300ms\n",
		scripted.Lost:    "warning: nothing from the engine: no answer to \"stop\" within 300ms\n",
		scripted.Slow:    "warning: nothing from the engine: the search takes too long: 100 nodes are not done in 200ms\n",
		scripted.Silent:  "warning: nothing from the engine: the engine's answer is wrong: no evaluation with the move ",
		scripted.Floods:  "",
		scripted.Late:    "",
	} {
		t.Run(script, func(t *testing.T) {
			t.Setenv(scriptEnv, script)
			var errs bytes.Buffer
			a := &app{ctx: t.Context(), say: newSpeaker(&errs)}
			begun := time.Now()
			found, err := a.lookBy(analysis.Options{
				Command: []string{os.Args[0]}, Nodes: 100, Processes: 1, Budget: time.Second, Now: time.Now,
				Engine: patienceWith(script),
			}, positions)
			if err != nil || (found == nil) != (want != "") || !strings.HasPrefix(errs.String(), want) {
				t.Errorf("found %v, %v; stderr:\n%s", found, err, errs.String())
			}
			if want == "" && strings.Contains(errs.String(), "warning") {
				t.Errorf("stderr:\n%s", errs.String())
			}
			if spent := time.Since(begun); spent > 20*time.Second {
				t.Errorf("took %v", spent)
			}
		})
	}
}

// patienceWith is short with those that never come to an end.
func patienceWith(script string) uci.Options {
	o := uci.Options{Stop: 300 * time.Millisecond}
	switch script {
	case scripted.Mute, scripted.Babbles, scripted.Drones:
		o.Handshake = 300 * time.Millisecond
	case scripted.Lost, scripted.Slow:
		o.Search = 200 * time.Millisecond
	}
	return o
}

// realEngine is the path of an engine from Debian's packages, which .ci/run puts
// into UCI_ENGINE.
func realEngine(t *testing.T) string {
	t.Helper()
	path := os.Getenv("UCI_ENGINE")
	switch {
	case path == "":
		t.Skip("no engine: UCI_ENGINE names the path of one")
	case testing.Short():
		t.Skip("an engine takes its time")
	}
	t.Setenv("HOME", t.TempDir())
	t.Setenv("XDG_CACHE_HOME", "")
	return path
}

// reportBy compares with an engine that looks at each position for so many nodes.
func reportBy(t *testing.T, engine, nodes string, args ...string) (*fact.Report, string) {
	t.Helper()
	t.Setenv("FOREPLY_ENGINE_NODES", nodes)
	args = append([]string{"compare", "--json", "--engine", engine, "--engine-time", "5m"}, args...)
	stdout, stderr, code := call(t, args...)
	if code != 0 {
		t.Fatalf("exit code %d, stderr:\n%s", code, stderr)
	}
	var r fact.Report
	if err := json.Unmarshal([]byte(stdout), &r); err != nil {
		t.Fatal(err)
	}
	return &r, stdout
}

// A mate in two at a gap, Legall's (a trap of the 18th century, common knowledge):
// 1.e4 e5 2.Nf3 d6 3.Bc4 Bg4 4.Nc3 g6 5.Nxe5 Bxd1 6.Bxf7+ Ke7 7.Nd5#. And at fixed
// nodes the same bytes come twice.
func TestRealEngineFindsAMateAtAGap(t *testing.T) {
	engine := realEngine(t)
	folder := t.TempDir()
	games := filepath.Join(folder, "games.pgn")
	book := filepath.Join(folder, "white.pgn")
	game := "[White \"Elm\"]\n[Black \"Alder, Mina\"]\n[Date \"2026.10.01\"]\n\n1. e4 e5 2. Nf3 d6 3. Bc4 Bg4 4. Nc3 g6 5. Nxe5 Bxd1 1-0\n\n"
	write(t, games, game+strings.ReplaceAll(game, "2026.10.01", "2026.10.02"))
	write(t, book, "1. e4 e5 2. Nf3 d6 3. Bc4 Bg4 4. Nc3 g6 5. Nxe5 dxe5 6. Qxg4 *\n")
	args := []string{"--games", games, "--opponent", "Alder, Mina", "--repertoire", book, "--my-color", "white"}
	r, first := reportBy(t, engine, "20000", args...)
	u := r.Sides[0].Unanswered[0]
	if got := words.Best(u.Best[:1], len(u.Line), "white"); got != "best 6.Bxf7+ Ke7 7.Nd5# (mate in 2)" {
		t.Errorf("after %s: %s", words.Movetext(u.Line, 0), got)
	}
	t.Setenv("HOME", t.TempDir()) // where nothing is kept yet
	if _, second := reportBy(t, engine, "20000", args...); second != first {
		t.Error("the second time other bytes came")
	}
}

// The slip that testdata/demo/README.md tells of, without the evaluations in the
// comments of the games.
func TestRealEngineFindsTheSlipOfTheDemo(t *testing.T) {
	engine := realEngine(t)
	folder := t.TempDir()
	evaluations := regexp.MustCompile(`\[%eval [^\]]*\]`)
	for _, name := range []string{"opponent-otb.pgn", "opponent-online.pgn"} {
		data, err := os.ReadFile(filepath.Join(testdata, "demo", name))
		if err != nil {
			t.Fatal(err)
		}
		write(t, filepath.Join(folder, name), string(evaluations.ReplaceAll(data, nil)))
	}
	r, _ := reportBy(t, engine, "20000", "--games", filepath.Join(folder, "*.pgn"),
		"--opponent", "Hallvoss, Imke", "--opponent", "Hallvoss, I.", "--opponent", "tallowmoth",
		"--repertoire", filepath.Join(testdata, "demo", "white.pgn"), "--my-color", "white")
	i := slices.IndexFunc(r.Sides[0].Traps, func(tr fact.Trap) bool {
		return words.Movetext(tr.Line, 0) == "1.e4 c5 2.c3 d6 3.d4 Nf6 4.dxc5 Nxe4"
	})
	if i < 0 {
		t.Fatalf("not among %+v", r.Sides[0].Traps)
	}
	if tr := r.Sides[0].Traps[i]; !tr.Engine || tr.Kind != fact.TheirSlip || tr.Games < 2 || tr.Best == nil || tr.Best.Moves[0] != "Qa4+" {
		t.Errorf("%+v", tr)
	}
}

func write(t *testing.T, path, text string) {
	t.Helper()
	if err := os.WriteFile(path, []byte(text), 0o666); err != nil {
		t.Fatal(err)
	}
}

// The answers of a repertoire that lose are numbered as their lines are: from the first move
// of a chapter, or of its own position.
func TestLinesOfLostAnswers(t *testing.T) {
	start := board.Start()
	setUp, err := board.ParseFEN("r1bqkbnr/pppp1ppp/2n5/4p3/4P3/5N2/PPPP1PPP/RNBQKB1R w KQkq - 2 3")
	if err != nil {
		t.Fatal(err)
	}
	a := answers{mine: board.White}
	found := analysis.NewFound("Oracle 7", 400_000)
	for _, from := range []struct {
		pos  board.Position
		line string
	}{{start, "e4 e5 f4"}, {setUp, "Ng1"}, {setUp, "Bb5 a6 Bxc6"}} {
		line, pos := strings.Fields(from.line), from.pos
		var at board.Position
		var m board.Move
		for _, san := range line {
			at = pos
			if m, err = pos.Resolve([]byte(san)); err != nil {
				t.Fatal(err)
			}
			pos.Play(m)
		}
		a.list = append(a.list, answer{pos: at, move: m, line: line, file: "a.pgn", fileLine: 7 * len(line)})
		best := at.Legal(nil)[0]
		found.Add(&at, uci.Result{Lines: []uci.Line{{Depth: 18, Score: uci.Score{Centipawns: 50}, Moves: []board.Move{best}}}})
		reply := pos.Legal(nil)[0]
		found.Add(&pos, uci.Result{Lines: []uci.Line{{Depth: 18, Score: uci.Score{Centipawns: -70 - 10*len(a.list)}, Moves: []board.Move{reply}}}})
	}
	list, judged := a.lost(found)
	var got []string
	for _, l := range list {
		got = append(got, l.text(board.White))
	}
	if want := []string{
		"a.pgn:21: after 3.Bb5 a6: 4.Bxc6 a5 (-1.0); better 4.Na3 (+0.5)",
		"a.pgn:7: 3.Ng1 Nb4 (-0.9); better 3.Na3 (+0.5)",
		"a.pgn:21: after 1.e4 e5: 2.f4 exf4 (-0.8); better 2.Na3 (+0.5)",
	}; judged != 3 || !slices.Equal(got, want) {
		t.Errorf("%d judged, %q, want %q", judged, got, want)
	}
}

// The answers that an engine looks at are those of the repertoire, the earliest first; what
// stands behind a move that the book marks as the user's mistake is none, and what only draws
// arrows is no note.
func TestAnswersToLookAt(t *testing.T) {
	c := newChecker(board.White)
	for _, g := range chapters("1. e4 e5 (1... c5 2. Nf3 {develops} d6 3. d4) 2. Nf3 (2. Qh5?? Nc6 3. Bc4) 2... Nc6 {[%cal Gf1b5]} 3. Bb5 {[%csl Ga4] the main line} *\n") {
		c.add(g)
	}
	var got []string
	for _, a := range c.answers.list {
		got = append(got, a.line[len(a.line)-1])
	}
	slices.Sort(got)
	if want := strings.Fields("Bb5 Nf3 Nf3 d4 e4"); !slices.Equal(got, want) || c.notes != 2 {
		t.Errorf("answers %v, want %v; %d notes", got, want, c.notes)
	}
	var plies []int
	for _, pos := range c.answers.positions() {
		plies = append(plies, pos.Ply())
	}
	if want := []int{0, 1, 2, 3, 2, 3, 4, 5, 4, 5}; !slices.Equal(plies, want) {
		t.Errorf("positions after %v plies, want %v", plies, want)
	}
}

// A line of a repertoire that ends with their move is told by the moves of its chapter,
// numbered from the chapter's own position.
func TestStopsOfASetUpChapter(t *testing.T) {
	c := newChecker(board.White)
	for _, g := range chapters("1. e4 e5 2. Nf3 Nc6 *\n\n[SetUp \"1\"]\n[FEN \"r1bqkbnr/pppp1ppp/2n5/4p3/4P3/5N2/PPPP1PPP/RNBQKB1R w KQkq - 2 3\"]\n\n3. Bb5 a6 *\n") {
		c.add(g)
	}
	var out bytes.Buffer
	w := bufio.NewWriter(&out)
	c.printReview(w)
	if err := w.Flush(); err != nil {
		t.Fatal(err)
	}
	if got := out.String(); strings.Count(got, "no answer to") != 1 || !strings.Contains(got, "no answer to 3.Bb5 a6\n") {
		t.Errorf("%s", got)
	}
}
