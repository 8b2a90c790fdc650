package profile

import (
	"bytes"
	"fmt"
	"math/rand/v2"
	"testing"

	"foreply/fetch/pgn"
	"foreply/profile/board"
)

// inventedGames writes n games of random but repeated openings: each move is the
// first, second or a random legal one with falling probability, so that lines
// branch as real ones do.
func inventedGames(n int) []byte {
	r := rand.New(rand.NewPCG(11, 12))
	var out bytes.Buffer
	for i := range n {
		white, black := "Them", "Other"
		if i%2 == 1 {
			white, black = black, white
		}
		date := (pgn.Date{Year: 2016, Month: 1, Day: 1}.Span().First + pgn.Day(i/3)).Date().Tag()
		fmt.Fprintf(&out, "[White \"%s\"]\n[Black \"%s\"]\n[Date \"%s\"]\n[Result \"1-0\"]\n\n", white, black, date)
		pos := board.Start()
		for ply := range 60 {
			legal := pos.Legal(nil)
			if len(legal) == 0 {
				break
			}
			m := legal[r.IntN(len(legal))]
			if x := r.Float64(); ply < 20 && x < 0.75 {
				m = legal[int(pos.Key()%uint64(len(legal)))]
			} else if ply < 20 && x < 0.93 {
				m = legal[int((pos.Key()>>20)%uint64(len(legal)))]
			}
			fmt.Fprintf(&out, "%s%s ", MoveNumber(&pos), pos.SAN(m))
			pos.Play(m)
		}
		out.WriteString("1-0\n\n")
	}
	return out.Bytes()
}

func readProfile(text []byte) *Profile {
	return Build(pgn.NewReader(bytes.NewReader(text), pgn.Options{}).All(), Options{Them: func(g *pgn.Game) (board.Color, bool) {
		if g.Tags().Get("White") == "Them" {
			return board.White, true
		}
		return board.Black, true
	}})
}

const (
	benchGames     = 5000
	benchPositions = 2500 // with the opponent to move, of a book of 5,000
)

// The two to compare: reading 5,000 games into a profile, and the forecasts for
// all positions with the opponent to move that a walk of a book of 5,000
// positions visits, the tuning over the 5,000 games included.
func BenchmarkReading5000Games(b *testing.B) {
	text := inventedGames(benchGames)
	b.SetBytes(int64(len(text)))
	for b.Loop() {
		readProfile(text)
	}
}

func BenchmarkForecastsOfABook(b *testing.B) {
	p := readProfile(inventedGames(benchGames))
	var book []board.Position
	for pos := range p.Tree(board.White).All() {
		if pos.Turn() == board.White && len(book) < benchPositions {
			book = append(book, pos)
		}
	}
	for b.Loop() {
		look := NewForecast(p, board.White, ForecastOptions{Class: Classical}).On(pgn.Date{Year: 2025, Month: 1, Day: 1}.Span())
		for i := range book {
			look.At(&book[i])
		}
	}
}
