package referee

import (
	"encoding/json"
	"errors"
	"os"
	"strings"
	"testing"
)

func TestLineAgrees(t *testing.T) {
	for _, c := range []struct{ name, fen, moves string }{
		{"no moves", "", ""},
		{"an opening", "", "e4 e5 Nf3 Nc6 Bb5 a6 Ba4 Nf6 O-O Be7 Re1 b5 Bb3 d6 c3 O-O"},
		{"mate", "", "f3 e5 g4 Qh4#"},
		{"en passant", "", "e4 a6 e5 d5 exd6"},
		{"a null move", "", "e4 -- d4 d5"},
		{"null moves of both sides", "", "e4 e5 -- -- Nf3"},
		{"four fields", "4k3/8/8/8/8/8/8/4K2R w K -", "O-O"},
		{"five fields", "4k3/8/8/8/8/8/8/4K2R w K - 3", "O-O"},
		{"in check at the start", "4k3/8/8/8/4r3/8/8/4K2R w K - 0 1", "Kf1"},
		{"black begins", "8/8/8/6K1/8/8/5p2/4k1N1 b - - 0 30", "fxg1=Q+ Kf4"},
		{"mate at the end", "3k4/8/2K1Q3/8/8/8/8/8 w - - 0 1", "Qd7#"},
	} {
		t.Run(c.name, func(t *testing.T) {
			if err := Line(c.fen, strings.Fields(c.moves)); err != nil {
				t.Error(err)
			}
		})
	}
}

func TestLineDisagrees(t *testing.T) {
	for _, c := range []struct{ name, fen, moves, says string }{
		{"an illegal capture", "", "e4 e5 Bc4 Nc6 Qf3 Nf6 Bxh7", "the rules library refuses 4.Bxh7 in "},
		{"an illegal move of Black", "", "e4 e5 Nf3 Nf5", "refuses 2...Nf5 in "},
		{"a move number from the position", "4k3/8/8/8/8/8/8/4K3 b - - 0 31", "Kd7 Ke1", "refuses 32.Ke1 in "},
		{"an ambiguous move", "rnbqk2r/pppp1ppp/8/8/8/2N5/PPPP1PPP/R1BQKBNR w KQkq - 0 1", "Ne2", "refuses 1.Ne2"},
		{"needless disambiguation", "", "Ngf3", "refuses 1.Ngf3"},
		{"a missing mate sign", "", "f3 e5 g4 Qh4+", "has Qh4# for 2...Qh4+ in "},
		{"a needless check sign", "", "e4+", "has e4 for 1.e4+ in "},
		{"castling through check", "4k3/8/8/8/8/8/5r2/4K2R w K - 0 1", "O-O", "refuses 1.O-O"},
		{"castling out of check", "4k3/8/8/8/4r3/8/8/4K2R w K - 0 1", "O-O", "refuses 1.O-O"},
		{"castling long for short", "r3k2r/8/8/8/8/8/8/R3K3 w Qkq - 0 1", "O-O", "refuses 1.O-O"},
		{"en passant too late", "", "e4 a6 e5 d5 a3 a5 exd6", "refuses 4.exd6"},
		{"en passant forgotten by a null move", "", "e4 a6 e5 d5 -- a5 exd6", "refuses 4.exd6"},
		{"en passant forgotten by two null moves", "", "e4 a6 e5 d5 -- -- exd6", "refuses 4.exd6 in "},
		{"the position after a null move of Black", "", "e4 -- Ke3", "the rules library refuses 2.Ke3 in rnbqkbnr/pppppppp/8/8/4P3/8/PPPP1PPP/RNBQKBNR w KQkq - 0 2: "},
		{"the position of another writing", "", "e4+", "the rules library has e4 for 1.e4+ in rnbqkbnr/pppppppp/8/8/8/8/PPPPPPPP/RNBQKBNR w KQkq - 0 1: "},
		{"the position that can't be set up", "4k3/4K3 w - - 0 1", "Kd2", `the rules library can't set up "4k3/4K3 w - - 0 1" (`},
		{"a null move in check", "", "e4 f6 Qh5+ --", "refuses 2...--"},
		{"a move after mate", "", "f3 e5 g4 Qh4# Kf2", "refuses 3.Kf2"},
		{"nonsense", "", "hello", "refuses 1.hello"},
		{"an empty move", "", "e4 e5 ", ""},
		{"no position", "nothing", "e4", `can't set up "nothing"`},
		{"too few ranks", "4k3/4K3 w - - 0 1", "Kd2", "can't set up"},
	} {
		t.Run(c.name, func(t *testing.T) {
			moves := strings.Split(c.moves, " ")
			err := Line(c.fen, moves)
			if !errors.Is(err, ErrDisagreement) || !strings.Contains(err.Error(), c.says) {
				t.Errorf("%v; want ... %q", err, c.says)
			}
			if !strings.HasSuffix(err.Error(), ": please report this") {
				t.Errorf("%v doesn't ask for a report", err)
			}
		})
	}
}

// sampleGame is the sample game of PGN standard 2.3, 85 plies.
func sampleGame(tb testing.TB) []string {
	tb.Helper()
	text, err := os.ReadFile("../../testdata/board/pgn_standard_sample_game.json")
	if err != nil {
		tb.Fatal(err)
	}
	var game struct {
		SAN []string `json:"main_line_san"`
	}
	if err := json.Unmarshal(text, &game); err != nil {
		tb.Fatal(err)
	}
	if len(game.SAN) != 85 {
		tb.Fatalf("%d plies", len(game.SAN))
	}
	return game.SAN
}

func TestSampleGame(t *testing.T) {
	if err := Line("", sampleGame(t)); err != nil {
		t.Error(err)
	}
}

// BenchmarkSheet checks what a printed sheet holds: 60 lines of 30 plies.
func BenchmarkSheet(b *testing.B) {
	line := sampleGame(b)[:30]
	for b.Loop() {
		for range 60 {
			if err := Line("", line); err != nil {
				b.Fatal(err)
			}
		}
	}
}

// Lines finds what Line finds, whatever the lines share and whatever their
// order; what stands behind a wrong move is not told again.
func TestLines(t *testing.T) {
	var lines [][]string
	for _, moves := range []string{
		"e4 e5 Nf3 Nc6 Bb5", "", "e4 e5 Nf3", "e4 e5 Ke3 Nc6", "e4 e5 Ke3 d6", "e4 c5", "e4 e5 Nf3 Nf6", "f3 e5 g4 Qh4+", "e4 e5 Nf3 Nc6 Bc4",
	} {
		lines = append(lines, strings.Fields(moves))
	}
	errs := Lines(lines)
	if len(errs) != 2 || !strings.Contains(errs[0].Error(), "refuses 2.Ke3") || !strings.Contains(errs[1].Error(), "has Qh4# for 2...Qh4+") {
		t.Errorf("%v", errs)
	}
	if lines[0][4] != "Bb5" {
		t.Error("the caller's lines were sorted")
	}
	if errs := Lines(nil); len(errs) != 0 {
		t.Errorf("of no lines: %v", errs)
	}
}
