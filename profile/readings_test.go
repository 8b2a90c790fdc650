package profile

import (
	"fmt"
	"slices"
	"strings"
	"testing"

	"foreply/fetch/pgn"
	"foreply/profile/board"
)

// readTyped reads a text typed by hand: its trees, and what is told of them.
func readTyped(t *testing.T, text string) (trees []string, told []pgn.Problem) {
	t.Helper()
	var games []*pgn.Game
	for g := range pgn.NewReader(strings.NewReader(text), pgn.Options{File: "x.pgn", Variations: true}).All() {
		games = append(games, g.Clone())
	}
	Translate(games)
	for _, g := range games {
		start, err := Start(g.Header())
		if err != nil {
			t.Fatal(err)
		}
		line, problems := Replay(g, start)
		trees = append(trees, sketchAll(line))
		for _, p := range slices.Concat(g.Problems, problems) {
			if p.Kind != pgn.NoTermination {
				told = append(told, p)
			}
		}
	}
	return trees, told
}

// sketchAll is sketch with all that hangs on the moves, the numbers of Black's too.
func sketchAll(l *Line) string {
	var parts []string
	for _, c := range l.Comments {
		parts = append(parts, "{"+c+"}")
	}
	for _, n := range l.Moves {
		parts = append(parts, number(n.Ply)+n.SAN)
		for _, nag := range n.NAGs {
			parts = append(parts, fmt.Sprint("$", nag))
		}
		for _, c := range n.Comments {
			parts = append(parts, "{"+c+"}")
		}
		for _, v := range n.Variations {
			parts = append(parts, "("+sketchAll(v)+")")
		}
	}
	return strings.Join(parts, " ")
}

// checkReading reads a text, and compares the trees and the tales.
func checkReading(t *testing.T, quirk, text, want, wantTold string) {
	t.Helper()
	trees, told := readTyped(t, text+"\n")
	var tales []string
	for i := range told {
		tales = append(tales, tale(&told[i]))
	}
	if got := strings.Join(trees, " / "); got != want {
		t.Errorf("%s: read\n%s, want\n%s", quirk, got, want)
	}
	if got := strings.Join(tales, ", "); got != wantTold {
		t.Errorf("%s: told %q, want %q", quirk, got, wantTold)
	}
}

// tale is a problem as 'severity line:column ply token: message'.
func tale(p *pgn.Problem) string {
	return fmt.Sprintf("%s %d:%d %d %s: %s", p.Severity, p.Line, p.Column, p.Ply, p.Token, p.Message)
}

// What moves, numbers and brackets are taken to mean, and what is said where it was a
// guess. Worked out on a board.
func TestReadings(t *testing.T) {
	for _, c := range []struct{ quirk, text, want, told string }{
		// Numbers that slip are told once; those behind go on from there.
		{"a number too high", "1. e4 c5 2. Nf3 d6 4. d4 cxd4 5. Nxd4 Nf6 (5... e5 6. Bb5+) 6. Nc3",
			"1.e4 1...c5 2.Nf3 2...d6 3.d4 3...cxd4 4.Nxd4 4...Nf6 (4...e5 5.Bb5+) 5.Nc3",
			"warning 1:23 5 d4: move number 4. where 3. was to come; read on"},
		{"a number too low", "1. e4 c5 2. Nf3 d6 2. d4 cxd4 3. Nxd4", "1.e4 1...c5 2.Nf3 2...d6 3.d4 3...cxd4 4.Nxd4",
			"warning 1:23 5 d4: move number 2. where 3. was to come; read on"},
		{"a number too high twice", "1. e4 c5 3. Nf3 d6 5. d4 cxd4", "1.e4 1...c5 2.Nf3 2...d6 3.d4 3...cxd4",
			"warning 1:13 3 Nf3: move number 3. where 2. was to come; read on, warning 1:23 5 d4: move number 5. where 4. was to come; read on"},
		{"slipped numbers, and one that goes back", "1. e4 c5 3. Nf3 d6 4. d4\n3... e6 4. c3", "1.e4 1...c5 2.Nf3 2...d6 (2...e6 3.c3) 3.d4",
			"warning 1:13 3 Nf3: move number 3. where 2. was to come; read on, " +
				"warning 2:6 4 e6: read as another line from 3... on, by its number; it could belong elsewhere too"},
		{"the first number", "2. e4 e5 3. Nf3", "1.e4 1...e5 2.Nf3", "warning 1:4 1 e4: move number 2. where 1. was to come; read on"},
		// Black's dots.
		{"dots forgotten, and only so all can be played", "1. e4 e5 2. Nf3 Nf6 3. Bc4 Bc5 4. d3\n4. O-O Nc3 d6",
			"1.e4 1...e5 2.Nf3 2...Nf6 3.Bc4 3...Bc5 4.d3 4...O-O 5.Nc3 5...d6", ""},
		{"dots forgotten", "1. e4 e5 2. Nf3 2. Nc6 3. Bb5", "1.e4 1...e5 2.Nf3 2...Nc6 3.Bb5", ""},
		{"dots forgotten, or another castling: what goes further", "1. e4 e5 2. Nf3 Nf6 3. Bc4 Bc5 4. d3 4. O-O 5. Nc3 d6",
			"1.e4 1...e5 2.Nf3 2...Nf6 3.Bc4 3...Bc5 4.d3 4...O-O 5.Nc3 5...d6", "warning 1:41 8 O-O: read on as 4...; its number says 4."},
		{"another castling, as all that follows says", "1. e4 e5 2. Nf3 Nf6 3. Bc4 Bc5 4. d3\n4. O-O d6 5. Nc3",
			"1.e4 1...e5 2.Nf3 2...Nf6 3.Bc4 3...Bc5 4.d3 (4.O-O 4...d6 5.Nc3)", ""},
		{"either castling", "1. e4 e5 2. Nf3 Nf6 3. Bc4 Bc5 4. d3\n4. O-O", "1.e4 1...e5 2.Nf3 2...Nf6 3.Bc4 3...Bc5 4.d3 (4.O-O)",
			"warning 2:4 7 O-O: read as another line from 4. on, by its number; it could belong elsewhere too"},
		{"either castling, and what nobody can play", "1. e4 e5 2. Nf3 Nf6 3. Bc4 Bc5 4. d3\n4. O-O Qa5", "1.e4 1...e5 2.Nf3 2...Nf6 3.Bc4 3...Bc5 4.d3 (4.O-O)",
			"warning 2:4 7 O-O: read as another line from 4. on, by its number; it could belong elsewhere too, error 2:8 8 Qa5: illegal move 4...Qa5"},
		// Lines that go back.
		{"by the number, or on", "1. c4 c5 2. g3 g6 3. Bg2 Bg7\n3. h4 h5", "1.c4 1...c5 2.g3 2...g6 3.Bg2 (3.h4 3...h5) 3...Bg7",
			"warning 2:4 5 h4: read as another line from 3. on, by its number; it could belong elsewhere too"},
		{"further and further back", "1. e4 e6 2. d4 d5 3. Nc3 Nf6 4. e5\n3... Bb4 4. e5\n3. Nd2 c5\n2. d3 d5 3. Nd2\n1... c5 2. Nf3",
			"1.e4 1...e6 (1...c5 2.Nf3) 2.d4 (2.d3 2...d5 3.Nd2) 2...d5 3.Nc3 (3.Nd2 3...c5) 3...Nf6 (3...Bb4 4.e5) 4.e5", ""},
		{"another line of another line", "1. e4 e5 2. Nf3 Nc6 3. Bb5\n2. Nc3 Nf6 3. f4\n2... Bc5 3. Qg4",
			"1.e4 1...e5 2.Nf3 (2.Nc3 2...Nf6 (2...Bc5 3.Qg4) 3.f4) 2...Nc6 3.Bb5",
			"warning 3:6 4 Bc5: read as another line from 2... on, by its number; it could belong elsewhere too"},
		{"out of brackets, left elsewhere", "1. e4 c5 (1... e5 2. Nf3 Nc6 1... e6 2. d4) 2. Nf3", "1.e4 1...c5 (1...e5 2.Nf3 2...Nc6) (1...e6 2.d4) 2.Nf3", ""},
		// Brackets.
		{"to a move further back", "1. e4 e5 2. Nf3 Nc6 (1... e6 2. c3) 3. Bb5", "1.e4 1...e5 (1...e6 2.c3) 2.Nf3 2...Nc6 3.Bb5", ""},
		{"to the move before the last", "1. e4 e5 2. Nf3 Nc6 (2. Nc3 Nf6) 3. Bb5", "1.e4 1...e5 2.Nf3 (2.Nc3 2...Nf6) 2...Nc6 3.Bb5", ""},
		{"before their move", "(1. d4 d5) 1. e4 e5 (2. f4 exf4) (2. d4) 2. Nf3", "1.e4 (1.d4 1...d5) 1...e5 2.Nf3 (2.f4 2...exf4) (2.d4)", ""},
		{"before their move, whose number is left out", "1. e4 e5 (2. f4 exf4) Nf3 Nc6", "1.e4 1...e5 2.Nf3 (2.f4 2...exf4) 2...Nc6", ""},
		{"to go on", "1. e4 e5 {open} ({then} 2. f4 exf4)", "1.e4 1...e5 {open} {then} 2.f4 2...exf4", ""},
		{"to go on, and on", "1. e4 e5 (2. f4 exf4) 3. Nf3", "1.e4 1...e5 2.f4 2...exf4 3.Nf3", ""},
		{"a number that fits nowhere", "1. e4 e5 2. Nf3 (5. Nc3 Nf6) Nc6", "1.e4 1...e5 2.Nf3 (2.Nc3 2...Nf6) 2...Nc6",
			"warning 1:21 3 Nc3: the variation has number 5., read as one to the move before, 2."},
		{"a number one too high", "1. e4 e5 2. Nf3 (3. Nc3 Nf6) Nc6", "1.e4 1...e5 2.Nf3 (2.Nc3 2...Nf6) 2...Nc6",
			"warning 1:21 3 Nc3: the variation has number 3., read as one to the move before, 2."},
		{"to a move further back, or the last", "1. c4 c5 2. g3 g6 3. Bg2 Bg7 (2... h6) 4. a3", "1.c4 1...c5 2.g3 2...g6 (2...h6) 3.Bg2 3...Bg7 4.a3",
			"warning 1:36 4 h6: the variation is read as one to 2..., by its number; it could be one to the move before"},
		{"a variation's number, slipped once, goes on", "1. e4 e5 2. Nf3 (4. Nc3 Nf6 5. f4) 2... Nc6", "1.e4 1...e5 2.Nf3 (2.Nc3 2...Nf6 3.f4) 2...Nc6",
			"warning 1:21 3 Nc3: the variation has number 4., read as one to the move before, 2."},
		{"before their move, without Black's dots", "1. e4 e5 2. Nf3 (2. Nf6 3. Nxe5) 2... Nc6", "1.e4 1...e5 2.Nf3 2...Nc6 (2...Nf6 3.Nxe5)", ""},
		{"before their move, which it could replace as well", "1. c4 e6 (2. c5) 2. Nc3", "1.c4 1...e6 2.Nc3 (2.c5)", ""},
		{"within brackets nothing outside goes on", "1. d4 c5 2. Nf3 Nc6 (1... e6 2. c3 3. d5) 3. d5", "1.d4 1...c5 (1...e6 2.c3 2...d5) 2.Nf3 2...Nc6 3.d5",
			"warning 1:27 2 e6: the variation is read as one to 1..., by its number; it could be one to the move before, warning 1:39 4 d5: move number 3. where 2... was to come; read on"},
		{"nor where a line stands between", "1. d4 c5 2. Nf3 Nc6\n1... e6 2. c3 b6 (2. e3 3. d5) 3. g3", "1.d4 1...c5 (1...e6 2.c3 (2.e3 2...d5) 2...b6 3.g3) 2.Nf3 2...Nc6",
			"warning 2:28 4 d5: move number 3. where 2... was to come; read on"},
		{"from another line on with the main one", "1. e4 e5 2. Nf3 Nc6\n1... c5\n3. d4 exd4", "1.e4 1...e5 (1...c5) 2.Nf3 2...Nc6 3.d4 3...exd4", ""},
		{"from a position, whose moves its number counts", "[SetUp \"1\"]\n[FEN \"4k3/8/8/8/8/8/4P3/4K3 w - - 0 17\"]\n\ne4 Kd7 18. e5 Kc7 19. e6", "1.e4 1...Kd7 2.e5 2...Kc7 3.e6", ""},
		{"within each other", "1. e4 e6 2. d4 d5 (2... c5 3. d5 exd5 (3... d6 4. dxe6) 4. exd5 d6) 3. Nc3",
			"1.e4 1...e6 2.d4 2...d5 (2...c5 3.d5 3...exd5 (3...d6 4.dxe6) 4.exd5 4...d6) 3.Nc3", ""},
		// What can't be played ends its line and no other.
		{"illegal, with a bracket in place of it", "1. d4 d5 2. c4 Qxd4 (2... e6 3. Nc3) 3. Qxd4", "1.d4 1...d5 2.c4", "error 1:16 4 Qxd4: illegal move 2...Qxd4"},
		{"illegal, with a line in place of it", "1. d4 d5 2. c4 Qxd4 3. Qxd4 Nf6\n2... e6 3. Nc3", "1.d4 1...d5 2.c4 2...e6 3.Nc3", "error 1:16 4 Qxd4: illegal move 2...Qxd4"},
		{"illegal in a variation", "1. d4 d5 (1... Qd5 2. e4) (1... f5 2. g3) 2. c4", "1.d4 1...d5 () (1...f5 2.g3) 2.c4", "error 1:16 2 Qd5: illegal move 1...Qd5"},
		// Small letters and moves glued together.
		{"small letters", "1. e4 e5 2. nf3 nc6 3. bc4 bc5 4. qe2 qe7 5. kd1 nd4 6. re1", "1.e4 1...e5 2.Nf3 2...Nc6 3.Bc4 3...Bc5 4.Qe2 4...Qe7 5.Kd1 5...Nd4 6.Re1", ""},
		{"a small b takes back: what follows is the pawn's", "1. d4 e6 2. nf3 bb4 3. bd2 bc3 4. bc3 nf6",
			"1.d4 1...e6 2.Nf3 2...Bb4+ 3.Bd2 3...Bc3 4.bxc3 4...Nf6", "warning 1:35 7 bc3: bc3 may be the pawn's or the bishop's; read as bxc3"},
		{"the same, but the bishop moves on", "1. d4 e6 2. nf3 bb4 3. bd2 bc3 4. bc3 nf6 5. bb4", "1.d4 1...e6 2.Nf3 2...Bb4+ 3.Bd2 3...Bc3 4.Bxc3 4...Nf6 5.Bb4",
			"warning 1:35 7 bc3: bc3 may be the pawn's or the bishop's; read as Bxc3"},
		{"a small b where other letters are large", "1. d4 e6 2. Nf3 Bb4+ 3. Bd2 Bc3 4. bc3 Nf6", "1.d4 1...e6 2.Nf3 2...Bb4+ 3.Bd2 3...Bc3 4.bxc3 4...Nf6", ""},
		{"small letters, only the pawn takes", "1. d4 e6 2. nc3 bb4 3. a3 bc3 4. bc3 nf6", "1.d4 1...e6 2.Nc3 2...Bb4 3.a3 3...Bxc3+ 4.bxc3 4...Nf6", ""},
		{"glued pawns", "1. e4e5 {open} (1. d4d5 2. c4) 2. Nf3 Nc6 3. d4exd4", "1.e4 (1.d4 1...d5 2.c4) 1...e5 {open} 2.Nf3 2...Nc6 3.d4 3...exd4", ""},
		{"glued, of which the second can't be played", "1. e4e3 e5", "", "error 1:4 1 e4e3: illegal move 1.e4e3"},
		{"both squares", "1. e2e4 e7e5 2. g1f3", "1.e4 1...e5 2.Nf3", ""},
		{"what hangs on moves", "{tonight} 1. e4 $1 {best} e5 ({why not} 1... c5 {sharp} 2. Nf3 $1) 2. Nf3 $2 $14 {fine} {so}",
			"{tonight} 1.e4 $1 {best} 1...e5 ({why not} 1...c5 {sharp} 2.Nf3 $1) 2.Nf3 $2 $14 {fine} {so}", ""},
	} {
		checkReading(t, c.quirk, c.text, c.want, c.told)
	}
}

// A guess says what would make it sure.
func TestGuessesHaveAHint(t *testing.T) {
	for text, want := range map[string]string{
		"1. e4 e5 3. Nf3": "put variations between ( and ), behind the move that they replace",
		"1. d4 e6 2. nf3 bb4 3. bd2 bc3 4. bc3 nf6": "write the bishop as B",
	} {
		_, told := readTyped(t, text+"\n")
		if len(told) != 1 || told[0].Kind != pgn.Guess || told[0].Hint != want || told[0].File != "x.pgn" || told[0].Game != 1 {
			t.Errorf("%s: %+v", text, told)
		}
	}
}

// A move that can't be played is told by its number, and what would mend it.
func TestMovesThatCannotBePlayed(t *testing.T) {
	const piece, line, letter, san = "write the piece that the pawn becomes, as in e8=Q", "the line is read up to this move; check the move or a missing one before it",
		"write which piece moves", "moves are read in SAN, as Nf3, exd5, O-O, e8=Q"
	for _, c := range []struct {
		fen, move string
		kind      pgn.Kind
		ply       int
		message   string
		hint      string
	}{
		{"4k3/8/8/8/8/8/8/4K2R w K - 0 12", "Rh9", pgn.UnreadableMove, 23, "unreadable move 12.Rh9", san},
		{"4k3/8/8/8/8/8/8/4K2R w K - 0 12", "Rg2", pgn.IllegalMove, 23, "illegal move 12.Rg2", line},
		{"4k3/8/8/8/8/8/8/4K2R b K - 0 12", "Kd6+", pgn.IllegalMove, 24, "illegal move 12...Kd6+", line},
		{"4k3/P7/8/8/8/8/8/4K3 w - - 0 40", "a8!", pgn.IllegalMove, 79, "40.a8! promotes to what?", piece},
		{"4k3/8/8/8/8/8/p7/4K3 b - - 0 40", "a1+", pgn.IllegalMove, 80, "40...a1+ promotes to what?", piece},
		{"7k/8/8/8/8/2N3N1/8/4RK2 w - - 0 3", "Ne4", pgn.AmbiguousMove, 5, "ambiguous move 3.Ne4: Nce4 or Nge4", letter},
		{"2k5/8/8/8/8/2N3N1/8/2R2K2 w - - 0 3", "Ne4", pgn.AmbiguousMove, 5, "ambiguous move 3.Ne4: Nce4 or Nge4", letter}, // one of them a check
		{"4k3/8/8/3p4/8/2N1N1B1/8/4K3 w - - 0 3", "Nxd5!?", pgn.AmbiguousMove, 5, "ambiguous move 3.Nxd5!?: Ncxd5 or Nexd5", letter},
		{"4k3/8/3p1p2/4P3/8/3p4/4P3/4K3 w - - 0 3", "ed", pgn.AmbiguousMove, 5, "ambiguous move 3.ed: exd3 or exd6", letter},
		{"4k3/8/8/8/8/R6R/8/4K3 w - - 0 3", "Rd3+", pgn.AmbiguousMove, 5, "ambiguous move 3.Rd3+: Rad3 or Rhd3", letter},
	} {
		pos, err := board.ParseFEN(c.fen)
		if err != nil {
			t.Fatal(err)
		}
		_, err = pos.Resolve([]byte(c.move))
		want := pgn.Problem{Kind: c.kind, Severity: pgn.Error, Line: 7, Column: 9, Ply: c.ply, Token: c.move, Message: c.message, Hint: c.hint}
		if got := moveProblem(c.move, c.move, c.ply, 7, 9, &pos, err); err == nil || got != want {
			t.Errorf("got  %+v\nwant %+v", got, want)
		}
	}
}

// A hundred problems of a kind are told one by one; what goes beyond is counted, each kind
// for itself.
func TestProblemsOfAGameAreSummedUp(t *testing.T) {
	text := "1. e4 e5 2. Nf3 " + strings.Repeat("(2. Ke3) ", 103) + strings.Repeat("(9. Nc3) ", 102) + strings.Repeat("(2. Nf2-e9) ", 2)
	_, told := readTyped(t, text+"\n")
	n := map[pgn.Kind]int{}
	var more []string
	for _, p := range told {
		if n[p.Kind]++; strings.Contains(p.Message, "more times") {
			more = append(more, p.Message)
		}
	}
	if n[pgn.IllegalMove] != 101 || n[pgn.Guess] != 101 || strings.Join(more, ", ") != "illegal move, and 3 more times in this game, read as a guess, and 2 more times in this game" {
		t.Errorf("%v %q", n, more)
	}
}

// A move has its place in the file, and the half-move it is; of two glued together both
// have one place, and what hangs on them hangs on the second.
func TestPlacesOfMoves(t *testing.T) {
	const text = "1. e4e5 $1 {open}\n  2. Nf3 (2. f4\n exf4) Nc6 *\n"
	for g := range pgn.NewReader(strings.NewReader(text), pgn.Options{Variations: true}).All() {
		l, _ := Replay(g, board.Start())
		l.Moves = slices.Concat(l.Moves, l.Moves[2].Variations[0].Moves)
		got := ""
		for _, n := range l.Moves {
			got += fmt.Sprintf("%d %s %s %d:%d %v %q\n", n.Ply, n.Move.UCI(), n.SAN, n.FileLine, n.Column, n.NAGs, n.Comments)
		}
		want := `1 e2e4 e4 1:4 [] []
2 e7e5 e5 1:4 [1] ["open"]
3 g1f3 Nf3 2:6 [] []
4 b8c6 Nc6 3:8 [] []
3 f2f4 f4 2:14 [] []
4 e5f4 exf4 3:2 [] []
`
		if got != want {
			t.Errorf("%s, want\n%s", got, want)
		}
	}
}

// Pieces are in small letters where one is and none is in capitals, in variations too; signs
// that are no piece's tell nothing, nor does a b before the files that its pawn gets to.
func TestSmallLetters(t *testing.T) {
	for text, want := range map[string]bool{
		"1. e4 e5": false, "1. nf3": true, "1. nf3 Nc6": false, "1. e4 e5 2. nf3 (2. Nc3)": false, "1. e4 e5 2. f4 (2. nc3)": true,
		"1. bc3": false, "1. bc4 ba3": false, "1. bd3": true, "1. bh6": true, "1. e4 kf7": true, "1. qd2 O-O": true, "1. re1 Pe5": true, "1. rd1 -- 2. Z0": true, "1. b4": false, "1. bxc3": false, "1. e4 e5 2. f4 (2. c4) (2. nc3)": true, "1. e4 e5 2. f4 (2. nc3) (2. Nf3)": false,
	} {
		for g := range pgn.NewReader(strings.NewReader(text+" *\n"), pgn.Options{Variations: true}).All() {
			if got := smallLetters(g.Tree); got != want {
				t.Errorf("%s: %v", text, got)
			}
		}
	}
}

// A game begins with the usual position, or with that of its FEN.
func TestStartOfAGame(t *testing.T) {
	const fen = "4k3/8/8/8/8/8/4P3/4K3 b - - 3 17"
	usual := board.Start()
	if pos, err := Start(&pgn.Header{}); err != nil || pos.EPD() != usual.EPD() {
		t.Errorf("%s, %v", pos.EPD(), err)
	}
	if pos, err := Start(&pgn.Header{FEN: fen}); err != nil || pos.EPD() != "4k3/8/8/8/8/8/4P3/4K3 b - -" || pos.FullMove() != 17 {
		t.Errorf("%s, %v", pos.EPD(), err)
	}
	if _, err := Start(&pgn.Header{FEN: "nonsense"}); err == nil {
		t.Error("nonsense is a position")
	}
}
