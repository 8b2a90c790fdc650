package fetch

import (
	"strings"
	"testing"

	"foreply/fetch/pgn"
)

// In a file of many blocks a note still names the game it is about.
func TestNotesFarIntoAFile(t *testing.T) {
	const before = 20_000
	both := game("Alder, Mina", "tide", line(30, "a"), "1-0")
	text := strings.Repeat(game("Brook, T", "Crane, U", line(30, "b"), "1-0"), before) + both + strings.Repeat(both, 2)
	r := run(t, Options{Who: Who{Names: []string{"Alder, Mina", "tide"}}}, folder(t, "a.pgn", text))
	var games []int
	for _, p := range r.Problems {
		if p.Kind == pgn.Kind(BothSides) {
			games = append(games, p.Game)
		}
	}
	if len(games) != 3 || games[0] != before+1 || games[2] != before+3 {
		t.Errorf("notes on games %v", games)
	}
}
