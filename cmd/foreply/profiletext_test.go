package main

import (
	"bufio"
	"fmt"
	"io"
	"os"
	"reflect"
	"strings"
	"testing"
	"text/tabwriter"

	"foreply/fetch/pgn"
	"foreply/profile"
	"foreply/profile/board"
)

// gamesOfAsh is what Ash played: each text is the moves of a game, times how often it was played,
// a day each.
func gamesOfAsh(white bool, games ...string) string {
	var out strings.Builder
	day := 0
	players := "[White \"Ash\"]\n[Black \"x\"]"
	if !white {
		players = "[White \"x\"]\n[Black \"Ash\"]"
	}
	for _, g := range games {
		var n int
		fmt.Sscan(g, &n)
		_, moves, _ := strings.Cut(g, " ")
		for range n {
			fmt.Fprintf(&out, "%s\n[Date \"2026.%02d.%02d\"]\n[Result \"1-0\"]\n\n%s 1-0\n\n", players, 1+day/28, 1+day%28, moves)
			day++
		}
	}
	return out.String()
}

func sideOf(t *testing.T, out io.Writer, theirs board.Color, games string) (*side, func() error) {
	t.Helper()
	p := profile.Build(pgn.NewReader(strings.NewReader(games), pgn.Options{}).All(), profile.Options{Them: func(g *pgn.Game) (board.Color, bool) {
		return theirs, g.Tags().Get(map[board.Color]string{board.White: "White", board.Black: "Black"}[theirs]) == "Ash"
	}})
	w := bufio.NewWriter(out)
	s := &side{w: w, p: p, tree: p.Tree(theirs), plies: 16}
	s.look = profile.NewForecast(p, theirs, profile.ForecastOptions{Class: profile.Classical}).On(p.NextDay())
	return s, w.Flush
}

// The main lines: what nearly always follows stands in the row, with the number of the row's
// first move; a branch needs two games; it ends at the depth asked for.
func TestBranchesOfTheTree(t *testing.T) {
	games := gamesOfAsh(true, "3 1. e4 c6 2. d4 d5 3. e5", "1 1. e4 c6 2. d4 d5 3. exd5", "4 1. e4 e5 2. Nf3", "1 1. e4 d5", "1 1. d4 d5")
	for plies, want := range map[int]string{
		16: "    9   1.e4\n    4     1...e5 2.Nf3\n    4     1...c6 2.d4 d5 3.e5\n",
		4:  "    9   1.e4\n    4     1...e5 2.Nf3\n    4     1...c6 2.d4 d5\n",
		2:  "    9   1.e4\n    4     1...e5\n    4     1...c6\n",
		1:  "    9   1.e4\n",
	} {
		var out strings.Builder
		s, flush := sideOf(t, &out, board.White, games)
		s.plies = plies
		start := board.Start()
		s.branch(start, s.tree.At(start.Key()), 0, 2)
		got := func(text string) map[string]bool { // moves met alike often come in the tree's order
			rows := map[string]bool{}
			for row := range strings.Lines(text) {
				rows[row] = true
			}
			return rows
		}
		if flush(); !reflect.DeepEqual(got(out.String()), got(want)) {
			t.Errorf("to %d plies:\n%s\nwant\n%s", plies, out.String(), want)
		}
	}
	node := &profile.TreeNode{Edges: []profile.Edge{{Move: 1, Count: profile.Count{Games: 3}}, {Move: 2, Count: profile.Count{Games: 1}}}}
	if only := onlyEdge(node, 2); only == nil || only.Move != 1 || onlyEdge(node, 1) != nil || onlyEdge(node, 4) != nil || onlyEdge(nil, 1) != nil {
		t.Errorf("the only edge %+v", only)
	}
}

// Up to twelve games are listed and not counted in shares; the newest first.
func TestFewGamesAreListed(t *testing.T) {
	for n, few := range map[int]bool{12: true, 13: false} {
		var out strings.Builder
		s, flush := sideOf(t, &out, board.White, gamesOfAsh(true, fmt.Sprintf("%d 1. e4 e5 2. Nf3", n)))
		s.print("Ash")
		flush()
		text := out.String()
		for _, part := range []string{"too few games for shares: the counts alone\n", "\ntheir games\n"} {
			if strings.Contains(text, part) != few {
				t.Errorf("%d games: %q\n%s", n, part, text)
			}
		}
		if strings.Contains(text, "any other") == few || strings.Contains(text, "\nmain lines, with games\n") == few {
			t.Errorf("%d games:\n%s", n, text)
		}
		if want := fmt.Sprintf("Ash with white: %d games, scored %d of %d, last %d Jan 2026\n", n, n, n, n); !strings.HasPrefix(text, want) {
			t.Errorf("%s, want %s", text, want)
		}
		if few && strings.Index(text, "\n  12 Jan 2026") > strings.Index(text, "\n  1 Jan 2026") {
			t.Errorf("the oldest first:\n%s", text)
		}
	}
	var out strings.Builder
	s, flush := sideOf(t, &out, board.Black, gamesOfAsh(true, "1 1. e4"))
	s.print("Ash")
	if flush(); out.String() != "Ash with black: no games found\n" {
		t.Errorf("%q", out.String())
	}
}

// With Black: their answers to the four first moves met most, each with how often it was met.
func TestAnswersToFirstMoves(t *testing.T) {
	var out strings.Builder
	s, flush := sideOf(t, &out, board.Black, gamesOfAsh(false, "5 1. e4 c5", "4 1. d4 d5", "3 1. c4 e5", "2 1. Nf3 d5", "1 1. g3 d5", "6 1. b3"))
	s.print("Ash")
	flush()
	var heads []string
	for row := range strings.Lines(out.String()) {
		if strings.HasPrefix(row, "against ") {
			heads = append(heads, strings.TrimSpace(row))
		}
	}
	// 1.b3 was met most, and never answered.
	if got := strings.Join(heads, "; "); got != "against 1.e4, met in 5 games; against 1.d4, met in 4 games; against 1.c4, met in 3 games" {
		t.Errorf("%s\n%s", got, out.String())
	}
	if strings.Contains(out.String(), "their first move") {
		t.Errorf("it is not theirs:\n%s", out.String())
	}
}

// The moves seen and likely enough are shown in order; all the rest is one share, with its games.
func TestSharesShown(t *testing.T) {
	e := profile.Expected{Visits: 20, Strength: 22, Moves: []profile.Likely{
		{Range: profile.Range{P: 0.6, Lo: 0.5, Hi: 0.7}, N: 13}, {Range: profile.Range{P: 0.2, Lo: 0.1, Hi: 0.3}, N: 4}, {Range: profile.Range{P: 0.04, Lo: 0, Hi: 0.1}, N: 1},
		{Range: profile.Range{P: 0.039}, N: 2}, {Range: profile.Range{P: 0.03}},
	}}
	shown, rest := sharesOf(&e)
	if len(shown) != 3 || shown[0].Seen != 13 || shown[1].Of != 20 || shown[1].P != 0.2 || shown[1].Hi != 0.3 || rest.Seen != 2 || rest.Of != 20 || rest.P < 0.1599 || rest.P > 0.1601 {
		t.Errorf("%+v, rest %+v", shown, rest)
	}
	e.Moves[1].N = 0
	if shown, rest := sharesOf(&e); len(shown) != 1 || rest.Seen != 7 {
		t.Errorf("%d shown before one that was never played, rest %+v", len(shown), rest)
	}
}

// What profile prints below: the games of peers, what was not counted; both colours, or the
// one that was asked for.
func TestProfileOfBothColours(t *testing.T) {
	t.Chdir(t.TempDir())
	t.Setenv("XDG_CONFIG_HOME", t.TempDir())
	t.Setenv("HOME", t.TempDir())
	games := gamesOfAsh(true, "2 1. e4 e5 2. Nf3") + gamesOfAsh(false, "3 1. d4 d5 2. c4") + "[White \"Ash\"]\n[Black \"x\"]\n[Result \"1-0\"]\n\n1-0\n\n"
	if err := os.WriteFile("games.pgn", []byte(games), 0o600); err != nil {
		t.Fatal(err)
	}
	const white = "Ash with white: 2 games, scored 2 of 2, last 2 Jan 2026\n"
	for color, want := range map[string][]string{"": {white, "Ash with black: 3 games, scored 0 of 3, last 3 Jan 2026\n"}, "White": {white}, "black": {"Ash with black: 3 games"}} {
		args := []string{"profile", "--games", "games.pgn", "--opponent", "Ash", "--plies", "2"}
		if color != "" {
			args = append(args, "--their-color", color)
		}
		stdout, stderr, code := call(t, args...)
		if n := strings.Count(stdout, "Ash with "); code != 0 || n != len(want) || !strings.HasSuffix(stdout, "\nnot counted: 1 forfeit\n") || strings.Contains(stdout, "2.Nf3") {
			t.Errorf("%s: exit code %d, %s\n%s", color, code, stderr, stdout)
		}
		for _, w := range want {
			if !strings.Contains(stdout, w) {
				t.Errorf("%s: no %q in\n%s", color, w, stdout)
			}
		}
	}
	stdout, _, code := call(t, "profile", "--games", "games.pgn", "--opponent", "Ash", "--plies", "2", "--their-color", "black", "--json")
	got := decode(t, []byte(stdout))
	nodes := got["nodes"].(map[string]any)
	start := board.Start()
	root := nodes[start.EPD()].(map[string]any)
	edge := root["moves"].(map[string]any)["d2d4"].(map[string]any)
	if code != 0 || got["their_color"] != "black" || got["plies"] != 2.0 || len(nodes) != 2 || root["to_move"] != "w" || root["games"] != 3.0 ||
		root["forecast"] != nil || edge["san"] != "d4" || edge["l"] != 3.0 || edge["last_date"] != "2026-01-03" || edge["share"] != nil ||
		!reflect.DeepEqual(got["opponent"].(map[string]any)["name"], "Ash") || fmt.Sprint(got["left_out"]) != "[map[games:1 reason:forfeit]]" {
		t.Errorf("exit code %d\n%s", code, stdout)
	}
	answer := nodes[edge["child_epd"].(string)].(map[string]any)
	if answer["to_move"] != "b" || answer["forecast"].(map[string]any)["visits"] != 3.0 || answer["moves"].(map[string]any)["d7d5"].(map[string]any)["share"] == nil {
		t.Errorf("%v", answer)
	}
}

// A row without what is not known of it ends where the known ends.
func TestRowOfAMove(t *testing.T) {
	for _, c := range []struct {
		few   bool
		cells []string
		want  string
	}{
		{false, []string{"1.e4", "8 in 10", "4 of 5", "last"}, "  1.e4\t8 in 10\t4 of 5\tlast\n"},
		{false, []string{"1.e4", "8 in 10", "", ""}, "  1.e4\t8 in 10\n"},
		{false, []string{"1.e4", "8 in 10", "", "last"}, "  1.e4\t8 in 10\t\tlast\n"},
		{true, []string{"1.e4", "", "4 of 5", "last"}, "  1.e4\t4 of 5\tlast\n"},
	} {
		var out strings.Builder
		w := tabwriter.NewWriter(&out, 0, 0, 2, ' ', 0)
		(&side{}).row(w, c.cells, c.few)
		w.Flush()
		if got := strings.Join(strings.Fields(out.String()), " "); got != strings.Join(strings.Fields(c.want), " ") {
			t.Errorf("%q", got)
		}
	}
	for depth, indent := range map[int]int{0: 8, 1: 10, 16: 40, 17: 40, 30: 40} { // the deepest stand below each other
		var out strings.Builder
		s := &side{w: bufio.NewWriter(&out)}
		s.run([]string{"Nf3"}, depth, 5)
		if s.w.Flush(); !strings.HasPrefix(out.String(), "    5") || strings.IndexAny(out.String()[5:], "0123456789") != indent-5 {
			t.Errorf("depth %d: %q", depth, out.String())
		}
	}
	if scored(&profile.Count{Games: 2, Unknown: 2}) != "no result given" || scored(&profile.Count{Games: 3, Unknown: 1, Wins: 1, Draws: 1}) != "scored 1½ of 2" {
		t.Error("scored otherwise")
	}
}
