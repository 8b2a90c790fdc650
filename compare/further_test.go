package compare

import (
	"slices"
	"strings"
	"testing"

	"foreply/compare/book"
	"foreply/compare/fact"
	"foreply/profile"
	"foreply/profile/board"
	"foreply/profile/profiletest"
)

// The lines are followed further, for who has room, to a quarter of the least reach: a move in one
// game of two hundred has a row there alone. A trap is marked in both trees.
func TestFurtherLines(t *testing.T) {
	rows := slices.Concat([]string{"2026.01.01 1-0 300: e4 =0.3 e5 =0.3 Nf3 =0.3 f6 =1.9 Nxe5"}, repeated(9, "1-0 300: e4 e5 Nf3 Nc6"))
	s := trapsOf(t, profiletest.Judged(t, rows...), "1. e4 e5 2. Nf3 Nc6 (2... f6 3. Nxe5) 3. Bb5 *")
	has := func(list []fact.Parting, move string) (row, trap bool) {
		for _, p := range list {
			for _, b := range p.Branches {
				if b.Move == move {
					return true, b.Trap != nil
				}
			}
		}
		return false, false
	}
	for _, list := range [][]fact.Parting{s.Partings, s.Further} {
		if row, trap := has(list, "f6"); !row || !trap {
			t.Errorf("2...f6: row %v, trap %v", row, trap)
		}
	}
	lone := trapsOf(t, profiletest.Judged(t, slices.Concat(repeated(168, "1-0 300: e4 e5 Nf3 Nc6"), repeated(1, "1-0 300: e4 a6 d4"))...), "1. e4 e5 2. Nf3 Nc6 3. Bb5 *")
	near, _ := has(lone.Partings, "a6")
	far, _ := has(lone.Further, "a6")
	if near || !far {
		t.Errorf("1...a6 has a row %v, further %v", near, far)
	}
}

// Peers whose games are all of the day or later say nothing: there is no game of theirs, and
// anything may come.
func TestPeersAllLater(t *testing.T) {
	p := gamesOf(board.White, "2026.01.05 1-0 5400 1900 Elm: d4 d5")
	peers := profile.NewPeers(pgnGames([]string{"2026.12.05 1-0 Oak Ash: e4 e5 Nf3 Nc6 Bb5 a6"}), p, nil)
	s := Make(Input{Profile: p, Peers: peers, Books: []*book.Book{bookOf(t, board.White, "1. e4 e5 2. Nf3 *")}}, Options{When: today}).Sides[0]
	if s.PeersOnly || len(s.Tonight) != 1 || s.Tonight[0].Color != "black" || peers.Games == 0 {
		t.Errorf("%v, %+v", s.PeersOnly, s.Tonight)
	}
}

// That no game of theirs is known is said of each share; on boards it is drawn where the last
// move came from.
func TestLastTouches(t *testing.T) {
	p := gamesOf(board.White, "2026.01.05 1-0 5400 1900 Elm: d4 d5")
	var rows []string
	for _, move := range []string{"a6", "Nf6", "d6", "h6", "Bc5"} {
		rows = append(rows, "2025.12.05 1-0 Oak Ash: e4 e5 Nf3 Nc6 Bb5 "+move, "2025.12.06 1-0 Oak Ash: e4 c5 Nf3 Nc6 Bb5 "+strings.Replace(move, "Bc5", "e6", 1))
	}
	s := Make(Input{Profile: p, Peers: profile.NewPeers(pgnGames(rows), p, nil), Books: []*book.Book{bookOf(t, board.White, "1. e4 e5 (1... c5 2. Nf3) 2. Nf3 Nc6 3. Bb5 *")}}, Options{When: today}).Sides[0]
	if len(s.Partings) == 0 || !s.Partings[0].Branches[0].Share.OfPeers {
		t.Errorf("%+v", s.Partings)
	}
	rep := Make(Input{Profile: gamesOf(board.Black, repeated(20, "1-0 5400 2000 Elm: e4 e5 Nf3 Nc6 Bb5 a6 Ba4 Nf6")...), Books: []*book.Book{bookOf(t, board.White, "1. e4 e5 2. Nf3 Nc6 3. Bb5 a6 4. Ba4 *")}}, Options{When: today})
	boards := rep.Sides[0].Boards
	for _, d := range boards {
		if d.Origin == "" {
			t.Errorf("%+v", d)
		}
	}
	if len(boards) == 0 {
		t.Error("no board")
	}
}
