package walk

import (
	"strings"
	"testing"
)

// The line to expect stops under the reach asked for and names the likeliest other way; and
// where hardly any of many games were, though the forecast goes on.
func TestExpect(t *testing.T) {
	w := walked(whiteBook(orders), twoOrders, Options{MaxPly: 10, Threshold: 0.01})
	for from, want := range map[float64]string{0.3: "d4 d5 c4 Nf6", 0.72: "", 0.6: "d4 d5 c4 Nf6", 0.61: "", 0.73: ""} {
		s, aside := w.Expect(from)
		if got := told(s.Path()); got != want || aside == nil || told(aside.Path()) != "d4 Nf6" {
			t.Errorf("from %v: %s, aside %+v", from, got, aside)
		}
	}
	for games, want := range map[string]string{"20 0": "d4 d5", "20 1": "d4 d5 c4 Nf6", "19 0": "d4 d5 c4 Nf6"} {
		first, second, _ := strings.Cut(games, " ")
		look := chances{"d4": "d5 60 " + first + " Nf6 40 0", "d4 d5 c4": "Nf6 100 " + second, "d4 d5 c4 Nf6 Nc3": ""}
		w := walked(whiteBook("1. d4 d5 2. c4 Nf6 3. Nc3"), look, Options{MaxPly: 10, Threshold: 0.01})
		hardly := state(t, w, "d4 d5 c4 Nf6")
		hardly.Square = 0.5 // of which hardly anything is known
		if s, _ := w.Expect(0.3); told(s.Path()) != want {
			t.Errorf("%s games: %s, want %s", games, told(s.Path()), want)
		}
	}
	sure := walked(whiteBook("1. d4 d5 2. c4 Nf6 3. Nc3"), chances{"d4": "d5 90 20 Nf6 10 0", "d4 d5 c4": "Nf6 100 0"}, Options{MaxPly: 10, Threshold: 0.01})
	if s, _ := sure.Expect(0.3); told(s.Path()) != "d4 d5 c4 Nf6" {
		t.Errorf("well known: %s", told(s.Path()))
	}
}
