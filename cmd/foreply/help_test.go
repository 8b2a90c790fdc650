package main

import (
	"io"
	"strings"
	"testing"

	"github.com/spf13/cobra"
	"github.com/spf13/pflag"
)

func commands() *cobra.Command {
	root := (&app{stdout: io.Discard, say: newSpeaker(io.Discard)}).root()
	root.InitDefaultHelpCmd()
	return root
}

// Every flag of the headings is one of a command, and stands under one heading; of the flags
// only those that fit none are left.
func TestHeadingsOfFlags(t *testing.T) {
	flags := map[string]bool{}
	for _, cmd := range commands().Commands() {
		cmd.Flags().VisitAll(func(f *pflag.Flag) { flags[f.Name] = true })
	}
	for _, group := range flagGroups {
		for _, name := range group.names {
			if !flags[name] {
				t.Errorf("%s: no command has --%s, or it stands under two headings", group.title, name)
			}
			delete(flags, name)
		}
	}
	for name := range flags {
		if name != "dry-run" && name != "full" {
			t.Errorf("--%s stands under no heading", name)
		}
	}
}

// The help of a command: what it does, how it is called, an example; its flags under their
// headings, those of all commands last.
func TestHelpOfACommand(t *testing.T) {
	root := &cobra.Command{Use: "foreply"}
	root.PersistentFlags().BoolP("verbose", "v", false, "tell more")
	cmd := &cobra.Command{Use: "try FILE", Short: "short", Long: "tries it " + strings.Repeat("again and ", 8) + "again.", Example: "  foreply try x", Run: func(*cobra.Command, []string) {}}
	root.AddCommand(cmd)
	fs := cmd.Flags()
	fs.StringArray("games", nil, "`FILES` to read")
	fs.String("a-flag-with-a-long-name", "", "a `VALUE` for it")
	fs.StringP("out", "o", "sheet.pdf", "`FILE` to write")
	fs.Int("minutes", 30, "how `MANY`")
	fs.Int("least", 0, "the least")
	fs.Bool("hidden", false, "not told")
	fs.Bool("eighteen-letters-x", false, "beside it")
	fs.Bool("nineteen-letters-xx", false, "below it")
	fs.MarkHidden("hidden")
	var out strings.Builder
	showHelp(&out, cmd)
	want := `tries it again and again and again and again and again and again and again and
again and again.

  foreply try FILE [flags]

for instance
  foreply try x

whose games
      --games FILES         FILES to read
      --least int           the least

the game to come
      --minutes MANY        how MANY (default: 30)

what is written
  -o, --out FILE            FILE to write (default: sheet.pdf)

more
      --a-flag-with-a-long-name VALUE
                            a VALUE for it
      --eighteen-letters-x  beside it
      --nineteen-letters-xx
                            below it
  -h, --help                this text
  -v, --verbose             tell more
`
	if out.String() != want {
		t.Errorf("%s\nwant\n%s", out.String(), want)
	}
}

// The list of commands is that in which one meets them.
func TestHelpOfAll(t *testing.T) {
	var out strings.Builder
	showHelp(&out, commands())
	var names []string
	list, _, _ := strings.Cut(out.String(), "\nmore\n")
	for row := range strings.Lines(list) {
		if f := strings.Fields(row); len(f) > 2 && strings.HasPrefix(row, "  ") && f[0] != "foreply" && !strings.HasPrefix(f[0], "-") {
			names = append(names, f[0])
		}
	}
	if got := strings.Join(names, " "); got != "prep compare profile field check hindsight fetch peers init completion version" {
		t.Errorf("%s\n%s", got, out.String())
	}
	if !strings.Contains(out.String(), "\n  foreply COMMAND [flags]\n") || !strings.Contains(out.String(), "\n'foreply help COMMAND' explains one.\n") {
		t.Errorf("%s", out.String())
	}
}

// A wrong call: what was typed, and what was meant perhaps; always exit code 2.
func TestWrongCalls(t *testing.T) {
	t.Chdir(t.TempDir())
	t.Setenv("XDG_CONFIG_HOME", t.TempDir())
	write(t, "a.pgn", "1. e4 *\n")
	for args, want := range map[string]string{
		"quux":                          "error: there is no command quux\nhint: 'foreply --help' lists the commands\n",
		"chek a.pgn":                    "error: there is no command chek\nhint: did you mean foreply check?\n",
		"help prep now":                 "error: one command at a time, not 2\n",
		"prep --quux":                   "error: unknown flag: --quux\nhint: 'foreply prep --help' lists the flags\n",
		"prep -q":                       "error: unknown shorthand flag: 'q' in -q\nhint: ",
		"prep --rating x":               "error: --rating: a whole number is wanted, not \"x\"\n",
		"prep --strict=x":               "error: --strict: true or false is wanted, not \"x\"\n",
		"fetch --date":                  "error: --date needs a value\nhint: --date DAY: DAY up to which servers are asked, YYYY-MM-DD (default: today)\n",
		"prep ash elm":                  "error: one opponent at a time, not 2: [\"ash\" \"elm\"]\nhint: a name with spaces or a comma needs quotes and --opponent; files go behind --games\n",
		"compare ash elm":               "error: one opponent at a time, not 2: [\"ash\" \"elm\"]\nhint: a name with spaces or a comma needs quotes and --opponent; files go behind --games\n",
		"profile ash elm":               "error: one opponent at a time, not 2: [\"ash\" \"elm\"]\nhint: a name with spaces or a comma needs quotes and --opponent; files go behind --games\n",
		"hindsight ash elm":             "error: one opponent at a time, not 2: [\"ash\" \"elm\"]\nhint: a name with spaces or a comma needs quotes and --opponent; files go behind --games\n",
		"prep a.pgn b.pgn c.pgn":        "error: one opponent at a time, not 3: [\"a.pgn\" \"b.pgn\" \"c.pgn\"]\nhint: a pattern needs quotes, as in --games 'games/*.pgn': without them the shell takes it apart\n",
		"check":                         "error: which file?\nhint: foreply check white.pgn black.pgn\n",
		"check a.pgn --my-color red":    "error: --my-color: \"red\" is no colour\nhint: white or black\n",
		"check a.pgn --engine x":        "error: --engine judges your moves: which are they?\nhint: add --my-color white or black\n",
		"check a.pgn --json --engine x": "error: --json prints what was read, which no engine changes\nhint: leave --json or --engine out\n",
		"profile --their-color red":     "error: --their-color: \"red\" is no colour\nhint: white or black\n",
		"profile --json":                "error: which colour of theirs?\nhint: add --their-color white or black\n",
		"profile --plies 201":           "error: --plies: 201 lies outside 1 to 200\n",
		"peers":                         "error: which games?\nhint: foreply peers archive.pgn -o club.peers\n",
		"peers a.pgn":                   "error: where is the book to go?\nhint: -o club.peers names it\n",
		"init a b":                      "error: one file at a time, not 2\n",
		"field":                         "error: which entry list?\nhint: foreply field entries.txt, or - for standard input\n",
		"field a b":                     "error: which entry list?\nhint: foreply field entries.txt, or - for standard input\n",
		"completion bash zsh":           "error: for which shell?\nhint: bash, fish or zsh\n",
		"completion":                    "error: for which shell?\nhint: bash, fish or zsh\n",
		"version x y":                   "error: foreply version takes no \"x\"\n",
		"hindsight --last -1":           "error: --last: -1 is no number of games\n",
		"profile --my-color black":      "error: unknown flag: --my-color\nhint: here the colour is the opponent's: --their-color\n",
		"compare --their-color black":   "error: unknown flag: --their-color\nhint: here the colour is yours: --my-color; the opponent has the other one\n",
		"fetch --their-color black":     "error: unknown flag: --their-color\nhint: 'foreply fetch --help' lists the flags\n",
		"fetch --my-color black":        "error: unknown flag: --my-color\nhint: 'foreply fetch --help' lists the flags\n",
	} {
		stdout, stderr, code := call(t, strings.Fields(args)...)
		if code != exitUsage || !strings.HasPrefix(stderr, want) || stdout != "" || strings.HasSuffix(want, "\n") && stderr != want {
			t.Errorf("%s: exit code %d, %q, want %q", args, code, stderr, want)
		}
	}
}

// Each command's help goes to standard output and names each of its flags; the same comes by
// 'help COMMAND'.
func TestHelpNamesTheFlags(t *testing.T) {
	for _, cmd := range commands().Commands() {
		text, stderr, code := call(t, cmd.Name(), "--help")
		again, _, _ := call(t, "help", cmd.Name())
		if code != 0 || stderr != "" || again != text && cmd.Name() != "help" {
			t.Errorf("%s: exit code %d, %q\n%s", cmd.Name(), code, stderr, again)
		}
		cmd.Flags().VisitAll(func(f *pflag.Flag) {
			if !strings.Contains(text, " --"+f.Name) {
				t.Errorf("%s: no --%s in\n%s", cmd.Name(), f.Name, text)
			}
		})
	}
}

// What the shells are offered: ids of the configuration, values of a flag, files or none.
func TestCompletions(t *testing.T) {
	t.Chdir(t.TempDir())
	t.Setenv("XDG_CONFIG_HOME", t.TempDir())
	write(t, configName, "opponents: [{id: ash, name: 'Ash, Bo', names: [x]}, {id: elm, names: [Elm]}]\n")
	const none, files, folders = ":4\n", ":0\n", ":16\n"
	const ids = "ash\tAsh, Bo\nelm\tElm\n"
	for args, want := range map[string]string{
		"prep ":                  ids + none,
		"compare ":               ids + none,
		"profile ":               ids + none,
		"hindsight ":             ids + files,
		"fetch ":                 ids + none,
		"fetch elm ":             "ash\tAsh, Bo\n" + none,
		"prep ash ":              none,
		"hindsight ash ":         files,
		"check ":                 files,
		"version ":               none,
		"completion ":            "bash\nfish\nzsh\n" + none,
		"prep --paper ":          "a4\nletter\n" + none,
		"check --my-color ":      "white\nblack\n" + none,
		"prep --my-color ":       "white\nblack\nboth\tnot known yet: a sheet for either\n" + none,
		"profile --their-color ": "white\nblack\n" + none,
		"prep --need ":           "win\ndraw\nany\n" + none,
		"peers --class ":         "classical\nrapid\nblitz\nbullet\nunknown\n" + none,
		"prep --games ":          files,
		"prep --out ":            files,
		"prep --engine ":         files,
		"field --out ":           folders,
		"fetch --cache ":         folders,
		"prep --event ":          none,
		"help vers":              "version\tsay which foreply this is\n",
		"help version ":          none,
	} {
		line := append([]string{"__complete"}, strings.Split(args, " ")...)
		stdout, _, code := call(t, line...)
		if code != 0 || args != "help vers" && stdout != want || !strings.Contains(stdout, want) {
			t.Errorf("%s: exit code %d, %q, want %q", args, code, stdout, want)
		}
	}
}
