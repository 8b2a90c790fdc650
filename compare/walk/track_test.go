package walk

import (
	"fmt"
	"strings"
	"testing"
)

// Along a line: its name, its nearest note, its place in the book, where the last move came
// from, and the positions passed.
func TestTrack(t *testing.T) {
	b := whiteBook("{ Head. }\n1. d4 d5\n2. c4 { Gambit. } e6\n3. Nc3")
	for line, want := range map[string]string{
		"": "Head. 0 :2 ", "d4": "Head. 0 :2 d2", "d4 d5 c4": "Gambit. 3 :3 c2", "d4 d5 c4 e6": "Gambit. 3 :4 e7", "d4 d5 c4 e6 Nc3 Nf6": "Gambit. 3 :4 g8", "e4": "Head. 0 :2 e2",
	} {
		track := Resolved(strings.Fields(line))
		note, ply := track.Note(b)
		file, at := track.Spot(b)
		if got := fmt.Sprintf("%s %d %s:%d %s", note, ply, file, at, track.Origin()); got != want {
			t.Errorf("%q: %q, want %q", line, got, want)
		}
		if len(track.Keys) != len(track.Moves)+1 || track.Keys[len(track.Moves)] != track.End.Key() {
			t.Errorf("%q: %d keys", line, len(track.Keys))
		}
	}
	if file, at := (Track{Keys: []uint64{1}}).Spot(b); file != "" || at != 0 {
		t.Errorf("%s:%d", file, at)
	}
	one := Resolved([]string{"d4", "d5"})
	if two := one.And(Resolved([]string{"d4", "d5", "c4"}).Moves[2]); told(two.Moves) != "d4 d5 c4" || len(one.Moves) != 2 || two.Opening().Name != "Queen's Gambit" {
		t.Errorf("%s, %q", told(two.Moves), two.Opening().Name)
	}
}
