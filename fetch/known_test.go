package fetch

import (
	"fmt"
	"hash/maphash"
	"strings"
	"testing"
	"time"
)

// A source corrects a game: what makes the newer text take the older one's place, and
// what keeps two games apart.
func TestCorrections(t *testing.T) {
	const address, event = "https://example.org/games/7", "https://example.org/events/open"
	begun := []string{"UTCDate", "2019.03.01", "UTCTime", "18:00:00"}
	played := func(rival string, plies int, kind, result string, tags ...string) string {
		return game("Alder, Mina", rival, line(plies, kind), result, tags...)
	}
	with := func(list []string, more ...string) []string { return append(append([]string{}, list...), more...) }
	for _, c := range []struct {
		quirk, older, newer string
		games               int
	}{
		{"another result", played("Brook, T", 40, "a", "1-0", begun...), played("Brook, T", 40, "a", "0-1", begun...), 1},
		{"other moves at one start", played("Brook, T", 40, "a", "1-0", begun...), played("Brook, T", 44, "b", "1-0", begun...), 1},
		{"fewer moves with a result", played("Brook, T", 40, "a", "1-0", begun...), played("Brook, T", 38, "a", "1-0", begun...), 1},
		{"another rival at the address", played("Brook, T", 40, "a", "1-0", "Link", address), played("Crane, U", 40, "a", "1-0", "Link", address), 1},
		{"another day at the address", played("Brook, T", 40, "a", "1-0", "Link", address, "Date", "2019.03.01"),
			played("Brook, T", 40, "a", "1-0", "Link", address, "Date", "2019.03.08"), 1},
		{"other moves at the address", played("Brook, T", 40, "a", "1-0", "Link", address), played("Brook, T", 44, "b", "1-0", "Link", address), 1},
		{"another start at the address", played("Brook, T", 6, "a", "1-0", with(begun, "GameURL", address)...),
			played("Brook, T", 6, "a", "1-0", "UTCDate", "2019.03.01", "UTCTime", "18:02:00", "GameURL", address), 1},
		{"the result of a round", played("Brook, T", 40, "a", "1-0", "Date", "2019.03.01", "Round", "4"),
			played("Brook, T", 40, "a", "1/2-1/2", "Date", "2019.03.01", "Round", "4"), 1},
		{"the result at the address in Site", played("Brook, T", 40, "a", "1-0", "Site", address), played("Brook, T", 40, "a", "0-1", "Site", address), 1},

		{"two rivals at the event's address", played("Brook, T", 40, "a", "1-0", "Site", event), played("Crane, U", 40, "b", "1-0", "Site", event), 2},
		{"a match at the event's address", played("Brook, T", 40, "a", "1-0", "Site", event, "Round", "1"),
			played("Brook, T", 40, "b", "1-0", "Site", event, "Round", "2"), 2},
		{"a match, all under one address", played("Brook, T", 40, "a", "1-0", "Link", event, "Round", "1"),
			played("Brook, T", 40, "b", "1-0", "Link", event, "Round", "2"), 2},
		{"two games of a day at the event's address", played("Brook, T", 40, "a", "1-0", "Site", event, "Date", "2019.03.01"),
			played("Brook, T", 40, "b", "1-0", "Site", event, "Date", "2019.03.01"), 2},
		{"addresses that differ behind the path", played("Brook, T", 40, "a", "1-0", "Link", "https://example.org/game?id=7"),
			played("Brook, T", 40, "b", "1-0", "Link", "https://example.org/game?id=8"), 2},
		{"two games of a round", played("Brook, T", 40, "a", "1-0", "Date", "2019.03.01", "Round", "4"),
			played("Brook, T", 44, "b", "1-0", "Date", "2019.03.01", "Round", "4"), 2},
		{"a short game of a match begins like a long one", played("Brook, T", 40, "a", "1-0", "Link", event, "Round", "1"),
			game("Alder, Mina", "Brook, T", line(10, "a")+" "+line(3, "c"), "1-0", "Link", event, "Round", "2"), 2},
		{"midnight is no start", played("Brook, T", 40, "a", "1-0", "Date", "2019.03.01", "Time", "00:00:00"),
			played("Brook, T", 44, "b", "1-0", "Date", "2019.03.01", "Time", "00:00:00"), 2},
		{"colours changed at one start", played("Brook, T", 40, "a", "1-0", begun...),
			game("Brook, T", "Alder, Mina", line(40, "a"), "1-0", begun...), 2},
	} {
		t.Run(c.quirk, func(t *testing.T) {
			s := Store{t.TempDir()}
			before := onDay(9) + c.older + onDay(10)
			update(t, s, before)
			want := strings.Replace(before, c.older, c.newer, 1)
			if c.games == 2 {
				want = before + c.newer
			}
			for range 2 { // and so it stays
				if _, total := update(t, s, c.newer); total != 2+c.games || kept(t, s) != want {
					t.Fatalf("%d games, kept\n%s", total, kept(t, s))
				}
			}
			if c.games == 2 {
				if added, _ := update(t, s, c.older+c.newer); added != 0 || kept(t, s) != want {
					t.Errorf("they drive each other out:\n%s", kept(t, s))
				}
			}
		})
	}
}

// A text with less of a game corrects nothing.
func TestLessIsNoCorrection(t *testing.T) {
	const address = "https://example.org/games/7"
	whole := game("Alder, Mina", "Brook, T", line(40, "a"), "1-0", "Link", address)
	for name, less := range map[string]string{
		"no moves":   game("Alder, Mina", "Brook, T", "", "1-0", "Link", address),
		"no result":  game("Alder, Mina", "Brook, T", line(60, "a"), "*", "Link", address),
		"broken off": game("Alder, Mina", "Brook, T", line(20, "a"), "*", "Link", address),
	} {
		s := Store{t.TempDir()}
		update(t, s, whole)
		if added, total := update(t, s, less); added != 0 || total != 1 || kept(t, s) != whole {
			t.Errorf("%s: %d, %d, kept\n%s", name, added, total, kept(t, s))
		}
	}
}

// A newer text has less where it lost its result or all moves, or breaks off earlier than one
// that had no result either.
func TestWhatIsLess(t *testing.T) {
	of := func(moves, result string) *gameCopy {
		return aCopy(t, "", "a.pgn", 10, game("Alder, Mina", "Brook, T", moves, result))
	}
	for _, c := range []struct {
		quirk      string
		newer, old *gameCopy
		want       bool
	}{
		{"the same", of("a1 a2", "*"), of("a1 a2", "*"), false}, {"broken off earlier", of("a1", "*"), of("a1 a2", "*"), true}, {"going on", of("a1 a2 a3", "*"), of("a1 a2", "*"), false},
		{"other moves, fewer", of("b1", "*"), of("a1 a2", "*"), false}, {"no result any more", of("a1 a2 a3", "*"), of("a1 a2", "1-0"), true}, {"a result now", of("a1", "1-0"), of("a1 a2", "*"), false},
		{"no moves, a result", of("", "1-0"), of("a1", "*"), true}, {"no moves before either", of("", "1-0"), of("", "*"), false}, {"fewer moves, another result", of("a1", "1-0"), of("a1 a2", "0-1"), false},
	} {
		if got := lessOf(c.newer, c.old); got != c.want {
			t.Errorf("%s: %v", c.quirk, got)
		}
	}
}

// Words run together are not the words.
func TestSumsOfParts(t *testing.T) {
	s := &Shelf{seed: maphash.MakeSeed()}
	if one, other := s.sum([]string{"ab", "c"}), s.sum([]string{"a", "bc"}); one == other {
		t.Error("sums of other parts are equal")
	}
}

// What an older text was known by may be another game's when it was corrected.
func TestCorrectedStartIsFree(t *testing.T) {
	at := func(clock, moves, address string) string {
		return game("Alder, Mina", "Brook, T", line(40, moves), "1-0", "UTCDate", "2019.03.01", "UTCTime", clock, "Link", "https://example.org/"+address)
	}
	shelf := openShelf(t, Store{t.TempDir()})
	put(shelf, at("18:00:00", "a", "7")+at("19:00:00", "a", "7"))
	if shelf.Len() != 1 || shelf.Corrected() != 1 {
		t.Errorf("%d games, %d corrected", shelf.Len(), shelf.Corrected())
	}
	if added := put(shelf, at("18:00:00", "b", "8")); added != 1 || shelf.Len() != 2 || shelf.Corrected() != 1 {
		t.Errorf("%d new of %d, %d corrected", added, shelf.Len(), shelf.Corrected())
	}
}

// How the time of a shelf grows: `x-linear` is the time of ten times as many games over
// ten times that of a tenth; a square would make it 10.
func BenchmarkShelfGrowth(b *testing.B) {
	for name, one := range map[string]func(int) string{
		"distinct": func(i int) string {
			return game("Alder, Mina", fmt.Sprintf("Brook, %d", i), line(4, "a"), "1-0")
		},
		"one-address": func(i int) string {
			return game("Alder, Mina", fmt.Sprintf("Brook, %d", i), line(4, "a"), "1-0", "Site", "https://example.org/open")
		},
		"one-round": func(i int) string {
			return game("Alder, Mina", "Brook, T", line(4, "a"), "1-0", "Date", "2019.03.01", "Round", "1", "Board", fmt.Sprint(i))
		},
		"equal": func(int) string { return game("Alder, Mina", "Brook, T", line(4, "a"), "1-0") },
	} {
		b.Run(name, func(b *testing.B) {
			var few, many time.Duration
			for b.Loop() {
				few += shelve(b, 2000, one)
				many += shelve(b, 20_000, one)
			}
			b.ReportMetric(float64(many)/float64(few)/10, "x-linear")
		})
	}
}

func shelve(b *testing.B, n int, one func(int) string) time.Duration {
	var text strings.Builder
	for i := range n {
		text.WriteString(one(i))
	}
	shelf := openShelf(b, Store{b.TempDir()})
	begun := time.Now()
	for g := range read(text.String()) {
		shelf.Add(g)
	}
	return time.Since(begun)
}
