package main

import (
	"fmt"
	"io"
	"maps"
	"path/filepath"
	"reflect"
	"slices"
	"strconv"
	"strings"
	"testing"

	"github.com/spf13/cobra"

	"foreply/profile/board"
)

// Every flag that stands for a key of the configuration gives that key its value and no other,
// with each command that has it, without a file and over what one says.
func TestFlagsOfTheSettings(t *testing.T) {
	t.Chdir(t.TempDir())
	t.Setenv("XDG_CONFIG_HOME", t.TempDir())
	const file = "cache: old\nsheet: {paper: a4, event: Old, round: '1', board: '1', date: '2020-01-01', clock: 900+10, need: draw, minutes: 5}\nengine: {command: none, time: 1m}\n"
	write(t, "old.yaml", file)
	given := map[string]string{
		"paper": "letter", "half": "true", "large": "true", "one-page": "true", "event": "Cup", "round": "7", "board": "3", "date": "2027-01-02",
		"clock": "5400+30", "need": "win", "double-round": "true", "minutes": "45", "cache": "kept", "engine": "mover", "engine-time": "90s",
	}
	keyOf := map[string]string{}
	for key, flag := range flagOf {
		keyOf[flag] = key
	}
	check := func(command, path string, names []string) {
		t.Helper()
		cmd := findCommand(t, command)
		before, err := loadConfig(path, cmd.Flags())
		if err != nil {
			t.Fatal(err)
		}
		want, args := valuesOf(&before.config), []string{}
		for _, name := range names {
			want[keyOf[name]] = given[name]
			args = append(args, "--"+name, given[name])
			if given[name] == "true" {
				args = args[:len(args)-1]
			}
		}
		if err := cmd.ParseFlags(args); err != nil {
			t.Fatal(err)
		}
		after, err := loadConfig(path, cmd.Flags())
		if err != nil {
			t.Fatalf("%s %q: %v", command, args, err)
		}
		if got := valuesOf(&after.config); !reflect.DeepEqual(got, want) {
			t.Errorf("%s %q, configured by %q: %v, want %v", command, args, path, got, want)
		}
	}
	for _, cmd := range commands().Commands() {
		var names []string
		for _, name := range slices.Sorted(maps.Keys(keyOf)) {
			if cmd.Flags().Lookup(name) != nil && cmd.Flags().Lookup("config") != nil {
				names = append(names, name)
			}
		}
		for _, path := range []string{"", "old.yaml"} {
			check(cmd.Name(), path, names)
		}
	}
}

// findCommand is a command whose flags nobody set yet.
func findCommand(t *testing.T, name string) *cobra.Command {
	t.Helper()
	cmd, _, err := commands().Find([]string{name})
	if err != nil {
		t.Fatal(err)
	}
	return cmd
}

// valuesOf are the values of a configuration that a flag may give, by their keys.
func valuesOf(c *config) map[string]string {
	s := &c.Sheet
	return map[string]string{
		"sheet.paper": s.Paper, "sheet.half": strconv.FormatBool(s.Half), "sheet.large": strconv.FormatBool(s.Large), "sheet.one_page": strconv.FormatBool(s.OnePage),
		"sheet.event": s.Event, "sheet.round": s.Round, "sheet.board": s.Board, "sheet.date": s.Date, "sheet.clock": s.Clock, "sheet.need": s.Need,
		"sheet.double_round": strconv.FormatBool(s.DoubleRound), "sheet.minutes": strconv.Itoa(s.Minutes), "cache": c.Cache,
		"engine.command": c.Engine.Command, "engine.time": c.Engine.Time,
	}
}

// gamesByClock are those of a player who opens 1.e4 and answers it by 1...c5 at length, but
// 1.d4 and 1...e5 in blitz.
func gamesByClock() string {
	var text strings.Builder
	game := func(white, black, date, clock, moves string) {
		fmt.Fprintf(&text, "[White %q]\n[Black %q]\n[Date %q]\n[TimeControl %q]\n[Result \"1-0\"]\n\n%s 1-0\n\n", white, black, date, clock, moves)
	}
	for day := range 12 {
		rival := fmt.Sprintf("Elm %d", day)
		game("Ash", rival, fmt.Sprintf("2026.03.%02d", day+1), "5400+30", "1. e4 e5 2. Nf3")
		game("Ash", rival, fmt.Sprintf("2026.04.%02d", day+1), "180+2", "1. d4 d5 2. c4")
		game(rival, "Ash", fmt.Sprintf("2026.03.%02d", day+1), "5400+30", "1. e4 c5 2. Nf3")
		game(rival, "Ash", fmt.Sprintf("2026.04.%02d", day+1), "180+2", "1. e4 e5 2. Nf3")
	}
	return text.String()
}

// The clock and the day of the game to come change the forecast, in text as in JSON: games of
// the speed count for more, later ones for nothing.
func TestForecastIsOfTheGame(t *testing.T) {
	t.Chdir(t.TempDir())
	t.Setenv("XDG_CONFIG_HOME", t.TempDir())
	write(t, "games.pgn", gamesByClock())
	pos := board.Start()
	m, err := pos.Resolve([]byte("e4"))
	if err != nil {
		t.Fatal(err)
	}
	pos.Play(m)
	before := 1.0 // the share of 1...e5, less from row to row
	for _, c := range []struct {
		args  []string
		first string // of 1...c5 and 1...e5 the likelier, as the text has it
	}{
		{[]string{"--clock", "180+2", "--date", "2027-01-02"}, "1...e5 9 in 10"},
		{[]string{"--clock", "5400+30", "--date", "2027-01-02"}, "1...e5 12 of 24"},
		{[]string{"--clock", "5400+30", "--date", "2026-04-01"}, "1...c5 9 in 10"},
	} {
		args := append([]string{"profile", "--games", "games.pgn", "--opponent", "Ash", "--their-color", "black"}, c.args...)
		text, _, _ := call(t, args...)
		_, shares, _ := strings.Cut(text, "against 1.e4")
		if row := strings.Join(strings.Fields(shares[max(0, strings.Index(shares, "1...")):]), " "); !strings.HasPrefix(row, c.first) {
			t.Errorf("%q: %s is wanted first\n%s", c.args, c.first, text)
		}
		stdout, _, code := call(t, append(args, "--json")...)
		moves := decode(t, []byte(stdout))["nodes"].(map[string]any)[pos.EPD()].(map[string]any)["moves"].(map[string]any)
		share := 0.0 // a move that was not played by then has none
		if shown, ok := moves["e7e5"].(map[string]any)["share"].(map[string]any); ok {
			share = shown["p"].(float64)
		}
		if code != 0 || share > before-0.1 {
			t.Errorf("%q: exit code %d, share of 1...e5 %g after %g", c.args, code, share, before)
		}
		before = share
	}
}

// What the flags say of the game and of the user stands in the report: the sheet's as JSON, and
// the terminal's.
func TestReportIsOfTheGame(t *testing.T) {
	t.Chdir(t.TempDir())
	t.Setenv("XDG_CONFIG_HOME", t.TempDir())
	write(t, "games.pgn", gamesByClock())
	write(t, "white.pgn", "[Event \"Open\"]\n\n1. e4 c5 2. Nf3 *\n\n[Event \"Quiet\"]\n[Character \"solid\"]\n\n1. e4 e5 2. Nf3 *\n\n[Event \"Loud\"]\n[Character \"sharp\"]\n\n1. e4 e5 2. f4 *\n")
	write(t, "mine.pgn", "[White \"Me, My\"]\n[Black \"Fir\"]\n[Date \"2026.03.05\"]\n\n1. b3 e5 *\n")
	usual := []string{"--games", "games.pgn", "--opponent", "Ash", "--white-repertoire", "white.pgn", "--my-color", "white"}
	flags := []string{"--date", "2027-01-02", "--clock", "180+2", "--need", "win", "--minutes", "8", "--main", "Loud", "--me", "Me, My", "--my-games", "mine.pgn"}
	told := []string{
		"\n2 Jan 2027; clock 3 min + 2 s; you need a win\n", "expect 1.e4 e5: 9 in 10 games", "play 2.f4, then your book ends",
		"you opened 1.b3 in 1 of 1 game, last 5 Mar 2026", "for a win: after 1.e4 e5, 2.f4", "made for 2 Jan 2027",
	}
	const second = "go on from 1...c5 2.Nf3" // half an hour has room for it, eight minutes don't
	for _, given := range [][]string{nil, flags} {
		text, stderr, code := call(t, slices.Concat([]string{"compare", "--pgn", "l.pgn", "--epd", "l.epd"}, usual, given)...) // what is ours is replaced
		for _, want := range told {
			if code != 0 || strings.Contains(text, want) != (given != nil) {
				t.Errorf("%q: exit code %d, %s, %q stands %v", given, code, stderr, want, strings.Contains(text, want))
			}
		}
		if strings.Contains(text, second) != (given == nil) {
			t.Errorf("%q: %s", given, text)
		}
	}
	stdout, _, code := call(t, slices.Concat([]string{"prep", "--json"}, usual, flags, []string{"--event", "Cup", "--round", "7", "--board", "3"})...)
	report := decode(t, []byte(stdout))
	heading := map[string]any{"me": "Me, My", "event": "Cup", "round": "7", "board": "3", "date": "2027-01-02", "clock": "180+2", "need": "win"}
	basis := report["basis"].(map[string]any)
	if code != 0 || !reflect.DeepEqual(report["heading"], heading) || basis["class"] != "blitz" || basis["as_of"] != "2027-01-02" {
		t.Errorf("exit code %d, heading %v, basis %v", code, report["heading"], basis)
	}
	var tonight []string
	for _, task := range report["sides"].([]any)[0].(map[string]any)["tonight"].([]any) {
		tonight = append(tonight, fmt.Sprint(task.(map[string]any)["lead"]))
	}
	if got := strings.Join(tonight, ", "); got != "expect, play, go on" {
		t.Errorf("tonight: %s", got)
	}
}

// What all commands share reaches each: to replace a file of somebody else's where one is
// written, and to tell everything.
func TestSharedFlags(t *testing.T) {
	var forced []string
	for _, c := range commands().Commands() {
		a := &app{stdout: io.Discard, say: newSpeaker(io.Discard)}
		cmd, _, err := a.root().Find([]string{c.Name()})
		if err != nil || cmd.Flags().Lookup("config") == nil && c.Name() != "peers" {
			continue
		}
		args := []string{"--verbose"}
		if cmd.Flags().Lookup("force") != nil {
			args = append(args, "--force")
			forced = append(forced, c.Name())
		}
		if err := cmd.ParseFlags(args); err != nil || !a.say.verbose || a.force != (len(args) == 2) {
			t.Errorf("%s %q: verbose %v, force %v, %v", c.Name(), args, a.say.verbose, a.force, err)
		}
	}
	if got := strings.Join(forced, " "); got != "compare field hindsight peers prep" {
		t.Errorf("--force is one of %s", got)
	}
}

// A flag without a key in the configuration reaches each command that has it: by what is said of
// a wrong value, before anything is made.
func TestFlagsWithoutAKey(t *testing.T) {
	t.Chdir(t.TempDir())
	t.Setenv("XDG_CONFIG_HOME", t.TempDir())
	write(t, "list.txt", "Ash\n")
	write(t, "games.pgn", "[White \"Ash\"]\n[Black \"x\"]\n[Date \"2026.01.02\"]\n\n1. e4 e5 *\n")
	write(t, "black.pgn", "[Event \"Open\"]\n\n1. e4 c5 *\n")
	write(t, "broken.pgn", "1. e4 c5 2. Nf3 Bc5 *\n")
	const games, black, open = "--games games.pgn ", "--black-repertoire black.pgn ", "error: which colour is the repertoire for?\n"
	const stop, whose = "error: the repertoire for black has 1 move that can't be played\n", "error: whose games are yours?\n"
	who := map[string]string{"prep": "--opponent Ash", "compare": "--opponent Ash", "profile": "--opponent Ash", "hindsight": "--opponent Ash", "field": "list.txt -o made"}
	for _, c := range []struct {
		commands, args, want string
		code                 int
	}{
		{"prep compare field", "--games none.pgn --clock 90+30 " + black, "note: --clock 90+30 was read as 90 seconds and 30 a move, ", exitError},
		{"profile", "--games none.pgn --clock 90+30", "note: --clock 90+30 was read as 90 seconds and 30 a move, ", exitError},
		{"prep compare profile hindsight field", "--config none.yaml", "hint: 'foreply init none.yaml' writes a commented one\n", exitError},
		{"prep compare hindsight", "--games none.pgn " + black, "error: no file none.pgn\n", exitError},
		{"profile", "--games none.pgn", "error: no file none.pgn\n", exitError},
		{"prep compare profile", games + "--rating 4000", "error: --rating: a rating is wanted, not 4000\n", exitUsage},
		{"hindsight", games + "--rating -1", "error: --rating: a rating is wanted, not -1\n", exitUsage},
		{"prep compare hindsight", games + black + "--peers none.pgn", "error: no file none.pgn\n", exitError},
		{"profile", games + "--peers none.pgn", "error: no file none.pgn\n", exitError},
		{"prep compare hindsight field", games + "--repertoire black.pgn", open, exitUsage},
		{"prep compare hindsight field", games + "--my-color green", "error: --my-color: \"green\" is no colour\n", exitUsage},
		{"prep compare hindsight field", games + "--my-color white --repertoire none.pgn", "error: no file none.pgn\n", exitError},
		{"prep compare hindsight field", games + "--white-repertoire none.pgn", "error: no file none.pgn\n", exitError},
		{"prep compare hindsight field", games + "--black-repertoire none.pgn", "error: no file none.pgn\n", exitError},
		{"prep compare field", games + "--black-repertoire broken.pgn --strict", stop, exitError},
		{"prep compare field", games + black + "--main nine", "error: --main: no chapter or file of your repertoire is called \"nine\"\n", exitUsage},
		{"prep compare field", games + black + "--my-games games.pgn", whose, exitUsage},
		{"prep compare", games + black + "--me Me --my-games none.pgn", "error: no file none.pgn\n", exitError},
		{"prep hindsight", games + black + "-o games.pgn", "error: writing games.pgn: it is one of the files that are read\n", exitError},
		{"hindsight", games + "--predictions games.pgn", "error: writing games.pgn: it is one of the files that are read\n", exitError},
		{"compare", games + black + "--pgn black.pgn", "error: writing black.pgn: it is one of the files that are read\n", exitError},
		{"compare", games + black + "--epd black.pgn", "error: writing black.pgn: it is one of the files that are read\n", exitError},
	} {
		for command := range strings.FieldsSeq(c.commands) {
			args := strings.Fields(command + " " + who[command] + " " + c.args)
			if _, stderr, code := call(t, args...); code != c.code || !strings.Contains("\n"+stderr, "\n"+c.want) {
				t.Errorf("%q: exit code %d, %q, want %q", args, code, stderr, c.want)
			}
		}
	}
	if files, err := filepath.Glob("made/*.pdf"); err != nil || len(files) > 0 {
		t.Errorf("made %q, %v", files, err)
	}
}
