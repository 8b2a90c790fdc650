package board

import (
	"errors"
	"slices"
	"strings"
	"testing"
)

func TestNames(t *testing.T) {
	for _, c := range []struct{ got, want string }{
		{White.String(), "white"}, {Black.String(), "black"}, {White.Other().String(), "black"}, {Black.Other().String(), "white"},
		{Square(0).String(), "a1"}, {Square(1).String(), "b1"}, {Square(28).String(), "e4"}, {Square(63).String(), "h8"},
		{NoSquare.String(), "-"}, {Square(200).String(), "-"},
		{string(Knight.Letter()), "N"}, {string(NoKind.Letter()), " "}, {string(Kind(255).Letter()), " "},
		{string(MakePiece(White, Queen).Letter()), "Q"}, {string(MakePiece(Black, Queen).Letter()), "q"},
		{string(Piece(0).Letter()), " "},
		{NoMove.UCI(), ""}, {NullMove.UCI(), "0000"}, {newMove(52, 60, Queen).UCI(), "e7e8q"},
	} {
		if c.got != c.want {
			t.Errorf("%q, want %q", c.got, c.want)
		}
	}
	if s := Square(28); s.File() != 4 || s.Rank() != 3 {
		t.Errorf("e4 is file %d, rank %d", s.File(), s.Rank())
	}
	m := newMove(52, 61, Knight)
	if m.From() != 52 || m.To() != 61 || m.Promotion() != Knight || m != 52|61<<6|2<<12 {
		t.Errorf("move %x: %v %v %v", uint16(m), m.From(), m.To(), m.Promotion())
	}
	for _, c := range []Color{White, Black} {
		for k := Pawn; k <= King; k++ {
			if pc := MakePiece(c, k); pc == 0 || pc.Kind() != k || pc.Color() != c {
				t.Errorf("piece %v of %v %v", pc, c, k)
			}
		}
		if MakePiece(c, NoKind) != 0 {
			t.Errorf("a %s piece of no kind", c)
		}
	}
}

func TestStart(t *testing.T) {
	p := Start()
	if p.FEN() != startFEN {
		t.Error(p.FEN())
	}
}

func TestAt(t *testing.T) {
	p := Start()
	if pc := p.At(4); pc.Kind() != King || pc.Color() != White {
		t.Errorf("e1: %v", pc)
	}
	if pc := p.At(59); pc.Kind() != Queen || pc.Color() != Black {
		t.Errorf("d8: %v", pc)
	}
	if p.At(28) != 0 || p.At(NoSquare) != 0 || p.At(255) != 0 {
		t.Error("a piece where there is none")
	}
}

func TestTurnAndFullMove(t *testing.T) {
	p := Start()
	for i, san := range strings.Fields("e4 e5 Nf3") {
		if p.Turn() != Color(i%2) || p.FullMove() != 1+i/2 {
			t.Errorf("before %s: %s, move %d", san, p.Turn(), p.FullMove())
		}
		p = replay(t, p, []string{san})
	}
	if p.FEN() != "rnbqkbnr/pppp1ppp/8/4p3/4P3/5N2/PPPP1PPP/RNBQKB1R b KQkq - 1 2" {
		t.Error(p.FEN())
	}
}

func TestNullMove(t *testing.T) {
	p := parse(t, "4k3/8/8/3pP3/8/8/8/4K3 w - d6 3 7")
	if p.SAN(NullMove) != "--" {
		t.Errorf("written %q", p.SAN(NullMove))
	}
	for _, m := range p.Legal(nil) {
		if m == NullMove || m == NoMove {
			t.Error("a null move among the legal moves")
		}
	}
	p.Play(NullMove)
	if got := p.FEN(); got != "4k3/8/8/3pP3/8/8/8/4K3 b - - 4 7" {
		t.Error(got)
	}
	p.Play(NullMove)
	if got := p.FEN(); got != "4k3/8/8/3pP3/8/8/8/4K3 w - - 5 8" {
		t.Error(got)
	}
	// The en-passant right is gone for good, so the key isn't the old one.
	if again := parse(t, p.FEN()); p != again {
		t.Errorf("key %x, set up anew %x", p.Key(), again.Key())
	}
}

// A lesson may pass for ever; the counters stay readable.
func TestCountersStop(t *testing.T) {
	p := parse(t, "4k3/8/8/8/8/8/8/4K3 b - - 9999 9999")
	p.Play(NullMove)
	if again := parse(t, p.FEN()); p.FullMove() != 9999 || again != p {
		t.Errorf("%s, set up anew %s", p.FEN(), again.FEN())
	}
}

// OwnKey sees one side only.
func TestOwnKey(t *testing.T) {
	keys := func(moves string) [2]uint64 {
		p := replay(t, Start(), strings.Fields(moves))
		return [2]uint64{p.OwnKey(White), p.OwnKey(Black)}
	}
	start, e4, e4e5, reti := keys(""), keys("e4"), keys("e4 e5"), keys("Nf3 e5 e4")
	if e4[Black] != start[Black] || e4e5[White] != e4[White] || e4e5[Black] == e4[Black] {
		t.Error("a move of one side must change the key of that side only")
	}
	if kings := keys("e4 c5 Nf3"); kings[White] != reti[White] || kings[Black] == reti[Black] {
		t.Error("the same set-up against other defences must have the same key")
	}
	if taken := keys("e4 d5 exd5"); taken[Black] == keys("e4 d5")[Black] {
		t.Error("a capture must change the key of the side that loses a piece")
	}
	if lost := keys("Nf3 Nf6 Rg1 Rg8 Rh1 Rh8"); lost == keys("Nf3 Nf6") {
		t.Error("lost castling rights must change the keys")
	}
	p := parse(t, "r3k2r/8/8/8/8/8/8/R3K2R w KQ - 0 1")
	q := parse(t, castlingFEN)
	if p.OwnKey(White) != q.OwnKey(White) || p.OwnKey(Black) == q.OwnKey(Black) {
		t.Error("castling rights belong to their own side's key")
	}
}

func TestParseFENAccepts(t *testing.T) {
	for _, c := range []struct{ name, fen, want string }{
		{"four fields", "4k3/8/8/8/8/8/8/4K3 w - -", "4k3/8/8/8/8/8/8/4K3 w - - 0 1"},
		{"five fields", "4k3/8/8/8/8/8/8/4K3 b - - 7", "4k3/8/8/8/8/8/8/4K3 b - - 7 1"},
		{"spare blanks", "  4k3/8/8/8/8/8/8/4K3  w - -\t0 1\n", "4k3/8/8/8/8/8/8/4K3 w - - 0 1"},
		{"move zero", "4k3/8/8/8/8/8/8/4K3 w - - 0 0", "4k3/8/8/8/8/8/8/4K3 w - - 0 1"},
		{"split empty squares", "4k111/8/8/44/8/8/8/4K3 w - - 0 1", "4k3/8/8/8/8/8/8/4K3 w - - 0 1"},
		{"rights in another order", "r3k2r/8/8/8/8/8/8/R3K2R w qkQK - 0 1", "r3k2r/8/8/8/8/8/8/R3K2R w KQkq - 0 1"},
		{"rights without rooks", "4k2r/8/8/8/8/8/8/R3K3 w KQkq - 0 1", "4k2r/8/8/8/8/8/8/R3K3 w Qk - 0 1"},
		{"rights without the king at home", "r2k3r/8/8/8/8/8/8/R3K2R w KQkq - 0 1", "r2k3r/8/8/8/8/8/8/R3K2R w KQ - 0 1"},
		{"rights with the other side's rook", "4k2R/8/4n3/8/8/8/8/4K2r w Kk - 0 1", ""},
		{"en passant nobody can take", "4k3/8/8/8/4P3/8/8/4K3 b - e3 0 1", "4k3/8/8/8/4P3/8/8/4K3 b - - 0 1"},
		{"en passant legal", "4k3/8/8/8/3pP3/8/8/4K3 b - e3 0 1", "4k3/8/8/8/3pP3/8/8/4K3 b - e3 0 1"},
		{"en passant without the pawn", "4k3/8/8/8/3p4/8/8/4K3 b - e3 0 1", "4k3/8/8/8/3p4/8/8/4K3 b - - 0 1"},
		{"en passant by the second of two pawns, the first is pinned", "3r3k/8/8/3PpP2/8/8/8/3K4 w - e6 0 1", "3r3k/8/8/3PpP2/8/8/8/3K4 w - e6 0 1"},
		{"en passant behind the mover's own pawn", "4k3/8/8/8/3pp3/8/8/4K3 b - e3 0 1", "4k3/8/8/8/3pp3/8/8/4K3 b - - 0 1"},
		{"en passant square taken", "4k3/8/8/8/3pP3/4N3/8/4K3 b - e3 0 1", "4k3/8/8/8/3pP3/4N3/8/4K3 b - - 0 1"},
		{"en passant from a square still taken", "4k3/8/8/8/3pP3/8/4N3/4K3 b - e3 0 1", "4k3/8/8/8/3pP3/8/4N3/4K3 b - - 0 1"},
		{"en passant pinned", "8/8/8/8/k2pP2R/8/8/4K3 b - e3 0 1", "8/8/8/8/k2pP2R/8/8/4K3 b - - 0 1"},
	} {
		t.Run(c.name, func(t *testing.T) {
			p, err := ParseFEN(c.fen)
			if c.want == "" {
				if err == nil {
					t.Fatalf("accepted as %s", p.FEN())
				}
				return
			}
			if err != nil {
				t.Fatal(err)
			}
			if got := p.FEN(); got != c.want {
				t.Errorf("%s, want %s", got, c.want)
			}
			if got := p.EPD(); got != strings.Join(strings.Fields(c.want)[:4], " ") {
				t.Errorf("EPD %s", got)
			}
		})
	}
}

func TestParseFENRefuses(t *testing.T) {
	for _, c := range []struct{ name, fen, says string }{
		{"nothing", "", "0 fields instead of 4 to 6"},
		{"three fields", "4k3/8/8/8/8/8/8/4K3 w -", "3 fields instead of 4 to 6"},
		{"seven fields", "4k3/8/8/8/8/8/8/4K3 w - - 0 1 x", "7 fields instead of 4 to 6"},
		{"empty board", "8/8/8/8/8/8/8/8 w - - 0 1", "white has 0 kings"},
		{"two kings", "4k3/8/8/8/8/8/8/2K1K3 w - - 0 1", "white has 2 kings"},
		{"two kings, four fields", "2k1k3/8/8/8/8/8/8/4K3 w - -", "black has 2 kings"},
		{"no black king", "8/8/8/8/8/8/8/4K3 w - - 0 1", "black has 0 kings"},
		{"pawn on the eighth rank", "P3k3/8/8/8/8/8/8/4K3 w - - 0 1", "a pawn stands on the first or last rank"},
		{"pawn on the first rank", "4k3/8/8/8/8/8/8/p3K3 w - - 0 1", "a pawn stands on the first or last rank"},
		{"capturable king", "4k3/8/8/8/8/8/4R3/4K3 w - - 0 1", "white is to move, but black stands in check"},
		{"kings side by side", "8/8/8/8/8/8/4k3/4K3 b - - 0 1", "black is to move, but white stands in check"},
		{"short rank", "4k2/8/8/8/8/8/8/4K3 w - - 0 1", "rank 8 has 7 squares"},
		{"long rank", "4k3/4k4/8/8/8/8/8/4K3 w - - 0 1", "rank 7 is too long"},
		{"piece off the board", "4k3r/8/8/8/8/8/8/4K3 w - - 0 1", "rank 8 is too long"},
		{"seven ranks", "4k3/8/8/8/8/8/4K3 w - - 0 1", "the board ends on rank 2 after 8 squares"},
		{"last rank short", "4k3/8/8/8/8/8/8/4K1 w - - 0 1", "the board ends on rank 1 after 6 squares"},
		{"nine ranks", "4k3/8/8/8/8/8/8/4K3/8 w - - 0 1", "rank 1 has 8 squares"},
		{"unknown piece", "4k3/8/8/8/8/8/8/4K2X w - - 0 1", "unknown piece 'X'"},
		{"nine", "9/8/8/8/8/8/8/4K3 w - - 0 1", "unknown piece '9'"},
		{"nought", "04k3/8/8/8/8/8/8/4K3 w - - 0 1", "unknown piece '0'"},
		{"a letter beyond ASCII", "4k3/8/8/8/8/8/8/4K2\xff w - - 0 1", "unknown piece 'ÿ'"},
		{"side to move", "4k3/8/8/8/8/8/8/4K3 W - - 0 1", `side to move "W", not w or b`},
		{"rights", "4k3/8/8/8/8/8/8/4K3 w KX - 0 1", `castling rights "KX"`},
		{"rights by file", "r3k2r/8/8/8/8/8/8/R3K2R w HAha - 0 1", `castling rights "HAha"`},
		{"en passant off the board", "4k3/8/8/8/8/8/8/4K3 w - i6 0 1", `en-passant square "i6"`},
		{"en passant on the wrong side", "4k3/8/8/8/3pP3/8/8/4K3 b - e6 0 1", `en-passant square "e6"`},
		{"en passant too long", "4k3/8/8/8/8/8/8/4K3 w - e66 0 1", `en-passant square "e66"`},
		{"negative counter", "4k3/8/8/8/8/8/8/4K3 w - - -1 1", `counter "-1", not a number up to 9999`},
		{"counter in words", "4k3/8/8/8/8/8/8/4K3 w - - 0 one", `counter "one", not a number up to 9999`},
		{"huge counter", "4k3/8/8/8/8/8/8/4K3 w - - 0 10000", `counter "10000", not a number up to 9999`},
	} {
		t.Run(c.name, func(t *testing.T) {
			p, err := ParseFEN(c.fen)
			if !errors.Is(err, ErrFEN) || err.Error() != "bad position: "+c.says {
				t.Errorf("%v; want %q", err, c.says)
			}
			if p != (Position{}) {
				t.Error("a position along with the error")
			}
		})
	}
}

func TestLegalAppends(t *testing.T) {
	p := Start()
	moves := p.Legal([]Move{NullMove})
	if len(moves) != 21 || moves[0] != NullMove {
		t.Fatalf("%d moves, first %q", len(moves), moves[0].UCI())
	}
	if !slices.Equal(moves[1:], p.Legal(nil)) {
		t.Error("the order isn't deterministic")
	}
	var texts []string
	q := parse(t, "4k3/8/8/8/8/8/p6P/1R2K2R b - - 0 1")
	for _, m := range q.Legal(nil) {
		texts = append(texts, m.UCI())
	}
	const want = "a2a1n a2a1b a2a1r a2a1q a2b1n a2b1b a2b1r a2b1q e8d7 e8e7 e8f7 e8d8 e8f8"
	if got := strings.Join(texts, " "); got != want {
		t.Errorf("%s, want %s", got, want)
	}
}

func TestInCheck(t *testing.T) {
	for fen, want := range map[string]bool{
		startFEN:                                                        false,
		"4k3/8/8/8/8/8/4r3/4K3 w - - 0 1":                               true,
		"4k3/8/8/8/8/5p2/8/6K1 w - - 0 1":                               false,
		"4k3/8/8/8/8/8/5p2/6K1 w - - 0 1":                               true,
		"4k3/3P4/8/8/8/8/8/6K1 b - - 0 1":                               true,
		"4k3/8/8/8/8/8/6n1/4K3 w - - 0 1":                               true,
		"4k3/8/8/7b/8/8/8/3K4 w - - 0 1":                                true,
		"4k3/8/8/7b/6P1/8/8/3K4 w - - 0 1":                              false,
		"r3k3/8/8/8/8/8/8/K7 w - - 0 1":                                 true,
		"r3k3/8/N7/8/8/8/8/K7 w - - 0 1":                                false,
		"4k3/8/8/8/8/8/8/q3K3 w - - 0 1":                                true,
		"4k3/8/8/8/8/8/8/q2NK3 w - - 0 1":                               false,
		"4k3/8/8/q7/8/8/8/4K3 w - - 0 1":                                true,
		"rnb1kbnr/pppp1ppp/8/4p3/6Pq/5P2/PPPPP2P/RNBQKBNR w KQkq - 1 3": true,
	} {
		p := parse(t, fen)
		if p.InCheck() != want {
			t.Errorf("%s: in check %v", fen, !want)
		}
	}
}

func TestSANChecksAndMates(t *testing.T) {
	for _, c := range []struct{ name, fen, uci, want string }{
		{"stalemate has no sign", "7k/8/5KQ1/8/8/8/8/8 w - - 0 1", "g6f7", "Qf7"},
		{"mate by en passant", "3rkr2/5p2/8/3pP3/8/7B/8/4R1K1 w - d6 0 1", "e5d6", "exd6#"},
		{"mate by castling", "5k2/R7/3N4/8/2B5/8/8/4K2R w K - 0 1", "e1g1", "O-O#"},
		{"smothered mate", "6rk/6pp/8/6N1/8/8/8/6K1 w - - 0 1", "g5f7", "Nf7#"},
		{"double check is no mate if the king can go", "4k3/8/8/4N3/8/8/4R3/4K3 w - - 0 1", "e5c6", "Nc6+"},
		{"promotion mates", "7k/4P1pp/8/8/8/8/8/4K3 w - - 0 1", "e7e8r", "e8=R#"},
		{"a check that en passant answers", "8/8/8/2k5/4p3/8/3P4/4K3 w - - 0 1", "d2d4", "d4+"},
	} {
		t.Run(c.name, func(t *testing.T) {
			p := parse(t, c.fen)
			m, err := p.ParseUCI(c.uci)
			if err != nil {
				t.Fatal(err)
			}
			if got := p.SAN(m); got != c.want {
				t.Errorf("%s, want %s", got, c.want)
			}
		})
	}
}

// Half-moves before a position, by the number of its move.
func TestPly(t *testing.T) {
	for fen, want := range map[string]int{startFEN: 0, "4k3/8/8/8/8/8/8/4K3 b - - 0 1": 1, "4k3/8/8/8/8/8/8/4K3 w - - 9 31": 60, "4k3/8/8/8/8/8/8/4K3 b - - 9 31": 61} {
		if p := parse(t, fen); p.Ply() != want || p.FullMove() != want/2+1 {
			t.Errorf("%s: %d half-moves before move %d", fen, p.Ply(), p.FullMove())
		}
	}
}
