package board

import (
	"strings"
	"testing"
)

// games are the moves of the invented games of games.tsv.
func games(tb testing.TB) [][]string {
	tb.Helper()
	var all [][]string
	for _, row := range table(tb, "games.tsv") {
		all = append(all, strings.Fields(row["san"]))
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
	for _, sans := range games(tb) {
		p := Start()
		for _, san := range sans {
			m, err := p.Resolve([]byte(san))
			if err != nil {
				tb.Fatalf("%s in %s: %v", san, p.FEN(), err)
			}
			all = append(all, ply{p, []byte(san), m})
			p.Play(m)
		}
	}
	return all
}

// BenchmarkReplay is the work for one move of a game: resolve it and play it.
func BenchmarkReplay(b *testing.B) {
	all := plies(b)
	b.ReportAllocs()
	var p Position
	for i := 0; b.Loop(); i++ {
		x := &all[i%len(all)]
		if x.before.half == 0 && x.before.full == 1 && x.before.turn == White {
			p = Start()
		}
		m, err := p.Resolve(x.san)
		if err != nil {
			b.Fatal(err)
		}
		p.Play(m)
	}
}

// eachPly measures f over the positions and moves of games.
func eachPly(b *testing.B, f func(p *Position, x *ply)) {
	b.Helper()
	all := plies(b)
	b.ReportAllocs()
	for i := 0; b.Loop(); i++ {
		x := &all[i%len(all)]
		f(&x.before, x)
	}
}

func BenchmarkResolve(b *testing.B) {
	eachPly(b, func(p *Position, x *ply) {
		if _, err := p.Resolve(x.san); err != nil {
			b.Fatal(err)
		}
	})
}

func BenchmarkPlay(b *testing.B) {
	eachPly(b, func(p *Position, x *ply) {
		after := *p
		after.Play(x.move)
	})
}

func BenchmarkLegal(b *testing.B) {
	var buf [256]Move
	eachPly(b, func(p *Position, _ *ply) { p.Legal(buf[:0]) })
}

func BenchmarkKey(b *testing.B) {
	var sum uint64
	eachPly(b, func(p *Position, _ *ply) { sum += p.Key() })
	if sum == 0 {
		b.Fatal("no keys")
	}
}

func BenchmarkSAN(b *testing.B) {
	eachPly(b, func(p *Position, x *ply) { p.SAN(x.move) })
}

func BenchmarkEPD(b *testing.B) {
	eachPly(b, func(p *Position, _ *ply) { p.EPD() })
}

func BenchmarkParseFEN(b *testing.B) {
	b.ReportAllocs()
	for b.Loop() {
		if _, err := ParseFEN(middlegame); err != nil {
			b.Fatal(err)
		}
	}
}

// BenchmarkPerft counts the 97,862 leaves of depth 3.
func BenchmarkPerft(b *testing.B) {
	p := parse(b, middlegame)
	for b.Loop() {
		perft(&p, 3)
	}
}
