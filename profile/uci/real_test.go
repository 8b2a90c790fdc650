package uci

import (
	"os"
	"reflect"
	"testing"

	"foreply/profile/board"
)

// realEngine starts an engine from Debian's packages, whose path .ci/run puts
// into UCI_ENGINE.
func realEngine(t *testing.T) *Engine {
	t.Helper()
	path := os.Getenv("UCI_ENGINE")
	if path == "" {
		t.Skip("no engine: UCI_ENGINE names the path of one")
	}
	e, err := Start(t.Context(), []string{path}, Options{})
	if err != nil {
		t.Fatal(err)
	}
	t.Cleanup(e.Close)
	return e
}

// The first problems of the EPD suite after F. Reinfeld, Win at Chess (1958),
// from memory. The second is left out: it is an endgame in which other moves do
// as well for longer than a test may take.
var problems = []struct{ epd, best string }{
	{"2rr3k/pp3pp1/1nnqbN1p/3pN3/2pP4/2P3Q1/PPB4P/R4RK1 w - -", "Qg6"},
	{"5rk1/1ppb3p/p1pb4/6q1/3P1p1r/2P1R2P/PP1BQ1P1/5RKN w - -", "Rg3"},
	{"r1bq2rk/pp3pbp/2p1p1pQ/7P/3P4/2PB1N2/PP3PPR/2KR4 w - -", "Qxh7+"},
	{"5k2/6pp/p1qN4/1p1p4/3P4/2PKP2Q/PP3r2/3R4 b - -", "Qc4+"},
	{"7k/p7/1R5K/6r1/6p1/6P1/8/8 w - -", "Rb7"},
	{"rnbqkb1r/pppp1ppp/8/4P3/6n1/7P/PPPNPPP1/R1BQKBNR b KQkq -", "Ne3"},
	{"r4q1k/p2bR1rp/2p2Q1N/5p2/5p2/2P5/PP3PPP/R5K1 w - -", "Rf7"},
	{"3q1rk1/p4pp1/2pb3p/3p4/6Pr/1PNQ4/P1PB1PP1/4RRK1 b - -", "Bh2+"},
	{"2br2k1/2q3rn/p2NppQ1/2p1P3/Pp5R/4P3/1P3PPP/3R2K1 w - -", "Rxh7"},
}

// TestProblems: the solutions of the book, by search through our client.
func TestProblems(t *testing.T) {
	e := realEngine(t)
	for _, p := range problems {
		pos, err := board.ParseFEN(p.epd)
		if err != nil {
			t.Fatal(err)
		}
		got, err := e.Search(t.Context(), pos, 300_000, 2)
		if err != nil {
			t.Fatal(err)
		}
		best := got.Lines[0]
		if san := pos.SAN(best.Moves[0]); san != p.best {
			t.Errorf("%s: %s, want %s", p.epd, san, p.best)
		}
		if best.Score.For(pos.Turn()).Value() < 0 {
			t.Errorf("%s: %+v is bad for %v", p.epd, best.Score, pos.Turn())
		}
	}
}

// TestSameAgain: what was asked in between changes nothing.
func TestSameAgain(t *testing.T) {
	e := realEngine(t)
	ask := func() Result {
		got, err := e.Search(t.Context(), board.Start(), 50_000, 2)
		if err != nil {
			t.Fatal(err)
		}
		return got
	}
	first := ask()
	if _, err := e.Search(t.Context(), hanging(t), 50_000, 3); err != nil {
		t.Fatal(err)
	}
	if again := ask(); !reflect.DeepEqual(first, again) {
		t.Errorf("first %+v\nthen  %+v", first, again)
	}
	if len(first.Lines) != 2 {
		t.Errorf("%d lines, want 2", len(first.Lines))
	}
}
