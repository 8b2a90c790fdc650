package main

import (
	"os"
	"path/filepath"
	"slices"
	"strings"
	"testing"

	"foreply/fetch"
)

// A pattern finds its files whatever signs stand in the name of the folder that it is put in, and a
// file whose own name has such signs is found, too: by a configuration read from elsewhere, and by
// the paths that 'field' writes.
func TestFoldersWithSignsOfPatterns(t *testing.T) {
	t.Chdir(t.TempDir())
	for _, name := range []string{"season [2026]/games/a.pgn", "season [2026]/games/b[1].pgn", "plain/games/c.pgn"} {
		if err := os.MkdirAll(filepath.Dir(name), 0o700); err != nil {
			t.Fatal(err)
		}
		write(t, name, "*")
	}
	found := func(pattern string) string {
		files, err := fetch.Files([]fetch.Input{{Pattern: pattern}})
		if err != nil {
			return err.Error()
		}
		for i := range files {
			files[i] = filepath.Base(files[i])
		}
		return strings.Join(files, " ")
	}
	for _, c := range []struct{ folder, pattern, want string }{
		{"season [2026]", "games/*.pgn", "a.pgn b[1].pgn"},
		{"season [2026]", "games/b[1].pgn", "b[1].pgn"},
		{"season [2026]", "games/a.pgn", "a.pgn"},
		{"season [2026]", "games", "a.pgn b[1].pgn"},
		{"plain", "games/[a-c].pgn", "c.pgn"},
	} {
		s := &settings{file: filepath.Join(c.folder, "foreply.yaml")}
		if got := found(s.beside(c.pattern)); got != c.want {
			t.Errorf("%s of a configuration in %s: %s, want %s", c.pattern, c.folder, got, c.want)
		}
		t.Chdir(c.folder)
		paths := whole([]string{c.pattern, "/x/../y/*.pgn"})
		if got := found(paths[0]); got != c.want || !slices.Equal(paths[1:], []string{"/y/*.pgn"}) {
			t.Errorf("%s whole, from %s: %s of %s, want %s", c.pattern, c.folder, got, paths, c.want)
		}
		t.Chdir("..")
	}
}
