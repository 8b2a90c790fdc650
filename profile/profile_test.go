package profile

import (
	"fmt"
	"strings"
	"testing"

	"foreply/fetch/pgn"
	"foreply/profile/board"
)

// A profile of some of the games has trees of its own: of those games alone, each colour's.
func TestOnlySomeGames(t *testing.T) {
	p := annotated(t, strings.Replace(evaluated("2026.01.01", "300", "1. e4 e5"), `[White "Other"]`, `[White "Them"]`, 1)+
		evaluated("2026.01.02", "300", "1. d4 d5")+evaluated("2026.01.03", "60", "1. c4 e5")+evaluated("2026.01.04", "300", "1. d4 f5"))
	blitz := p.Only(func(g *Game) bool { return g.Class == Blitz })
	start := board.Start()
	got := fmt.Sprint(len(blitz.Games), blitz.Count(board.White), blitz.Count(board.Black))
	for _, c := range []board.Color{board.White, board.Black} {
		n := blitz.Tree(c).At(start.Key())
		got += fmt.Sprint("; ", n.Count)
		for _, e := range n.Edges {
			got += fmt.Sprint(" ", e.Move.UCI(), e.Count, pgn.NumberedDate(e.LastDate))
		}
	}
	if want := "3 1 2; {1 1 0 0 0} e2e4{1 1 0 0 0} 2026-01-01; {2 0 0 2 0} d2d4{2 0 0 2 0} 2026-01-04"; got != want || len(p.Games) != 4 {
		t.Errorf("%s, want %s", got, want)
	}
}
