//go:build unix

package fetch

import (
	"os"
	"path/filepath"
	"strings"
	"testing"

	"golang.org/x/sys/unix"
)

// A pipe that nobody writes to, and a device without end, among the files: a
// problem of theirs in folders and patterns, an error if named, and never waited for.
func TestPipesAndDevices(t *testing.T) {
	folder := t.TempDir()
	plain, pipe, device := filepath.Join(folder, "a.pgn"), filepath.Join(folder, "b.pgn"), filepath.Join(folder, "c.pgn")
	if err := os.WriteFile(plain, []byte("1. e4 *\n"), 0o666); err != nil {
		t.Fatal(err)
	}
	if err := unix.Mkfifo(pipe, 0o666); err != nil {
		t.Fatal(err)
	}
	if err := os.Symlink("/dev/zero", device); err != nil {
		t.Fatal(err)
	}
	for _, pattern := range []string{folder, filepath.Join(folder, "*.pgn")} {
		games, err := Open(t.Context(), []Input{{Pattern: pattern}}, Options{})
		if err != nil {
			t.Fatal(err)
		}
		n := 0
		for range games.All() {
			n++
		}
		told := games.Summary().Problems
		if n != 1 || games.Err() != nil || len(told) != 2 || !strings.Contains(told[0].Message, "it is no plain file") {
			t.Errorf("%s: %d games, %v, %v", pattern, n, games.Err(), told)
		}
	}
	for _, pattern := range []string{pipe, device} {
		if _, err := Files([]Input{{Pattern: pattern}}); err == nil || !strings.Contains(err.Error(), "it is no plain file") {
			t.Errorf("%s: %v", pattern, err)
		}
	}
}
