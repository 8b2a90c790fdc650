package walk

import (
	"iter"
	"strconv"
	"strings"
	"testing"

	"foreply/compare/book"
	"foreply/fetch/pgn"
	"foreply/profile"
	"foreply/profile/board"
)

// chances is a forecast by hand: behind a line their moves, each with its probability in
// hundredths and the games it was seen in. The strength is 10.
type chances map[string]string

func (c chances) At(pos *board.Position) profile.Expected {
	e := profile.Expected{Strength: 10}
	for way, said := range c {
		at := Resolved(strings.Fields(way)).End
		if at.Key() != pos.Key() {
			continue
		}
		f := strings.Fields(said)
		for i := 0; i < len(f); i += 3 {
			m, err := at.Resolve([]byte(f[i]))
			p, err2 := strconv.Atoi(f[i+1])
			n, err3 := strconv.Atoi(f[i+2])
			if err != nil || err2 != nil || err3 != nil {
				panic(said)
			}
			e.Moves = append(e.Moves, profile.Likely{Move: m, Range: profile.Range{P: float64(p) / 100}, N: n})
			e.Visits += n
		}
	}
	return e
}

func (c chances) Shares(pos *board.Position) profile.Expected { return c.At(pos) }

func walked(b *book.Book, c chances, opt Options) *Walk {
	w := New(b, c, opt)
	w.Run(board.Start(), 0)
	return w
}

func told(moves []board.Move) string { return strings.Join(SAN(moves), " ") }

// state is the one that a line leads to.
func state(t *testing.T, w *Walk, line string) *State {
	t.Helper()
	end := Resolved(strings.Fields(line))
	s := w.ByPlace()[Key{end.End.Key(), len(end.Moves)}]
	if s == nil {
		t.Fatalf("%s was not followed", line)
	}
	return s
}

const (
	orders = "1. d4 d5 (1... Nf6 2. c4 d5 3. Nc3) 2. c4 Nf6 3. Nc3"
	near   = 1e-9
)

// twoOrders: 2...Nf6 after 1...d5, never seen, in 42 of 100, and 2...d5 after 1...Nf6 in 30
// lead to one position; 1...f5 leaves in 10, and something never seen in 18.
var twoOrders = chances{"d4": "d5 60 6 Nf6 30 3 f5 10 1", "d4 d5 c4": "Nf6 70 0 e6 20 0 c6 10 0", "d4 Nf6 c4": "d5 100 3"}

func whiteBook(text string) *book.Book {
	b := book.New(board.White)
	for g := range games(text + " *") {
		b.Add(g)
	}
	return b
}

// games reads chapters.
func games(text string) iter.Seq[*pgn.Game] {
	return pgn.NewReader(strings.NewReader(text), pgn.Options{Variations: true}).All()
}
