package main

import (
	"errors"
	"net"
	"os"
	"path/filepath"
	"strings"
	"testing"
	"time"

	"foreply/fetch"
)

// After an import a file is read beside the kept games if it is not as it was then, or was not
// there: also when it is older than the import, as one that was unpacked or copied is. A name
// that came later makes all files unread. Where no list stands beside the games, or a damaged
// one, nothing counts as read.
func TestFilesNotReadYet(t *testing.T) {
	begun := time.Date(2026, 10, 1, 12, 0, 10, 0, time.UTC)
	set := func(path, text string, age time.Duration) {
		t.Helper()
		write(t, path, text)
		if err := os.Chtimes(path, begun.Add(-age), begun.Add(-age)); err != nil {
			t.Fatal(err)
		}
	}
	for _, c := range []struct {
		what   string
		change func(o *opponentConfig, in *[]fetch.Input)
		want   string
	}{
		{"nothing since", func(*opponentConfig, *[]fetch.Input) {}, ""},
		{"another length", func(*opponentConfig, *[]fetch.Input) { set("a.pgn", "xx", time.Hour) }, "a.pgn"},
		{"another time, an older one", func(*opponentConfig, *[]fetch.Input) { set("a.pgn", "x", 2*time.Hour) }, "a.pgn"},
		{"an old file in the folder", func(*opponentConfig, *[]fetch.Input) { set("f/old.pgn", "x", 900*time.Hour) }, "f/old.pgn"},
		{"an old file in the configuration", func(_ *opponentConfig, in *[]fetch.Input) {
			set("c.pgn", "x", 900*time.Hour)
			*in = append(*in, fetch.Input{Pattern: "c.pgn"})
		}, "c.pgn"},
		{"a name", func(o *opponentConfig, _ *[]fetch.Input) { o.Names = append(o.Names, "Ashe") }, "a.pgn f/b.pgn"},
		{"a number", func(o *opponentConfig, _ *[]fetch.Input) { o.FideIDs = []string{"12"} }, "a.pgn f/b.pgn"},
		{"a handle", func(_ *opponentConfig, in *[]fetch.Input) { (*in)[0].Handles = []string{"ash7"} }, "a.pgn f/b.pgn"},
		{"a dead link", func(*opponentConfig, *[]fetch.Input) {
			if err := os.Symlink("nowhere.pgn", "f/dead.pgn"); err != nil {
				t.Log(err) // not every system lets everybody make one
			}
		}, ""},
		{"a socket", func(*opponentConfig, *[]fetch.Input) {
			at, err := net.Listen("unix", "f/socket.pgn")
			if err != nil {
				t.Fatal(err)
			}
			t.Cleanup(func() { at.Close() })
		}, ""},
		{"a file that went", func(*opponentConfig, *[]fetch.Input) { os.Remove("a.pgn") }, ""},
		{"a file that is no game's", func(*opponentConfig, *[]fetch.Input) { set("f/readme.txt", "x", 0) }, ""},
		{"no list", func(*opponentConfig, *[]fetch.Input) { os.Remove("kept/imported.json") }, "a.pgn f/b.pgn"},
		{"a damaged list", func(*opponentConfig, *[]fetch.Input) { set("kept/imported.json", `{"names": ["Ash"], "fi`, 0) }, "a.pgn f/b.pgn"},
	} {
		t.Chdir(t.TempDir())
		set("a.pgn", "x", time.Hour)
		if err := os.Mkdir("f", 0o700); err != nil {
			t.Fatal(err)
		}
		set("f/b.pgn", "y", 3*time.Second)
		o, in := &opponentConfig{ID: "ash", Names: []string{"Ash"}}, []fetch.Input{{Pattern: "a.pgn"}, {Pattern: "f"}}
		games := filepath.Join("kept", "games.pgn")
		if err := importOf(in, o, begun).keep(games); err != nil {
			t.Fatal(err)
		}
		c.change(o, &in)
		if got := strings.Join(importedInto(games).unread(in, o), " "); got != c.want {
			t.Errorf("%s: %q is still to be read, want %q", c.what, got, c.want)
		}
	}
}

// A file that the import could not open was not read, whatever its age.
func TestClosedFileIsReadLater(t *testing.T) {
	t.Chdir(t.TempDir())
	o, in := &opponentConfig{Names: []string{"Ash"}}, []fetch.Input{{Pattern: "a.pgn"}}
	write(t, "a.pgn", "x")
	if err := os.Chmod("a.pgn", 0); err != nil {
		t.Fatal(err)
	}
	if f, err := os.Open("a.pgn"); err == nil {
		f.Close()
		t.Skip("whoever runs this may open every file")
	}
	read := importOf(in, o, time.Now().Add(time.Hour))
	if err := os.Chmod("a.pgn", 0o600); err != nil {
		t.Fatal(err)
	}
	if got := read.unread(in, o); len(got) != 1 {
		t.Errorf("still to be read: %q", got)
	}
}

// A file that changed in the two seconds before the import may change once more and look the
// same, so it is read again; two seconds are what times of files may be off.
func TestFileOfTheMomentIsReadAgain(t *testing.T) {
	t.Chdir(t.TempDir())
	begun := time.Date(2026, 10, 1, 12, 0, 10, 0, time.UTC)
	o, in := &opponentConfig{Names: []string{"Ash"}}, []fetch.Input{{Pattern: "a.pgn"}}
	write(t, "a.pgn", "x")
	for before, read := range map[time.Duration]bool{0: false, time.Second: false, 2 * time.Second: false, 2*time.Second + time.Millisecond: true} {
		if err := os.Chtimes("a.pgn", begun.Add(-before), begun.Add(-before)); err != nil {
			t.Fatal(err)
		}
		if again := len(importOf(in, o, begun).unread(in, o)) > 0; again == read {
			t.Errorf("changed %v before: read again %v", before, again)
		}
	}
}

// Where no game came an empty file says that they were looked for; what is kept stays.
func TestImportWithoutGames(t *testing.T) {
	path := filepath.Join(t.TempDir(), "club", "ash", "games.pgn")
	for _, want := range []string{"", "games"} {
		err := imported{}.keep(path)
		_, statErr := os.Stat(importedBeside(path))
		if errors.Join(err, statErr) != nil || string(readFile(t, path)) != want {
			t.Errorf("%v, %v, %q", err, statErr, readFile(t, path))
		}
		write(t, path, "games")
	}
}
