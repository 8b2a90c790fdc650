package pgn

import (
	"bytes"
	"fmt"
	"io"
	"math/rand/v2"
	"os"
	"path/filepath"
	"testing"
)

// benchGames writes n games of made-up moves that have the look of chess; the
// reader can't tell. Clocked ones carry a clock and an evaluation on each move.
func benchGames(n int, clocked bool) []byte {
	rnd := rand.New(rand.NewPCG(1, 2))
	var b bytes.Buffer
	for i := range n {
		result := []string{"1-0", "0-1", "1/2-1/2"}[rnd.IntN(3)]
		fmt.Fprintf(&b, "[Event \"Club evening\"]\n[Site \"https://example.org/g/%06d\"]\n[Date \"2024.%02d.%02d\"]\n[Round \"%d\"]\n"+
			"[White \"Player, Number %d\"]\n[Black \"Other, Number %d\"]\n[Result \"%s\"]\n[WhiteElo \"%d\"]\n[BlackElo \"%d\"]\n[TimeControl \"300+3\"]\n[ECO \"B12\"]\n\n",
			i, 1+rnd.IntN(12), 1+rnd.IntN(28), 1+rnd.IntN(9), rnd.IntN(400), rnd.IntN(400), result, 1500+rnd.IntN(900), 1500+rnd.IntN(900))
		benchMoves(&b, rnd, clocked)
		b.WriteString(result + "\n\n")
	}
	return b.Bytes()
}

func benchMoves(b *bytes.Buffer, rnd *rand.Rand, clocked bool) {
	width := 0
	for ply := range 50 + rnd.IntN(60) {
		w := benchMove(rnd)
		if ply%2 == 0 {
			w = fmt.Sprintf("%d. %s", ply/2+1, w)
		} else if clocked {
			w = fmt.Sprintf("%d... %s", ply/2+1, w)
		}
		if clocked {
			w += fmt.Sprintf(" { [%%eval %.2f] [%%clk 0:%02d:%02d] }", rnd.NormFloat64(), rnd.IntN(5), rnd.IntN(60))
		} else if width += len(w) + 1; width > 79 {
			b.WriteByte('\n')
			width = len(w) + 1
		}
		b.WriteString(w + " ")
	}
}

func benchMove(rnd *rand.Rand) string {
	square := string(rune('a'+rnd.IntN(8))) + string(rune('1'+rnd.IntN(8)))
	switch k := rnd.IntN(20); {
	case k < 7: // no pawn moves to the last rank without becoming a piece
		return square[:1] + string(rune('2'+rnd.IntN(6)))
	case k == 7:
		return "O-O"
	case k == 8:
		return string("KQRBN"[rnd.IntN(5)]) + "x" + square + "+"
	case k < 12:
		return string("KQRBN"[rnd.IntN(5)]) + "x" + square
	default:
		return string("KQRBN"[rnd.IntN(5)]) + square
	}
}

// benchMessy is all quirks together, n times, as a file of many hands.
func benchMessy(b *testing.B, n int) []byte {
	files, err := filepath.Glob(quirkDir + "/*.pgn")
	if err != nil || len(files) == 0 {
		b.Fatalf("%d quirks, %v", len(files), err)
	}
	var all bytes.Buffer
	for _, file := range files {
		text, err := os.ReadFile(file)
		if err != nil {
			b.Fatal(err)
		}
		all.Write(text)
		all.WriteString("\n\n")
	}
	return bytes.Repeat(all.Bytes(), n)
}

func benchRead(b *testing.B, text []byte, opt Options) {
	b.SetBytes(int64(len(text)))
	b.ReportAllocs()
	games := 0
	for b.Loop() {
		r := NewReader(bytes.NewReader(text), opt)
		for range r.All() {
		}
		games = r.Games()
	}
	b.ReportMetric(float64(games), "games/op")
}

func BenchmarkRead(b *testing.B) {
	none := func(*Game) bool { return false }
	for _, clocked := range []bool{false, true} {
		name := map[bool]string{false: "tidy", true: "clocked"}[clocked]
		text := benchGames(2000, clocked)
		b.Run(name+"/flat", func(b *testing.B) { benchRead(b, text, Options{}) })
		b.Run(name+"/tree", func(b *testing.B) { benchRead(b, text, Options{Variations: true}) })
		b.Run(name+"/skip", func(b *testing.B) { benchRead(b, text, Options{Want: none}) })
	}
	messy := benchMessy(b, 100)
	b.Run("messy/flat", func(b *testing.B) { benchRead(b, messy, Options{}) })
	b.Run("messy/tree", func(b *testing.B) { benchRead(b, messy, Options{Variations: true}) })
}

func BenchmarkWrite(b *testing.B) {
	text := benchGames(200, true)
	var games []*Game
	for g := range NewReader(bytes.NewReader(text), Options{Variations: true}).All() {
		games = append(games, g.Clone())
	}
	b.SetBytes(int64(len(text)))
	b.ReportAllocs()
	for b.Loop() {
		for _, g := range games {
			if err := Write(io.Discard, g); err != nil {
				b.Fatal(err)
			}
		}
	}
}
