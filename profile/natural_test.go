package profile

import (
	"fmt"
	"math"
	"os"
	"slices"
	"testing"

	"foreply/fetch/pgn"
	"foreply/profile/board"
)

// choice is one position: the features of each legal move, and which was played.
type choice struct {
	moves  [][features]float64
	played int
}

func choices(t *testing.T, file string) []choice {
	f, err := os.Open(file)
	if err != nil {
		t.Fatal(err)
	}
	defer f.Close()
	var out []choice
	replayer := NewCounts(ScoredPlies)
	for g := range pgn.NewReader(f, pgn.Options{File: file}).All() {
		moves, _ := replayer.replay(g, len(g.Moves))
		if g.Header().Start != pgn.UsualStart || len(moves) < shortestGame || slices.Contains(moves, board.NullMove) {
			continue
		}
		pos := board.Start()
		for _, m := range moves[:min(len(moves), ScoredPlies)] {
			legal := pos.Legal(nil)
			behind := materialBehind(&pos)
			c := choice{moves: make([][features]float64, len(legal))}
			for i, l := range legal {
				if l == m {
					c.played = i
				}
				eachFeature(&pos, l, behind, func(f feature, x float64) { c.moves[i][f] += x })
			}
			out = append(out, c)
			pos.Play(m)
		}
	}
	return out
}

// Fits naturalWeights on a PGN file and prints them:
//
//	FOREPLY_FIT=games.pgn go test -run TestFitNaturalMoves -v ./profile
//
// It climbs the likelihood by Newton's method with the diagonal of the Hessian,
// a normal prior of deviation 3 on each weight.
func TestFitNaturalMoves(t *testing.T) {
	file := os.Getenv("FOREPLY_FIT")
	if file == "" {
		t.Skip("fits the numbers of natural moves only when FOREPLY_FIT names games")
	}
	data := choices(t, file)
	var w [features]float64
	for round := range 200 {
		var slope, bend [features]float64
		bits := 0.0
		for i := range data {
			bits += climb(&data[i], &w, &slope, &bend)
		}
		for f := range w {
			slope[f] -= w[f] / 9
			w[f] += 0.5 * slope[f] / (bend[f] + 1./9)
		}
		if round%40 == 39 {
			t.Logf("round %d: %.4f bits a move over %d moves", round, bits/float64(len(data)), len(data))
		}
	}
	text := ""
	for _, x := range w {
		text += fmt.Sprintf("%.2f, ", x)
	}
	t.Log(text)
}

func climb(c *choice, w, slope, bend *[features]float64) float64 {
	p := make([]float64, len(c.moves))
	sum := 0.0
	for i := range c.moves {
		for f, x := range c.moves[i] {
			p[i] += w[f] * x
		}
		p[i] = math.Exp(p[i])
		sum += p[i]
	}
	var mean, square [features]float64
	for i := range p {
		p[i] /= sum
		for f, x := range c.moves[i] {
			mean[f] += p[i] * x
			square[f] += p[i] * x * x
		}
	}
	for f := range w {
		slope[f] += c.moves[c.played][f] - mean[f]
		bend[f] += square[f] - mean[f]*mean[f]
	}
	return -math.Log2(p[c.played])
}

// A pawn attacks the files beside its own, not over the edge of the board.
func TestPawnAttacks(t *testing.T) {
	pos, err := board.ParseFEN("4k3/7p/8/8/8/8/P6P/4K3 w - - 0 1")
	if err != nil {
		t.Fatal(err)
	}
	for square, want := range map[string][2]bool{
		"b3": {true, false}, "g3": {true, false}, "h3": {}, "a3": {}, "h4": {}, "a4": {}, "g6": {false, true}, "a5": {}, "a6": {}, "h5": {},
	} {
		at := board.Square(int(square[0]-'a') + 8*int(square[1]-'1'))
		if got := [2]bool{pawnAttacks(&pos, board.White, at), pawnAttacks(&pos, board.Black, at)}; got != want {
			t.Errorf("%s: attacked by White, Black: %v, want %v", square, got, want)
		}
	}
}
