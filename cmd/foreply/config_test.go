package main

import (
	"os"
	"path/filepath"
	"reflect"
	"strings"
	"testing"

	"github.com/spf13/pflag"

	"foreply/fetch"
	"foreply/profile/board"
)

// configIn writes a configuration to a fresh folder and returns its path.
func configIn(t *testing.T, text string) string {
	t.Helper()
	file := filepath.Join(t.TempDir(), configName)
	if err := os.WriteFile(file, []byte(text), 0o666); err != nil {
		t.Fatal(err)
	}
	return file
}

func load(t *testing.T, text string, args ...string) (*settings, error) {
	t.Helper()
	return loadConfig(configIn(t, text), sheetFlags(t, args))
}

func sheetFlags(t *testing.T, args []string) *pflag.FlagSet {
	t.Helper()
	fs := pflag.NewFlagSet("prep", pflag.ContinueOnError)
	for _, name := range []string{"paper", "event", "round", "board", "clock", "cache"} {
		fs.String(name, "", "")
	}
	if err := fs.Parse(args); err != nil {
		t.Fatal(err)
	}
	return fs
}

// Each text holds one fault; want is what the message must say, the hint
// behind it.
func TestConfigFaults(t *testing.T) {
	tests := []struct{ name, text, want, hint string }{
		{"typo in a section", "sheet:\n  papr: a4\n", ":2:3: unknown key sheet.papr", "did you mean paper?"},
		{"typo at the top", "shet:\n  paper: a4\n", ":1:1: unknown key shet", "did you mean sheet?"},
		{"typo in a list", "opponents:\n  - id: a\n    nmaes: [x]\n", ":3:5: unknown key opponents[0].nmaes", "did you mean names?"},
		{"capital letters", "sheet:\n  Paper: a4\n", "unknown key sheet.Paper", "did you mean paper?"},
		{"key of another section", "paper: a4\n", "unknown key paper", "paper belongs under sheet"},
		{"path written with a dot", "sheet.paper: a4\n", "unknown key sheet.paper", "paper belongs under sheet"},
		{"nothing like it", "quux: 1\n", "unknown key quux", "known here: me, opponents, sources, sheet, walk, peers, cache"},
		{"address without the player", "sources:\n  - id: web\n    url: https://example.org/games\n", ":3: sources[0].url: no {player} in the address", "https://example.org/games/{player}"},
		{"server without a start", "sources:\n  - id: web\n    pages: months\n    url: https://example.org/{player}/{year}/{month}\n", ":2: sources[0]: pages: months needs a start", "start: 2018-01"},
		{"files and a server in one", "sources:\n  - {id: x, files: [a], url: 'https://example.org/{player}'}\n", "it has files and a url", "make two sources"},
		{"files with a server's key", "sources:\n  - {id: x, files: [a], pace: 2}\n", "it has keys that only a source with a url has", "no more than id, files and mixed"},
		{"no pace at all", "sources:\n  - {id: x, url: 'https://example.org/{player}', pace: 0}\n", "sources[0].pace: 0 lies outside", ""},
		{"token in a variable of ours", "sources:\n  - {id: x, url: 'https://example.org/{player}', token_from: FOREPLY_TOKEN}\n",
			"names that begin with FOREPLY_ are for keys of the configuration", "another name"},
		{"handle at no source", "sources:\n  - {id: online, files: [a]}\nopponents:\n  - {id: x, handles: [{source: onlin, handle: y}]}\n",
			`opponents[0].handles[0]: there is no source "onlin"`, "did you mean online?"},
		{"handle that is none", "sources:\n  - {id: online, files: [a]}\nopponents:\n  - {id: x, handles: [{source: online, handle: ..}]}\n",
			`".." can't be a handle`, ""},
		{"misspelled key of a handle", "opponents:\n  - {id: x, handles: [{sourc: online, handle: y}]}\n", "unknown key opponents[0].handles[0].sourc", "did you mean source?"},
		{"key given twice", "cache: a\ncache: b\n", ":2:1: cache is given twice", "keep one"},
		{"key twice in other letters", "cache: a\nCache: b\n", "unknown key Cache", "did you mean cache?"},
		{"fraction for a whole number", "walk:\n  plies: 3.9\n", ":2:10: walk.plies is a whole number, not 3.9", ""},
		{"text for a number", "walk:\n  threshold: small\n", "walk.threshold is a number, not small", ""},
		{"number for a text", "sheet:\n  round: 3\n", "sheet.round is text, not 3", `put it in quotes: "3"`},
		{"truth value for a text", "opponents:\n  - id: true\n", "opponents[0].id is text, not true", `put it in quotes: "true"`},
		{"name instead of a list", "me:\n  names: Alder, Mina\n", "me.names is a list", `write it as a list: names: ["Alder, Mina"]`},
		{"section instead of a list", "sources:\n  club: [x.pgn]\n", "sources is a list", "begin each entry with '- '"},
		{"list instead of a section", "sheet: [a4]\n", "sheet has keys of its own: paper", ""},
		{"out of range", "walk:\n  plies: 1000\n", ":2: walk.plies: 1000 lies outside 2 to 200", ""},
		{"zero is out of range too", "walk:\n  few_games: 0\n", "walk.few_games: 0 lies outside", ""},
		{"unknown paper", "sheet:\n  paper: a5\n", `:2: sheet.paper: a4 or letter is wanted, not "a5"`, ""},
		{"yes for a switch", "sheet:\n  large: yes\n", "sheet.large is true or false, not yes", ""},
		{"section for a text", "sheet:\n  paper: {size: a4}\n", ":2:10: sheet.paper is text, not a list or a section", ""},
		{"list for a text", "sheet:\n  paper: [a4]\n", ":2:10: sheet.paper is text, not a list or a section", ""},
		{"nothing but a list", "- a\n", ":1:1: the configuration has keys of its own: me, opponents, sources, sheet", ""},
		{"key of a section given twice", "sheet:\n  paper: a4\n  round: x\n  paper: a4\n", ":4:3: sheet.paper is given twice", "keep one"},
		{"key of the entries of a list", "fide_ids: [x]\n", "unknown key fide_ids", "fide_ids belongs under opponents"},
		{"number for a switch", "sheet:\n  half: 1\n", "sheet.half is true or false, not 1", ""},
		{"day without quotes", "sheet:\n  date: 2026-11-28\n", "sheet.date is text, not 2026-11-28", `put it in quotes: "2026-11-28"`},
		{"day that is none", "sheet:\n  date: next Friday\n", `:2: sheet.date: "next Friday" is no day`, "YYYY-MM-DD"},
		{"clock that is none", "sheet:\n  clock: long\n", `sheet.clock: "long" is no time control`, "5400+30"},
		{"opponent without id", "opponents:\n  - names: [x]\n", "opponents[0]: no id", "add id"},
		{"opponent without names", "opponents:\n  - id: x\n", "opponents[0]: no names", "add names"},
		{"id twice", "opponents:\n  - {id: x, names: [a]}\n  - {id: x, names: [b]}\n", ":3: opponents[1].id: the id x is given twice", ""},
		{"id with a slash", "sources:\n  - {id: ../x, files: [a]}\n", `"../x" can't be an id`, "small letters"},
		{"source without files", "sources:\n  - id: x\n", "sources[0]: no files and no url", "add files"},
		{"number that is no FIDE number", "opponents:\n  - {id: x, names: [a], fide_ids: [\"alder\"]}\n", `"alder" is no number of FIDE or a federation`, ""},
		{"no YAML", "sheet: [\n", "line 1", "the file is YAML"},
		{"tab for indentation", "sheet:\n\tpaper: a4\n", "line 2", "indented by spaces"},
		{"reference", "me: &m\n  names: [a]\nsheet: *m\n", "references (*m) are not read", "write the value out"},
		{"two documents", "cache: a\n---\ncache: b\n", "a second document", ""},
	}
	for _, test := range tests {
		t.Run(test.name, func(t *testing.T) {
			_, err := load(t, test.text)
			if err == nil {
				t.Fatal("no error")
			}
			var told strings.Builder
			newSpeaker(&told).fail(err)
			line, hint, _ := strings.Cut(told.String(), "hint: ")
			if !strings.Contains(line, test.want) {
				t.Errorf("error is %q, want %q in it", line, test.want)
			}
			if !strings.Contains(hint, test.hint) || test.hint == "" && hint != "" {
				t.Errorf("hint is %q, want %q in it", hint, test.hint)
			}
		})
	}
}

func TestConfigTellsAllFaultsAtOnce(t *testing.T) {
	_, err := load(t, "shet: 1\nwalk: {plies: x}\n")
	var told strings.Builder
	newSpeaker(&told).fail(err)
	if n := strings.Count(told.String(), "error: "); n != 2 {
		t.Errorf("%d errors told, want 2:\n%s", n, told.String())
	}
}

// Names keep their case, commas and dots: the library folds keys, splits them at
// dots, and splits texts at commas, but only where we let it.
func TestNamesComeThroughUnharmed(t *testing.T) {
	s, err := load(t, "opponents:\n  - id: x\n    name: \"Ó Brook, Tomás J.\"\n    names:\n      - Ó Brook, Tomás J.\n      - Slow.Pawn_88\n")
	if err != nil {
		t.Fatal(err)
	}
	o := s.Opponents[0]
	if o.Name != "Ó Brook, Tomás J." || len(o.Names) != 2 || o.Names[0] != o.Name || o.Names[1] != "Slow.Pawn_88" {
		t.Errorf("got %+v", o)
	}
}

func TestFlagsWinOverEnvironmentOverFile(t *testing.T) {
	const text = "sheet: {paper: a4, event: file}\nwalk: {plies: 20}\n"
	paper := func(want string, args ...string) {
		t.Helper()
		s, err := load(t, text, args...)
		if err != nil {
			t.Fatal(err)
		}
		if s.Sheet.Paper != want || s.Sheet.Event != "file" {
			t.Errorf("paper %q, want %q; event %q", s.Sheet.Paper, want, s.Sheet.Event)
		}
	}
	paper("a4")
	t.Setenv("FOREPLY_SHEET_PAPER", "letter")
	paper("letter")
	paper("a4", "--paper", "a4")
}

// The library hands environment values to a struct only for keys that it knows
// from elsewhere; all single values must work without a file.
func TestEnvironmentWithoutFile(t *testing.T) {
	t.Chdir(t.TempDir())
	t.Setenv("XDG_CONFIG_HOME", t.TempDir())
	for name, value := range map[string]string{
		"FOREPLY_SHEET_PAPER": "letter", "FOREPLY_SHEET_EVENT": "Cup, Spring", "FOREPLY_SHEET_ROUND": "3",
		"FOREPLY_SHEET_BOARD": "2", "FOREPLY_SHEET_CLOCK": "5400+30", "FOREPLY_CACHE": "kept",
		"FOREPLY_SHEET_HALF": "true", "FOREPLY_SHEET_LARGE": "1", "FOREPLY_SHEET_ONE_PAGE": "false", "FOREPLY_SHEET_DATE": "2026-11-28",
		"FOREPLY_SHEET_NEED": "win", "FOREPLY_SHEET_DOUBLE_ROUND": "true", "FOREPLY_SHEET_MINUTES": "60",
		"FOREPLY_WALK_PLIES": "12", "FOREPLY_WALK_THRESHOLD": "0.05", "FOREPLY_WALK_FEW_GAMES": "5",
	} {
		t.Setenv(name, value)
	}
	s, err := loadConfig("", nil)
	if err != nil {
		t.Fatal(err)
	}
	want := config{
		Sheet: sheetConfig{
			Paper: "letter", Half: true, Large: true, Event: "Cup, Spring", Round: "3", Board: "2", Date: "2026-11-28", Clock: "5400+30",
			Need: "win", DoubleRound: true, Minutes: 60,
		},
		Walk: walkConfig{12, 0.05, 5}, Cache: "kept",
	}
	if s.Sheet != want.Sheet || s.Walk != want.Walk || s.Cache != want.Cache {
		t.Errorf("got %+v, want %+v", s.config, want)
	}
}

// A section that is there but empty must not hide the environment's values.
func TestEmptySectionHidesNothing(t *testing.T) {
	for name, value := range map[string]string{"SHEET_EVENT": "Cup", "WALK_PLIES": "", "SHEET_PAPR": ""} { // an empty one is none
		t.Setenv(envPrefix+name, value)
	}
	s, err := load(t, "sheet:\nme:\nopponents:\nwalk:\n  plies:\n")
	if err != nil {
		t.Fatal(err)
	}
	if s.Sheet.Event != "Cup" || s.Walk.Plies != 0 {
		t.Errorf("got %+v", s.config)
	}
}

func TestEnvironmentFaults(t *testing.T) {
	tests := []struct{ name, variable, value, want string }{
		{"typo", "FOREPLY_SHEET_PAPR", "a4", "hint: did you mean FOREPLY_SHEET_PAPER?"},
		{"lists have no variable", "FOREPLY_ME_NAMES", "x", "unknown environment variable FOREPLY_ME_NAMES"},
		{"fraction", "FOREPLY_WALK_PLIES", "3.9", `FOREPLY_WALK_PLIES: a whole number is wanted, not "3.9"`},
		{"no number", "FOREPLY_WALK_THRESHOLD", "1%", `FOREPLY_WALK_THRESHOLD: a number is wanted, not "1%"`},
		{"out of range", "FOREPLY_WALK_PLIES", "1", "FOREPLY_WALK_PLIES: 1 lies outside 2 to 200"},
	}
	for _, test := range tests {
		t.Run(test.name, func(t *testing.T) {
			t.Setenv(test.variable, test.value)
			_, err := load(t, "")
			if err == nil {
				t.Fatal("no error")
			}
			var told strings.Builder
			newSpeaker(&told).fail(err)
			if !strings.Contains(told.String(), test.want) {
				t.Errorf("told %q, want %q in it", told.String(), test.want)
			}
		})
	}
}

func TestPathsOfAFileAreRelativeToIt(t *testing.T) {
	t.Setenv("HOME", "/home/mina")
	file := configIn(t, "me: {repertoire: {white: [w.pgn, /abs/w.pgn], black: [~/b.pgn]}}\n"+
		"sources: [{id: x, files: ['games/*.pgn']}]\ncache: kept\npeers: [peers/*.pgn, /abs/p.peers]\nengine: {command: e, cache: looked}\n")
	s, err := loadConfig(file, sheetFlags(t, nil))
	if err != nil {
		t.Fatal(err)
	}
	folder := filepath.Dir(file)
	got := append(append(s.Me.Repertoire.White, s.Me.Repertoire.Black...), s.Sources[0].Files[0], s.Cache, s.Peers[0], s.Peers[1], s.Engine.Cache)
	want := []string{
		filepath.Join(folder, "w.pgn"), "/abs/w.pgn", "/home/mina/b.pgn",
		filepath.Join(folder, "games/*.pgn"), filepath.Join(folder, "kept"), filepath.Join(folder, "peers/*.pgn"), "/abs/p.peers", filepath.Join(folder, "looked"),
	}
	if strings.Join(got, " ") != strings.Join(want, " ") {
		t.Errorf("got  %q\nwant %q", got, want)
	}
	s, err = loadConfig(file, sheetFlags(t, []string{"--cache", "here"}))
	if err != nil || s.Cache != "here" {
		t.Errorf("a flag's path is relative to the working folder: %q, %v", s.Cache, err)
	}
	t.Setenv("FOREPLY_CACHE", "there")
	s, err = loadConfig(file, sheetFlags(t, nil))
	if err != nil || s.Cache != "there" {
		t.Errorf("so is one of the environment: %q, %v", s.Cache, err)
	}
}

// A program is one of the configuration's folder only if it is given by its place;
// its arguments are left as they are.
func TestProgramOfAFile(t *testing.T) {
	t.Setenv("HOME", "/home/mina")
	t.Chdir(t.TempDir())
	here, err := os.Getwd()
	if err != nil {
		t.Fatal(err)
	}
	for command, want := range map[string]string{
		"e":                   "e",
		"e ./x":               "e ./x",
		"./e":                 here + "/e",
		"./my bin/e":          here + "/my bin/e",
		"bin/e --log a//b ..": here + "/bin/e --log a//b ..",
		"~/e":                 "/home/mina/e",
		"/e -x":               "/e -x",
	} {
		write(t, "some.yaml", "engine: {command: "+command+"}\n")
		s, err := loadConfig("some.yaml", nil)
		if err != nil || s.Engine.Command != want {
			t.Errorf("%q: %q, %v, want %q", command, s.Engine.Command, err, want)
		}
	}
}

func TestConfigIsFound(t *testing.T) {
	user, here := t.TempDir(), t.TempDir()
	t.Chdir(here)
	t.Setenv("XDG_CONFIG_HOME", user)
	t.Setenv("HOME", user) // where a system without XDG folders looks
	event := func(path, want string) {
		t.Helper()
		s, err := loadConfig(path, nil)
		if err != nil {
			t.Fatal(err)
		}
		if s.Sheet.Event != want {
			t.Errorf("%q read, want %q", s.Sheet.Event, want)
		}
	}
	write := func(path, event string) {
		t.Helper()
		if err := os.MkdirAll(filepath.Dir(path), 0o777); err != nil {
			t.Fatal(err)
		}
		if err := os.WriteFile(path, []byte("sheet: {event: "+event+"}\n"), 0o666); err != nil {
			t.Fatal(err)
		}
	}
	event("", "")
	folder, err := os.UserConfigDir()
	if err != nil {
		t.Fatal(err)
	}
	write(filepath.Join(folder, "foreply", configName), "user")
	event("", "user")
	write(configName, "here")
	event("", "here")
	write("other.yaml", "other")
	event("other.yaml", "other")
	if _, err := loadConfig("missing.yaml", nil); err == nil {
		t.Error("a file that is asked for must be there")
	}
}

// What init writes must be read without complaint, and say all there is to say.
func TestTemplateIsAConfiguration(t *testing.T) {
	s, err := load(t, string(template))
	if err != nil {
		t.Fatal(err)
	}
	if len(s.Opponents) != 1 || len(s.Sources) != 1 || s.Walk != (walkConfig{40, 0.01, 12}) {
		t.Errorf("got %+v", s.config)
	}
	for path := range leaves(configType) {
		key := lastKey(path)
		if !strings.Contains(string(template), key+":") && key != "cache" {
			t.Errorf("the template doesn't show %s", path)
		}
	}
}

// What the folder of a field says is what the user's own configuration does: every key of
// sheet and walk but the board, which each player has for themselves; and paths that hold in
// any folder.
func TestFieldKeepsTheSettings(t *testing.T) {
	home := &settings{config: config{
		Sheet: sheetConfig{Paper: "letter", Half: true, Large: true, OnePage: true, Event: "Club: \"open\"", Round: "3", Date: "2026-11-02", Clock: "5400+30", Need: "win", DoubleRound: true, Minutes: 45},
		Walk:  walkConfig{Plies: 24, Threshold: 0.03, FewGames: 7},
	}}
	for _, part := range []any{home.Sheet, home.Walk} {
		for i, v := 0, reflect.ValueOf(part); i < v.NumField(); i++ {
			if name := v.Type().Field(i).Name; v.Field(i).IsZero() && name != "Board" {
				t.Errorf("%s is not set here", name)
			}
		}
	}
	want := home.config
	home.Sheet.Board = "4"
	r := &fieldRun{home: home, flags: &flags{}}
	r.entrants = []entrant{{who: opponentConfig{ID: "ash", Names: []string{"Ash, Bo"}, Handles: []handleConfig{{Source: "club", Handle: "bo: ash"}}}}}
	r.sources = []sourceConfig{{ID: "club", Files: []string{"games.pgn"}, Mixed: true}}
	text, err := r.config(&task{mine: []board.Color{board.Black}, books: [2][]string{board.Black: {"black.pgn"}}}).text()
	if err != nil {
		t.Fatal(err)
	}
	got := &settings{file: "field/foreply.yaml"}
	if shape := checkShape(got.file, []byte(text), configType); len(shape.errs) > 0 {
		t.Fatal(shape.errs, text)
	}
	if err := got.decode([]byte(text)); err != nil {
		t.Fatal(err)
	}
	if got.Sheet != want.Sheet || got.Walk != want.Walk || !reflect.DeepEqual(got.Opponents[0], r.entrants[0].who) {
		t.Errorf("%s", text)
	}
	if book := got.Me.Repertoire.Black; len(book) != 1 || !filepath.IsAbs(book[0]) || !filepath.IsAbs(got.Sources[0].Files[0]) || !got.Sources[0].Mixed {
		t.Errorf("%s", text)
	}
}

// An entry of a list is the opponent of the configuration whose ID or name it has; what the
// list says of the rating is newer than what stands there.
func TestEntrantOfTheConfiguration(t *testing.T) {
	s := &settings{config: config{Opponents: []opponentConfig{
		{ID: "ash", Name: "Ashgrove, Tilde", Names: []string{"Ashgrove, T."}, Rating: 1900},
		{Name: "Elm, Bo", FideIDs: []string{"1234567"}, Rating: 2100},
	}}}
	taken := map[string]bool{}
	for _, c := range []struct {
		entry  fetch.Entry
		id     string
		rating int
	}{
		{fetch.Entry{Name: "Ashgrove, Tilde", Rating: 1950}, "ash", 1950},
		{fetch.Entry{Name: "Ashgrove, T."}, "ash-2", 1900},
		{fetch.Entry{Name: "Someone Else", ID: "1234567"}, "someone-else", 2100},
		{fetch.Entry{Name: "Oak, Pia", Rating: 1500}, "oak-pia", 1500},
	} {
		if got := s.entrant(c.entry, taken); got.Rating != c.rating || got.ID != c.id {
			t.Errorf("%+v: %s with %d, want %s with %d", c.entry, got.ID, got.Rating, c.id, c.rating)
		}
	}
}
