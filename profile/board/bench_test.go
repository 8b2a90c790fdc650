package board

import (
	"os"
	"strings"
	"testing"
)

// gamesFile holds invented games in canonical SAN, one a line.
const gamesFile = testdata + "games.txt"

func games(tb testing.TB) [][]string {
	tb.Helper()
	name := gamesFile
	if v := os.Getenv("BOARD_GAMES"); v != "" {
		name = v
	}
	text, err := os.ReadFile(name)
	if err != nil {
		tb.Fatal(err)
	}
	var all [][]string
	for line := range strings.Lines(string(text)) {
		if !strings.HasPrefix(line, "#") {
			all = append(all, strings.Fields(line))
		}
	}
	return all
}

// ply is one move of a game: where, as written, as resolved.
type ply struct {
	before Position
	san    []byte
	move   Move
}

func plies(tb testing.TB) []ply {
	tb.Helper()
	var all []ply
	for _, g := range games(tb) {
		p := Start()
		for _, san := range g {
			m, err := p.Resolve([]byte(san))
			if err != nil {
				tb.Logf("%s in %s: %v", san, p.FEN(), err)
				break
			}
			all = append(all, ply{p, []byte(san), m})
			p.Play(m)
		}
	}
	return all
}

// BenchmarkReplay resolves and plays whole games: the work per move of a game.
func BenchmarkReplay(b *testing.B) {
	var all [][][]byte
	for _, g := range games(b) {
		var sans [][]byte
		for _, san := range g {
			sans = append(sans, []byte(san))
		}
		all = append(all, sans)
	}
	b.ReportAllocs()
	b.ResetTimer()
	for n := 0; n < b.N; {
		for _, g := range all {
			p := Start()
			for _, san := range g {
				m, err := p.Resolve(san)
				if err != nil {
					break
				}
				p.Play(m)
				n++
			}
			if n >= b.N {
				break
			}
		}
	}
}

func BenchmarkResolve(b *testing.B) {
	all := plies(b)
	b.ReportAllocs()
	b.ResetTimer()
	for i := range b.N {
		x := &all[i%len(all)]
		if _, err := x.before.Resolve(x.san); err != nil {
			b.Fatal(err)
		}
	}
}

func BenchmarkPlay(b *testing.B) {
	all := plies(b)
	b.ResetTimer()
	for i := range b.N {
		x := &all[i%len(all)]
		p := x.before
		p.Play(x.move)
	}
}

func BenchmarkLegal(b *testing.B) {
	all := plies(b)
	var buf [256]Move
	b.ReportAllocs()
	b.ResetTimer()
	for i := range b.N {
		all[i%len(all)].before.Legal(buf[:0])
	}
}

func BenchmarkKey(b *testing.B) {
	all := plies(b)
	b.ResetTimer()
	for i := range b.N {
		all[i%len(all)].before.Key()
	}
}

func BenchmarkSAN(b *testing.B) {
	all := plies(b)
	b.ReportAllocs()
	b.ResetTimer()
	for i := range b.N {
		x := &all[i%len(all)]
		x.before.SAN(x.move)
	}
}

func BenchmarkPerft(b *testing.B) {
	p := mustParse("r3k2r/p1ppqpb1/bn2pnp1/3PN3/1p2P3/2N2Q1p/PPPBBPPP/R3K2R w KQkq - 0 1")
	for range b.N {
		perft(&p, 3)
	}
}

func BenchmarkParseFEN(b *testing.B) {
	fen := "r3k2r/p1ppqpb1/bn2pnp1/3PN3/1p2P3/2N2Q1p/PPPBBPPP/R3K2R w KQkq - 0 1"
	b.ReportAllocs()
	for range b.N {
		if _, err := ParseFEN(fen); err != nil {
			b.Fatal(err)
		}
	}
}

func BenchmarkEPD(b *testing.B) {
	all := plies(b)
	b.ReportAllocs()
	b.ResetTimer()
	for i := range b.N {
		_ = all[i%len(all)].before.EPD()
	}
}
