package main

import (
	"fmt"
	"os"
	"path/filepath"
	"strings"
	"testing"
)

// A change is told by profile, and by compare among what to expect where the
// book meets it.
func TestWhatChangedIsTold(t *testing.T) {
	var games strings.Builder
	for i := range 30 {
		move := "1. e4 e5"
		if i >= 22 {
			move = "1. d4 d5"
		}
		fmt.Fprintf(&games, "[White \"Quist, Ola\"]\n[Black \"Elm, Ida\"]\n[Date \"2026.%02d.%02d\"]\n[Result \"1-0\"]\n\n%s 2. a3 a%d 1-0\n\n",
			1+i/28, 1+i%28, move, 5+i%2)
	}
	dir := t.TempDir()
	file, book := filepath.Join(dir, "games.pgn"), filepath.Join(dir, "book.pgn")
	write := func(name, text string) {
		if err := os.WriteFile(name, []byte(text), 0o666); err != nil {
			t.Fatal(err)
		}
	}
	write(file, games.String())
	write(book, "1. d4 d5 (1... Nf6) 2. c4 e6 *\n\n1. e4 e5 2. Nf3 Nc6 *\n")
	const told = "since 23 Jan 2026: 1.d4 in the last 8; what to expect is hardly known; before that 1.e4 in all 22"
	for _, args := range [][]string{
		{"profile", "--games", file, "--opponent", "Quist, Ola"},
		{"compare", "--games", file, "--opponent", "Quist, Ola", "--repertoire", book, "--my-color", "black"},
	} {
		stdout, stderr, code := call(t, args...)
		if code != 0 {
			t.Fatalf("%s: exit code %d\n%s", args[0], code, stderr)
		}
		if text := strings.Join(strings.Fields(stdout), " "); !strings.Contains(text, told) {
			t.Errorf("%s does not tell %q:\n%s", args[0], told, stdout)
		}
	}
}
