package main

import (
	"os"
	"reflect"
	"strings"
	"testing"

	"foreply/fetch"
)

// The repertoire that sheets are judged with is that of the flags, which must be sound, or that of
// the configuration, which need not; it serves each player.
func TestBooksOfATest(t *testing.T) {
	t.Chdir(t.TempDir())
	write(t, "w.pgn", "1. e4 e5 2. Nf3 *\n")
	write(t, "b.pgn", "1. e4 c5 *\n")
	for _, c := range []struct {
		quirk      string
		given      repertoireConfig
		f          flags
		books      [2][]string
		opened     int
		told, want string
	}{
		{"none", repertoireConfig{}, flags{}, [2][]string{}, 0, "", ""},
		{"configured", repertoireConfig{Black: []string{"b.pgn"}}, flags{}, [2][]string{nil, {"b.pgn"}}, 1, "", ""},
		{"configured, and gone", repertoireConfig{White: []string{"gone.pgn"}}, flags{}, [2][]string{}, 0, "note: your repertoire is not used here: no file gone.pgn\n", ""},
		{"given for White", repertoireConfig{}, flags{white: []string{"w.pgn"}}, [2][]string{{"w.pgn"}, nil}, 1, "", ""},
		{"given for Black, and gone", repertoireConfig{}, flags{black: []string{"gone.pgn"}}, [2][]string{}, 0, "", "no file gone.pgn"},
		{"given for White, and gone", repertoireConfig{}, flags{white: []string{"gone.pgn"}}, [2][]string{}, 0, "", "no file gone.pgn"},
		{"a colour", repertoireConfig{White: []string{"w.pgn"}, Black: []string{"b.pgn"}}, flags{color: "white"}, [2][]string{{"w.pgn"}, {"b.pgn"}}, 1, "", ""},
	} {
		var out strings.Builder
		a := speaking(&out)
		a.ctx = t.Context()
		cfg := &settings{config: config{Me: meConfig{Repertoire: c.given}}}
		tasks := []*task{{cfg: cfg}, {cfg: cfg}}
		err := a.hindsightBooks(tasks, &hindsightFlags{flags: c.f})
		if c.want == "" && err != nil || c.want != "" && (err == nil || err.Error() != c.want) || out.String() != c.told {
			t.Errorf("%s: %v, told %q", c.quirk, err, out.String())
		}
		for i, task := range tasks {
			if len(task.opened) != c.opened || c.opened > 0 && !reflect.DeepEqual(task.books, c.books) {
				t.Errorf("%s: player %d has %d books, of %q", c.quirk, i, len(task.opened), task.books)
			}
		}
	}
}

// A test's files are none of those that are read for any player, and where one can't be made the
// other is not either.
func TestFilesOfATest(t *testing.T) {
	t.Chdir(t.TempDir())
	write(t, "a.pgn", "1. e4 *\n")
	write(t, "b.pgn", "1. e4 *\n")
	tasks := []*task{{cfg: &settings{}, inputs: fetch.Inputs("a.pgn")}, {cfg: &settings{}, inputs: fetch.Inputs("b.pgn")}}
	for _, c := range []struct{ out, predictions, want string }{
		{"a.pgn", "", "writing a.pgn: it is one of the files that are read"}, {"b.pgn", "", "writing b.pgn: it is one of the files that are read"},
		{"x.pdf", "a.pgn", "writing a.pgn: it is one of the files that are read"}, {"x.pdf", "none/x.csv", "writing none/x.csv: there is no folder none"},
	} {
		f := &hindsightFlags{predictions: c.predictions}
		f.out = c.out
		if _, err := f.create(&app{}, tasks); err == nil || err.Error() != c.want {
			t.Errorf("%+v: %v", c, err)
		}
		if left, err := os.ReadDir("."); err != nil || len(left) != 2 {
			t.Errorf("%+v: left %v, %v", c, left, err)
		}
	}
}

// Of several files one without games of use is left out; where none is left, and of one alone, it
// is an error. What peers were left out of a test is told by reason.
func TestPlayersWithoutGames(t *testing.T) {
	t.Chdir(t.TempDir())
	t.Setenv("XDG_CONFIG_HOME", t.TempDir())
	game := func(white, date, moves string) string {
		return "[White \"" + white + "\"]\n[Black \"x\"]\n[Date \"" + date + "\"]\n\n" + moves + " *\n\n"
	}
	const moves = "1. e4 e5 2. Nf3 Nc6 3. Bb5 a6"
	write(t, "a.pgn", game("Ash", "2026.01.02", moves)+game("Ash", "2026.01.04", moves))
	write(t, "n.pgn", "no games\n")
	const long = "1. e4 c6 2. d4 d5 3. Nc3 dxe4 4. Nxe4 Nd7 5. Nf3 Ngf6 6. Ng3 e6 7. Bd3 c5 8. O-O cxd4 9. Nxd4 Be7 10. b3 O-O" // of which two are one
	peers := strings.Repeat(game("z", "2025.01.09", long), 1+4)
	for range 3 {
		peers += game("y", "????.??.??", "1. c4 e5 2. g3 g6 3. Bg2 Bg7")
	}
	for range 5 {
		peers += game("y", "2025.02.02", "1. e4")
	}
	write(t, "p.pgn", peers+game("Ash", "2026.01.02", moves)+game("Ash", "2026.01.04", "1. d4 d5 2. c4 e6 3. Nc3 Nf6"))
	inputs := func(files ...string) (tasks []*task) {
		for _, file := range files {
			tasks = append(tasks, &task{cfg: &settings{}, inputs: fetch.Inputs(file), peers: fetch.Inputs("p.pgn")})
		}
		return tasks
	}
	for files, want := range map[string]string{
		"a.pgn n.pgn": "", "n.pgn a.pgn": "", "n.pgn": "no player is named in it", "n.pgn n.pgn": "none of the 2 files has games to test",
	} {
		var out strings.Builder
		a := speaking(&out)
		a.ctx = t.Context()
		all, err := a.testAll(inputs(strings.Fields(files)...), &hindsightFlags{last: 7}, &hindsightOuts{})
		if want != "" {
			if err == nil || err.Error() != want {
				t.Errorf("%s: %v, want %q", files, err, want)
			}
			continue
		}
		if err != nil || len(all.players) != 1 || all.players[0].File != "a.pgn" || all.last != 7 || !strings.Contains(out.String(), "warning: n.pgn: left out: no player is named in it\n") {
			t.Fatalf("%s: %+v, %v, told %q", files, all, err, out.String())
		}
		one := all.players[0]
		if got, want := *one.Peers, (peersTold{Games: 1, Own: 2, Undated: 3, Twice: 4, Unfit: 5}); got != want || one.newest.Date().String() != "2026-01-04" {
			t.Errorf("%+v, newest %v", got, one.newest)
		}
		for _, end := range a.atEnd {
			end()
		}
	}
}
