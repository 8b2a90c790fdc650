package main

import (
	"bufio"
	"bytes"
	"errors"
	"io"
	"reflect"
	"strings"
	"testing"

	"foreply/compare/book"
	"foreply/fetch/pgn"
	"foreply/profile/board"
)

// Chapters stand under their files, with what is special about each.
func TestChaptersAreListed(t *testing.T) {
	c := newChecker(board.White)
	c.book.Chapters = []book.Chapter{
		{File: "a.pgn", Game: 1, Name: "One", Moves: 1},
		{File: "a.pgn", Game: 12, Name: "Twelve", Moves: 30, Role: book.SurpriseRole},
		{File: "b.pgn", Game: 1, Name: "Rest", Moves: 2, Role: book.RestRole, SetUp: true},
	}
	c.positions, c.notes = map[uint64]bool{1: true, 2: true}, 1
	want := "a.pgn\n  1   One     1 move\n  12  Twelve  30 moves  (surprise)\n" +
		"b.pgn\n  1  Rest  2 moves  (rest: not walked, from a set-up position)\n3 chapters, 2 positions, 1 note\n"
	var out strings.Builder
	if err := c.print(&out, false); err != nil || out.String() != want {
		t.Errorf("%v\n%s", err, out.String())
	}
}

// What there is to work on: lines that end on their move, chapters that nothing leads to,
// positions with a choice; of the user's colour only.
func TestReviewOfARepertoire(t *testing.T) {
	const text = "[Event \"Main\"]\n\n1. e4 (1. d4 d5) 1... e5 2. Nf3 (2. Bc4) Nc6 *\n\n" +
		"[Event \"Far\"]\n[SetUp \"1\"]\n[FEN \"4k3/8/8/8/8/8/4P3/4K3 b - - 0 30\"]\n\n30... Kd7 31. e4 *\n"
	for mine, want := range map[board.Color]string{
		board.White: "\nfor your games with white: 3 positions with an answer\n" +
			"  white.pgn:3: no answer to 1.d4 d5\n  white.pgn:3: no answer to 1.e4 e5 2.Nf3 Nc6\n" +
			"  white.pgn:5: no line from the first move leads to chapter \"Far\"\n" +
			"  at the first move you have 1.e4 or 1.d4\n  after 1.e4 e5 you have 2.Nf3 or 2.Bc4\n",
		board.Black: "\nfor your games with black: 4 positions with an answer\n" +
			"  white.pgn:3: no answer to 1.e4 e5 2.Bc4\n  white.pgn:9: no answer to 30...Kd7 31.e4\n" +
			"  white.pgn:5: no line from the first move leads to chapter \"Far\"\n",
	} {
		c := newChecker(mine)
		for _, g := range chapters(text) {
			c.add(g)
		}
		var out bytes.Buffer
		w := bufio.NewWriter(&out)
		c.printReview(w)
		w.Flush()
		if out.String() != want {
			t.Errorf("%s:%s\nwant%s", mine, out.String(), want)
		}
		if c.err != nil {
			t.Errorf("%s: the rules differ: %v", mine, c.err)
		}
		if len(c.positions) != 7 {
			t.Errorf("%d positions", len(c.positions))
		}
	}
}

// Errors come before warnings, notes only with -v; only errors are to be mended.
func TestProblemsOfARepertoire(t *testing.T) {
	list := []pgn.Problem{
		{File: "a", Severity: pgn.Note, Message: "n"}, {File: "a", Severity: pgn.Warning, Message: "w"}, {File: "a", Severity: pgn.Error, Message: "e"},
	}
	for _, c := range []struct {
		list    []pgn.Problem
		verbose bool
		want    string
		broken  bool
	}{
		{list, false, "error: a: e\nwarning: a: w\n", true},
		{list, true, "error: a: e\nwarning: a: w\nnote: a: n\n", true},
		{list[:2], false, "warning: a: w\n", false},
	} {
		var out strings.Builder
		a := speaking(&out)
		a.say.verbose = c.verbose
		if broken := a.tellProblems(c.list); broken != c.broken || out.String() != c.want {
			t.Errorf("%q, broken %v", out.String(), broken)
		}
	}
}

// What is wrong with a repertoire and costs no move: what comes of typing by hand as a sum,
// the rest one by one.
func TestSoftProblems(t *testing.T) {
	list := []pgn.Problem{
		{Kind: pgn.Guess, File: "a", Line: 3, Severity: pgn.Warning, Message: "guessed"}, {Kind: "other", File: "b", Line: 1, Severity: pgn.Warning, Message: "odd"},
		{Kind: pgn.StrayText, File: "c", Line: 9, Severity: pgn.Warning, Message: "stray"},
	}
	for verbose, want := range map[bool]string{
		false: "warning: b:1: odd\nwarning: 2 places of your repertoire read as a guess or passed over; first: a:3: guessed\nhint: 'foreply check' lists them all\n",
		true:  "warning: a:3: guessed\nwarning: b:1: odd\nwarning: c:9: stray\n",
	} {
		var out strings.Builder
		a := speaking(&out)
		a.say.verbose = verbose
		if a.tellSoft(list); out.String() != want {
			t.Errorf("%q", out.String())
		}
	}
	var out strings.Builder
	speaking(&out).tellBroken(board.Black, []pgn.Problem{{File: "a", Line: 3, Message: "illegal"}})
	if want := "warning: a:3: illegal\nwarning: the repertoire for black has 1 move that can't be played; the lines behind them are missing from the sheet\n" +
		"hint: 'foreply check' reads the repertoire alone and lists all there is to mend\nhint: with --strict such a move stops the sheet\n"; out.String() != want {
		t.Errorf("%q", out.String())
	}
}

// A game as JSON: plies by the numbers of the game, comments where they stand, each clock and
// evaluation in its place, NAGs in order and once.
func TestGameAsJSON(t *testing.T) {
	t.Chdir(t.TempDir())
	write(t, "a.pgn", "[Event \"x\"]\n[SetUp \"1\"]\n[FEN \"4k3/4p3/8/8/8/8/8/4K3 b - - 0 17\"]\n\n"+
		"{first} 17... e5 $4 $2 $4 {a [%clk 0:01:30] [%emt 0:00:05] [%eval -1.5,20]} {b} ({other} 17... e6 {c [%eval #-3]} 18. Kd2) 18. Ke2 0-1\n\n"+
		"[Variant \"Atomic\"]\n\n1. e4 *\n\n[SetUp \"1\"]\n[FEN \"no position\"]\n\n1. e4 *\n")
	stdout, _, code := call(t, "check", "--json", "a.pgn")
	games := decode(t, []byte(stdout))["games"].([]any)
	first, none := games[0].(map[string]any), []any{}
	move := func(ply float64, san, uci string, more map[string]any) map[string]any {
		m := map[string]any{"ply": ply, "san": san, "uci": uci, "nags": none, "comments": none, "variations": none}
		for k, v := range more {
			m[k] = v
		}
		return m
	}
	other := map[string]any{"start_comments": []any{"other"}, "moves": []any{
		move(34, "e6", "e7e6", map[string]any{"comments": []any{"c [%eval #-3]"}, "eval_white": map[string]any{"mate": -3.0}}), move(35, "Kd2", "e1d2", nil),
	}}
	want := map[string]any{
		"tags": map[string]any{"Event": "x", "SetUp": "1", "FEN": "4k3/4p3/8/8/8/8/8/4K3 b - - 0 17"}, "termination": "0-1",
		"start_fen": "4k3/4p3/8/8/8/8/8/4K3 b - - 0 17", "game_comments": []any{"first"}, "main_line_san": []any{"e5", "Ke2"},
		"line": map[string]any{"start_comments": none, "moves": []any{
			move(34, "e5", "e7e5", map[string]any{"nags": []any{2.0, 4.0}, "comments": []any{"a [%clk 0:01:30] [%emt 0:00:05] [%eval -1.5,20]", "b"},
				"variations": []any{other}, "clk_seconds": 90.0, "emt_seconds": 5.0, "eval_white": map[string]any{"cp": -150.0}, "eval_depth": 20.0}),
			move(35, "Ke2", "e1e2", nil),
		}},
		"errors": 0.0, "problems": none,
	}
	if !reflect.DeepEqual(first, want) {
		t.Errorf("%v\nwant\n%v", first, want)
	}
	for i, message := range map[int]string{1: "not read, another variant: Atomic", 2: "no position"} {
		g := games[i].(map[string]any)
		problem := g["problems"].([]any)[0].(map[string]any)
		if text := problem["message"].(string) + problem["token"].(string); !strings.Contains(text, message) || problem["game"] != float64(i+1) || problem["file"] != "a.pgn" || problem["line"] != float64(3+4*i) ||
			len(g["main_line_san"].([]any)) > 0 || g["errors"] != 0.0 {
			t.Errorf("game %d: %v", i+1, g)
		}
	}
	wrong := []*pgn.Game{{Problems: []pgn.Problem{{Severity: pgn.Error, Message: "a tag that can't be"}}}}
	if broken, err := writeGames(io.Discard, wrong, nil); !broken || err != nil {
		t.Errorf("an error of the game and not of a move: %v, %v", broken, err)
	}
	if broken, err := writeGames(io.Discard, chapters("1. e4 Ke4 *\n\n1. e4 e5 *\n"), nil); !broken || err != nil {
		t.Errorf("the first of two has a move to mend: %v, %v", broken, err)
	}
	var out strings.Builder
	if err := writeJSON(&out, map[string]string{"a": "<b> & c"}); err != nil || out.String() != "{\n  \"a\": \"<b> & c\"\n}\n" {
		t.Errorf("%q, %v", out.String(), err)
	}
	if start := games[2].(map[string]any)["start_fen"]; start != "no position" || code != exitError {
		t.Errorf("it starts at %v; exit code %d", start, code)
	}
}

// The limits of a repertoire are the last that are read.
func TestTooMuchOfARepertoire(t *testing.T) {
	if err := tooMuch(mostChapters, mostRepertoire); err != nil {
		t.Errorf("at the limits: %v", err)
	}
	const hint = "hint: is it an archive of games? --games is for those; name the repertoire's own files\n"
	for _, c := range []struct {
		chapters, size int
		want           string
	}{
		{mostChapters + 1, 0, "error: the repertoire has more than 20000 chapters, the most for one colour\n" + hint},
		{0, mostRepertoire + 1, "error: the repertoire has more than 16 MB, the most for one colour\n" + hint},
	} {
		if got := told(tooMuch(c.chapters, c.size)); got != c.want {
			t.Errorf("%q", got)
		}
	}
	if got := told(problemError(&pgn.Problem{File: "a", Line: 2, Message: "bad", Hint: "mend it"})); got != "error: a:2: bad\nhint: mend it\n" {
		t.Errorf("%q", got)
	}
	var m *mishap
	if err := problemError(&pgn.Problem{File: "a", Message: "bad"}); errors.As(err, &m) || err.Error() != "a: bad" {
		t.Errorf("%v", err)
	}
}
