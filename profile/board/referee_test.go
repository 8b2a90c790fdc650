package board

import (
	"fmt"
	"math/rand/v2"
	"slices"
	"strings"
	"testing"

	"github.com/notnil/chess"
)

// The referee is github.com/notnil/chess v1.10.0, an independent rules library:
// in random positions its legal moves and its SAN must be ours. Random play
// from several starts meets castling, promotion, pins, double checks and
// en passant far more often than real games do.
var refereeStarts = []string{
	"rnbqkbnr/pppppppp/8/8/8/8/PPPPPPPP/RNBQKBNR w KQkq - 0 1",
	middlegame,
	"r3k2r/Pppp1ppp/1b3nbN/nP6/BBP1P3/q4N2/Pp1P2PP/R2Q1RK1 w kq - 0 1", // perft position 4
	"8/2p5/3p4/KP5r/1R3p1k/8/4P1P1/8 w - - 0 1",                        // perft position 3
	"r3k2r/8/8/8/8/8/8/R3K2R w KQkq - 0 1",
	"1n2k1n1/PPP3PP/8/8/8/8/ppp3pp/1N2K1N1 w - - 0 1",
	"4k3/3pppp1/8/2P4P/2p4p/8/3PPPP1/4K3 w - - 0 1",
	"3qkq2/8/8/2QQ4/2Q5/5nn1/2n3n1/4K3 w - - 0 1",
}

func TestReferee(t *testing.T) {
	const workers = 8
	positions := 60_000
	if testing.Short() {
		positions = 8_000
	}
	for w := range workers {
		t.Run(fmt.Sprint("seed ", w), func(t *testing.T) {
			t.Parallel()
			r := rand.New(rand.NewPCG(uint64(w), 20261125))
			for n, game := 0, w; n < positions/workers; game++ {
				n += refereeGame(t, r, refereeStarts[game%len(refereeStarts)])
			}
		})
	}
}

// refereeGame plays one random game of at most 100 plies and compares every
// position of it.
func refereeGame(t *testing.T, r *rand.Rand, fen string) (positions int) {
	p, q := parse(t, fen), &chess.Position{}
	if err := q.UnmarshalText([]byte(fen)); err != nil {
		t.Fatal(err)
	}
	for range 100 {
		positions++
		theirs := libraryMoves(q)
		comparePosition(t, &p, q)
		moves := p.Legal(nil)
		compareMoves(t, &p, moves, theirs)
		if t.Failed() || len(moves) == 0 {
			return positions
		}
		m := moves[r.IntN(len(moves))]
		q = q.Update(theirs[p.SAN(m)])
		p.Play(m)
	}
	return positions
}

// libraryMoves are the library's legal moves by their SAN.
func libraryMoves(q *chess.Position) map[string]*chess.Move {
	moves := map[string]*chess.Move{}
	for _, m := range q.ValidMoves() {
		moves[chess.AlgebraicNotation{}.Encode(q, m)] = m
	}
	return moves
}

// comparePosition compares all of FEN but the en-passant field, which the
// library writes after every double step.
func comparePosition(t *testing.T, p *Position, q *chess.Position) {
	t.Helper()
	ours, theirs := strings.Fields(p.FEN()), strings.Fields(q.String())
	ours[3], theirs[3] = "", ""
	if !slices.Equal(ours, theirs) {
		t.Fatalf("position %s, the library has %s", p.FEN(), q)
	}
	again := parse(t, p.FEN())
	if again != *p {
		t.Fatalf("%s: keys or boards kept move by move differ from those set up anew", p.FEN())
	}
}

func compareMoves(t *testing.T, p *Position, ours []Move, theirs map[string]*chess.Move) {
	t.Helper()
	if len(ours) != len(theirs) {
		t.Fatalf("%s: %d legal moves, the library has %d", p.FEN(), len(ours), len(theirs))
	}
	if !sortedAsDocumented(ours) {
		t.Fatalf("%s: moves out of the documented order: %v", p.FEN(), ours)
	}
	for _, m := range ours {
		san := p.SAN(m)
		other := theirs[san]
		if other == nil || other.String() != m.UCI() {
			t.Fatalf("%s: %s is %s, the library has %v", p.FEN(), m.UCI(), san, other)
		}
		for _, text := range writings(p, m, san) {
			if got, err := p.Resolve([]byte(text)); got != m || err != nil {
				t.Fatalf("%s: %q resolved as %q, %v; it is %s", p.FEN(), text, got.UCI(), err, m.UCI())
			}
		}
	}
}

func sortedAsDocumented(moves []Move) bool {
	return slices.IsSortedFunc(moves, func(a, b Move) int {
		order := func(m Move) int { return int(m.From())<<12 | int(m.To())<<6 | int(m.Promotion()) }
		return order(a) - order(b)
	})
}

// writings are ways to write a move that must all mean it.
func writings(p *Position, m Move, san string) []string {
	bare := strings.TrimRight(san, "+#")
	long := m.From().String() + "-" + m.To().String()
	if k := p.At(m.From()).Kind(); k != Pawn {
		long = string(k.Letter()) + long
	}
	if k := m.Promotion(); k != NoKind {
		long += string(k.Letter())
	}
	return []string{
		san, bare, bare + "+", bare + "#!?", m.UCI(), long,
		strings.ReplaceAll(bare, "x", ""), strings.ReplaceAll(bare, "=", ""),
		strings.ReplaceAll(san, "O", "0"),
	}
}
