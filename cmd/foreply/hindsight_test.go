package main

import (
	"bytes"
	"context"
	"encoding/csv"
	"encoding/json"
	"io"
	"math"
	"os"
	"path/filepath"
	"reflect"
	"slices"
	"strconv"
	"strings"
	"testing"
	"unicode/utf8"

	"foreply/compare/fact"
	"foreply/compare/past"
	"foreply/fetch"
	"foreply/fetch/pgn"
	"foreply/profile/hindsight"
)

// The CSV holds the forecasts that the figures of --json are the means of.
func TestPredictionsAreThoseOfTheFigures(t *testing.T) {
	file := filepath.Join(t.TempDir(), "forecasts.csv")
	stdout, stderr, code := call(t, "hindsight", "--games", testdata+"/diff/games.pgn", "--opponent", "Kestrel, Ada", "--predictions", file, "--json")
	if code != 0 {
		t.Fatalf("exit code %d\n%s", code, stderr)
	}
	type figures struct {
		Predictions int
		OneEvent    float64 `json:"one_event_bits"`
		Full        float64 `json:"full_bits"`
		Raw         float64 `json:"raw_bits"`
	}
	var want map[string]figures
	var all map[string]json.RawMessage
	if err := json.Unmarshal([]byte(stdout), &all); err != nil {
		t.Fatal(err)
	}
	want = map[string]figures{}
	for _, side := range []string{"white", "black", "pooled"} {
		var f figures
		if err := json.Unmarshal(all[side], &f); err != nil {
			t.Fatal(err)
		}
		want[side] = f
	}
	rows, err := csv.NewReader(bytes.NewReader(readFile(t, file))).ReadAll()
	if err != nil {
		t.Fatal(err)
	}
	got := map[string]figures{}
	for _, row := range rows[1:] {
		checkShares(t, row[15])
		for _, side := range []string{row[3], "pooled"} {
			f := got[side]
			f.Predictions++
			f.OneEvent -= bits(t, row[7])
			f.Full -= bits(t, row[8])
			f.Raw -= bits(t, row[9])
			got[side] = f
		}
	}
	for side, w := range want {
		g := got[side]
		n := float64(g.Predictions)
		if g.Predictions != w.Predictions || g.Predictions == 0 || math.Abs(g.OneEvent/n-w.OneEvent)+math.Abs(g.Full/n-w.Full)+math.Abs(g.Raw/n-w.Raw) > 1e-9 {
			t.Errorf("%s: the CSV has %+v over %v, the JSON %+v", side, g, n, w)
		}
	}
}

// checkShares reads the shares of a row: they sum to 1, each in its interval.
func checkShares(t *testing.T, text string) {
	t.Helper()
	sum := 0.0
	for share := range strings.FieldsSeq(text) {
		var v [3]float64
		for i, digits := range strings.Split(share, "=")[1:] {
			x, err := strconv.ParseFloat(digits, 64)
			if err != nil || i > 2 {
				t.Fatalf("%q: %v", share, err)
			}
			v[i] = x
		}
		if v[0] < v[1] || v[0] > v[2] {
			t.Errorf("%s lies outside of its interval", share)
		}
		sum += v[0]
	}
	if math.Abs(sum-1) > 1e-9 {
		t.Errorf("the shares sum to %v: %s", sum, text)
	}
}

func bits(t *testing.T, text string) float64 {
	t.Helper()
	p, err := strconv.ParseFloat(text, 64)
	if err != nil {
		t.Fatal(err)
	}
	return math.Log2(p)
}

// What is printed fits a screen of 24 lines of 80 characters, for one player and
// for a folder of many, and ends with the verdict.
func TestHindsightFitsAScreen(t *testing.T) {
	folder := t.TempDir()
	games := readFile(t, testdata+"/diff/games.pgn")
	for _, name := range []string{"a", "b", "c", "d", "e", "f", "g", "a-file-with-a-name-that-is-rather-long-for-a-table"} {
		if err := os.WriteFile(filepath.Join(folder, name+".pgn"), games, 0o666); err != nil {
			t.Fatal(err)
		}
	}
	for name, args := range map[string][]string{
		"one player": {"--games", testdata + "/diff/games.pgn", "--opponent", "Kestrel, Ada", "-o", filepath.Join(t.TempDir(), "x.pdf")},
		"folder":     {folder},
	} {
		t.Run(name, func(t *testing.T) {
			stdout, stderr, code := call(t, append([]string{"hindsight"}, args...)...)
			if code != 0 {
				t.Fatalf("exit code %d\n%s", code, stderr)
			}
			lines := strings.Split(strings.TrimSuffix(stdout, "\n"), "\n")
			if len(lines) > 24 {
				t.Errorf("%d lines\n%s", len(lines), stdout)
			}
			for _, line := range lines {
				if utf8.RuneCountInString(line) > columns && !strings.HasPrefix(line, "wrote ") {
					t.Errorf("too long: %s", line)
				}
			}
			if !strings.HasSuffix(stdout, ".\n") || !strings.Contains(stdout, "\n\nFor th") {
				t.Errorf("no verdict at the end of\n%s", stdout)
			}
		})
	}
}

// An interrupt while it works leaves no file.
func TestInterruptedHindsight(t *testing.T) {
	ctx, cancel := context.WithCancel(t.Context())
	silent, keepOpen := io.Pipe()
	defer keepOpen.Close()
	folder := t.TempDir()
	var out, errs bytes.Buffer
	code := run(ctx, []string{"hindsight", "--games", testdata + "/diff/games.pgn", "--opponent", "Kestrel, Ada", "--peers", "-",
		"-o", filepath.Join(folder, "x.pdf"), "--predictions", filepath.Join(folder, "x.csv")},
		&signalReader{r: silent, began: cancel}, &out, &errs)
	left, err := os.ReadDir(folder)
	if code != exitInterrupted || err != nil || len(left) > 0 || out.Len() > 0 || strings.Contains(errs.String(), "error:") {
		t.Errorf("exit code %d, left %v, %v, stdout %q, stderr %q", code, left, err, out.String(), errs.String())
	}
}

// The peers that the forecasts of several players leant on are those of the one with most, not
// of all together.
func TestPeersOfATest(t *testing.T) {
	one := &tested{players: []player{{Peers: &peersTold{Games: 300}}}}
	two := &tested{players: []player{{Peers: &peersTold{Games: 100}}, {}, {Peers: &peersTold{Games: 300}}}}
	for want, tested := range map[string]*tested{", theirs and 300 of peers": one, ", theirs and up to 300 of peers": two} {
		if got := tested.heading(); !strings.HasSuffix(got, want) {
			t.Errorf("%q, want %q", got, want)
		}
	}
}

// Who is tested: an opponent of the configuration, a named one in all files, or the player of
// each file.
func TestTasksOfHindsight(t *testing.T) {
	t.Chdir(t.TempDir())
	t.Setenv("XDG_CONFIG_HOME", t.TempDir())
	if err := os.Mkdir("careers", 0o700); err != nil {
		t.Fatal(err)
	}
	for _, name := range []string{"careers/a.pgn", "careers/b.pgn", "peers.pgn"} {
		write(t, name, "1. e4 *\n")
	}
	write(t, configName, "opponents: [{id: ash, names: [Ash]}]\nsources: [{id: club, files: [peers.pgn]}]\n")
	one, two := []string{"careers/a.pgn"}, []string{"careers/a.pgn", "careers/b.pgn"}
	for _, c := range []struct {
		quirk  string
		f      flags
		args   []string
		byFile bool
		files  []string // of each task
		names  string   // of the opponent, where they are known before
	}{
		{"an id", flags{}, []string{"ash"}, false, []string{"peers.pgn"}, "Ash"},
		{"an id, with files", flags{games: two}, []string{"ash"}, false, []string{"careers/a.pgn, careers/b.pgn"}, "Ash"},
		{"a folder", flags{}, []string{"careers"}, true, two, ""},
		{"a folder, with names", flags{opponent: []string{"Elm", "Ash"}}, []string{"careers"}, true, two, "Elm Ash"},
		{"files", flags{games: two}, nil, true, two, ""},
		{"one file, with a rating", flags{games: one, rating: 1750}, nil, true, one, ""},
		{"files, with a name and a rating", flags{rating: 1750, games: two, opponent: []string{"Elm"}}, nil, false, []string{"careers/a.pgn, careers/b.pgn"}, "Elm"},
	} {
		a := &app{ctx: t.Context(), say: newSpeaker(io.Discard)}
		tasks, byFile, err := a.hindsightTasks(a.hindsightCommand(), &hindsightFlags{flags: c.f}, c.args)
		var files []string
		for _, task := range tasks {
			files = append(files, inputNames(task.inputs))
			if got := strings.Join(task.who.Names, " "); got != c.names || task.rating != c.f.rating {
				t.Errorf("%s: names %q", c.quirk, got)
			}
		}
		if err != nil || byFile != c.byFile || !slices.Equal(files, c.files) {
			t.Errorf("%s: %q, by file %v, %v", c.quirk, files, byFile, err)
		}
	}
	for _, c := range []struct {
		f    flags
		args []string
		want string
	}{
		{flags{}, []string{"oak"}, "error: oak is neither an opponent of the configuration nor a folder\nhint: foreply.yaml has ash; "},
		{flags{games: one}, []string{"careers"}, "error: the games are given twice\nhint: give either a folder or --games\n"},
		{flags{peers: []string{"-"}}, []string{"careers"}, "error: --peers - can be read for one player only\nhint: put the peers' games into a file\n"},
		{flags{rating: 1800}, []string{"careers"}, "error: --rating is that of one player\nhint: leave it out: each has that of the first of their games\n"},
		{flags{rating: -1, games: one}, nil, "error: --rating: a rating is wanted, not -1\n"},
		{flags{}, nil, "error: who is the opponent?\n"},
		{flags{games: []string{"-"}}, nil, "error: who is the opponent?\n"},
	} {
		a := &app{ctx: t.Context(), say: newSpeaker(io.Discard)}
		if _, _, err := a.hindsightTasks(a.hindsightCommand(), &hindsightFlags{flags: c.f}, c.args); err == nil || !strings.HasPrefix(told(err), c.want) {
			t.Errorf("%q: %v, want %q", c.args, err, c.want)
		}
	}
	if peers, err := peersBeside([]string{"careers", "peers.pgn"}, "./careers/b.pgn"); err != nil || inputNames(peers) != "careers/a.pgn, peers.pgn" {
		t.Errorf("peers beside a file: %s, %v", inputNames(peers), err)
	}
}

// The player of a file is who bears one of the given names, else who stands in most games.
func TestPlayerOfAFile(t *testing.T) {
	t.Chdir(t.TempDir())
	var games strings.Builder
	for _, players := range [][2]string{{"Elm, Ida", "Ash, Bo"}, {"Ash, Bo", "Oak, Pia"}, {"Fir, Una", "ASH, BO"}, {"Elm, Ida", "Oak, Pia"}} {
		games.WriteString("[White \"" + players[0] + "\"]\n[Black \"" + players[1] + "\"]\n\n1. e4 e5 *\n\n")
	}
	write(t, "a.pgn", games.String())
	write(t, "none.pgn", "[White \"?\"]\n\n1. e4 e5 *\n")
	a := &app{ctx: t.Context(), say: newSpeaker(io.Discard)}
	for given, want := range map[string]string{"": "Ash, Bo", "oak, pia": "Oak, Pia", "Moro, Lea": "Ash, Bo"} {
		task := &task{inputs: fetch.Inputs("a.pgn")}
		if given != "" {
			task.who = fetch.Who{Names: []string{given}}
		}
		if err := a.namePlayer(task); err != nil || task.opponent.Name != want || !slices.Contains(task.who.Names, want) || !slices.Equal(task.who.Names, task.opponent.Names) {
			t.Errorf("%q: %+v, %+v, %v", given, task.opponent, task.who, err)
		}
	}
	several := &task{inputs: fetch.Inputs("a.pgn"), who: fetch.Who{Names: []string{"Fir, Una", "Oak, Pia"}}}
	if err := a.namePlayer(several); err != nil || several.opponent.Name != "Oak, Pia" || !slices.Equal(several.who.Names, []string{"Oak, Pia", "Fir, Una"}) {
		t.Errorf("two spellings: %+v, %v", several.who, err)
	}
	known := &task{opponent: fact.Opponent{Name: "Oak"}}
	if err := a.namePlayer(known); err != nil || known.opponent.Name != "Oak" || known.who.Names != nil {
		t.Errorf("a known one: %+v, %v", known.opponent, err)
	}
	if err := a.namePlayer(&task{inputs: fetch.Inputs("none.pgn")}); err == nil || err.Error() != "no player is named in it" {
		t.Errorf("nobody: %v", err)
	}
}

func figures(predictions, games int, top float64) hindsight.Result {
	return hindsight.Result{Pooled: hindsight.Figures{Predictions: predictions, Games: games, Top1: top}}
}

// The table has a row for each of the first players, and counts the others.
func TestTableOfPlayers(t *testing.T) {
	all := &tested{}
	for i, name := range []string{"Ash, Bo", "A name of twenty runés", "Elm, Ida", "Oak, Pia", "Fir, Una"} {
		all.players = append(all.players, player{
			File: "careers/" + strings.Repeat("x", fileWidth+i), Opponent: fact.Opponent{Name: name}, Result: figures(100*i, 10+i, 0.25*float64(i)),
		})
	}
	var out strings.Builder
	all.table(&out)
	rows := strings.Split(out.String(), "\n")
	want := [][]string{
		{"file", "player", "games", "moves", "top", "guess", "right", "surprise"},
		{strings.Repeat("x", 22), "Ash,", "Bo", "10", "0", "-", "too", "few", "to", "test"},
		{strings.Repeat("x", 21) + "…", "A", "name", "of", "twenty", "ru…", "11", "100", "25", "in", "100"},
		{strings.Repeat("x", 21) + "…", "Elm,", "Ida", "12", "200", "50", "in", "100"},
		{strings.Repeat("x", 21) + "…", "Oak,", "Pia", "13", "300", "75", "in", "100"},
		{"and", "1", "file", "more;", "--json", "has", "them", "all"},
	}
	for i, w := range want {
		if got := strings.Fields(rows[i]); len(got) < len(w) || !slices.Equal(got[:len(w)], w) {
			t.Errorf("row %d is %q, want %q", i, got, w)
		}
	}
	out.Reset()
	all.players = all.players[:4]
	if all.table(&out); strings.Contains(out.String(), "more") {
		t.Errorf("of four:\n%s", out.String())
	}
}

// What several players gave is pooled, and who had nothing to test is not counted; one
// player stands for themselves.
func TestPoolOfPlayers(t *testing.T) {
	one := player{File: "a.pgn", Opponent: fact.Opponent{Name: "Ash, Bo"}, Result: figures(7, 3, 1), Sheet: past.Result{Games: 5}, Verdict: "fine", newest: 11}
	all := &tested{players: []player{one}}
	all.pool()
	if all.who != "Ash, Bo" || all.verdict != "fine" || all.Pooled.Predictions != 7 || all.sheet.Games != 5 {
		t.Errorf("one: %+v", all)
	}
	if got := all.json(false); !reflect.DeepEqual(got, one) {
		t.Errorf("JSON of one: %+v", got)
	}
	text, err := json.Marshal(all.json(true))
	if err != nil {
		t.Fatal(err)
	}
	byFile := decode(t, text)
	if files := byFile["files"].([]any); len(files) != 1 || files[0].(map[string]any)["file"] != "a.pgn" || byFile["verdict"] != "fine" ||
		byFile["sheet"].(map[string]any)["games"] != 5.0 || byFile["pooled"].(map[string]any)["predictions"] != 7.0 {
		t.Errorf("JSON by file: %s", text)
	}
	older, none := one, player{File: "c.pgn", Sheet: past.Result{Games: 1}, newest: 9}
	older.newest, older.Sheet.Games = 4, 20
	all = &tested{players: []player{older, one, none}}
	all.pool()
	if all.who != "2 players" || all.sheet.Games != 26 || all.verdict != all.Verdict("these players") {
		t.Errorf("three: %q, %d games, %q", all.who, all.sheet.Games, all.verdict)
	}
	page := all.page()
	if page.Who != "2 players" || page.Heading != all.heading() || page.Verdict != all.verdict || page.Foot != all.Method() || page.AsOf != pgn.Day(11).Date() {
		t.Errorf("page %+v", page)
	}
	if all.last = 1; !strings.HasSuffix(all.heading(), ", as if of theirs only the last one of the colour was known") {
		t.Errorf("heading %q", all.heading())
	}
	if all.last = 12; !strings.HasSuffix(all.heading(), ", as if of theirs only the last 12 of the colour were known") {
		t.Errorf("heading %q", all.heading())
	}
}

// The page of a test says what came of sheets behind all else; that of no test says nothing.
func TestSectionsOfAPage(t *testing.T) {
	white := hindsight.Figures{Predictions: 9, Games: 3}
	for want, result := range map[string]hindsight.Result{"": {}, "with White, the sheet": {White: white, Pooled: white}} {
		one := &tested{players: []player{{Result: result}}}
		one.pool()
		var names []string
		for _, s := range one.page().Sections {
			names = append(names, s.Name)
		}
		if got := strings.Join(names, ", "); got != want {
			t.Errorf("sections %q, want %q", got, want)
		}
	}
}
