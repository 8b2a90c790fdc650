package profile

import (
	"fmt"
	"math"
	"os"
	"slices"
	"strings"
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

// at is a position of a FEN, with a move in it.
func at(t *testing.T, fen, move string) (board.Position, board.Move) {
	t.Helper()
	pos, err := board.ParseFEN(fen)
	if err != nil {
		t.Fatal(err)
	}
	m, err := pos.Resolve([]byte(move))
	if err != nil {
		t.Fatal(fen, move, err)
	}
	return pos, m
}

// Each thing that makes a move natural, for both sides: with colours and ranks the other
// way round a move has the same.
func TestFeaturesOfMoves(t *testing.T) {
	names := [...]string{"pawn", "knight", "bishop", "rook", "queen", "king", "castles", "takes", "back", "favourably", "into", "from",
		"develops", "retreats", "again", "centre", "double", "edge", "middle", "rim", "blocks", "attacks"}
	for _, c := range []struct{ quirk, fen, move, want string }{
		{"a centre pawn, two steps", "4k3/8/8/8/8/8/3PP3/4K3 w - - 0 1", "e4", "pawn1 centre1 double1 middle3"},
		{"a centre pawn, one step", "4k3/8/8/8/8/8/3PP3/4K3 w - - 0 1", "d3", "pawn1 centre1 middle2"},
		{"a bishop's pawn", "4k3/8/8/8/8/8/2P5/4K3 w - - 0 1", "c3", "pawn1 middle2"},
		{"the rook's pawns", "4k3/8/8/8/8/8/P6P/4K3 w - - 0 1", "h3", "pawn1 edge1 middle0"},
		{"the other rook's pawn, two steps", "4k3/8/8/8/8/8/P6P/4K3 w - - 0 1", "a4", "pawn1 edge1 double1 middle0"},
		{"a pawn attacks a knight on either side", "4k3/8/8/2n1n3/8/8/3P4/4K3 w - - 0 1", "d4", "pawn1 centre1 double1 middle3 attacks2"},
		{"a pawn attacks no pawn, nor its own", "4k3/8/8/2p1N3/8/8/3P4/4K3 w - - 0 1", "d4", "pawn1 centre1 double1 middle3"},
		{"no attack over the edge", "4k3/8/8/7n/8/8/P7/4K3 w - - 0 1", "a4", "pawn1 edge1 double1 middle0"},
		{"short castling", "4k3/8/8/8/8/8/8/4K2R w K - 0 1", "O-O", "king1 castles1 middle0"},
		{"long castling", "4k3/8/8/8/8/8/8/R3K3 w Q - 0 1", "O-O-O", "king1 castles1 middle0"},
		{"a king's step", "4k3/8/8/8/8/8/8/4K2R w K - 0 1", "Kf2", "king1 middle1"},
		{"a king's step to where it castles", "4k3/8/8/8/8/8/8/5K2 w - - 0 1", "Kg1", "king1 middle0"},
		{"a king's step up the file of castling", "4k3/8/8/8/8/8/4K3/8 w - - 0 1", "Kf3", "king1 middle2"},
		{"a knight develops", "4k3/8/8/8/8/8/8/4K1N1 w - - 0 1", "Nf3", "knight1 develops1 middle2"},
		{"a knight to the rim", "4k3/8/8/8/8/8/8/4K1N1 w - - 0 1", "Nh3", "knight1 develops1 middle0 rim1"},
		{"a knight to the other rim", "4k3/8/8/8/8/8/8/1N2K3 w - - 0 1", "Na3", "knight1 develops1 middle0 rim1"},
		{"a knight before no pawn", "4k3/8/8/8/8/8/2P1P3/1N2K3 w - - 0 1", "Nd2", "knight1 develops1 middle1"},
		{"a knight where the pawn was", "4k3/8/8/8/8/8/2P1P3/4KN2 w - - 0 1", "Nd2", "knight1 develops1 middle1"},
		{"a bishop before a piece", "4k3/8/8/8/8/8/3N4/4KB2 w - - 0 1", "Bd3", "bishop1 develops1 middle2"},
		{"a bishop before nothing", "4k3/8/8/8/8/8/2P5/4KB2 w - - 0 1", "Bd3", "bishop1 develops1 middle2"},
		{"a bishop to the rim", "4k3/8/8/8/8/8/8/4KB2 w - - 0 1", "Ba6", "bishop1 develops1 middle0"},
		{"a knight moves on", "4k3/8/8/8/8/5N2/8/4K3 w - - 0 1", "Ne5", "knight1 again1 middle3"},
		{"a knight goes home", "4k3/8/8/8/8/5N2/8/4K3 w - - 0 1", "Ng1", "knight1 again1 retreats1 middle0"},
		{"a bishop stands before the pawn", "4k3/8/8/8/8/8/3P4/4KB2 w - - 0 1", "Bd3", "bishop1 develops1 middle2 blocks1"},
		{"a bishop before a pawn that has moved", "4k3/8/8/8/8/3P4/8/4KB2 w - - 0 1", "Be2", "bishop1 develops1 middle1"},
		{"a bishop before the bishop's pawn", "4k3/8/8/8/8/8/2P5/B3K3 w - - 0 1", "Bc3", "bishop1 develops1 middle2"},
		{"a rook, which neither develops nor blocks", "4k3/8/8/8/8/8/3P4/R3K3 w - - 0 1", "Ra3", "rook1 middle0"},
		{"a queen before the pawn", "4k3/8/8/8/8/8/4P3/3QK3 w - - 0 1", "Qd3", "queen1 middle2"},
		{"a queen back home", "4k3/8/8/8/8/8/3Q4/4K3 w - - 0 1", "Qd1", "queen1 retreats1 middle0"},
		{"taking more than it is worth, behind", "3qk3/8/8/4r3/8/5N2/8/4K3 w - - 0 1", "Nxe5", "knight1 takes5 back1 favourably2 again1 middle3"},
		{"taking as much, not behind", "3qk3/8/8/4b3/8/3Q1N2/8/4K3 w - - 0 1", "Nxe5", "knight1 takes3 again1 middle3"},
		{"taking less, behind by a pawn", "4k3/pp6/8/3p4/8/2N5/8/4KN2 w - - 0 1", "Nxd5", "knight1 takes1 again1 middle3"},
		{"a pawn takes a piece, a pawn behind", "4k3/p7/8/3n4/4P3/8/8/4K3 w - - 0 1", "exd5", "pawn1 takes3 back1 favourably2 centre1 middle3"},
		{"en passant", "4k3/8/8/3pP3/8/8/8/4K3 w - d6 0 1", "exd6", "pawn1 takes1 centre1 middle2"},
		{"to where a pawn takes", "4k3/8/3p4/8/8/5N2/8/4K3 w - - 0 1", "Ne5", "knight1 again1 into1 middle3"},
		{"taking there is another matter", "4k3/8/3p4/4p3/8/5N2/8/4K3 w - - 0 1", "Nxe5", "knight1 takes1 back0 again1 middle3"},
		{"away from a pawn", "4k3/8/8/8/4p3/5N2/8/4K3 w - - 0 1", "Nd4", "knight1 again1 from1 middle3"},
		{"a bishop, away from one pawn to another", "4k3/8/8/4p3/4p3/5B2/8/3NK3 w - - 0 1", "Bg4", "bishop1 again1 from1 middle1"},
	} {
		for _, mirrored := range []bool{false, true} {
			fen, move := c.fen, c.move
			if mirrored {
				fen, move = mirror(fen), mirrorMove(move)
			}
			pos, m := at(t, fen, move)
			var got [features]float64
			eachFeature(&pos, m, materialBehind(&pos), func(f feature, x float64) { got[f] += x })
			var want [features]float64
			for word := range strings.FieldsSeq(c.want) {
				for f, name := range names {
					if n, ok := strings.CutPrefix(word, name); ok && len(n) == 1 {
						want[f] = float64(n[0] - '0')
					}
				}
			}
			if got != want {
				t.Errorf("%s, mirrored %v: %v, want %v", c.quirk, mirrored, got, want)
			}
		}
	}
}

// mirror turns a position so that Black has what White had.
func mirror(fen string) string {
	f := strings.Fields(fen)
	ranks := strings.Split(f[0], "/")
	for i, j := 0, len(ranks)-1; i < j; i, j = i+1, j-1 {
		ranks[i], ranks[j] = ranks[j], ranks[i]
	}
	swap := func(s string) string {
		return strings.Map(func(r rune) rune {
			switch {
			case r >= 'a' && r <= 'z':
				return r - 32
			case r >= 'A' && r <= 'Z':
				return r + 32
			}
			return r
		}, s)
	}
	turn := "b"
	if f[1] == "b" {
		turn = "w"
	}
	return strings.Join([]string{swap(strings.Join(ranks, "/")), turn, swap(f[2]), mirrorMove(f[3]), f[4], f[5]}, " ")
}

func mirrorMove(move string) string {
	return strings.Map(func(r rune) rune {
		if r >= '1' && r <= '8' {
			return '1' + '8' - r
		}
		return r
	}, move)
}

// Natural chances are in proportion to exp(power times the features' numbers): three moves
// of a king alone, of which none differs but by how near the middle it goes.
func TestNaturalByHand(t *testing.T) {
	pos, _ := at(t, "7k/8/8/8/8/8/8/K7 w - - 0 1", "Kb1")
	legal := pos.Legal(nil)
	p := make([]float64, len(legal))
	natural(&pos, legal, 0.5, p)
	near := math.Exp(0.5 * 0.40) // Kb2 is one from the edge, Ka2 and Kb1 stay on it
	for i, m := range legal {
		want := 1 / (2 + near)
		if m.UCI() == "a1b2" {
			want = near / (2 + near)
		}
		if math.Abs(p[i]-want) > 1e-12 {
			t.Errorf("%s: %v, want %v", m.UCI(), p[i], want)
		}
	}
}
