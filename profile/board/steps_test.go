package board

import (
	"math/rand/v2"
	"slices"
	"testing"
)

// Every legal move is a step of its piece, with a number of its own in the order of
// Legal; every step is a legal move or one that only the king's safety forbids.
func TestSteps(t *testing.T) {
	rnd := rand.New(rand.NewPCG(4, 4))
	var buf []Move
	promoted, unsafe := 0, 0
	for range 60 {
		p := Start()
		for range 150 {
			buf = p.Legal(buf[:0])
			if len(buf) == 0 {
				break
			}
			var all []Move
			for piece := range p.Pieces() {
				s := p.Steps(piece)
				for n := range s.Count() {
					m := s.Move(n)
					if s.Of(m) != n || p.PieceOn(m.From()) != piece {
						t.Fatalf("%s: step %d of piece %d is %s, which is %d", p.FEN(), n, piece, m.UCI(), s.Of(m))
					}
					if p.isCastling(m.From(), m.To()) || p.safe(m.From(), m.To()) {
						all = append(all, m)
					} else {
						unsafe++
					}
					if m.Promotion() != NoKind {
						promoted++
					}
				}
				if s.Of(NullMove) >= 0 {
					t.Fatalf("%s: the null move is a step", p.FEN())
				}
			}
			if !slices.Equal(all, buf) {
				t.Fatalf("%s: steps %v, legal %v", p.FEN(), all, buf)
			}
			if s := p.Steps(p.Pieces()); s.Count() != 0 {
				t.Fatalf("%s: steps of no piece", p.FEN())
			}
			p.Play(buf[rnd.IntN(len(buf))])
		}
	}
	if promoted == 0 || unsafe == 0 {
		t.Errorf("%d promotions and %d unsafe steps: the test tells nothing of one", promoted, unsafe)
	}
}

func BenchmarkSteps(b *testing.B) {
	eachPly(b, func(p *Position, x *ply) {
		s := p.Steps(p.PieceOn(x.move.From()))
		if s.Move(s.Of(x.move)) != x.move {
			b.Fatal(p.FEN())
		}
	})
}

// One position by hand: the king castled (king and rook), a knight moved and was taken, a
// pawn became a queen.
func TestApart(t *testing.T) {
	from, to := mustParse("k7/6P1/8/8/8/8/8/1N2K2R w K - 0 1"), mustParse("k5Q1/8/8/8/8/8/8/5RK1 b - - 0 1")
	if squares, fewer, king := from.Apart(&to, White); squares != 7 || fewer != 1 || !king {
		t.Errorf("White: %d squares, %d fewer, king %v", squares, fewer, king)
	}
	if squares, fewer, king := from.Apart(&to, Black); squares != 0 || fewer != 0 || king {
		t.Errorf("Black: %d squares, %d fewer, king %v", squares, fewer, king)
	}
	knight := mustParse("k7/6P1/8/8/8/2N5/8/4K2R w K - 0 1")
	if squares, fewer, king := from.Apart(&knight, White); squares != 2 || fewer != 0 || king {
		t.Errorf("a knight's move: %d squares, %d fewer, king %v", squares, fewer, king)
	}
	if _, fewer, _ := to.Apart(&from, White); fewer != -1 {
		t.Errorf("the other way round %d fewer", fewer)
	}
}
