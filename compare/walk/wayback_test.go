package walk

import (
	"fmt"
	"strings"
	"testing"

	"foreply/compare/book"
	"foreply/profile"
	"foreply/profile/board"
)

// wayFrom is the way back from the end of a line: 'c4 0.75 into c4 d5'; 'none'.
func wayFrom(w *Ways, line string) string {
	at := Resolved(strings.Fields(line))
	b := w.From(&at.End)
	if b == nil {
		return "none"
	}
	into := at
	for _, m := range b.Into {
		into = into.And(m)
	}
	return fmt.Sprintf("%s %.2f into %s", at.End.SAN(b.Move), b.P, strings.Join(into.SANs[len(at.SANs):], " "))
}

const queens = "1. d4 d5 2. c4 e6 3. Nc3 Nf6 4. Bg5"

// A way back takes two moves of the user's at most; half of their moves must come back, and the
// likeliest of them; those under 5 in 100 are not looked behind.
func TestWayBackByHand(t *testing.T) {
	later := func(first, then string) chances {
		return chances{"d4 e6 c4": first, "d4 e6 c4 Nf6 Nc3": then}
	}
	for name, c := range map[string]struct {
		line string
		look chances
		want string
	}{
		"at once":                      {"d4 e6", later("d5 90 9 f5 10 1", ""), "c4 0.90 into c4 d5"},
		"at once, or a move later":     {"d4 e6", later("d5 50 5 Nf6 40 4", "d5 80 8"), "c4 0.82 into c4 d5"},
		"mostly a move later":          {"d4 e6", later("Nf6 60 6 d5 30 3", "d5 80 8"), "c4 0.78 into c4 Nf6 Nc3 d5"},
		"behind one of 5 in 100":       {"d4 e6", later("d5 60 6 Nf6 5 1", "d5 80 8"), "c4 0.64 into c4 d5"},
		"behind one of 4":              {"d4 e6", later("d5 60 6 Nf6 4 1", "d5 80 8"), "c4 0.60 into c4 d5"},
		"half of them":                 {"d4 e6", later("d5 50 5 f5 40 4", ""), "c4 0.50 into c4 d5"},
		"less":                         {"d4 e6", later("d5 49 5 f5 40 4", ""), "none"},
		"half of them, a move later":   {"d4 e6", later("Nf6 60 6 d5 40 4", "d5 50 5"), "c4 0.70 into c4 d5"},
		"less, a move later":           {"d4 e6", later("Nf6 60 6 d5 40 4", "d5 49 5"), "none"},
		"not the likeliest":            {"d4 e6", later("f5 36 4 d5 34 3 Nf6 30 3", "d5 100 9"), "none"},
		"no forecast":                  {"d4 e6", nil, "none"},
		"nothing of theirs comes back": {"d4 e6", later("a6 90 9 h6 10 1", ""), "none"},
	} {
		b := whiteBook(queens)
		if got := wayFrom(NewWays(b, c.look), c.line); got != c.want {
			t.Errorf("%s: %s, want %s", name, got, c.want)
		}
	}
	longer := NewWays(whiteBook(queens[:len(queens)-len("4. Bg5")]+"4. Nf3 Be7 5. Bg5"), chances{
		"d4 Nf6 c4": "e6 100 9", "d4 Nf6 c4 e6 Nc3": "Be7 100 9", "d4 Nf6 c4 e6 Nc3 Be7 Nf3": "d5 100 9",
	})
	for line, want := range map[string]string{"d4 Nf6": "none", "d4 Nf6 c4 e6": "Nc3 1.00 into Nc3 Be7 Nf3 d5", "d4 Nf6 c4 e6 Nc3 Be7": "Nf3 1.00 into Nf3 d5"} {
		if got := wayFrom(longer, line); got != want {
			t.Errorf("three moves, from %s: %s, want %s", line, got, want)
		}
	}
}

// The same with Black; to come back to what the book has earlier is going to and fro, to what
// it has later is not; of equals the usual kind of move is the best.
func TestWayBackWithBlack(t *testing.T) {
	const sicilians = "1. e4 c5 2. Nf3 e6 3. Nc3 d6 *\n\n1. e4 c5 2. Nf3 Nc6 3. Nc3 g6 *\n\n1. d4 Nc6"
	for name, c := range map[string]struct {
		mine             board.Color
		text, line, want string
		look             chances
	}{
		"captures on the way": {board.Black, "1. e4 c5 2. Nf3 e6 3. d4 cxd4 4. Nxd4 a6 5. Nc3 Qc7", "e4 c5 Nf3 e6 Nc3", "a6 0.72 into a6 d4 cxd4 Nxd4",
			chances{"e4 c5 Nf3 e6 Nc3 a6": "d4 80 8", "e4 c5 Nf3 e6 Nc3 a6 d4 cxd4": "Nxd4 90 9"}},
		"of equals the usual":       {board.Black, sicilians, "e4 c5 Nc3", "Nc6 0.82 into Nc6 Nf3", chances{"e4 c5 Nc3 e6": "Nf3 84 8", "e4 c5 Nc3 Nc6": "Nf3 82 8"}},
		"one comes back more":       {board.Black, sicilians, "e4 c5 Nc3", "e6 0.86 into e6 Nf3", chances{"e4 c5 Nc3 e6": "Nf3 86 8", "e4 c5 Nc3 Nc6": "Nf3 82 8"}},
		"what the book has earlier": {board.White, "1. e4 e5 2. Nf3 Nc6 3. Bb5", "e4 e5 Nf3 Nf6", "none", chances{"e4 e5 Nf3 Nf6 Ng1": "Ng8 100 9"}},
		"what the book has later":   {board.Black, "1. d3 d6 2. d4 d5 3. c4 e6", "d4", "d5 1.00 into d5 c4", chances{"d4 d5": "c4 100 9"}},
		"a queen passed by":         {board.White, "1. e4 e5 2. Nf3 Nc6 3. Bc4 Qg5 4. Bb5", "e4 e5 Nf3 Qg5", "none", chances{"e4 e5 Nf3 Qg5 Bc4": "Nc6 100 9"}},
		"a queen left hanging":      {board.White, "1. e4 e5 2. Qh5 Nc6 3. Bc4 Nf6 4. Qxf7#", "e4 e5 Qh5 Nf6", "none", chances{"e4 e5 Qh5 Nf6 Bc4": "Nc6 100 9"}},
	} {
		b := book.New(c.mine)
		for g := range games(c.text + " *") {
			b.Add(g)
		}
		if got := wayFrom(NewWays(b, c.look), c.line); got != c.want {
			t.Errorf("%s: %s, want %s", name, got, c.want)
		}
	}
}

// Under another forecast other moves come back, and what was found under the first stays; the
// interval is of their next move alone.
func TestWaysUnderTwoForecasts(t *testing.T) {
	first := NewWays(whiteBook(queens), chances{"d4 e6 c4": "d5 90 9 f5 10 1"})
	pos := Resolved([]string{"d4", "e6"}).End
	if first.Known(pos.Key()) != nil {
		t.Error("known before it was asked for")
	}
	b := first.From(&pos)
	if b == nil || b.Range != profile.Between(0.9, 10) || first.Known(pos.Key()) != b {
		t.Fatalf("%+v", b)
	}
	second := first.For(chances{"d4 e6 c4": "f5 90 9 d5 10 1"})
	if got := wayFrom(second, "d4 e6"); got != "none" {
		t.Errorf("under the second: %s", got)
	}
	if first.Known(pos.Key()) != b || wayFrom(first.For(chances{"d4 e6 c4": "d5 60 6"}), "d4 e6") != "c4 0.60 into c4 d5" {
		t.Error("one forecast changes what another found")
	}
}

// A move is sound that neither lets two points go, leaves as much to be taken, nor lets itself
// be mated.
func TestSound(t *testing.T) {
	for _, c := range []struct {
		fen, move string
		most      int // before the move
		sound     bool
	}{
		{"4k3/8/8/3n4/4P3/8/8/4K3 w - - 0 1", "exd5", 3, true}, {"4k3/8/8/3n4/4P3/8/8/4K3 w - - 0 1", "Kd2", 3, false},
		{"4k3/8/4p3/3n4/4P3/8/8/4K3 w - - 0 1", "Kd2", 2, false}, {"4k3/8/4p3/3n4/4P3/8/8/4K3 w - - 0 1", "exd5", 2, true},
		{"4k3/8/8/3p4/4P3/8/8/4K3 w - - 0 1", "Kd2", 1, true},                                                                 // a pawn may stay
		{"4k3/8/8/1q1n4/P3P3/8/8/4K3 w - - 0 1", "exd5", 9, false}, {"4k3/8/8/1q1n4/P3P3/8/8/4K3 w - - 0 1", "axb5", 9, true}, // the greater
		{"4k3/8/2p5/8/8/2N5/8/4K3 w - - 0 1", "Nd5", 0, false}, {"4k3/8/2p5/8/8/2N5/8/4K3 w - - 0 1", "Ne4", 0, true},
		{"4k3/8/2p5/8/4P3/2N5/8/4K3 w - - 0 1", "Nd5", 0, false}, {"4k3/8/5n2/8/2P5/5B2/8/4K3 w - - 0 1", "Bd5", 0, true}, // taken back
		{"4k3/2p5/3b4/8/8/8/8/3RK3 w - - 0 1", "Rd2", 0, true}, {"4k3/2p5/3b4/8/8/8/8/3RK3 w - - 0 1", "Rxd6", 0, false}, // what loses wins nothing
		{"rnbqkbnr/pppp1ppp/8/4p3/8/5P2/PPPPP1PP/RNBQKBNR w KQkq - 0 2", "g4", 0, false}, {"rnbqkbnr/pppp1ppp/8/4p3/8/5P2/PPPPP1PP/RNBQKBNR w KQkq - 0 2", "e4", 0, true},
		{"rnbqkbnr/ppppp1pp/8/5p2/8/4P3/PPPP1PPP/RNBQKBNR b KQkq - 0 2", "g5", 0, false}, {"rnbqkbnr/ppppp1pp/8/5p2/8/4P3/PPPP1PPP/RNBQKBNR b KQkq - 0 2", "g6", 0, true},
	} {
		pos, err := board.ParseFEN(c.fen)
		if err != nil {
			t.Fatal(err)
		}
		m, err := pos.Resolve([]byte(c.move))
		if err != nil {
			t.Fatal(err)
		}
		met := Played(pos, m)
		if got, ok := most(&pos), sound(&pos, m, &met); got != c.most || ok != c.sound {
			t.Errorf("%s in %s: sound %v, %d to win, want %v, %d", c.move, c.fen, ok, got, c.sound, c.most)
		}
	}
}
