package main

import (
	"fmt"
	"net/http"
	"net/http/httptest"
	"path/filepath"
	"strings"
	"testing"
	"text/tabwriter"
)

// rowsOf are the rows of a table of fetch, without their sizes and spaces.
func rowsOf(table string) string {
	var rows []string
	for _, row := range strings.Split(strings.TrimSpace(table), "\n")[1:] {
		f := strings.Fields(row)
		at := len(f) - 6 // the bytes, of a server with their unit
		if f[len(f)-6] == "B" || f[len(f)-6] == "kB" {
			at--
		}
		rows = append(rows, strings.Join(append(f[:at:at], f[len(f)-5:]...), " "))
	}
	return strings.Join(rows, "; ")
}

// An import counts the games of the files, theirs of whatever kind, the new and the kept, and the
// problems of theirs, each in its column; what may be theirs is told.
func TestImportIsTold(t *testing.T) {
	t.Chdir(t.TempDir())
	t.Setenv("XDG_CONFIG_HOME", t.TempDir())
	game := func(white, black, moves string) string {
		return fmt.Sprintf("[White %q]\n[Black %q]\n[Date \"2026.01.02\"]\n[Result \"1-0\"]\n\n%s\n\n", white, black, moves)
	}
	const number = "[WhiteFideId \"1234567\"]\n"
	const one = "1. e4 e5 1-0"
	write(t, "games.pgn", number+game("Ash, Bo", "a", one)+game("b", "Ash, Bo", "1-0")+game("c", "d", one)+game("Ash, B", "e", one)+game("f", "g", one)+
		strings.Replace(number, "1", "7", 1)+game("Ash, Bo", "h", "1. d4 d5 1-0"))
	write(t, configName, "opponents: [{id: ash, names: ['Ash, Bo']}]\nsources: [{id: club, files: [games.pgn]}]\ncache: kept\n")
	for _, want := range []string{"club ash - 6 3 3 3 1", "club ash - 6 3 0 3 1"} {
		stdout, stderr, code := call(t, "fetch")
		if got := rowsOf(stdout); code != 0 || got != want || !strings.HasPrefix(stderr, "warning: games.pgn:") ||
			!strings.HasSuffix(stderr, "note: club, ash: not counted, but maybe theirs: \"Ash, B\" (1 game)\nhint: add what is theirs to the names of ash in foreply.yaml, and fetch again\n") {
			t.Errorf("exit code %d, %s, want %s, %q", code, got, want, stderr)
		}
	}
	var out strings.Builder
	r := &fetchRun{table: tabwriter.NewWriter(&out, 0, 0, 2, ' ', 0)}
	r.row("a\x1b[31m", 7)
	if r.table.Flush(); out.String() != "a[31m  7\n" || r.rows != 1 {
		t.Errorf("%q", out.String())
	}
}

// What a server gave is counted in its columns, and told of the handle it was asked for; a handle
// that fails costs the next one nothing.
func TestServersGamesAreCounted(t *testing.T) {
	site := httptest.NewServer(http.HandlerFunc(func(w http.ResponseWriter, r *http.Request) {
		player := filepath.Base(r.URL.Path)
		if player == "gone" {
			http.NotFound(w, r)
			return
		}
		given := []string{player, player, "stranger"}
		if player == "wrong" {
			given = []string{"one", "two"}
		}
		for i, white := range given {
			fmt.Fprintf(w, "[UTCDate \"2026.10.%02d\"]\n[UTCTime \"18:00:00\"]\n[White \"%s\"]\n[Black \"x\"]\n[Result \"1-0\"]\n\n1. e4 e5 1-0\n\n", 5+i, white)
		}
	}))
	defer site.Close()
	t.Chdir(t.TempDir())
	t.Setenv("XDG_CONFIG_HOME", t.TempDir())
	write(t, configName, "sources: [{id: a, url: '"+site.URL+"/{player}', pace: 0.001}]\ncache: kept\n"+
		"opponents: [{id: ash, handles: [{source: a, handle: gone}, {source: a, handle: ash1}, {source: a, handle: wrong}]}]\n")
	stdout, stderr, code := call(t, "fetch")
	if got := rowsOf(stdout); code != exitError || got != "a ash as gone 1 0 0 0 0 0; a ash as ash1 1 3 2 3 3 0; a ash as wrong 1 2 0 2 5 1" ||
		!strings.HasPrefix(stderr, "warning: a, ash as wrong: none of the 2 games has wrong as White or Black: ") || !strings.Contains(stderr, "\nerror: source a, ash as gone: the server says 404 Not Found") {
		t.Errorf("exit code %d, %s, %q", code, got, stderr)
	}
}

// What was got from no server yet is told with the command that asks them, unless the games are
// named; a file is no server, and one without a handle is not asked.
func TestNotFetchedYetIsTold(t *testing.T) {
	t.Chdir(t.TempDir())
	t.Setenv("XDG_CONFIG_HOME", t.TempDir())
	write(t, "games.pgn", "[White \"Ash\"]\n[Black \"x\"]\n[Date \"2026.01.02\"]\n\n1. e4 e5 *\n")
	handle := func(source string) string { return "{source: " + source + ", handle: ash1}" }
	write(t, configName, "sources: [{id: club, files: [games.pgn]}, {id: one, url: 'https://example.org/{player}'}, {id: two, url: 'https://example.org/2/{player}'}, {id: three, url: 'https://example.org/3/{player}'}]\n"+
		"opponents: [{id: ash, names: [Ash], handles: ["+handle("club")+", "+handle("one")+", "+handle("two")+"]}]\ncache: kept\n")
	const note = "nothing got from one, two yet; 'foreply fetch ash' asks there\n"
	home, err := loadConfig("", nil)
	if err != nil {
		t.Fatal(err)
	}
	for _, games := range [][]string{nil, {"games.pgn"}} {
		want := "note: " + note
		if games != nil {
			want = ""
		}
		args := []string{"profile", "ash"}
		if games != nil {
			args = append(args, "--games", games[0])
		}
		if _, stderr, code := call(t, args...); code != 0 || stderr != want {
			t.Errorf("%q: exit code %d, %q, want %q", args, code, stderr, want)
		}
		var out strings.Builder
		r := &fieldRun{app: speaking(&out), flags: &flags{games: games}, home: home}
		if _, _, err := r.importGames(&task{}, &entrant{who: home.Opponents[0]}); err == nil || out.String() != want {
			t.Errorf("of a field, games %q: %v, %q", games, err, out.String())
		}
	}
}
