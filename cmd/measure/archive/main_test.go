package main

import (
	"bytes"
	"runtime"
	"testing"

	"foreply/fetch/pgn"
	"foreply/profile/board"
)

func made(t *testing.T, size int64, seed uint64) []byte {
	t.Helper()
	var out bytes.Buffer
	if err := write(&out, size, seed, 60); err != nil {
		t.Fatal(err)
	}
	return out.Bytes()
}

// The same seed makes the same archive, however many workers there are; another
// seed another.
func TestSeeded(t *testing.T) {
	first := made(t, 6e6, 1)
	defer runtime.GOMAXPROCS(runtime.GOMAXPROCS(3))
	if !bytes.Equal(made(t, 6e6, 1), first) {
		t.Error("with three workers other bytes come")
	}
	if other := made(t, 1e6, 2); bytes.Equal(other[:5000], first[:5000]) {
		t.Error("another seed makes the same games")
	}
}

// Every game can be read and played, and they repeat about as real ones do: of 970
// games of one day that many players played online (shared/data/population.pgn, which
// is no part of this project) each brought 19.3 positions to half-move 24 that no
// earlier one had.
func TestGamesAreRealEnough(t *testing.T) {
	const games, plies = 970, 24
	data := newMaker(1, 0, 60).games(games)
	seen := map[uint64]bool{}
	n, clocked := 0, 0
	r := pgn.NewReader(bytes.NewReader(data), pgn.Options{})
	for g := range r.All() {
		n++
		h := g.Header()
		if h.White.Elo == 0 || h.Black.Elo == 0 || h.Result == "" || h.Speed == 0 || !h.Date.Full() || len(g.Problems) > 0 {
			t.Fatalf("game %d: %+v, %v", n, h, g.Problems)
		}
		if _, ok := g.Moves[0].Clk(); ok {
			clocked++
		}
		pos := board.Start()
		for i, m := range g.Moves {
			move, err := pos.Resolve(m.SAN)
			if err != nil {
				t.Fatalf("game %d, half-move %d: %v", n, i+1, err)
			}
			if pos.Play(move); i < plies {
				seen[pos.Key()] = true
			}
		}
	}
	fresh := float64(len(seen)) / games
	if n != games || clocked < games/5 || clocked > games*2/5 || fresh < 18.5 || fresh > 19.9 {
		t.Errorf("%d games, %d with clocks, %.2f positions of each that no earlier one has", n, clocked, fresh)
	}
}
