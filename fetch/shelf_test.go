package fetch

import (
	"errors"
	"fmt"
	"os"
	"path/filepath"
	"runtime"
	"slices"
	"strings"
	"testing"

	"foreply/fetch/pgn"
)

func openShelf(t testing.TB, s Store) *Shelf {
	t.Helper()
	shelf, err := s.Open("site", "Alder, Mina")
	if err != nil {
		t.Fatal(err)
	}
	t.Cleanup(shelf.Close)
	return shelf
}

// put adds the games of a text and returns how many were new.
func put(shelf *Shelf, text string) (added int) {
	for g := range read(text) {
		if shelf.Add(g) {
			added++
		}
	}
	return added
}

// Two texts of one game, from one source: by what they are known, and what is
// kept apart.
func TestCopiesOnAShelf(t *testing.T) {
	game := func(plies int, result string, tags ...string) string {
		return game("Alder, Mina", "Brook, T", line(plies, "a"), result, tags...)
	}
	for _, c := range []struct {
		quirk, first, second string
		added                int
	}{
		{"the same time, rated later", game(3, "1-0", "UTCDate", "2019.03.01", "UTCTime", "18:00:00"),
			game(3, "1-0", "UTCDate", "2019.03.01", "UTCTime", "18:00:00", "WhiteElo", "1800"), 0},
		{"another time", game(60, "1-0", "UTCDate", "2019.03.01", "UTCTime", "18:00:00"),
			game(40, "1-0", "UTCDate", "2019.03.01", "UTCTime", "18:20:00"), 1},
		{"the same number", game(3, "1-0", "GameId", "77"), game(3, "1-0", "GameId", "77", "WhiteElo", "1800"), 0},
		{"another number", game(3, "1-0", "GameId", "77"), game(3, "1-0", "GameId", "78"), 1},
		{"the same address", game(3, "*", "Link", "https://example.org/7"), game(30, "1-0", "Link", "https://example.org/7"), 0},
		{"the same day and round", game(3, "1-0", "Date", "2019.03.01", "Round", "4"),
			game(3, "1-0", "Date", "2019.03.01", "Round", "4.2", "WhiteElo", "1800"), 0},
		{"another round of the day", game(3, "1-0", "Date", "2019.03.01", "Round", "4"), game(3, "1-0", "Date", "2019.03.01", "Round", "5"), 1},
		{"the same day, many moves", game(30, "1-0", "Date", "2019.03.01"), game(30, "1-0", "Date", "2019.03.01", "WhiteElo", "1800"), 0},
		{"the same day, few moves", game(6, "1-0", "Date", "2019.03.01"), game(6, "1-0", "Date", "2019.03.01", "WhiteElo", "1800"), 1},
		{"the same path at another host", game(30, "1-0", "Link", "https://example.org/7"), game(30, "1-0", "Link", "https://other.example.org/7"), 1},
		{"the same time by another tag", game(40, "1-0", "UTCDate", "2019.03.01", "UTCTime", "18:00:00"), game(40, "1-0", "Date", "2019.03.01", "StartTime", "18:00:00"), 1},
		{"nothing but the moves, the same word in another tag", game(60, "1-0", "Event", "cup"), game(60, "1-0", "Annotator", "cup"), 1},
		{"nothing but the moves, and nothing else", game(2, "1-0"), game(2, "1-0"), 0},
		{"nothing but the moves, in another event", game(60, "1-0"), game(60, "1-0", "Event", "cup"), 1},
	} {
		t.Run(c.quirk, func(t *testing.T) {
			s := Store{t.TempDir()}
			update(t, s, c.first)
			if added, total := update(t, s, c.second); added != c.added || total != 1+c.added {
				t.Errorf("kept before: %d, %d", added, total)
			}
			if added := put(openShelf(t, Store{t.TempDir()}), c.first+c.second); added != 1+c.added {
				t.Errorf("at once: %d", added)
			}
		})
	}
}

// A game that comes fuller again and again keeps its place.
func TestFullerAndFuller(t *testing.T) {
	s := Store{t.TempDir()}
	upTo := func(plies int, result string) string {
		return game("Alder, Mina", "Brook, T", line(plies, "a"), result, "Link", "https://example.org/7")
	}
	shelf := openShelf(t, s)
	put(shelf, onDay(1)+upTo(6, "*")+onDay(2))
	for _, text := range []string{upTo(20, "*"), upTo(10, "*"), upTo(40, "1-0"), upTo(40, "1-0"), upTo(6, "*")} {
		if put(shelf, text) != 0 || shelf.Len() != 3 {
			t.Errorf("%d games", shelf.Len())
		}
		if err := shelf.Save(); err != nil {
			t.Fatal(err)
		}
	}
	if want := onDay(1) + upTo(40, "1-0") + onDay(2); kept(t, s) != want {
		t.Errorf("kept\n%s", kept(t, s))
	}
	if put(shelf, onDay(3)) != 1 || shelf.Save() != nil || !strings.HasSuffix(kept(t, s), onDay(3)) {
		t.Errorf("after saving:\n%s", kept(t, s))
	}
}

// What waits beside the games is gone when the shelf is closed, and what a killed
// run left there is no game.
func TestShelfCleansUp(t *testing.T) {
	s := Store{t.TempDir()}
	update(t, s, onDay(1))
	folder := filepath.Dir(s.Path("site", "Alder, Mina"))
	for _, name := range []string{".games.part", ".games.pgn-123.part", ".answer.part"} {
		if err := os.WriteFile(filepath.Join(folder, name), []byte(onDay(2)), 0o644); err != nil {
			t.Fatal(err)
		}
	}
	if added, total := update(t, s, onDay(3)); added != 1 || total != 2 {
		t.Errorf("%d, %d", added, total)
	}
	if left, _ := filepath.Glob(filepath.Join(folder, ".*.part")); len(left) > 0 {
		t.Errorf("left behind: %v", left)
	}
}

// Without room to write, nothing is saved and the old games stay.
func TestShelfThatCannotBeWritten(t *testing.T) {
	s := Store{t.TempDir()}
	update(t, s, onDay(1))
	shelf := openShelf(t, s)
	shelf.spool.Close() // so that every writing fails
	long := game("Alder, Mina", "Brook, T", line(40, "a"), "1-0", "UTCDate", "2020.01.01", "UTCTime", "18:00:00", "Event", strings.Repeat("x", 70_000))
	put(shelf, long+onDay(2))
	if err := shelf.Save(); err == nil || !strings.Contains(err.Error(), "writing") {
		t.Errorf("%v", err)
	}
	if kept(t, s) != onDay(1) {
		t.Errorf("kept\n%s", kept(t, s))
	}
	shelf.unlock()
	if _, err := s.Open("site", "Alder, Mina"); err != nil {
		t.Error(err)
	}
}

// A file that somebody put together has an older text beside its newer one: reading corrects
// nothing. What can't be read is said at once.
func TestShelfOfAnOddFile(t *testing.T) {
	s := Store{t.TempDir()}
	update(t, s, onDay(1))
	path := s.Path("site", "Alder, Mina")
	if err := os.WriteFile(path, []byte(onDay(1)+strings.Replace(onDay(1), "1-0", "0-1", 2)), 0o600); err != nil {
		t.Fatal(err)
	}
	shelf := openShelf(t, s)
	if shelf.Len() != 1 || shelf.Corrected() != 0 {
		t.Errorf("%d games, %d corrected", shelf.Len(), shelf.Corrected())
	}
	first := errors.New("first")
	shelf.fail(nil)
	shelf.fail(first)
	if shelf.fail(errors.New("second")); shelf.err != first {
		t.Errorf("%v", shelf.err)
	}
	if err := os.MkdirAll(s.Path("site", "folder"), 0o700); err != nil {
		t.Fatal(err)
	}
	for range 2 { // the lock is free again
		if _, err := s.Open("site", "folder"); err == nil || errors.Is(err, ErrLocked) {
			t.Errorf("a folder is read: %v", err)
		}
	}
}

// A text stands alone if it reads as the game it is, and so does one behind it.
func TestReadsAlone(t *testing.T) {
	const text = "[White \"Alder, Mina\"]\n\n1. e4 e5"
	whole := func(text string) *gameCopy { return aCopy(t, "", "a.pgn", 10, text) }
	for _, c := range []struct {
		text, of string
		want     bool
	}{
		{text, text, true}, {text, strings.Replace(text, "Mina", "Tomas", 1), false}, {text, text + " 2. d4", false}, {text + " {", text, false}, {text + " *\n\n" + text, text, false},
	} {
		if got := readsAlone([]byte(c.text), whole(c.of).game); got != c.want {
			t.Errorf("%q as %q: %v", c.text, c.of, got)
		}
	}
}

// What could not be saved is saved by the next try.
func TestShelfSavedInTheEnd(t *testing.T) {
	s := Store{t.TempDir()}
	shelf := openShelf(t, s)
	put(shelf, onDay(1))
	if err := os.Mkdir(shelf.Path(), 0o700); err != nil { // where the file should be
		t.Fatal(err)
	}
	if err := shelf.Save(); err == nil {
		t.Fatal("no error")
	}
	if err := os.Remove(shelf.Path()); err != nil {
		t.Fatal(err)
	}
	if err := shelf.Save(); err != nil || kept(t, s) != onDay(1) {
		t.Errorf("error %v, kept\n%s", err, kept(t, s))
	}
}

// In memory a shelf has only where its games lie: a million would take some tens
// of megabytes.
func TestShelfMemory(t *testing.T) {
	const games, each = 20_000, 64
	shelf := openShelf(t, Store{t.TempDir()})
	before := live()
	for g := range read(manyGames(games)) {
		shelf.Add(g)
	}
	if used := live() - before; shelf.Len() != games || used > games*each {
		t.Errorf("%d games take %d bytes, more than %d each", shelf.Len(), used, each)
	}
	runtime.KeepAlive(shelf)
}

// live is how much memory is in use.
func live() int64 {
	runtime.GC()
	var m runtime.MemStats
	runtime.ReadMemStats(&m)
	return int64(m.HeapAlloc)
}

func manyGames(n int) string {
	var out strings.Builder
	for i := range n {
		out.WriteString(game("Alder, Mina", fmt.Sprintf("Brook, %d", i%100), line(40, "a"), "1-0", "UTCDate", "2019.03.01",
			"UTCTime", fmt.Sprintf("%02d:%02d:%02d", i/3600, i/60%60, i%60)))
	}
	return out.String()
}

func BenchmarkShelf(b *testing.B) {
	text := manyGames(5000)
	games := slices.Collect(func(yield func(*pgn.Game) bool) {
		for g := range read(text) {
			yield(g.Clone())
		}
	})
	s := Store{b.TempDir()}
	for _, name := range []string{"new", "known"} {
		b.Run(name, func(b *testing.B) {
			b.SetBytes(int64(len(text)))
			for b.Loop() {
				if name == "new" {
					os.Remove(s.Path("site", "Alder, Mina"))
				}
				shelf := openShelf(b, s)
				for _, g := range games {
					shelf.Add(g)
				}
				if err := shelf.Save(); err != nil {
					b.Fatal(err)
				}
				shelf.Close()
			}
		})
	}
}
