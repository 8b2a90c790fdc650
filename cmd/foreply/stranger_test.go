package main

import (
	"errors"
	"os"
	"path/filepath"
	"reflect"
	"slices"
	"strings"
	"testing"
	"time"

	"foreply/compare/fact"
	"foreply/fetch"
	"foreply/profile/analysis"
	"foreply/profile/board"
	"foreply/profile/uci"
)

// What a file in the working folder may not have by itself: a program, an engine's options, a
// token; unless the user's own configuration has the very same.
func TestHeldBack(t *testing.T) {
	user := t.TempDir()
	t.Setenv("XDG_CONFIG_HOME", user)
	t.Setenv("HOME", user)
	t.Chdir(t.TempDir())
	if err := os.MkdirAll(filepath.Dir(ownConfig()), 0o700); err != nil {
		t.Fatal(err)
	}
	const engine = "engine:\n  command: e\n  options: [\"A=b\"]\n"
	const source = "sources:\n- {id: a, url: 'https://example.org/{player}',\n   token_from: X_Y}\n"
	const listed = "sources:\n- {id: a, url: '{address}', pages: list, list: 'https://example.org/list/{player}', list_path: b.c,\n   token_from: X_Y}\n"
	const held = `foreply.yaml:2: engine.command: the engine "e" is not started`
	const options = "foreply.yaml:3: engine.options: the engine's options are not set"
	for _, c := range []struct {
		quirk, here, own, env string
		held                  []string
		command               string
		tokens                map[string]string
	}{
		{"a program", engine, "", "", []string{held}, "", nil},
		{"a program, the user's too", engine, engine, "", nil, "e", nil},
		{"the program alone is the user's", engine, "engine: {command: e}\n", "", []string{options}, "e", nil},
		{"another is the user's", engine, strings.Replace(engine, ": e", ": f", 1), "", []string{held}, "", nil},
		{"the environment has another program", engine, "", "g", []string{options}, "g", nil},
		{"the same without an engine", "engine: {options: [\"A=b\"]}\n", "", "", nil, "", nil},
		{"none", "engine: {command: none, options: [\"A=b\"]}\n", "", "", nil, "none", nil},
		{"a token", source, "", "", nil, "", map[string]string{"a": "foreply.yaml:3: sources[0].token_from"}},
		{"a token, the user's too", source, source, "", nil, "", nil},
		{"to another address", source, strings.Replace(source, "org/", "org/x/", 1), "", nil, "", map[string]string{"a": "foreply.yaml:3: sources[0].token_from"}},
		{"other options are the user's", engine, strings.Replace(engine, "A=b", "A=c", 1), "", []string{options}, "e", nil},
		{"a token of a second source", "sources:\n- {id: z, url: 'https://example.org/z/{player}'}\n" + strings.TrimPrefix(source, "sources:\n"), "", "", nil, "", map[string]string{"a": "foreply.yaml:4: sources[1].token_from"}},
		{"a list of another place", listed, strings.Replace(listed, "org/list", "org/other", 1), "", nil, "", map[string]string{"a": "foreply.yaml:3: sources[0].token_from"}},
		{"another variable", source, strings.Replace(source, "X_Y", "X_Z", 1), "", nil, "", map[string]string{"a": "foreply.yaml:3: sources[0].token_from"}},
	} {
		t.Setenv("FOREPLY_ENGINE", c.env)
		write(t, configName, c.here)
		write(t, ownConfig(), c.own)
		s, err := loadConfig("", nil)
		if err != nil || !slices.Equal(s.held, c.held) || s.Engine.Command != c.command || len(s.tokensHeld) != len(c.tokens) || len(c.tokens) > 0 && !reflect.DeepEqual(s.tokensHeld, c.tokens) {
			t.Errorf("%s: held %q, tokens %q, engine %+v, %v", c.quirk, s.held, s.tokensHeld, s.Engine, err)
		}
		if kept := len(c.held) == 0 || !strings.Contains(c.held[0], "options"); (len(s.Engine.Options) > 0) != (kept && strings.Contains(c.here, "options")) {
			t.Errorf("%s: options %q", c.quirk, s.Engine.Options)
		}
		if all, err := loadConfig(configName, nil); err != nil || len(all.held)+len(all.tokensHeld) > 0 {
			t.Errorf("%s, by --config: held %q, %q, %v", c.quirk, all.held, all.tokensHeld, err)
		}
	}
	var out strings.Builder
	speaking(&out).tellHeld(&settings{held: []string{"a", "b"}})
	const asked = ": a file in the working folder can't ask for that by itself\n"
	if want := "note: a" + asked + "note: b" + asked + "hint: --engine or FOREPLY_ENGINE names a program, --config foreply.yaml takes all of the file; or write the same into " + ownConfig() + "\n"; out.String() != want {
		t.Errorf("%q", out.String())
	}
}

// Of servers that get no token only those are told that would be asked for one of the opponents.
func TestHeldTokensAreTold(t *testing.T) {
	s := &settings{config: config{Sources: []sourceConfig{{ID: "a"}, {ID: "b"}, {ID: "c"}}}, tokensHeld: map[string]string{"a": "f:1: x", "b": "f:2: y"}}
	errs := s.tokenHeld([]opponentConfig{{ID: "ash", Handles: []handleConfig{{"b", "ash1"}, {"c", "ash2"}}}})
	if len(errs) != 1 || errs[0].Error() != "source b: f:2: y: a file in the working folder can't have a token sent by itself" {
		t.Errorf("%v", errs)
	}
	s.unread = errors.New("no access")
	if got := told(errors.Join(s.tokenHeld([]opponentConfig{{ID: "ash", Handles: []handleConfig{{"a", "ash1"}, {"b", "ash2"}}}})...)); strings.Count(got, "hint: your own configuration was not read: no access\n") != 2 ||
		!strings.HasPrefix(got, "error: source a: f:1: x: ") || !strings.Contains(got, "\nerror: source b: f:2: y: ") {
		t.Errorf("%q", got)
	}
}

// How an engine is asked is as the configuration says, each value in its place.
func TestHowAnEngineIsAsked(t *testing.T) {
	t.Setenv("HOME", "/home/mina")
	t.Setenv("XDG_CACHE_HOME", "/home/mina/cache")
	e := engineConfig{Command: "no-such-engine --log x", Options: []string{"Syzygy Path = /a=b", "Ponder="}, Nodes: 5000, Threads: 2, Hash: 64, Time: "90s", Cache: "kept"}
	got := e.analysis()
	if got.Now == nil {
		t.Error("no clock")
	}
	got.Now = nil
	want := analysis.Options{
		Command: []string{"no-such-engine", "--log", "x"}, Nodes: 5000, Budget: 90 * time.Second, Folder: "kept",
		Engine: uci.Options{Threads: 2, Hash: 64, Set: []uci.Setting{{Name: "Syzygy Path", Value: "/a=b"}, {Name: "Ponder"}}},
	}
	if !reflect.DeepEqual(got, want) {
		t.Errorf("%+v", got)
	}
	folder, err := os.UserCacheDir()
	if err != nil {
		t.Fatal(err)
	}
	if got := (&engineConfig{}).analysis().Folder; got != filepath.Join(folder, "foreply", "engine") {
		t.Errorf("kept in %s", got)
	}
	program := filepath.Join(t.TempDir(), "my engine")
	write(t, program, "")
	if err := os.Chmod(program, 0o700); err != nil {
		t.Fatal(err)
	}
	if got := (&engineConfig{Command: program}).command(); !slices.Equal(got, []string{program}) {
		t.Errorf("a program with a space: %q", got)
	}
	for command, want := range map[string][2]bool{"": {}, "none": {}, "e": {true, false}, "e ./x": {true, false}, "./e": {true, true}, "/bin/e -x": {true, true}} {
		if e := (&engineConfig{Command: command}); e.wanted() != want[0] || e.placed() != want[1] {
			t.Errorf("%q: wanted %v, by its place %v", command, e.wanted(), e.placed())
		}
	}
}

// A file that the configuration names and that isn't there is told by its key; the example's
// by what it is. One of the command line is told where it is read.
func TestFilesOfAConfigurationThatAreMissing(t *testing.T) {
	t.Chdir(t.TempDir())
	write(t, "club.yaml", "me:\n  games: [there.pgn, mine.pgn]\n  repertoire:\n    white: [repertoire/white.pgn]\nsources:\n- {id: a, files: [there.pgn, thare.pgn]}\npeers:\n- peers.pgn\n")
	write(t, "there.pgn", "1. e4 *\n")
	s, err := loadConfig("club.yaml", nil)
	if err != nil {
		t.Fatal(err)
	}
	for file, want := range map[string]string{
		"there.pgn": "", "other.pgn": "",
		"mine.pgn":             "error: club.yaml:2: me.games[1]: no file mine.pgn\n",
		"thare.pgn":            "error: club.yaml:6: sources[0].files[1]: no file thare.pgn\nhint: did you mean there.pgn?\n",
		"peers.pgn":            "error: club.yaml:8: peers[0]: no file peers.pgn\n",
		"repertoire/white.pgn": "error: club.yaml:4: me.repertoire.white[0]: no file repertoire/white.pgn\nhint: that is the example of 'foreply init': put your own file there, or delete the line\n",
	} {
		err := s.thereAre(fetch.Inputs("unnamed.pgn", "there.pgn", file))
		if (err != nil) != (want != "") || err != nil && !strings.HasPrefix(told(err), want) {
			t.Errorf("%s: %v, want %q", file, err, want)
		}
	}
	// They are looked for before anything is read: the peers with the games, own games with the books.
	if err := (&task{cfg: s}).setInputs(&flags{games: []string{"there.pgn"}}); err == nil || !strings.HasPrefix(told(err), "error: club.yaml:8: peers[0]: ") {
		t.Errorf("%v", err)
	}
	nameless := &settings{config: config{Me: meConfig{Games: []string{"m"}}}}
	if err := (&task{cfg: nameless}).setGame(&flags{black: []string{"x"}}); err == nil || !strings.HasPrefix(told(err), "error: whose games are yours?\n") {
		t.Errorf("configured games: %v", err)
	}
	if err := (&task{cfg: s}).setGame(&flags{white: []string{"there.pgn"}}); err == nil || !strings.HasPrefix(told(err), "error: club.yaml:2: me.games[1]: ") {
		t.Errorf("%v", err)
	}
}

// Each command that asks an engine says what a file in the working folder doesn't get; the others
// ask none.
func TestCommandsTellWhatIsHeld(t *testing.T) {
	t.Chdir(t.TempDir())
	t.Setenv("XDG_CONFIG_HOME", t.TempDir())
	write(t, configName, "engine: {command: no-such-engine, options: [A=b]}\n")
	write(t, "list.txt", "Ash\n")
	write(t, "b.pgn", "1. e4 c5 *\n")
	const program, options = "foreply.yaml:1: engine.command: the engine \"no-such-engine\" is not started: ", "foreply.yaml:1: engine.options: the engine's options are not set: "
	for args, want := range map[string]string{
		"prep --opponent Ash --games none.pgn": program, "compare --opponent Ash --games none.pgn": program, "field list.txt --games none.pgn": program,
		"check b.pgn --my-color black --engine none-such": options, "profile --opponent Ash --games none.pgn": "", "hindsight --opponent Ash --games none.pgn": "",
	} {
		_, stderr, _ := call(t, strings.Fields(args)...)
		if told := strings.Contains(stderr, "engine"); told != (want != "") || !strings.Contains(stderr, want) {
			t.Errorf("%s: %q, want %q", args, stderr, want)
		}
	}
}

// What an engine left undone is told with how much of what was wanted; one that gave nothing is
// not asked again.
func TestWhatAnEngineLeftUndone(t *testing.T) {
	start := board.Start()
	trouble := errors.New("it ended")
	for want, c := range map[string]struct {
		asked, found int
		trouble      error
		failed       bool
	}{
		"warning: nothing from the engine: it ended\nhint: --engine names the program of a UCI engine; '--engine none' goes without\n": {5, 0, trouble, true},
		"warning: the engine looked at 1 of 5 positions: it ended\n":                                                                   {5, 1, trouble, false},
		"note: the engine looked at 1 of 5 positions, the most needed first; a longer --engine-time reaches further\n":                 {5, 1, nil, false},
		"": {1, 1, nil, false},
	} {
		found := analysis.NewFound("x", 1)
		found.Asked, found.Trouble = c.asked, c.trouble
		if c.found > 0 {
			found.Add(&start, uci.Result{})
		}
		var out strings.Builder
		a := speaking(&out)
		if a.tellLook(found); out.String() != want || a.engineFailed != c.failed {
			t.Errorf("%q, failed %v, want %q", out.String(), a.engineFailed, want)
		}
		if c.failed {
			if again, err := a.look(&engineConfig{Command: "e"}, []board.Position{start}); again != nil || err != nil {
				t.Errorf("asked again: %v, %v", again, err)
			}
		}
	}
}

// What prep says: who, the tasks of each colour with the place of those to look up, the file.
func TestSheetIsTold(t *testing.T) {
	r := &fact.Report{Opponent: fact.Opponent{Name: "Ash,\x1b Bo"}, Basis: fact.Basis{Games: 7, NoSpeed: 7}, Sides: []fact.Side{{MyColor: "white"}, {MyColor: "black"}}}
	var out strings.Builder
	if err := (&app{stdout: &out}).tellSheet(r, "x.pdf"); err != nil {
		t.Fatal(err)
	}
	text := out.String()
	if !strings.HasPrefix(text, "Ash, Bo: based on 7 games") || !strings.HasSuffix(text, "\n\ntonight, for your game with white:\n\ntonight, for your game with black:\n\nwrote x.pdf\n") {
		t.Errorf("%q", text)
	}
	gap := &fact.Unanswered{Line: []string{"e4", "c5"}}
	r.Sides[1].Tonight = []fact.Task{{Lead: fact.LeadAnswer, Kind: fact.ToLook, Moves: gap.Line, About: gap, File: "b.pgn", Line: 7}}
	out.Reset()
	if err := (&app{stdout: &out}).tellSheet(r, "x.pdf"); err != nil || !strings.Contains(out.String(), "with white:\n\ntonight, for your game with black:\n  gap     1.e4 c5: ") || !strings.Contains(out.String(), " [b.pgn:7]\n") {
		t.Errorf("%s, %v", out.String(), err)
	}
	for want, task := range map[string]fact.Task{" [b.pgn:7]": {Kind: "look", File: "b.pgn", Line: 7}, "": {Kind: "expect", File: "b.pgn", Line: 7}} {
		if got := place(&task); got != want {
			t.Errorf("%+v: %q", task, got)
		}
	}
	if got := place(&fact.Task{Kind: "look", Line: 7}); got != "" {
		t.Errorf("no file: %q", got)
	}
}
