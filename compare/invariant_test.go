package compare

import (
	"encoding/json"
	"fmt"
	"math"
	"math/rand/v2"
	"slices"
	"testing"

	"foreply/compare/book"
	"foreply/compare/fact"
	"foreply/compare/words"
	"foreply/fetch/pgn"
	"foreply/profile"
	"foreply/profile/board"
)

// randomLine plays few different moves at each position, so that lines meet.
func randomLine(r *rand.Rand, plies, breadth int) []string {
	pos := board.Start()
	var line []string
	for range plies {
		legal := pos.Legal(nil)
		if len(legal) == 0 {
			break
		}
		own := rand.New(rand.NewPCG(pos.Key(), 1))
		choices := own.Perm(len(legal))[:min(breadth, len(legal))]
		m := legal[choices[r.IntN(len(choices))]]
		line = append(line, pos.SAN(m))
		pos.Play(m)
	}
	return line
}

func randomGames(r *rand.Rand, n, plies, breadth int) *profile.Profile {
	results := []string{"1-0", "0-1", "1/2-1/2", "*"}
	dates := []string{"2026.05.%02d", "2025.??.%02d", "20%02d.01.01", "????.??.??%.0d"}
	games := func(yield func(*pgn.Game) bool) {
		for i := range n {
			g := &pgn.Game{File: "random.pgn", Index: i + 1}
			g.SetTags(pgn.Tags{
				{Name: "White", Value: "A"}, {Name: "Black", Value: "B"},
				{Name: "Result", Value: results[r.IntN(4)]},
				{Name: "Date", Value: fmt.Sprintf(dates[r.IntN(4)], r.IntN(26)+1)},
				{Name: "TimeControl", Value: []string{"300", "5400+30", "?", "60"}[r.IntN(4)]},
			})
			for _, san := range randomLine(r, r.IntN(plies)+1, breadth) {
				g.Moves = append(g.Moves, pgn.Move{SAN: []byte(san)})
			}
			if !yield(g) {
				return
			}
		}
	}
	them := board.Color(r.IntN(2))
	return profile.Build(games, profile.Options{Them: func(*pgn.Game) (board.Color, bool) { return them, true }})
}

func randomBook(t testing.TB, r *rand.Rand, mine board.Color, chapters, plies, breadth int) *book.Book {
	var texts []string
	for range chapters {
		texts = append(texts, words.Movetext(randomLine(r, r.IntN(plies+1), breadth), 0)+" *\n")
	}
	return bookOf(t, mine, texts...)
}

// Exits and other sum to 1, for every input and at every limit; nothing in the
// report is outside its range.
func TestExitsAndOtherSumToOne(t *testing.T) {
	rounds := 300
	if testing.Short() {
		rounds = 60
	}
	for seed := range rounds {
		r := rand.New(rand.NewPCG(uint64(seed), 7))
		breadth := 1 + r.IntN(3)
		p := randomGames(r, r.IntN(60), 24, breadth)
		mine := board.Color(r.IntN(2))
		b := randomBook(t, r, mine, r.IntN(12), 20, breadth)
		opt := Options{
			MaxPly: 1 + r.IntN(30), Threshold: []float64{0.2, 0.01, 0.001, 1e-9}[r.IntN(4)],
			When: pgn.Date{Year: 2026, Month: 6, Day: 1}.Span(), Class: profile.Class(r.IntN(5)),
		}
		rep := Make(Input{Profile: p, Books: []*book.Book{b}}, opt)
		s := rep.Sides[0]
		sum := s.Other
		for _, x := range s.Exits {
			sum += x.Reach
			if !(0 <= x.Lo && x.Lo <= x.Hi && x.Hi <= 1) || x.Reach < opt.Threshold || x.Reach > 1+1e-9 {
				t.Errorf("seed %d: exit %v has reach %v (%v to %v)", seed, x.Line, x.Reach, x.Lo, x.Hi)
			}
		}
		if math.Abs(sum-1) > 1e-9 {
			t.Errorf("seed %d: exits and other sum to %v", seed, sum)
		}
		checkPartings(t, seed, &s)
	}
}

func checkPartings(t *testing.T, seed int, s *fact.Side) {
	t.Helper()
	for i, f := range s.Partings {
		p := f.Rest.P
		for _, b := range f.Branches {
			p += b.Share.P
			if b.Next >= len(s.Partings) || b.State != fact.NoAnswer && b.Answer == "" {
				t.Errorf("seed %d: parting %d branch %s: %+v", seed, i, b.Move, b)
			}
		}
		if math.Abs(p-1) > 1e-9 {
			t.Errorf("seed %d: parting %d: shares sum to %v", seed, i, p)
		}
	}
	total := 0
	for _, x := range s.Exits {
		total += x.Of100
	}
	if total > 100 {
		t.Errorf("seed %d: printed shares of exits sum to %d", seed, total)
	}
}

// The same input gives the same report, to the byte.
func TestReportIsDeterministic(t *testing.T) {
	make := func() []byte {
		r := rand.New(rand.NewPCG(3, 4))
		p := randomGames(r, 80, 24, 2)
		books := []*book.Book{randomBook(t, r, board.White, 10, 16, 2), randomBook(t, r, board.Black, 10, 16, 2)}
		rep := Make(Input{Profile: p, Books: books}, Options{When: pgn.Date{Year: 2026, Month: 6, Day: 1}.Span()})
		out, err := json.Marshal(rep)
		if err != nil {
			t.Fatal(err)
		}
		return out
	}
	first := make()
	for range 5 {
		if !slices.Equal(first, make()) {
			t.Fatal("two runs differ")
		}
	}
}
