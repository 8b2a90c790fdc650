package find

import (
	"fmt"
	"reflect"
	"testing"

	"foreply/compare/fact"
	"foreply/compare/walk"
	"foreply/profile/board"
)

// A way back is told with its line, how often it comes, the way into the book, and the answer
// there; a game that went so has not left the book.
func TestWaysBackWhole(t *testing.T) {
	b := bookOf(t, "1. d4 d5\n2. c4 e6\n3. Nc3 Nf6 4. Bg5 *")
	look := chances{"d4": "e6 70 4 d5 20 1 c6 10 1", "d4 e6 c4": "d5 90 3 f5 10 1", "d4 c6 c4": "d5 80 3 f5 20 1", "d4 d5 c4": "e6 100 1", "d4 c6 c4 d5 Nc3": "e6 60 1 Nf6 40 1"}
	ways := walk.NewWays(b, look)
	w := walk.New(b, look, walk.Options{MaxPly: 10, Threshold: 0.01, Ways: ways, BackFrom: 0.01})
	w.Run(board.Start(), 0)
	got := WaysBack(w)
	if len(got) == 0 {
		t.Fatal("no way back")
	}
	first := got[0]
	if !near(first.P, 0.9) || !near(first.Reach, 0.7) || first.Lo >= first.P || first.Hi <= first.P {
		t.Errorf("%+v", first)
	}
	first.Chance, first.Reach = fact.Chance{}, 0
	if want := (fact.WayBack{Line: fields("d4 e6"), Back: fact.Back{Into: fields("c4 d5"), Answer: "Nc3", File: "book.pgn", FileLine: 3}}); !reflect.DeepEqual(first, want) {
		t.Errorf("got %+v, want %+v", first, want)
	}
	if len(got) > 1 && got[1].Reach > got[0].Reach {
		t.Errorf("%+v", got)
	}
	for moves, want := range map[string]string{"d4 e6 c4 d5 Nc3 Nf6 Bg5": "end 7", "d4 e6 e4 d5": "you 2", "d4 e6 c4 f5": "them 3"} {
		by, ply := follow(b, ways, &gamesOf(t, "2026.01.05 1-0 300: "+moves).Games[0])
		if got := fmt.Sprint(by, " ", ply); got != want && !(moves == "d4 e6 c4 f5" && by != fact.LeftByYou && ply == 3) {
			t.Errorf("%s: left by %s, want %s", moves, got, want)
		}
	}
	if by, ply := follow(b, nil, &gamesOf(t, "2026.01.05 1-0 300: d4 e6 c4 d5 Nc3").Games[0]); by != fact.LeftByThem || ply != 1 {
		t.Errorf("without ways back: %s %d", by, ply)
	}
	for _, p := range Partings(w, Games{Tree: gamesOf(t, "2026.01.05 1-0 300: d4 e6").Tree(board.Black)}) {
		for _, br := range p.Branches {
			if br.Move == "e6" && len(p.Stem) == 1 && (br.State != fact.ByWayBack || br.Back == nil || br.Answer != "c4" || line(br.Back.Into) != "c4 d5") {
				t.Errorf("%+v", br)
			}
		}
	}
}
