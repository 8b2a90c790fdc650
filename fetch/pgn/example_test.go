package pgn_test

import (
	"fmt"
	"os"
	"strings"

	"foreply/fetch/pgn"
)

func ExampleReader() {
	text := `[White "Alder, Mina"]
[Black "Brook, Tomas"]

1. e4 {[%clk 0:04:59]} e5 2. Nf3 hm Nc6 1-0
`
	r := pgn.NewReader(strings.NewReader(text), pgn.Options{File: "games.pgn"})
	for g := range r.All() {
		clock, _ := g.Moves[0].Clk()
		fmt.Printf("%s: %d moves, %s, clock %g\n", g.Tags().Get("White"), len(g.Moves), g.Termination, clock)
		for _, p := range g.Problems {
			fmt.Printf("%s\n%s\n", p, p.Caret())
		}
	}
	fmt.Println(r.Games(), r.Err())
	// Output:
	// Alder, Mina: 4 moves, 1-0, clock 299
	// games.pgn:4:34: text that is no move, passed over: hm
	// 1. e4 {[%clk 0:04:59]} e5 2. Nf3 hm Nc6 1-0
	//                                  ^
	// 1 <nil>
}

func ExampleWriteLine() {
	line := &pgn.Line{Moves: []pgn.Node{
		{SAN: "e4"},
		{SAN: "c5", NAGs: []int{5}, Comments: []string{"their usual move"}, Variations: []*pgn.Line{
			{Moves: []pgn.Node{{SAN: "e5"}, {SAN: "Nf3"}}},
		}},
		{SAN: "Nf3"},
	}}
	if err := pgn.WriteLine(os.Stdout, pgn.Tags{{Name: "White", Value: "You"}}, line, "*"); err != nil {
		fmt.Println(err)
	}
	// Output:
	// [Event "?"]
	// [Site "?"]
	// [Date "????.??.??"]
	// [Round "?"]
	// [White "You"]
	// [Black "?"]
	// [Result "*"]
	//
	// 1. e4 c5 $5 {their usual move} (1... e5 2. Nf3) 2. Nf3 *
}
