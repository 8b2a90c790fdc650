package find

import (
	"fmt"
	"reflect"
	"slices"
	"strings"
	"testing"

	"foreply/compare/book"
	"foreply/compare/fact"
	"foreply/fetch/pgn"
	"foreply/profile"
	"foreply/profile/board"
)

// An engine is asked first where the book has no answer, then where its lines end, behind
// their slips, along the lines from the fifth move of a side on, and last where they often
// were: by the games that came there, each with the moves that two games went on with. Where
// the book has an answer others' moves count nothing.
func TestWantedInOrder(t *testing.T) {
	const head = "1-0 300: e4 e5 Nf3 "
	p := gamesOf(t, slices.Concat(
		repeated(4, head+"d6 d4 exd4 Nxd4"), repeated(3, head+"d6 Bc4 Be7"), repeated(2, head+"d6 g3 g6"), repeated(6, head+"Nc6 Bc4 Nf6"),
		repeated(3, head+"Nc6 Bb5 a6 Ba4"), repeated(2, head+"Nc6 Bb5 Nf6 O-O"), repeated(1, head+"Nc6 Bb5 d6"))...)
	r := fact.Report{Sides: []fact.Side{
		{
			Unanswered: []fact.Unanswered{{Line: fields("e4 g5")}, {Line: fields("e4 h5")}},
			Exits:      []fact.Exit{{Line: fields("e4 c5 Nf3 d6 d4 cxd4")}, {Line: fields("e4 c6")}},
			Traps:      []fact.Trap{{Kind: fact.OthersSlip, Line: fields("e4 f5 f4")}, {Kind: fact.TheirSlip, Line: fields("e4 a5")}},
		},
		{Unanswered: []fact.Unanswered{{Line: fields("b4")}}},
	}}
	var got, want []string
	for _, pos := range Wanted(&r, p, []*book.Book{bookOf(t, "1. e4 e5 2. Nf3 Nc6 3. Bb5 *"), bookAs(t, board.Black, "1. b3 e5 *")}) {
		got = append(got, pos.EPD())
	}
	for _, way := range []string{"e4 g5", "e4 h5", "b4", "e4 c5 Nf3 d6 d4 cxd4", "e4 c6", "e4 a5", "e4 c5 Nf3 d6", "e4 c5 Nf3 d6 d4",
		"e4 e5 Nf3 Nc6 Bb5", "e4 e5 Nf3 Nc6 Bb5 a6", "e4 e5 Nf3 Nc6 Bb5 Nf6", "e4 e5 Nf3 d6 d4", "e4 e5 Nf3 d6 d4 exd4", "e4 e5 Nf3 d6 Bc4", "e4 e5 Nf3 d6 Bc4 Be7"} {
		end := lineOf(way).End
		want = append(want, end.EPD())
	}
	if !slices.Equal(got, want) {
		t.Errorf("got\n%s\nwant\n%s", strings.Join(got, "\n"), strings.Join(want, "\n"))
	}
}

// How peers met a gap is told from ten of their games on, as results of players like them:
// the three commonest answers.
func TestPeersMet(t *testing.T) {
	tails := strings.Split("a6 a3,a5 a3,b6 a3,b5 a3,c6 a3,c5 a3,h6 a3,h5 a3,g6 a3,g5 a3,Na6 a3", ",")
	var text strings.Builder
	for i, row := range strings.Split("Nxe5 1-0,Nxe5 1-0,Nxe5 1-0,Nxe5 0-1,Nxe5 1/2-1/2,exf5 0-1,exf5 0-1,exf5 *,d4 1-0,d4 1-0,Nc3 1-0", ",") {
		move, result, _ := strings.Cut(row, " ")
		fmt.Fprintf(&text, "[White \"Oak\"]\n[Black \"Ash\"]\n[Date \"2025.01.%02d\"]\n[Result %q]\n\ne4 e5 Nf3 f5 %s %s %s\n\n", i+1, result, move, tails[i], result)
	}
	peers := profile.NewPeers(pgn.NewReader(strings.NewReader(text.String()), pgn.Options{}).All(), gamesOf(t, "2026.01.05 1-0 300: d4"), nil)
	gaps := func() fact.Side {
		return fact.Side{Unanswered: []fact.Unanswered{{Line: fields("e4 c5")}, {Line: fields("e4 e5 Nf3 f5")}}}
	}
	s := gaps()
	PeersMet(peers, &s, today)
	want := fact.Unanswered{Line: fields("e4 e5 Nf3 f5"), PeerGames: 11, Peers: []fact.Met{
		{Move: "Nxe5", Games: 5, Score: fact.Score{Wins: 1, Draws: 1, Losses: 3}}, {Move: "exf5", Games: 3, Score: fact.Score{Wins: 2, Unknown: 1}}, {Move: "d4", Games: 2, Score: fact.Score{Losses: 2}},
	}}
	if !reflect.DeepEqual(s.Unanswered[1], want) || s.Unanswered[0].PeerGames != 0 {
		t.Errorf("%+v", s.Unanswered)
	}
	for day, games := range map[int]int{11: 10, 10: 0} { // of the day itself none is over
		s := gaps()
		if PeersMet(peers, &s, (pgn.Date{Year: 2025, Month: 1, Day: day}).Span()); s.Unanswered[1].PeerGames != games {
			t.Errorf("on %d January: %d games", day, s.Unanswered[1].PeerGames)
		}
	}
}
