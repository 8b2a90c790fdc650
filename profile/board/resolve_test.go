package board

import (
	"errors"
	"fmt"
	"slices"
	"strings"
	"testing"
	"unicode"
)

// refusals are the names of the errors in the tables below.
var refusals = map[string]error{
	"unreadable": ErrUnreadable,
	"illegal":    ErrIllegal,
	"ambiguous":  ErrAmbiguous,
}

const startFEN = "rnbqkbnr/pppppppp/8/8/8/8/PPPPPPPP/RNBQKBNR w KQkq - 0 1"

// readings say what texts mean in a position: a move in UCI notation or the
// name of a refusal, and all the texts that must be taken so.
var readings = []struct {
	name, fen string
	want      map[string][]string
}{
	{"first move", startFEN, map[string][]string{
		"g1f3": {"Nf3", "nf3", "Nf3+", "Nf3#", "Nf3++", "Nf3!?", "Nf3??", "Nf3+!", "Nxf3", "N:f3", "N-f3",
			"Ngf3", "N1f3", "Ng1f3", "Ng1-f3", "Ng1xf3", "g1f3", "g1-f3"},
		"e2e4": {"e4", "e2e4", "e2-e4", "Pe4", "Pe2-e4", "P2e4", "ee4", "e-e4", "e4!", "e4?!", "e4+"},
		"0000": {"--", "Z0", "0000", "--!?"},
		"illegal": {"Nf4", "e5", "O-O", "O-O-O", "Qd2", "Ng1xe2", "e2e5", "e7e5", "a3a4", "Nbf3", "N2f3", "Bg1f3",
			"exd3", "exd5", "exe4", "e4=Q", "Nf3=Q", "Nf3Q", "e2e4q", "Kxe2", "g8f6", "Ng8-f6", "e8", "e8=Q", "Ke1g1", "d3e2", "Ke8", "bxc3", "bc4"},
		"unreadable": {"", "e", "N", "Nf", "N3", "x", "e9", "e0", "i4", "Nf3x", "Nf3-", "e4-", "-e4", "xe4", ":e4", "4e4", "4xe4",
			"e4=", "e8=K", "e8k", "e8=P", "e8=X", "e8/", "e8(", "e8(Q", "e8()", "e8(Q]", "e8=Q)", "e8=QQ", "Nf3 ", " Nf3", "Nf3e",
			"e4e.", "e4 e", "e4  ep", "Nf3d5d", "Nb1c3d5", "e2e4e5", "e-4", "O", "O-", "-O", "OO", "O-O-", "O-O-O-O", "O-OO", "O-x",
			"0-1", "1-0", "1/2-1/2", "*", "Z1", "Z", "-", "---", "00", "000", "00000", "E4", "NF3", "pe4", "$1", "1.e4", "Lf3",
			"\x00\xff", "e\xff", "Nf3\x80", "b", "bb", "bx", "b9", "Qa1\n", strings.Repeat("e", 1000), "♘f3"},
	}},
	{"black's first move", "rnbqkbnr/pppppppp/8/8/4P3/8/PPPP1PPP/RNBQKBNR b KQkq - 0 1", map[string][]string{
		"e7e5":    {"e5", "e7e5", "e7-e5", "Pe5"},
		"e7e6":    {"e6"},
		"b8c6":    {"Nc6", "Nb8-c6", "b8c6"},
		"illegal": {"e4", "e3", "e2e4", "d2d4", "Nf3"},
	}},
	{"signs of capture", "rnb1kbnr/ppp1pppp/8/3q4/4P3/2N5/PPPP1PPP/R1BQKBNR w KQkq - 0 3", map[string][]string{
		"e4d5":       {"exd5", "ed5", "e:d5", "ed5:", "eXd5", "ed5:+", "e4xd5", "ed", "exd", "e:d", "ed!", "exd+", "ed:", "ed:+", "e:d+"},
		"c3d5":       {"Nxd5", "Nd5", "N:d5", "Nd5:", "NXd5", "Nd5:!"},
		"illegal":    {"e5:", "Bd5:", "ef", "de"},
		"unreadable": {"ed5:x", "ed5:Q", "d5x", "ec", "ee", "edQ", "Pxd"},
	}},
	{"pawns that take by their files", "4k3/8/8/2pPp1p1/3P1P2/8/8/4K3 w - c6 0 1", map[string][]string{
		"d5c6":      {"dxc6", "d5c6"},
		"f4g5":      {"fg", "fxg"},
		"ambiguous": {"dc", "dxc"},
	}},
	{"promotion", "3r1b2/4P2k/8/8/8/8/8/4K3 w - - 0 1", map[string][]string{
		"e7e8q": {"e8=Q", "e8Q", "e8(Q)", "e8/Q", "e8q", "e8=q", "e8(q)", "e7e8q", "e7e8Q", "e7-e8=Q", "Pe8=Q", "e8=Q!", "e8=Q#?"},
		"e7e8r": {"e8=R", "e8R", "e8r"},
		"e7e8b": {"e8=B", "e8B", "e8b", "e8(b)+", "e8b!", "e8b+", "e7e8b"},
		"e7e8n": {"e8=N", "e8n", "e8/n"},
		"e7d8b": {"exd8=B", "exd8b", "exd8b!", "ed8b", "ed8=B", "e7xd8b", "e7d8b"},
		"e7d8q": {"exd8=Q", "exd8Q", "ed8Q", "e:d8Q", "e7:d8Q"},
		"e7f8n": {"exf8=N+", "exf8N", "e7xf8(N)+", "Pexf8N", "Pe7f8n"},
		// No piece to become is given, or the wrong square for becoming one.
		"illegal":    {"e8", "e8+", "exd8", "e7e8", "e7-e8", "Pe8", "Pxd8", "e7d8", "Kd1=Q", "Ke8=Q", "Ke1d1q", "exe8=Q"},
		"unreadable": {"e8=K", "e8k", "e7e8k", "e8=p", "e8=", "e8(+)", "e8(Q)Q", "e8(Q)x", "e8= Q", "e8=Q=Q", "e8Qe.p."},
	}},
	{"black promotes", "8/8/8/8/8/6k1/4p3/K2R1B2 b - - 0 1", map[string][]string{
		"e2d1q":   {"exd1=Q+", "ed1Q", "e2xd1=Q", "e2d1q"},
		"e2f1n":   {"exf1=N"},
		"e2e1b":   {"e1=B", "e1b", "e2e1b"},
		"illegal": {"e1", "exd1", "exf1", "e8=Q"},
	}},
	{"two pawns promote on one square", "3r3k/2P1P3/8/8/8/8/8/4K3 w - - 0 1", map[string][]string{
		"e7d8q":      {"exd8=Q+", "ed8Q"},
		"c7d8q":      {"cxd8=Q+", "cd8q"},
		"ambiguous":  {"Pxd8=Q"},
		"unreadable": {"xd8=Q"},
	}},
	{"en passant", "4k3/8/8/3pP3/8/8/8/4K3 w - d6 0 1", map[string][]string{
		"e5d6": {"exd6", "exd6e.p.", "exd6 e.p.", "exd6ep", "exd6 ep", "exd6e.p", "exd6e.p.+", "exd6+e.p.", "exd6+ e.p.!?",
			"ed6", "e5d6", "e5xd6", "e5-d6", "Pxd6", "Pe5xd6 e.p."},
		"e5e6":       {"e6"},
		"illegal":    {"d6", "exf6", "exd5"},
		"unreadable": {"exd6e.p.p", "exd6 e.p. e.p.", "exd6ee", "exd6p"},
	}},
	{"en passant is over", "4k3/8/8/3pP3/8/8/8/4K3 w - - 0 1", map[string][]string{
		"illegal": {"exd6", "exd6e.p.", "e5d6"},
	}},
	{"en passant would bare the king on the rank", "8/8/8/8/k2pP2R/8/8/4K3 b - e3 0 1", map[string][]string{
		"d4d3":    {"d3"},
		"illegal": {"dxe3", "d4e3", "dxe3e.p."},
	}},
	{"en passant answers the check of the pawn", "8/8/8/2k5/3Pp3/8/8/4K3 b - d3 0 1", map[string][]string{
		"e4d3":    {"exd3", "exd3 e.p."},
		"illegal": {"e3"},
	}},
	{"castling", castlingFEN, map[string][]string{
		"e1g1":       {"O-O", "0-0", "o-o", "O-O+", "0-0!?", "O-0", "e1g1", "e1-g1", "Ke1g1", "Ke1-g1"},
		"e1c1":       {"O-O-O", "0-0-0", "o-o-o", "O-O-O#", "0-0-0+!", "e1c1", "Ke1-c1"},
		"e1d1":       {"Kd1", "kd1"},
		"a1b1":       {"Rb1", "rb1", "ra1-b1", "Rab1"},
		"illegal":    {"Kg1", "Kc1", "e1h1", "e1b1", "Re1g1", "e8g8"},
		"unreadable": {"O-O=Q", "O-O e.p.", "O-O-O-"},
	}},
	{"black castles", "r3k2r/8/8/8/8/8/8/R3K2R b KQkq - 0 1", map[string][]string{
		"e8g8": {"O-O", "0-0", "e8g8"},
		"e8c8": {"O-O-O", "e8c8"},
	}},
	{"castling without the right", "r3k2r/8/8/8/8/8/8/R3K2R w kq - 0 1", map[string][]string{
		"illegal": {"O-O", "O-O-O", "e1g1", "Ke1c1"},
	}},
	{"castling through an attacked square", "4k3/8/8/8/8/8/5r2/R3K2R w KQ - 0 1", map[string][]string{
		"e1c1":    {"O-O-O"},
		"illegal": {"O-O", "e1g1"},
	}},
	{"castling into check", "4k3/8/8/8/8/8/2r5/R3K2R w KQ - 0 1", map[string][]string{
		"e1g1":    {"O-O"},
		"illegal": {"O-O-O", "e1c1"},
	}},
	{"castling past an attacked b1", "1r2k3/8/8/8/8/8/8/R3K3 w Q - 0 1", map[string][]string{
		"e1c1": {"O-O-O"},
	}},
	{"castling past a piece on b1", "4k3/8/8/8/8/8/8/RN2K1NR w KQ - 0 1", map[string][]string{
		"illegal": {"O-O-O", "O-O", "e1c1", "e1g1"},
	}},
	{"in check", "4k3/8/8/8/4r3/8/8/R3K2R w KQ - 0 1", map[string][]string{
		"e1f1":    {"Kf1"},
		"illegal": {"O-O", "O-O-O", "e1g1", "--", "Z0", "0000", "Ra2", "Ke2"},
	}},
	{"a b-pawn and a bishop can take on c3", "4k3/8/8/8/8/2p5/1P6/4BK2 w - - 0 1", map[string][]string{
		"b2c3":    {"bxc3", "bc3", "b:c3", "bxc3+", "b2c3", "b2xc3", "Pbxc3"},
		"e1c3":    {"Bxc3", "Bc3", "Bexc3", "e1c3"},
		"b2b3":    {"b3", "bb3"},
		"b2b4":    {"b4"},
		"e1d2":    {"bd2", "Bd2"},
		"e1g3":    {"bg3!"},
		"illegal": {"ba3", "bb2", "b2a3", "b2d4", "b5", "bxd2"},
	}},
	{"the b-pawn is past taking on c3", "4k3/8/8/8/1P6/2p5/8/4BK2 w - - 0 1", map[string][]string{
		"e1c3":    {"bxc3", "bc3", "Bxc3"},
		"b4b5":    {"b5"},
		"illegal": {"bxg3", "bb4", "ba5"},
	}},
	{"a pinned b-pawn is still the b-pawn", "1r2k3/8/8/8/8/2p5/1P6/1K2B3 w - - 0 1", map[string][]string{
		"e1c3":    {"Bxc3", "e1c3"},
		"illegal": {"bxc3", "bc3", "b2c3"},
	}},
	{"small b for the king's bishop", "r1bqkbnr/pppp1ppp/2n5/4p3/4P3/5N2/PPPP1PPP/RNBQKB1R w KQkq - 2 3", map[string][]string{
		"f1c4": {"bc4", "Bc4", "bfc4", "B1c4"},
		"f1b5": {"bb5", "Bb5", "bb5!"},
		"b2b4": {"b4"},
	}},
	{"both squares of a b-pawn's move are no bishop's", "4k3/8/8/8/8/8/1P2B3/4K3 w - - 0 1", map[string][]string{
		"illegal": {"b2c4", "b2-c4", "b2xc4"},
		"e2c4":    {"bc4", "Bc4"},
	}},
	{"two bishops of one colour", "4k3/8/8/8/8/8/7K/2B1B3 w - - 0 1", map[string][]string{
		"ambiguous": {"Bd2", "bd2", "B1d2"},
		"c1d2":      {"Bcd2", "bcd2", "Bc1d2", "c1d2"},
	}},
	{"two knights", "rnbqk2r/pppp1ppp/8/8/8/2N5/PPPP1PPP/R1BQKBNR w KQkq - 0 1", map[string][]string{
		"g1e2":      {"Nge2", "N1e2", "Ng1e2", "Ng1-e2", "g1e2"},
		"c3e2":      {"Nce2", "N3e2", "Nc3e2", "c3e2"},
		"ambiguous": {"Ne2", "Nxe2", "ne2+"},
		"illegal":   {"Nbe2", "N2e2", "Ng3e2", "Nd2"},
	}},
	{"one of two knights pinned", "rnbqk1nr/pppp1ppp/8/8/1b6/2N5/PPP2PPP/R1B1K1NR w KQkq - 1 1", map[string][]string{
		"g1e2":    {"Ne2", "Nge2", "N1e2"},
		"illegal": {"Nce2", "N3e2", "c3e2", "Nc3-e2"},
	}},
	{"three queens", "6k1/8/8/8/4Q2Q/8/2K5/7Q w - - 0 1", map[string][]string{
		"h4e1":      {"Qh4e1", "Qh4-e1"},
		"e4e1":      {"Qee1", "qee1", "qe4-e1"},
		"h1e1":      {"Q1e1"},
		"ambiguous": {"Qe1", "Qhe1", "Q4e1"},
	}},
	{"two pawns take on d5", "4k3/8/8/3p4/2P1P3/8/8/4K3 w - - 0 1", map[string][]string{
		"c4d5":       {"cxd5", "cd5"},
		"e4d5":       {"exd5", "ed5", "exd", "ed"},
		"ambiguous":  {"Pxd5"},
		"illegal":    {"d5", "Pd5", "bxd5"},
		"unreadable": {"xd5"},
	}},
	{"a blocked pawn", "4k3/8/8/8/8/4n3/4P3/4K3 w - - 0 1", map[string][]string{
		"illegal": {"e4", "e3", "e2e4", "exe3"},
	}},
	{"a guarded piece", "4k3/8/8/8/4n3/8/3q4/4K3 w - - 0 1", map[string][]string{
		"illegal": {"Kxd2", "Ke2", "Kd1"},
	}},
}

const castlingFEN = "r3k2r/8/8/8/8/8/8/R3K2R w KQkq - 0 1"

func TestResolveReadings(t *testing.T) {
	for _, r := range readings {
		t.Run(r.name, func(t *testing.T) {
			p := parse(t, r.fen)
			before := p
			for want, texts := range r.want {
				for _, text := range texts {
					m, err := p.Resolve([]byte(text))
					if refusal := refusals[want]; refusal != nil {
						if !errors.Is(err, refusal) || m != NoMove {
							t.Errorf("%q: %q, %v; want %s", text, m.UCI(), err, want)
						}
					} else if err != nil || m.UCI() != want {
						t.Errorf("%q: %q, %v; want %s", text, m.UCI(), err, want)
					}
				}
			}
			if p != before {
				t.Error("Resolve changed the position")
			}
		})
	}
}

func TestParseUCI(t *testing.T) {
	const promotion = "3r1b2/4P2k/8/8/8/8/8/4K3 w - - 0 1"
	for _, c := range []struct{ fen, text, want string }{
		{startFEN, "e2e4", "e2e4"},
		{startFEN, "g1f3", "g1f3"},
		{startFEN, "0000", "0000"},
		{castlingFEN, "e1g1", "e1g1"},
		{castlingFEN, "e1c1", "e1c1"},
		{promotion, "e7e8n", "e7e8n"},
		{startFEN, "e2e5", "illegal"},
		{startFEN, "e7e5", "illegal"},
		{startFEN, "g8f6", "illegal"},
		{startFEN, "e4e5", "illegal"},
		{startFEN, "e2e4q", "illegal"},
		{startFEN, "e1g1", "illegal"},
		{castlingFEN, "e1h1", "illegal"},
		{promotion, "e7e8", "illegal"},
		{"4k3/8/8/8/4r3/8/8/R3K2R w KQ - 0 1", "0000", "illegal"},
		{promotion, "e7e8k", "unreadable"},
		{promotion, "e7e8Q", "unreadable"},
		{startFEN, "", "unreadable"},
		{startFEN, "e2e", "unreadable"},
		{startFEN, "e2-e4", "unreadable"},
		{startFEN, "E2E4", "unreadable"},
		{startFEN, "i2e4", "unreadable"},
		{startFEN, "e2e9", "unreadable"},
		{startFEN, "e2e4qq", "unreadable"},
		{startFEN, "Nf3", "unreadable"},
		{startFEN, "a0a1", "unreadable"},
	} {
		p := parse(t, c.fen)
		m, err := p.ParseUCI(c.text)
		if refusal := refusals[c.want]; refusal != nil {
			if !errors.Is(err, refusal) || m != NoMove {
				t.Errorf("%q: %q, %v; want %s", c.text, m.UCI(), err, c.want)
			}
		} else if err != nil || m.UCI() != c.want {
			t.Errorf("%q: %q, %v", c.text, m.UCI(), err)
		}
	}
}

// Games are replayed by the million: nothing may be allocated per move.
func TestHotPathDoesNotAllocate(t *testing.T) {
	sans := [][]byte{[]byte("e4"), []byte("Nc6"), []byte("Bb5"), []byte("Nf6"), []byte("e5"), []byte("d5"), []byte("exd6e.p.")}
	var buf [256]Move
	allocs := testing.AllocsPerRun(20, func() {
		p := Start()
		for _, san := range sans {
			m, err := p.Resolve(san)
			if err != nil {
				t.Fatalf("%s: %v", san, err)
			}
			p.Play(m)
			p.Legal(buf[:0])
		}
	})
	if allocs != 0 {
		t.Errorf("%v allocations", allocs)
	}
}

// A pawn's capture by its files alone is found on every rank it can end on but the last,
// where it must say what the pawn becomes.
func TestCaptureByFilesOnEveryRank(t *testing.T) {
	for rank := 3; rank <= 8; rank++ {
		rows := []string{"8", "8", "8", "8", "8", "8", "8", "8"}
		rows[8-rank] = "3n4"
		rows[8-rank+1] = "4P3"
		white := strings.Join(rows, "/") + " w - - 0 1"
		for _, c := range []struct {
			fen, want string
		}{{withKings(white), fmt.Sprintf("e%dd%d", rank-1, rank)}, {withKings(turned(white)), fmt.Sprintf("e%dd%d", 10-rank, 9-rank)}} {
			pos := mustParse(c.fen)
			m, err := pos.Resolve([]byte("ed"))
			switch {
			case rank == 8 && err == nil:
				t.Errorf("%s: %s without what it becomes", c.fen, m.UCI())
			case rank < 8 && (err != nil || m.UCI() != c.want):
				t.Errorf("%s: %s, %v, want %s", c.fen, m.UCI(), err, c.want)
			}
		}
	}
}

// turned is a position with the colours changed.
func turned(fen string) string {
	placement, _, _ := strings.Cut(fen, " ")
	rows := strings.Split(placement, "/")
	slices.Reverse(rows)
	swap := func(r rune) rune {
		if unicode.IsUpper(r) {
			return unicode.ToLower(r)
		}
		return unicode.ToUpper(r)
	}
	return strings.Map(swap, strings.Join(rows, "/")) + " b - - 0 1"
}

// withKings puts the kings in two corners of the h-file that are free.
func withKings(fen string) string {
	rows := strings.Split(fen, "/")
	put := func(i int, king string) {
		placement, rest, _ := strings.Cut(rows[i], " ")
		open := map[string]string{"8": "7", "3n4": "3n3", "3N4": "3N3", "4P3": "4P2", "4p3": "4p2"}[placement]
		rows[i] = strings.TrimSpace(open + king + " " + rest)
	}
	put(0, "k")
	put(7, "K")
	return strings.Join(rows, "/")
}
