package find

import (
	"fmt"
	"slices"
	"testing"

	"foreply/compare/book"
	"foreply/compare/fact"
	"foreply/compare/walk"
	"foreply/fetch/pgn"
	"foreply/profile"
	"foreply/profile/board"
)

const toMove14 = "e4 e5 Nf3 Nc6 Bb5 a6 Ba4 Nf6 O-O Be7 Re1 b5 Bb3 d6 c3 O-O h3 Nb8 d4 Nbd7 Nbd2 Bb7 Bc2 Re8 Nf1 Bf8 Ng3 g6"

// A whole game has all its moves, the newest games 24 plies and how many there were; what the
// book has is told if the move that left it is.
func TestGamesToldWholeOrNot(t *testing.T) {
	c := compare(t, gamesOf(t, "2026.01.05 1-0 300: "+toMove14), "1. "+toMove14[:len(toMove14)-len("Nf1 Bf8 Ng3 g6")]+"a4 *")
	if g := Whole(c.w.Book, nil, c.games)[0]; len(g.Moves) != 28 || g.Plies != 28 || g.LeftPly != 24 || g.Answer != "a4" {
		t.Errorf("whole: %+v", g)
	}
	list, _ := Newest(c.w.Book, nil, c.games)
	if g := list[0]; len(g.Moves) != 24 || g.Plies != 28 || g.LeftPly != 24 || g.Answer != "" {
		t.Errorf("newest: %+v", g)
	}
	b := bookOf(t, "1. e4 e5 2. Nf3 *")
	g := gamesOf(t, "2026.01.05 1-0 300: e4 c5 Nf3").Games[0]
	if got := answerTo(b, &g, fact.LeftByThem, 0); got != "" {
		t.Errorf("they left it, and the book has %s", got)
	}
	if start := board.Start(); answerAt(bookOf(t, "1. e4 e5 (1... c5) *", "1. d4 *"), &start) != "e4" {
		t.Error("the first answer is the main choice")
	}
}

// Games to play through are told of six lines that come in one game of fifty or more, of those
// that came to half of the line, in any order of moves, and for each line two; a line without
// any is left out.
func TestModelsOfManyLines(t *testing.T) {
	var rows []string
	var exits []fact.Exit
	for i, way := range []string{"e4 e5 Nf3 Nc6 Bb5", "e4 c5 Nf3 d6 d4", "e4 a6 d4 b5 Nf3", "e4 e6 d4 d5 Nc3", "e4 c6 d4 d5 Nc3", "e4 d6 d4 Nf6 Nc3", "e4 g6 d4 Bg7 Nc3", "e4 Nf6 e5 Nd5 d4"} {
		exits = append(exits, fact.Exit{Line: fields(way), Reach: 0.02 + 0.01*float64(8-i)})
		if i != 2 {
			rows = append(rows, fmt.Sprintf("2026.01.%02d 1-0 300: %s", i+1, way))
		}
	}
	p := gamesOf(t, rows...)
	games := Games{All: p.Games, Tree: p.Tree(board.Black)}
	told := func(exits []fact.Exit) (out []string) {
		for _, m := range Models(exits, bookOf(t, "1. d4 *"), nil, games, today, profile.Blitz) {
			out = append(out, fmt.Sprintf("%s %d", m.Line[1], len(m.Games)))
		}
		return out
	}
	if got, want := told(exits), []string{"e5 1", "c5 1", "e6 1", "c6 1", "d6 1", "g6 1"}; !slices.Equal(got, want) {
		t.Errorf("%q", got)
	}
	exits[0].Reach, exits[1].Reach = 0.02, 0.019
	if got := told(exits[:2]); !slices.Equal(got, []string{"e5 1"}) {
		t.Errorf("rare ones: %q", got)
	}
}

// How far games came into a line of twelve plies: to the half, and by another order to the end;
// of as much worth the newer first, then by file and number.
func TestCandidatesInOrder(t *testing.T) {
	const spanish = "e4 e5 Nf3 Nc6 Bb5 a6 Ba4 Nf6 O-O Be7 Re1 b5"
	p := gamesOf(t,
		"2026.01.01 1-0 300: e4 e5 Nf3 Nc6 Bb5 a6 Bxc6 dxc6",                          // to the sixth
		"2026.01.02 1-0 300: e4 e5 Nf3 Nc6 Bb5 Nf6 O-O Nxe4",                          // to the fifth
		"2026.01.03 1-0 300: e4 e5 Nf3 Nc6 Bb5 Nf6 O-O Be7 Re1 a6 Ba4 b5",             // to the last by another order
		"2026.01.04 1-0 300: "+"e4 e5 Bb5 a6 Ba4 Nc6 d3 Nf6 Nf3 Be7 O-O b5 Bb3 d6 d4", // one move late: never behind 3...a6
		"2026.01.06 1-0 300: e4 e5 Nf3 Nc6 Bb5 a6 Bxc6 bxc6", "2026.01.06 1-0 300: e4 e5 Nf3 Nc6 Bb5 a6 Bxc6 f6")
	pl := played{bookOf(t, "1. d4 *"), nil, Games{All: p.Games, Tree: p.Tree(board.Black)}}
	var got []string
	for _, m := range pl.candidates(fields(spanish), pgn.Span{}, profile.Blitz) {
		got = append(got, fmt.Sprintf("%d to %d", m.game.Index, m.deep))
	}
	if want := []string{"3 to 12", "5 to 6", "6 to 6", "1 to 6"}; !slices.Equal(got, want) {
		t.Errorf("%q", got)
	}
	late := gamesOf(t, "2026.01.04 1-0 300: Nf3 Nf6 Ng1 Ng8 e4 e5 Nf3 Nc6 Bb5 a6") // four plies late
	pl.games = Games{All: late.Games, Tree: late.Tree(board.Black)}
	if list := pl.candidates(fields("e4 e5 Nf3 Nc6 Bb5 a6"), pgn.Span{}, profile.Blitz); len(list) != 1 || list[0].deep != 6 {
		t.Errorf("%+v", list)
	}
	lost := &profile.Game{Result: profile.Loss, Class: profile.Blitz, Header: pgn.Header{Speed: profile.Blitz}}
	won := &profile.Game{Result: profile.Win, Header: pgn.Header{Speed: profile.Blitz}}
	if a, b := worth(lost, 1, today, profile.Blitz), worth(won, 1, today, profile.Blitz); a != 3.25 || b != a {
		t.Errorf("lost %v, won %v", a, b)
	}
}

// The opening of a row is what its first 24 plies make: not what twelve do, nor the whole game.
func TestRowNamedByItsOpening(t *testing.T) {
	name := func(plies int) string {
		moves := lineOf(toMove14).Moves
		return walk.NewTrack(moves[:plies]).Opening().Name
	}
	if name(12) == name(24) {
		t.Fatal("twelve plies have no other name than 24")
	}
	g := gamesOf(t, "2026.01.05 1-0 300: "+toMove14).Games[0]
	if row := Row(&g); row.Opening != name(24) {
		t.Errorf("%s, want %s", row.Opening, name(24))
	}
	late := gamesOf(t, "2026.01.05 1-0 300: "+line(slices.Repeat(fields("Nf3 Nf6 Ng1 Ng8"), 6))+" e4 e5 Nf3 Nc6 Bb5").Games[0]
	if row := Row(&late); row.Opening == lineOf("e4 e5 Nf3 Nc6 Bb5").Opening().Name {
		t.Errorf("by its 29th ply: %s", row.Opening)
	}
}

// Where the book has an answer a way back counts nothing, and where it has none the way back is
// what the user plays.
func TestWayBackIsNoAnswer(t *testing.T) {
	b := bookOf(t, "1. d4 d5 2. c4 e6 3. Nc3 *")
	look := chances{"d4": "e6 70 4 d5 30 1", "d4 e6 c4": "d5 90 3 f5 10 1", "d4 e6 Nc3": "d5 90 3 f5 10 1"}
	ways := walk.NewWays(b, look)
	for _, way := range []string{"d4 d5", "d4 e6"} {
		at := lineOf(way).End
		ways.From(&at)
	}
	at := lineOf("d4 d5").End
	for _, m := range at.Legal(nil) {
		after := walk.Played(at, m)
		if left := leavesBook(b, ways, &at, m, after.Key()); (left == "") != (at.SAN(m) == "c4") {
			t.Errorf("2.%s: left by %q", at.SAN(m), left)
		}
	}
}

// The set-up is told of the twenty plies from a place on, by how often and when on average; of a
// family in which it is one move none where nothing is usual.
func TestUsualMovesFromAPlace(t *testing.T) {
	const way = "Nf3 Nf6 g3 g6 Bg2 Bg7 O-O O-O d3 d6 Nbd2 Nbd7 a3 a6 b3 b6 Bb2 Bb7 e3 e6 Re1 Re8"
	look := chances{}
	moves := fields(way)
	for i := 1; i < len(moves); i += 2 {
		look[line(moves[:i])] = moves[i] + " 100 1"
	}
	fine := NewFine(walked(bookOf(t, "1. "+way+" h3 *"), look))
	if got := line(usualMoves(fine.Order[0], 1, fields("Nf3 g3 Bg2 O-O d3 Nbd2 a3 b3"), fine)); got != "Bb2 e3" {
		t.Errorf("from the first move %q", got)
	}
	if got := line(usualMoves(fine.Order[20], 1, nil, fine)); got != "Re1 h3" {
		t.Errorf("from the 21st ply %q", got)
	}
	// 3.a3 in 0.8 at ply 4, 3.b3 in 0.2 there and 0.8 at ply 6, 5.6 on average, before 4.c3.
	other := NewFine(walked(bookOf(t, "1. Nf3 d5 (1... f5 2. g3 e6 3. b3 d6 4. e3) 2. g3 Nf6 3. a3 e6 4. b3 Be7 5. e3 *"), chances{"Nf3": "d5 80 8 f5 20 2", "Nf3 d5 g3": "Nf6 100 1", "Nf3 d5 g3 Nf6 a3": "e6 100 1",
		"Nf3 d5 g3 Nf6 a3 e6 b3": "Be7 100 1", "Nf3 f5 g3": "e6 100 1", "Nf3 f5 g3 e6 b3": "d6 100 1"}))
	if got := line(usualMoves(other.Order[0], 1, nil, other)); got != "Nf3 g3 a3 b3 e3" {
		t.Errorf("by the mean ply %q", got)
	}
	uses := []*use{{"late", 0.2, 0.2 * 8}, {"early", 0.9, 0.9 * 2}}
	if got := line(inOrder(uses)); got != "early late" {
		t.Errorf("%q", got)
	}
	none := NewFine(walked(bookOf(t, "1. e4 e5 2. Nf3 d6 3. d4 *"), chances{"e4": "e5 100 1", "e4 e5 Nf3": "d6 50 1 f5 50 1"}))
	i := slices.IndexFunc(none.Order, func(s *walk.State) bool { return s.Ply == 3 })
	if moves, ply := setUpNear(none.Order[i], fields("e4 e5 Nf3 f5"), none); line(moves) != "d4" || ply != 3 {
		t.Errorf("%q from ply %d", moves, ply)
	}
	if moves, ply := setUpNear(none.Order[i], fields("e4 e5 Nf3 f5 d4 d6"), none); moves != nil || ply != 0 {
		t.Errorf("all made: %q from ply %d", moves, ply)
	}
}

// Habits are told of three places that come in one game of ten, what is hidden of two; a way
// back is no main choice. A place the user came to and played otherwise was not shown.
func TestShownAtItsEdges(t *testing.T) {
	const book = "1. e4 e5 (1... c5 2. c3) (1... e6 2. d4) (1... c6 2. d4) 2. Nf3 *"
	w := walked(bookOf(t, book), chances{"e4": "e5 40 4 c5 30 3 e6 21 2 c6 9 1"})
	own := gamesAs(t, board.White, "2026.01.01 1-0 300: e4 e5 Bc4 Nc6", "2026.01.01 1-0 300: e4 c5 Nf3 d6", "2026.01.01 1-0 300: e4 e6 d4 d5", "2026.01.01 1-0 300: e4 c6 Nf3 d5")
	got := Shown(w, own.Tree(board.White))
	var habits []string
	for _, h := range got.Habits {
		habits = append(habits, line(h.Line)+" "+h.Move)
	}
	if got.Choices != 5 || got.Known != 2 || len(got.Hidden) != 2 || !slices.Equal(habits, []string{" e4", "e4 e5 Bc4", "e4 c5 Nf3"}) {
		t.Errorf("%+v", got)
	}
	rare := walked(bookOf(t, book), chances{"e4": "e5 91 9 c5 9 1"})
	if got := Shown(rare, own.Tree(board.White)); len(got.Habits) != 2 {
		t.Errorf("%+v", got.Habits)
	}
	b := bookOf(t, "1. d4 d5 2. c4 e6 3. Nc3 *")
	look := chances{"d4": "e6 70 4 d5 30 1", "d4 e6 c4": "d5 90 3 f5 10 1"}
	back := walk.New(b, look, walk.Options{MaxPly: 10, Threshold: 0.01, Ways: walk.NewWays(b, look), BackFrom: 0.01})
	back.Run(board.Start(), 0)
	if len(WaysBack(back)) != 1 {
		t.Fatal("no way back")
	}
	if got := Shown(back, gamesAs(t, board.White, "2026.01.01 1-0 300: d4 e6 c4 d5").Tree(board.White)); got.Choices != 3 || got.Known != 1 {
		t.Errorf("%+v", got)
	}
}

// A likely line is judged by the newest of the user's games that met it.
func TestPractisedByTheNewest(t *testing.T) {
	const stem = "e4 e5 Nf3 Nc6 Bb5 a6"
	w := walked(bookOf(t, "1. "+stem+" 4. Ba4 *"), chances{"e4": "e5 100 9", "e4 e5 Nf3": "Nc6 100 9", "e4 e5 Nf3 Nc6 Bb5": "a6 100 9"})
	own := gamesAs(t, board.White, "2020.01.02 1-0 300: "+stem+" Ba4", "2026.10.01 1-0 300: "+stem+" Ba4")
	if got := Unpractised(w, own, Games{Tree: gamesOf(t).Tree(board.Black)}, today); len(got) != 0 {
		t.Errorf("%+v", got)
	}
}

// Each side's usual places are those of its own book; the fifth ply is the first, and a move of
// the user's is looked behind, not at.
func TestUsualPlacesOfEachBook(t *testing.T) {
	black := gamesOf(t, repeated(3, "1-0 300: e4 e5 Nf3 Nc6 Bb5 a6")...)
	white := gamesAs(t, board.White, repeated(3, "1-0 300: d4 d5 c4 e6 Nc3 Nf6")...)
	ends := func(list []board.Position) (out []string) {
		for _, pos := range list {
			out = append(out, pos.EPD())
		}
		return out
	}
	want := func(ways ...string) (out []string) {
		for _, way := range ways {
			end := lineOf(way).End
			out = append(out, end.EPD())
		}
		return out
	}
	mine, yours := bookOf(t, "1. e4 e5 2. Nf3 Nc6 3. Bb5 *"), bookAs(t, board.Black, "1. d4 d5 2. c4 e6 3. Nc3 Nf6 *")
	if got := ends(usualPlaces(black.Tree(board.Black), mine)); !slices.Equal(got, want("e4 e5 Nf3 Nc6 Bb5", "e4 e5 Nf3 Nc6 Bb5 a6")) {
		t.Errorf("%q", got)
	}
	if got := ends(usualPlaces(white.Tree(board.White), yours)); !slices.Equal(got, want("d4 d5 c4 e6", "d4 d5 c4 e6 Nc3")) {
		t.Errorf("%q", got)
	}
	r := fact.Report{Sides: []fact.Side{{}, {}}}
	if got := ends(Wanted(&r, white, []*book.Book{mine, yours})); !slices.Equal(got, want("d4 d5 c4 e6", "d4 d5 c4 e6 Nc3")) {
		t.Errorf("of both books %q", got)
	}
}
