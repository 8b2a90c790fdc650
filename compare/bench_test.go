package compare

import (
	"bytes"
	"fmt"
	"math/rand/v2"
	"runtime"
	"testing"
	"time"

	"foreply/compare/book"
	"foreply/compare/words"
	"foreply/fetch/pgn"
	"foreply/profile"
	"foreply/profile/board"
)

const (
	benchGames = 5000
	openedPly  = 24 // invented games repeat themselves so far
	benchPlies = 80
)

// repeatedLine plays the first, second or third move of a position with falling
// probability, so that lines branch as openings do, and any move later.
func repeatedLine(r *rand.Rand, plies int) []string {
	pos := board.Start()
	var line []string
	for ply := range plies {
		legal := pos.Legal(nil)
		if len(legal) == 0 {
			break
		}
		m := legal[r.IntN(len(legal))]
		if x := r.Float64(); ply < openedPly {
			nth := 0
			if x > 0.65 {
				nth = 20
			}
			if x > 0.9 {
				nth = 40
			}
			m = legal[int((pos.Key()>>nth)%uint64(len(legal)))]
		}
		line = append(line, pos.SAN(m))
		pos.Play(m)
	}
	return line
}

// inventedGames writes n games of one player, all with White.
func inventedGames(n int) []byte {
	r := rand.New(rand.NewPCG(21, 22))
	var out bytes.Buffer
	for i := range n {
		date := (pgn.Date{Year: 2016, Month: 1, Day: 1}.Span().First + pgn.Day(i/2)).Date().Tag()
		fmt.Fprintf(&out, "[White \"Them\"]\n[Black \"Other\"]\n[Date \"%s\"]\n[Result \"%s\"]\n[TimeControl \"%s\"]\n\n%s *\n\n",
			date, []string{"1-0", "0-1", "1/2-1/2"}[i%3], []string{"5400+30", "180+2"}[i%2], words.Movetext(repeatedLine(r, benchPlies), 0))
	}
	return out.Bytes()
}

func readGames(text []byte) *profile.Profile {
	return profile.Build(pgn.NewReader(bytes.NewReader(text), pgn.Options{}).All(), profile.Options{
		Them: func(*pgn.Game) (board.Color, bool) { return board.White, true },
	})
}

// inventedBook is a book for Black of at least so many positions, out of the
// same openings.
func inventedBook(tb testing.TB, positions int) *book.Book {
	r := rand.New(rand.NewPCG(23, 24))
	b := book.New(board.Black)
	for b.Size() < positions {
		var text bytes.Buffer
		for range 200 {
			text.WriteString(words.Movetext(repeatedLine(r, openedPly), 0) + " *\n\n")
		}
		for g := range pgn.NewReader(&text, pgn.Options{File: "book.pgn", Variations: true}).All() {
			b.Add(g)
		}
	}
	return b
}

// Comparing a book of 20,000 positions with 5,000 games, against the reading of
// these games by one worker: the metric reading/op is how many times that it
// takes, bytes/position what the book holds for each of its positions.
func BenchmarkCompare20000Positions(b *testing.B) {
	text := inventedGames(benchGames)
	before := heap()
	invented := inventedBook(b, 20000)
	size := heap() - before
	var reading time.Duration
	for b.Loop() {
		b.StopTimer()
		begun := time.Now()
		p := readGames(text)
		reading += time.Since(begun)
		b.StartTimer()
		Make(Input{Profile: p, Books: []*book.Book{invented}}, Options{When: today, Class: profile.Classical})
	}
	b.ReportMetric(b.Elapsed().Seconds()/reading.Seconds(), "reading/op")
	b.ReportMetric(float64(size)/float64(invented.Size()), "bytes/position")
	runtime.KeepAlive(invented)
}

// Memory is proportional to positions: compare bytes/position of this and of
// BenchmarkCompare20000Positions.
func BenchmarkBookOf2000Positions(b *testing.B) {
	for b.Loop() {
		before := heap()
		invented := inventedBook(b, 2000)
		b.ReportMetric(float64(heap()-before)/float64(invented.Size()), "bytes/position")
		runtime.KeepAlive(invented)
	}
}

// heap is what is in use after a collection.
func heap() int {
	runtime.GC()
	var m runtime.MemStats
	runtime.ReadMemStats(&m)
	return int(m.HeapAlloc)
}
