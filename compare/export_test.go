package compare

import (
	"bytes"
	"math/rand/v2"
	"slices"
	"strings"
	"testing"

	"foreply/fetch/pgn"
	"foreply/profile/board"
)

// The written PGN, read back, has the lines of the exits and no other ends: a
// line that goes on through another's end is the only one not to end itself.
func TestWrittenLinesReadBack(t *testing.T) {
	for seed := range uint64(40) {
		r := rand.New(rand.NewPCG(seed, 5))
		p := randomGames(r, 60, 24, 2)
		books := []*Book{randomBook(t, r, board.White, 8, 16, 2), randomBook(t, r, board.Black, 8, 16, 2)}
		rep := Make(Input{Profile: p, Books: books}, Options{When: today})
		var out bytes.Buffer
		if err := rep.WritePGN(&out, books); err != nil {
			t.Fatal(err)
		}
		reader := pgn.NewReader(&out, pgn.Options{Variations: true})
		side := 0
		for g := range reader.All() {
			var want []string
			for _, x := range rep.Sides[side].Exits {
				want = append(want, strings.Join(x.Line, " "))
			}
			if got, want := leaves(g.Tree, nil), longest(want); !slices.Equal(got, want) {
				t.Errorf("seed %d, side %d: read back %q, want %q", seed, side, got, want)
			}
			side++
		}
		if side != 2 {
			t.Errorf("seed %d: %d games written for two sides", seed, side)
		}
	}
}

// leaves lists the ends of a tree of moves, sorted.
func leaves(l *pgn.Line, before []string) []string {
	var out []string
	path := slices.Clone(before)
	for i := range l.Moves {
		n := &l.Moves[i]
		for _, v := range n.Variations {
			out = append(out, leaves(v, path)...)
		}
		path = append(path, n.SAN)
	}
	if len(path) > 0 {
		out = append(out, strings.Join(path, " "))
	}
	slices.Sort(out)
	return out
}

// longest drops the lines that others go on from.
func longest(lines []string) []string {
	slices.Sort(lines)
	var out []string
	for i, l := range slices.Compact(lines) {
		goesOn := slices.ContainsFunc(lines[i+1:], func(o string) bool { return strings.HasPrefix(o, l+" ") })
		if l != "" && !goesOn {
			out = append(out, l)
		}
	}
	return out
}

func TestEPDLines(t *testing.T) {
	b := bookOf(t, board.White, "1. e4 e5 2. Nf3 *")
	rep := Make(Input{Profile: e4Games(), Books: []*Book{b}}, Options{When: today})
	var out bytes.Buffer
	if err := rep.WriteEPD(&out); err != nil {
		t.Fatal(err)
	}
	lines := strings.Split(strings.TrimSpace(out.String()), "\n")
	if len(lines) != len(rep.Sides[0].Exits) {
		t.Fatalf("%d lines for %d exits", len(lines), len(rep.Sides[0].Exits))
	}
	for i, l := range lines {
		epd, ops, found := strings.Cut(l, " id ")
		if _, err := board.ParseFEN(epd); err != nil || !found || !strings.Contains(ops, `c1 "reach 0.`) {
			t.Errorf("line %d: %q: %v", i, l, err)
		}
	}
}

// Where past games left the book, counted by hand: e4Games has 12 games with
// 1...e5 2.Nf3 Nc6 (the book ends after 2.Nf3), 6 with 1...c5, 2 with 1...f5.
func TestLeft(t *testing.T) {
	b := bookOf(t, board.White, "1. e4 e5 2. Nf3 *")
	s := Make(Input{Profile: e4Games(), Books: []*Book{b}}, Options{When: today}).Sides[0]
	if l := s.Left; l.Games != 20 || l.Book != 12 || l.Them != 8 || l.You != 0 || l.Never != 0 || len(l.Usual) != 3 || l.Usual[0].Games != 12 {
		t.Errorf("%+v", l)
	}
}

// The user's own games: 1.e4 in three, and never 2.Nf3 against 1...e5.
func TestKnowOfYou(t *testing.T) {
	own := gamesOf(board.White, repeated(3, "1-0 5400 2000 Elm: e4 e5 Bc4")...)
	b := bookOf(t, board.White, "1. e4 e5 2. Nf3 *")
	s := Make(Input{Profile: e4Games(), Own: own, Books: []*Book{b}}, Options{When: today}).Sides[0]
	want := []string{"you opened 1.e4 in 3 of 3 games", "after 1.e4 e5 you played 2.Bc4 in 3 of 3 games"}
	if !slices.Equal(s.KnowOfYou[:2], want) {
		t.Errorf("%q, want %q", s.KnowOfYou, want)
	}
}
