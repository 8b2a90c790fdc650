package fetch

import (
	"context"
	"errors"
	"io/fs"
	"os"
	"path/filepath"
	"strings"
	"testing"
)

func TestExpand(t *testing.T) {
	dir := folder(t, "b.pgn", "", "a.pgn", "", "c.txt", "", "[1].pgn", "", "sub/d.PGN.GZ", "", "sub/deep/e.zip", "", "void/x.txt", "", "sub-e.pgn", "", ".h/f.pgn", "")
	for _, c := range []struct{ quirk, pattern, want string }{
		{"file", "a.pgn", "a.pgn"},
		{"file with another ending, named", "c.txt", "c.txt"},
		{"file whose name is a pattern", "[1].pgn", "[1].pgn"},
		{"glob", "?.pgn", "a.pgn b.pgn"},
		{"glob of files and folders", "*", "[1].pgn a.pgn b.pgn c.txt sub-e.pgn sub/d.PGN.GZ sub/deep/e.zip"},
		{"folder with subfolders", ".", "[1].pgn a.pgn b.pgn sub-e.pgn sub/d.PGN.GZ sub/deep/e.zip"},
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
	dir := folder(t, "games.pgn", "", "gamesz.pgn", "", "void/x.txt", "")
	for _, c := range []struct{ quirk, pattern, message, hint string }{
		{"misspelled file", "gmaes.pgn", "no file", "did you mean " + filepath.Join(dir, "games.pgn")},
		{"other case", "GAMES.PGN", "no file", "did you mean"},
		{"quite another file", "something.pgn", "no file", "check the path"},
		{"no such folder", "nowhere/a.pgn", "no file", "no folder " + filepath.Join(dir, "nowhere")},
		{"glob", "*.pgn.gz", "no file matches", "ending"},
		{"broken glob", "[a", "syntax error", "bracket"},
		{"file as a folder", "games.pgn/a.pgn", "reading " + filepath.Join(dir, "games.pgn/a.pgn") + ": ", ""},
		{"three changes, the first of two", "gxyzs.pgn", "no file", "did you mean " + filepath.Join(dir, "games.pgn")},
		{"four changes", "wxyzs.pgn", "no file", "check the path"},
		{"folder without games", "void", "no games in folder", ".pgn"},
	} {
		t.Run(c.quirk, func(t *testing.T) {
			_, err := Open(context.Background(), []Input{{Pattern: filepath.Join(dir, c.pattern)}}, Options{})
			var said *Error
			if c.hint == "" && err != nil && strings.Contains(err.Error(), c.message) {
				return
			}
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

// The folder that one stands in, and the one above, are searched by their names; a file is
// the same by its whole and its relative path.
func TestFoldersByTheirPlace(t *testing.T) {
	dir := folder(t, "sub/a.pgn", oneGame, "b.pgn", oneGame)
	t.Chdir(filepath.Join(dir, "sub"))
	for pattern, want := range map[string]string{".": "a.pgn", "..": "../b.pgn ../sub/a.pgn"} {
		paths, err := expand(pattern)
		if got := strings.Join(paths, " "); got != want || err != nil {
			t.Errorf("%s: %s, %v", pattern, got, err)
		}
	}
	files, err := Files(Inputs("a.pgn", filepath.Join(dir, "sub", "a.pgn"), "..", "-", "-"))
	if got := strings.Join(files, " "); got != "a.pgn ../b.pgn -" || err != nil {
		t.Errorf("%s, %v", got, err)
	}
	if files, err := Files(Inputs("a.pgn", "gone.pgn")); len(files) != 0 || err == nil {
		t.Errorf("%q, %v", files, err)
	}
	if _, err := inFolder("gone"); err == nil || !strings.HasPrefix(err.Error(), "reading folder gone: ") {
		t.Errorf("%v", err)
	}
}

// The size of all files is known if each is, and none of a folder.
func TestSizes(t *testing.T) {
	dir := folder(t, "a.pgn", "12345")
	if n := sizeOf(dir + "/a.pgn"); n != 5 {
		t.Errorf("%d bytes", n)
	}
	if n := sizeOf(dir) + sizeOf(dir+"/gone"); n != 0 {
		t.Errorf("a folder has %d bytes", n)
	}
	files := []file{{name: "a", size: 5}, {name: "b", size: 7}, {name: "-"}}
	if all, two := totalSize(files), totalSize(files[:2]); all != 0 || two != 12 {
		t.Errorf("%d and %d bytes", all, two)
	}
}

// Files and folders are opened, and what is not there says so.
func TestOpenPlain(t *testing.T) {
	dir := folder(t, "a.pgn", "x")
	for path, want := range map[string]error{dir: nil, dir + "/a.pgn": nil, dir + "/gone": fs.ErrNotExist} {
		f, err := OpenPlain(path)
		if !errors.Is(err, want) || (f == nil) != (want != nil) {
			t.Errorf("%s: %v", path, err)
		}
		f.Close()
	}
}
