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
	if want := "3 1 2; {1 1 0 0 0} e2e4{1 1 0 0 0} 2026-01-01; {2 0 0 2 0} d2d4{2 0 0 2 0} 2026-01-04"; got != want || len(p.Games) != 4 || blitz.Tree(board.White).MaxPly != 60 {
		t.Errorf("%s, want %s", got, want)
	}
}

// Trees are as deep as asked for, those of some of the games too; games are read to their end.
func TestDepthOfTrees(t *testing.T) {
	p := Build(gamesOf("2026.01.01 1-0 -: e4 e5 Nf3 Nc6 Bb5 a6"), Options{MaxPly: 3, Them: func(*pgn.Game) (board.Color, bool) { return board.White, true }})
	for _, of := range []*Profile{p, p.Only(func(*Game) bool { return true })} {
		tree := of.Tree(board.White)
		if tree.MaxPly != 3 || of.Tree(board.Black).MaxPly != 3 || tree.Len() != 3 || len(of.Games[0].Moves) != 6 {
			t.Errorf("%d plies, %d positions, %d moves", tree.MaxPly, tree.Len(), len(of.Games[0].Moves))
		}
	}
}

// Problems of reading and of playing are those of the opponent's games, in their order.
func TestProblemsOfTheirGames(t *testing.T) {
	const text = "[White \"Them\"]\n\n1. e4 (1. d4 e5 2. Nf3 *\n\n[White \"Ash\"]\n\n1. e4 (1. d4 e5 2. Nf3 *\n\n[White \"Ash\"]\n\n1. e4 Ke4 *\n\n[White \"Them\"]\n\n1. d4 Kd4 *\n"
	read, built := map[int]int{}, map[int]int{}
	r := pgn.NewReader(strings.NewReader(text), pgn.Options{File: "x.pgn"})
	p := Build(r.All(), Options{Them: func(g *pgn.Game) (board.Color, bool) {
		read[g.Index] = len(g.Problems)
		return board.White, g.Tags().Get("White") == "Them"
	}})
	for _, problem := range p.Problems {
		built[problem.Game]++
	}
	if read[1] == 0 || read[2] != read[1] || built[1] != read[1] || built[2] != 0 || built[3] != 0 || built[4] != read[4]+1 {
		t.Errorf("problems of reading by game %v, told %v: %v", read, built, p.Problems)
	}
}
