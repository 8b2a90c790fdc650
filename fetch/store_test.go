package fetch

import (
	"context"
	"errors"
	"fmt"
	"io"
	"iter"
	"os"
	"path/filepath"
	"slices"
	"strings"
	"sync"
	"testing"

	"foreply/fetch/pgn"
)

// read is the games of a text, as a download hands them on.
func read(text string) iter.Seq[*pgn.Game] {
	return pgn.NewReader(strings.NewReader(text), pgn.Options{}).All()
}

func update(t *testing.T, s Store, text string) (added, total int) {
	t.Helper()
	added, total, err := s.Update(context.Background(), "site", "Alder, Mina", read(text))
	if err != nil {
		t.Fatal(err)
	}
	return added, total
}

func kept(t *testing.T, s Store) string {
	t.Helper()
	text, err := os.ReadFile(s.Path("site", "Alder, Mina"))
	if err != nil {
		t.Fatal(err)
	}
	return string(text)
}

func onDay(n int) string {
	return game("Alder, Mina", "Brook, T", line(40, "a"), "1-0", "UTCDate", fmt.Sprintf("2019.03.%02d", n), "UTCTime", "18:00:00")
}

func TestUpdate(t *testing.T) {
	s := Store{t.TempDir()}
	if added, total := update(t, s, onDay(1)+onDay(2)); added != 2 || total != 2 {
		t.Errorf("first: %d, %d", added, total)
	}
	if added, total := update(t, s, onDay(2)+onDay(3)); added != 1 || total != 3 {
		t.Errorf("one old, one new: %d, %d", added, total)
	}
	if want := onDay(1) + onDay(2) + onDay(3); kept(t, s) != want {
		t.Errorf("kept\n%s\nwant\n%s", kept(t, s), want)
	}
	before, _ := os.Stat(s.Path("site", "Alder, Mina"))
	if added, total := update(t, s, onDay(1)); added != 0 || total != 3 {
		t.Errorf("nothing new: %d, %d", added, total)
	}
	if after, _ := os.Stat(s.Path("site", "Alder, Mina")); !os.SameFile(before, after) {
		t.Error("the file was written although nothing is new")
	}
	if added, total := update(t, s, ""); added != 0 || total != 3 {
		t.Errorf("the source has lost all: %d, %d", added, total)
	}
	entries, _ := filepath.Glob(filepath.Join(s.Folder, "site", "*", "*"))
	if len(entries) != 2 || !strings.HasSuffix(entries[0], ".lock") {
		t.Errorf("files %v", entries)
	}
}

func TestUpdateWithAFullerCopy(t *testing.T) {
	const link = "https://example.org/game/1"
	begun := game("Alder, Mina", "Brook, T", line(6, "a"), "*", "Link", link)
	ended := game("Alder, Mina", "Brook, T", line(40, "a"), "1-0", "Link", link)
	for _, c := range []struct{ quirk, first, second string }{
		{"finished since", begun, ended},
		{"the poorer copy comes later", ended, begun},
	} {
		t.Run(c.quirk, func(t *testing.T) {
			s := Store{t.TempDir()}
			update(t, s, onDay(1)+c.first+onDay(2))
			if added, total := update(t, s, c.second); added != 0 || total != 3 {
				t.Errorf("%d, %d", added, total)
			}
			if want := onDay(1) + ended + onDay(2); kept(t, s) != want {
				t.Errorf("kept\n%s", kept(t, s))
			}
		})
	}
}

func TestUndatedGamesAreKeptOnceAndOnlyOnce(t *testing.T) {
	s := Store{t.TempDir()}
	one := game("Alder, Mina", "Brook, T", line(80, "a"), "1-0", "Event", "one")
	two := game("Alder, Mina", "Brook, T", line(80, "a"), "1-0", "Event", "two")
	update(t, s, one)
	if added, total := update(t, s, one+two); added != 1 || total != 2 {
		t.Errorf("%d, %d", added, total)
	}
}

// Too short to be known by its moves, and no tag proves the occasion; but nothing
// tells the two apart.
func TestShortGameIsKeptOnce(t *testing.T) {
	s := Store{t.TempDir()}
	short := game("Alder, Mina", "Brook, T", line(2, "a"), "1-0", "UTCDate", "2019.03.01")
	update(t, s, short)
	if added, total := update(t, s, short); added != 0 || total != 1 {
		t.Errorf("%d, %d", added, total)
	}
}

func TestUpdateKeepsTwoGamesOfOneTrap(t *testing.T) {
	s := Store{t.TempDir()}
	trap := func(time string) string {
		return game("Alder, Mina", "Brook, T", line(9, "a"), "1-0", "UTCDate", "2019.03.01", "UTCTime", time)
	}
	if added, total := update(t, s, trap("18:00:00")+trap("18:02:00")); added != 2 || total != 2 {
		t.Errorf("%d, %d", added, total)
	}
}

// Texts that mean something else between other games, and what must be kept.
func TestTextsThatDoNotStandAlone(t *testing.T) {
	for _, c := range []struct{ quirk, text string }{
		{"open comment", "[White \"Alder, Mina\"]\n\n1. e4 e5 { and so on"},
		{"open variation", "[White \"Alder, Mina\"]\n\n1. e4 e5 (1... c5"},
		{"no result", "[White \"Alder, Mina\"]\n\n1. e4 e5"},
		{"no tags", "1. e4 e5 *"},
		{"no tags and no result", "1. e4 e5"},
		{"carriage returns", "[White \"Alder, Mina\"]\r\n\r\n1. e4 e5 *\r\n"},
		{"Windows-1252", "[White \"Alder, Mina\"]\n[Black \"M\xfcller\"]\n\n1. e4 e5 *\n"},
		{"comment to the end of the line", "[White \"Alder, Mina\"]\n\n1. e4 e5 ; so it ends"},
		{"quotes in a tag", "[White \"Alder, Mina\"]\n[Event \"the \\\"club\\\" \\\\ cup\"]\n\n1. e4 e5 *\n"},
	} {
		t.Run(c.quirk, func(t *testing.T) {
			s := Store{t.TempDir()}
			update(t, s, c.text)
			update(t, s, onDay(1))
			text := kept(t, s)
			var got []string
			for g := range read(text) {
				got = append(got, foldMoves(g.Moves).squares)
			}
			if len(got) != 2 || got[0] != "e4 e5 " || strings.Contains(text, "\r") || c.quirk == "no result" && !strings.HasPrefix(text, c.text+"\n\n") {
				t.Fatalf("reads as %q:\n%s", got, text)
			}
			update(t, s, onDay(2))
			if again := kept(t, s); !strings.HasPrefix(again, text) {
				t.Errorf("the text changes when written again:\n%s\nbefore\n%s", again, text)
			}
		})
	}
}

func TestUpdateInterrupted(t *testing.T) {
	s := Store{t.TempDir()}
	update(t, s, onDay(1))
	ctx, stop := context.WithCancelCause(context.Background())
	cause := errors.New("enough")
	cancel := func() { stop(cause) }
	games := func(yield func(*pgn.Game) bool) {
		n := 0
		for g := range read(onDay(2) + onDay(3) + onDay(4)) {
			if n++; n == 3 {
				cancel()
			}
			if !yield(g) {
				return
			}
		}
	}
	added, total, err := s.Update(ctx, "site", "Alder, Mina", games)
	if added != 2 || total != 3 || err != cause {
		t.Errorf("%d, %d, %v", added, total, err)
	}
	if want := onDay(1) + onDay(2) + onDay(3); kept(t, s) != want {
		t.Errorf("kept\n%s", kept(t, s))
	}
}

func TestUpdateLocked(t *testing.T) {
	s := Store{t.TempDir()}
	var err error
	inner := func(yield func(*pgn.Game) bool) {
		_, _, err = s.Update(context.Background(), "site", "Alder, Mina", func(func(*pgn.Game) bool) {
			t.Error("games were asked for")
		})
		for g := range read(onDay(1)) {
			yield(g)
		}
	}
	if _, total, outer := s.Update(context.Background(), "site", "Alder, Mina", inner); outer != nil || total != 1 {
		t.Errorf("outer: %d, %v", total, outer)
	}
	if !errors.Is(err, ErrLocked) || err.Error() != "writing "+s.Path("site", "Alder, Mina")+": another foreply is writing there" {
		t.Errorf("inner: %v", err)
	}
	if _, total := update(t, s, onDay(2)); total != 2 {
		t.Errorf("afterwards: %d", total)
	}
}

// Many runs at once: each either adds its game or says that it may not.
func TestUpdatesAtOnce(t *testing.T) {
	s := Store{t.TempDir()}
	var (
		wait sync.WaitGroup
		errs = make([]error, 20)
	)
	for i := range errs {
		wait.Go(func() {
			_, _, errs[i] = s.Update(context.Background(), "site", "Alder, Mina", read(onDay(i+1)))
		})
	}
	wait.Wait()
	want := 0
	for _, err := range errs {
		if err == nil {
			want++
		} else if !errors.Is(err, ErrLocked) {
			t.Error(err)
		}
	}
	if n := len(slices.Collect(read(kept(t, s)))); n != want || want == 0 {
		t.Errorf("%d games kept by %d runs", n, want)
	}
}

func TestUpdateThatCannotWrite(t *testing.T) {
	t.Run("a file stands where the folder should", func(t *testing.T) {
		dir := folder(t, "site", "")
		if _, _, err := (Store{dir}).Update(context.Background(), "site", "x", read(onDay(1))); err == nil {
			t.Error("no error")
		}
	})
	t.Run("a folder stands where the file should", func(t *testing.T) {
		s := Store{t.TempDir()}
		path := s.Path("site", "x")
		if err := os.MkdirAll(path, 0o755); err != nil {
			t.Fatal(err)
		}
		if _, _, err := s.Update(context.Background(), "site", "x", read(onDay(1))); err == nil {
			t.Error("no error")
		}
		if parts, _ := filepath.Glob(filepath.Join(s.Folder, "site", "x", ".*.part")); len(parts) != 0 {
			t.Errorf("left behind: %v", parts)
		}
	})
}

// A file is replaced as a whole, for its owner alone; where that fails the error names it and
// not what is written beside, and the old one stays.
func TestReplaceFile(t *testing.T) {
	dir := folder(t, "a.txt", "old", "b.txt/x", "")
	path := filepath.Join(dir, "a.txt")
	failing := errors.New("no more")
	err := ReplaceFile(path, func(w io.Writer) error { io.WriteString(w, "half"); return failing })
	if text, _ := os.ReadFile(path); string(text) != "old" || !errors.Is(err, failing) || err.Error() != "writing "+path+": no more" {
		t.Errorf("%s, %v", text, err)
	}
	whole := func(w io.Writer) error { _, err := io.WriteString(w, "new"); return err }
	for name, want := range map[string]string{"gone/a.txt": "no such file or directory", "b.txt": "file exists"} {
		if err := ReplaceFile(filepath.Join(dir, name), whole); err == nil || err.Error() != "writing "+filepath.Join(dir, name)+": "+want {
			t.Errorf("%v", err)
		}
	}
	if err := ReplaceFile(path, whole); err != nil {
		t.Error(err)
	}
	info, _ := os.Stat(path)
	if text, _ := os.ReadFile(path); string(text) != "new" || info.Mode().Perm() != 0o600 {
		t.Errorf("%s, %v", text, info.Mode())
	}
	if left, _ := filepath.Glob(filepath.Join(dir, ".*")); len(left) > 0 {
		t.Errorf("left behind: %v", left)
	}
}

func TestPath(t *testing.T) {
	s := Store{filepath.FromSlash("/cache")}
	seen := map[string]string{}
	for _, c := range []struct{ quirk, source, opponent, want string }{
		{"plain", "site", "tidewalker77", "site/tidewalker77/games.pgn"},
		{"case", "Site", "TideWalker78", "site/tidewalker78/games.pgn"},
		{"signs that stay apart", "site", "a_b", "site/a_b/games.pgn"},
		{"signs that stay apart, too", "site", "a-b", "site/a-b/games.pgn"},
		{"name", "site", "Alder, Mina", "site/alder%2C%20mina/games.pgn"},
		{"way out of the folder", "../..", "../../etc/passwd", "%2E%2E%2F%2E%2E/%2E%2E%2F%2E%2E%2Fetc%2Fpasswd/games.pgn"},
		{"backslash and drive", "c:\\x", "..\\y", "c%3A%5Cx/%2E%2E%5Cy/games.pgn"},
		{"dot", ".", ".", "%2E/%2E/games.pgn"},
		{"nothing", "", "", "%/%/games.pgn"},
		{"device name", "con", "LPT1", "%63on/%6Cpt1/games.pgn"},
		{"the first device name", "com0", "aux1", "%63om0/aux1/games.pgn"},
		{"almost a device name", "com", "lpt10", "com/lpt10/games.pgn"},
		{"zero byte and line end", "a\x00b", "a\nb", "a%00b/a%0Ab/games.pgn"},
		{"umlaut", "site", "Ä", "site/%C3%A4/games.pgn"},
		{"percent", "site", "%C3%A4", "site/%25c3%25a4/games.pgn"},
	} {
		t.Run(c.quirk, func(t *testing.T) {
			got := s.Path(c.source, c.opponent)
			if rel, _ := filepath.Rel(s.Folder, got); filepath.ToSlash(rel) != c.want {
				t.Errorf("%s, want %s", rel, c.want)
			}
			if other, ok := seen[got]; ok {
				t.Errorf("the same as for %s", other)
			}
			seen[got] = c.quirk
		})
	}
	if most := strings.Repeat("x", longestFileName); filepath.Base(filepath.Dir(s.Path("s", most))) != most {
		t.Error("a name that is just short enough is cut")
	}
	long := strings.Repeat("x", 300)
	one, two := filepath.Base(filepath.Dir(s.Path("s", long+"1"))), filepath.Base(filepath.Dir(s.Path("s", long+"2")))
	if one == two || len(one) > 200 {
		t.Errorf("long names: %s and %s", one, two)
	}
}

func FuzzPath(f *testing.F) {
	f.Add("site", "Alder, Mina")
	f.Add("..", "nul")
	f.Fuzz(func(t *testing.T, source, opponent string) {
		s := Store{filepath.FromSlash("/cache")}
		rel, err := filepath.Rel(s.Folder, s.Path(source, opponent))
		if err != nil || !filepath.IsLocal(rel) || strings.Count(filepath.ToSlash(rel), "/") != 2 || len(rel) > 300 {
			t.Errorf("%q, %q: %s", source, opponent, rel)
		}
	})
}
