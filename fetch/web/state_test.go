package web

import (
	"os"
	"path/filepath"
	"testing"
)

// How the last fetch of a handle went: never, if only others were asked for; broken off, also
// by a death between the games and the state; unknown where nothing is remembered.
func TestHowAFetchWent(t *testing.T) {
	const text = `{"version": 1, "size": 3, "handles": {"done": {"whole": true}, "half": {"whole": false}}}`
	for _, c := range []struct {
		games, state, handle string
		want                 Fetched
	}{
		{"abc", text, "done", Whole},
		{"abc", text, "half", BrokenOff},
		{"abc", text, "new", Never},
		{"abcd", text, "done", BrokenOff},
		{"ab", text, "done", Unknown},
		{"abc", text[:40], "done", Unknown},
		{"abc", "", "done", Unknown},
		{"", text, "done", Unknown},
	} {
		games := filepath.Join(t.TempDir(), "games.pgn")
		for path, text := range map[string]string{games: c.games, statePath(games): c.state} {
			if text == "" {
				continue
			}
			if err := os.WriteFile(path, []byte(text), 0o600); err != nil {
				t.Fatal(err)
			}
		}
		if got := FetchOf(games, c.handle); got != c.want {
			t.Errorf("%q, %q: %s %d, want %d", c.games, c.state, c.handle, got, c.want)
		}
	}
}
