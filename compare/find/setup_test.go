package find

import (
	"reflect"
	"slices"
	"testing"

	"foreply/compare/fact"
	"foreply/compare/walk"
	"foreply/fetch/pgn"
	"foreply/profile/board"
)

// The share of games in which the user still has an answer, by full moves: 0.9 at the second,
// 0.385 at the third; with Black from their first move on.
func TestAnsweredByMoves(t *testing.T) {
	for name, c := range map[string]struct {
		w    *walk.Walk
		want []fact.Coverage
	}{
		"White": {walked(bookOf(t, "1. e4 e5 (1... c5 2. c3) (1... e6) 2. Nf3 Nc6 3. Bb5 *"), chances{"e4": "e5 70 7 c5 20 2 e6 10 1", "e4 e5 Nf3": "Nc6 55 1 d6 45 1", "e4 c5 c3": "d5 100 1"}),
			[]fact.Coverage{{Move: 1, P: 1, Of100: 100}, {Move: 2, P: 0.9, Of100: 90}, {Move: 3, P: 0.385, Of100: 39}}},
		"Black": {walked(bookAs(t, board.Black, "1. e4 e5 2. Nf3 Nc6 *", "1. d4 d5 *"), chances{"": "e4 60 6 d4 25 2 c4 15 1", "e4 e5": "Nf3 80 1 Bc4 20 1", "d4 d5": "c4 100 1"}),
			[]fact.Coverage{{Move: 1, P: 0.85, Of100: 85}, {Move: 2, P: 0.48, Of100: 48}}},
	} {
		got := Answered(NewFine(c.w))
		for i := range min(len(got), len(c.want)) {
			if near(got[i].P, c.want[i].P) {
				got[i].P = c.want[i].P
			}
		}
		if !reflect.DeepEqual(got, c.want) {
			t.Errorf("%s: %+v", name, got)
		}
	}
}

// A book's facts: what it holds, and what of it could not be read, with the first place.
func TestBookFacts(t *testing.T) {
	b := bookOf(t, "1. e4 e5 { Open. } 2. Nf3 { Good. } *", "1. d4 d5 2. c4 { Also. } *")
	b.Files = []string{"one.pgn", "two.pgn"}
	b.Problems = []pgn.Problem{{Severity: pgn.Warning, File: "a.pgn", Line: 3}, {Severity: pgn.Error, File: "b.pgn", Line: 7}, {Severity: pgn.Error, File: "c.pgn", Line: 9}}
	want := fact.BookFacts{Files: []string{"one.pgn", "two.pgn"}, Chapters: 2, Positions: 3, Notes: 3, Unread: 2, File: "b.pgn", FileLine: 7}
	if got := BookFacts(b); !reflect.DeepEqual(got, want) {
		t.Errorf("%+v", got)
	}
}

// The usual set-up is made of the moves made most often, in the order in which they come on
// average; captures are none, and a check is the same move.
func TestUsualMoves(t *testing.T) {
	for name, c := range map[string]struct {
		book string
		c    chances
		skip string
		want string
	}{
		"in order": {"1. Nf3 d5 (1... Nf6 2. c4 g6 3. g3 Bg7 4. Bg2) 2. g3 Nf6 3. Bg2 e6 4. c4 *",
			chances{"Nf3": "d5 50 5 Nf6 40 4 a6 10 1", "Nf3 d5 g3": "Nf6 100 1", "Nf3 d5 g3 Nf6 Bg2": "e6 100 1", "Nf3 Nf6 c4": "g6 100 1", "Nf3 Nf6 c4 g6 g3": "Bg7 100 1"}, "", "Nf3 g3 c4 Bg2"},
		"six of them": {"1. Nf3 d5 2. g3 Nf6 3. Bg2 e6 4. O-O Be7 5. d3 O-O 6. Nbd2 c5 (6... b6 7. c3) 7. a4 *",
			chances{"Nf3": "d5 100 1", "Nf3 d5 g3": "Nf6 100 1", "Nf3 d5 g3 Nf6 Bg2": "e6 100 1", "Nf3 d5 g3 Nf6 Bg2 e6 O-O": "Be7 100 1", "Nf3 d5 g3 Nf6 Bg2 e6 O-O Be7 d3": "O-O 100 1", "Nf3 d5 g3 Nf6 Bg2 e6 O-O Be7 d3 O-O Nbd2": "c5 80 1 b6 20 1"},
			"", "Nf3 g3 Bg2 O-O d3 Nbd2"},
		"of equals the first six": {"1. Nf3 d5 2. g3 Nf6 3. Bg2 e6 4. O-O Be7 5. d3 O-O 6. Nbd2 c5 7. a4 *",
			chances{"Nf3": "d5 100 1", "Nf3 d5 g3": "Nf6 100 1", "Nf3 d5 g3 Nf6 Bg2": "e6 100 1", "Nf3 d5 g3 Nf6 Bg2 e6 O-O": "Be7 100 1", "Nf3 d5 g3 Nf6 Bg2 e6 O-O Be7 d3": "O-O 100 1", "Nf3 d5 g3 Nf6 Bg2 e6 O-O Be7 d3 O-O Nbd2": "c5 100 1"},
			"", "Nf3 g3 Bg2 O-O d3 Nbd2"},
		"as often as four in ten": {"1. Nf3 d5 (1... c5 2. c3) (1... f5 2. d3) 2. g3 *", chances{"Nf3": "d5 40 1 c5 39 1 f5 21 1"}, "", "Nf3 g3"},
		"no captures, and checks": {"1. e4 e5 2. Nf3 Nc6 (2... d6 3. Bb5+) (2... f5 3. exf5) 3. Bb5 *", chances{"e4": "e5 100 1", "e4 e5 Nf3": "Nc6 20 1 d6 20 1 f5 60 1"}, "", "e4 Nf3 Bb5"},
		"but those made":          {"1. e4 e5 2. Nf3 Nc6 3. Bb5 *", chances{"e4": "e5 100 1", "e4 e5 Nf3": "Nc6 100 1"}, "e4 Bb5", "Nf3"},
	} {
		fine := NewFine(walked(bookOf(t, c.book), c.c))
		if got := line(usualMoves(fine.Order[0], 1, fields(c.skip), fine)); got != c.want {
			t.Errorf("%s: %q, want %q", name, got, c.want)
		}
	}
}

// What the user usually plays in a family is read where it left the lines, or a move earlier
// where that tells more and is the same family: 3...h5 left what came in six of ten games.
func TestSetUpOfTheFamily(t *testing.T) {
	const way = "Nf3 d5 g3 Nf6 Bg2"
	for name, c := range map[string]struct {
		second, left string
		want         string
		ply          int
	}{
		"a move earlier": {"Nf6 60 6 c6 40 4", "h5", "d3 O-O", 3}, "another family": {"Nf6 30 3 c6 70 7", "h5", "O-O", 5}, "made already": {"Nf6 60 6 c6 40 4", "e6 O-O h5", "d3", 3},
	} {
		fine := NewFine(walked(bookOf(t, "1. Nf3 d5 2. g3 Nf6 (2... c6 3. Bg2 Bf5 4. d3 e6 5. O-O) 3. Bg2 e6 4. O-O *"),
			chances{"Nf3": "d5 100 1", "Nf3 d5 g3": c.second, way: "e6 50 3 h5 50 3", "Nf3 d5 g3 c6 Bg2": "Bf5 100 1", "Nf3 d5 g3 c6 Bg2 Bf5 d3": "e6 100 1"}))
		i := slices.IndexFunc(fine.Order, func(s *walk.State) bool { return line(walk.SAN(s.Path())) == way })
		if moves, ply := setUpNear(fine.Order[i], fields(way+" "+c.left), fine); line(moves) != c.want || ply != c.ply {
			t.Errorf("%s: %q from ply %d", name, moves, ply)
		}
	}
}

// When they surprise, there is the first note at a gap, else the book's own; the usual moves, if
// there are two; and three ways back that no line to expect tells.
func TestSurprise(t *testing.T) {
	const book = "{ Play slowly. } 1. e4 e5 2. Nf3 *"
	fine := NewFine(walked(bookOf(t, book), chances{"e4": "e5 100 1"}))
	ways := []fact.WayBack{{Line: fields("e4 e6")}, {Line: fields("e4 c6")}, {Line: fields("e4 d6")}, {Line: fields("e4 g6")}, {Line: fields("e4 b6")}}
	told := []fact.Parting{{Stem: fields("e4"), Branches: []fact.Branch{{Move: "e5", Answer: "Nf3"}, {Move: "c6", Answer: "d4"}}}}
	open := []fact.Unanswered{{Line: fields("e4 f5")}, {Line: fields("e4 e5 Nf3 f5"), Note: "Take.", NotePly: 3}, {Line: fields("e4 g5"), Note: "No.", NotePly: 1}}
	want := fact.Surprise{Note: "Take.", NoteLine: fields("e4 e5 Nf3"), SetUp: fields("e4 Nf3"), Returns: []fact.WayBack{ways[0], ways[2], ways[3]}}
	if got := Surprise(fine, open, ways, told); !reflect.DeepEqual(got, want) {
		t.Errorf("%+v", got)
	}
	short := NewFine(walked(bookOf(t, "{ Play slowly. } 1. e4 *"), chances{}))
	if got, want := Surprise(short, open[:1], nil, told), (fact.Surprise{Note: "Play slowly."}); !reflect.DeepEqual(got, want) {
		t.Errorf("%+v", got)
	}
}

// Played at once is told from six games with clocks, the lower one of two in the middle, and
// only where it is further than the position.
func TestInstantFrom(t *testing.T) {
	game := func(to int) string { // two pauses: at the first move, and behind the last played at once
		text := "1-0 300:"
		for n := 1; n <= 16; n++ {
			seconds := map[bool]string{true: "20", false: "1"}[n == 1 || n == to+1]
			text += " " + [2]string{"Nf3 Nf6", "Ng1 Ng8"}[(n-1)%2] + " {[%emt " + seconds + "]}"
		}
		return text
	}
	var rows []string
	for i, to := range []int{14, 8, 12, 13, 9, 10} {
		rows = append(rows, "2026.01.0"+string(rune('1'+i))+" "+game(to))
	}
	after := lineOf("Nf3 Nf6").End
	for _, c := range []struct {
		games, ply int
		want       *fact.Instant
	}{{6, 2, &fact.Instant{Move: 10, Games: 6}}, {6, 17, &fact.Instant{Move: 10, Games: 6}}, {6, 18, nil}, {6, 19, nil}, {5, 2, nil}} {
		p := gamesOf(t, append(rows[:c.games:c.games], "2026.02.01 1-0 300: Nf3 Nf6")...) // one without clocks
		if got := instantFrom(after.Key(), c.ply, Games{All: p.Games, Tree: p.Tree(board.Black)}); !reflect.DeepEqual(got, c.want) {
			t.Errorf("%d games, after %d plies: %+v", c.games, c.ply, got)
		}
	}
}
