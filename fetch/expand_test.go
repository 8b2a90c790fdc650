package fetch

import (
	"context"
	"os"
	"path/filepath"
	"strings"
	"testing"
)

func TestExpand(t *testing.T) {
	dir := folder(t, "b.pgn", "", "a.pgn", "", "c.txt", "", "[1].pgn", "", "sub/d.PGN.GZ", "", "sub/deep/e.zip", "", "void/x.txt", "")
	for _, c := range []struct{ quirk, pattern, want string }{
		{"file", "a.pgn", "a.pgn"},
		{"file with another ending, named", "c.txt", "c.txt"},
		{"file whose name is a pattern", "[1].pgn", "[1].pgn"},
		{"glob", "?.pgn", "a.pgn b.pgn"},
		{"glob of files and folders", "*", "[1].pgn a.pgn b.pgn c.txt sub/d.PGN.GZ sub/deep/e.zip"},
		{"folder with subfolders", ".", "[1].pgn a.pgn b.pgn sub/d.PGN.GZ sub/deep/e.zip"},
	} {
		t.Run(c.quirk, func(t *testing.T) {
			paths, err := expand(filepath.Join(dir, c.pattern))
			if err != nil {
				t.Fatal(err)
			}
			for i := range paths {
				paths[i], _ = filepath.Rel(dir, paths[i])
			}
			if got := strings.Join(paths, " "); got != c.want {
				t.Errorf("%s, want %s", got, c.want)
			}
		})
	}
}

func TestPatternsThatMatchNothing(t *testing.T) {
	dir := folder(t, "games.pgn", "", "void/x.txt", "")
	for _, c := range []struct{ quirk, pattern, message, hint string }{
		{"misspelled file", "gmaes.pgn", "no file", "did you mean " + filepath.Join(dir, "games.pgn")},
		{"other case", "GAMES.PGN", "no file", "did you mean"},
		{"quite another file", "something.pgn", "no file", "check the path"},
		{"no such folder", "nowhere/a.pgn", "no file", "no folder " + filepath.Join(dir, "nowhere")},
		{"glob", "*.pgn.gz", "no file matches", "ending"},
		{"broken glob", "[a", "syntax error", "bracket"},
		{"folder without games", "void", "no games in folder", ".pgn"},
	} {
		t.Run(c.quirk, func(t *testing.T) {
			_, err := Open(context.Background(), []Input{{Pattern: filepath.Join(dir, c.pattern)}}, Options{})
			var said *Error
			if !asError(err, &said) || !strings.Contains(err.Error(), c.message) || !strings.Contains(said.Hint, c.hint) {
				t.Errorf("error %v, hint %+v", err, said)
			}
		})
	}
}

func TestOneFileByTwoWaysIsReadOnce(t *testing.T) {
	dir := folder(t, "a.pgn", oneGame)
	link := filepath.Join(dir, "b.pgn")
	if err := os.Symlink(filepath.Join(dir, "a.pgn"), link); err != nil {
		t.Skip("no symbolic links here")
	}
	r := run(t, Options{}, filepath.Join(dir, "a.pgn"), dir, link, filepath.Join(dir, ".", "a.pgn"))
	if len(r.games) != 1 {
		t.Errorf("%d games", len(r.games))
	}
}

// A folder that is a link is read; a link within that leads back is not followed.
func TestLinkedFolders(t *testing.T) {
	dir := folder(t, "real/a.pgn", oneGame)
	if os.Symlink(filepath.Join(dir, "real"), filepath.Join(dir, "link")) != nil ||
		os.Symlink(filepath.Join(dir, "real"), filepath.Join(dir, "real", "loop")) != nil {
		t.Skip("no symbolic links here")
	}
	if r := run(t, Options{}, filepath.Join(dir, "link")); len(r.games) != 1 {
		t.Errorf("%d games", len(r.games))
	}
}
