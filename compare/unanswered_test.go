package compare

import (
	"fmt"
	"reflect"
	"slices"
	"strings"
	"testing"

	"foreply/compare/book"
	"foreply/compare/fact"
	"foreply/compare/walk"
	"foreply/compare/words"
	"foreply/profile"
	"foreply/profile/board"
)

// unansweredIn finds the unanswered move at the end of a line.
func unansweredIn(t *testing.T, p *profile.Profile, b *book.Book, line string) fact.Unanswered {
	t.Helper()
	s := Make(Input{Profile: p, Books: []*book.Book{b}}, Options{When: today}).Sides[0]
	i := slices.IndexFunc(s.Unanswered, func(u fact.Unanswered) bool { return words.Movetext(u.Line, 0) == line })
	if i < 0 {
		t.Fatalf("%s is not among the unanswered: %+v", line, s.Unanswered)
	}
	return s.Unanswered[i]
}

// 1...f5 was met with 2.exf5 three times (they scored a half and lost twice), with 2.d3
// once (they won) and once the game broke off there.
func TestHowOthersMetIt(t *testing.T) {
	p := gamesOf(board.Black, slices.Concat(
		repeated(10, "1-0 5400 2000 Elm: e4 e5 Nf3 Nc6"),
		repeated(1, "1/2-1/2 5400 2000 Ash: e4 f5 exf5 Nf6"), repeated(2, "1-0 5400 2000 Ash: e4 f5 exf5 Nf6"),
		repeated(1, "0-1 5400 2000 Ash: e4 f5 d3"), repeated(1, "* 5400 2000 Ash: e4 f5"),
	)...)
	u := unansweredIn(t, p, bookOf(t, board.White, "1. e4 e5 2. Nf3 *"), "1.e4 f5")
	want := []fact.Met{{Move: "exf5", Games: 3, Score: fact.Score{Draws: 1, Losses: 2}, Expected: 1.5}, {Move: "d3", Games: 1, Score: fact.Score{Wins: 1}, Expected: 0.5}}
	if !reflect.DeepEqual(u.Others, want) || u.Score != (fact.Score{Wins: 1, Draws: 1, Losses: 2, Unknown: 1}) || u.Apart {
		t.Errorf("others %+v, score %+v", u.Others, u.Score)
	}
	if len(words.Met(nil, 2)) > 0 {
		t.Error("nobody met it, and yet there are words")
	}
}

// How players like them met it comes from the peers' games before the day; of fewer
// than ten nothing is told. The opponent's own are none of them.
func TestHowPeersMetIt(t *testing.T) {
	own := slices.Concat(repeated(10, "1-0 5400 2000 Elm: e4 e5 Nf3 Nc6"), repeated(4, "0-1 5400 2000 Ash: e4 f5 d3 d6 Nc3 Nc6"))
	p := gamesOf(board.Black, own...)
	b := bookOf(t, board.White, "1. e4 e5 2. Nf3 *")
	games := func(n int) *profile.Peers {
		var rows []string
		for i := range n { // each another game
			rows = append(rows, fmt.Sprintf("2026.01.%02d 1-0 Elm Ash%d: e4 f5 exf5 Nf6 g4 %s", i%28+1, i, [...]string{"d5", "h5", "e6"}[i%3]))
		}
		rows = append(rows, "2026.01.09 1/2-1/2 Elm Oak: e4 f5 d3 fxe4 dxe4 e5", "2199.01.09 0-1 Elm Oak: e4 f5 d3 d6 Nc3 e5")
		return profile.NewPeers(pgnGames(rows), p, nil)
	}
	for n, want := range map[int][]fact.Met{
		8: nil,
		9: {{Move: "exf5", Games: 9, Score: fact.Score{Losses: 9}}, {Move: "d3", Games: 1, Score: fact.Score{Draws: 1}}},
	} {
		s := Make(Input{Profile: p, Books: []*book.Book{b}, Peers: games(n)}, Options{When: today}).Sides[0]
		i := slices.IndexFunc(s.Unanswered, func(u fact.Unanswered) bool { return words.Movetext(u.Line, 0) == "1.e4 f5" })
		if i < 0 || !reflect.DeepEqual(s.Unanswered[i].Peers, want) || len(want) > 0 && s.Unanswered[i].PeerGames != 10 {
			t.Errorf("%d games: %+v", n, s.Unanswered)
		}
	}
}

// What you usually play against the Sicilian helps against a Sicilian that is not
// in the book, what you play against 1...e5 does not. Captures are no set-up, nor
// is what has been played.
//
//	1.e4 ─┬─ 1...e5 2.Nf3 Nc6 3.Bc4 Bc5 4.O-O
//	      └─ 1...c5 2.c3 ─┬─ 2...d5 3.exd5 Qxd5 4.d4 Nf6 5.Nf3
//	                      ├─ 2...Nf6 3.e5 Nd5 4.d4 cxd4 5.Nf3
//	                      └─ 2...b6, no answer
func TestSetUpOfTheFamily(t *testing.T) {
	p := gamesOf(board.Black, slices.Concat(
		repeated(20, "1-0 5400 2000 Elm: e4 e5 Nf3 Nc6 Bc4 Bc5"),
		repeated(6, "1-0 5400 2000 Elm: e4 c5 c3 d5 exd5 Qxd5 d4 Nf6"),
		repeated(5, "1-0 5400 2000 Elm: e4 c5 c3 Nf6 e5 Nd5 d4 cxd4"),
		repeated(6, "1-0 5400 2000 Elm: e4 c5 c3 b6"),
	)...)
	b := bookOf(t, board.White,
		"1. e4 e5 2. Nf3 Nc6 3. Bc4 Bc5 4. O-O *",
		"1. e4 c5 2. c3 d5 (2... Nf6 3. e5 Nd5 4. d4 cxd4 5. Nf3) 3. exd5 Qxd5 4. d4 Nf6 5. Nf3 *")
	u := unansweredIn(t, p, b, "1.e4 c5 2.c3 b6")
	if strings.Join(u.SetUp, " ") != "e5 d4 Nf3" || u.SetUpPly != 3 {
		t.Errorf("%v after %d plies", u.SetUp, u.SetUpPly)
	}
	s := Make(Input{Profile: p, Books: []*book.Book{b}}, Options{When: today}).Sides[0]
	if got := strings.Join(s.Surprise.SetUp, " "); !strings.HasPrefix(got, "e4 Nf3") {
		t.Errorf("the set-up of all lines: %s", got)
	}
}

// A family with one move is too small: the set-up is that of the wider one, if
// that has more.
//
//	1.e4 e5 2.Nf3 ─┬─ 2...Nc6 3.Bc4 ─┬─ 3...Bc5 4.c3
//	               │                 └─ 3...g6, no answer
//	               └─ 2...d6 3.Bc4 Be7 4.c3 Nf6 5.d3
func TestSetUpOfTheWiderFamily(t *testing.T) {
	p := gamesOf(board.Black, slices.Concat(
		repeated(10, "1-0 5400 2000 Elm: e4 e5 Nf3 Nc6 Bc4 Bc5"), repeated(12, "1-0 5400 2000 Elm: e4 e5 Nf3 d6 Bc4 Be7 c3 Nf6"),
		repeated(9, "1-0 5400 2000 Elm: e4 e5 Nf3 Nc6 Bc4 g6"),
	)...)
	b := bookOf(t, board.White, "1. e4 e5 2. Nf3 Nc6 (2... d6 3. Bc4 Be7 4. c3 Nf6 5. d3) 3. Bc4 Bc5 4. c3 *")
	u := unansweredIn(t, p, b, "1.e4 e5 2.Nf3 Nc6 3.Bc4 g6")
	if strings.Join(u.SetUp, " ") != "c3 d3" || u.SetUpPly != 3 {
		t.Errorf("%v after %d plies", u.SetUp, u.SetUpPly)
	}
	narrow := bookOf(t, board.White, "1. e4 e5 2. Nf3 Nc6 3. Bc4 Bc5 4. c3 *")
	u = unansweredIn(t, p, narrow, "1.e4 e5 2.Nf3 Nc6 3.Bc4 g6")
	if strings.Join(u.SetUp, " ") != "c3" || u.SetUpPly != 5 {
		t.Errorf("of a narrow book: %v after %d plies", u.SetUp, u.SetUpPly)
	}
}

// What you play against the French is no set-up for the Italian, though the Italian
// has one move alone.
//
//	1.e4 ─┬─ 1...e6 2.d4 d5 3.e5 c5 4.c3
//	      └─ 1...e5 2.Nf3 Nc6 3.Bc4 ─┬─ 3...Bc5 4.O-O
//	                                 └─ 3...g6, no answer
func TestSetUpOfNoOtherFamily(t *testing.T) {
	p := gamesOf(board.Black, slices.Concat(
		repeated(28, "1-0 5400 2000 Elm: e4 e6 d4 d5 e5 c5"), repeated(4, "1-0 5400 2000 Elm: e4 e5 Nf3 Nc6 Bc4 Bc5"),
		repeated(6, "1-0 5400 2000 Elm: e4 e5 Nf3 Nc6 Bc4 g6"),
	)...)
	b := bookOf(t, board.White, "1. e4 e6 2. d4 d5 3. e5 c5 4. c3 *", "1. e4 e5 2. Nf3 Nc6 3. Bc4 Bc5 4. O-O *")
	u := unansweredIn(t, p, b, "1.e4 e5 2.Nf3 Nc6 3.Bc4 g6")
	if strings.Join(u.SetUp, " ") != "O-O" || u.SetUpPly != 5 {
		t.Errorf("%v after %d plies", u.SetUp, u.SetUpPly)
	}
}

// 1.d4 d5 2.Nc3, which the book has nothing for, was played in 8 games; the line
// 2.Bf4 Nf6 3.Nc3 in 4, but its position came from 2.Nc3 Nf6 3.Bf4 too.
func TestUnansweredByAnyOrder(t *testing.T) {
	p := gamesOf(board.White, slices.Concat(
		repeated(8, "1-0 5400 2000 Elm: d4 d5 Nc3 Nf6 Bf4 e6"), repeated(4, "1-0 5400 2000 Elm: d4 d5 Bf4 Nf6 Nc3 c5"),
		repeated(8, "1-0 5400 2000 Elm: d4 d5 Bf4 Nf6 e3 c5"),
	)...)
	b := bookOf(t, board.Black, "1. d4 d5 2. Bf4 Nf6 3. e3 c5 *")
	for line, want := range map[string][3]int{"1.d4 d5 2.Bf4 Nf6 3.Nc3": {4, 12, 12}, "1.d4 d5 2.Nc3": {8, 20, 8}} {
		if u := unansweredIn(t, p, b, line); [3]int{u.Share.Seen, u.Share.Of, u.Games} != want {
			t.Errorf("%s: %d of %d, %d by any order, want %v", line, u.Share.Seen, u.Share.Of, u.Games, want)
		}
	}
}

// Their castling does not stand for yours.
//
//	1.e4 e5 2.Nf3 Nc6 3.Bc4 Bc5 4.O-O Nf6 ─┬─ 5.d3 O-O 6.c3 d6
//	                                       └─ 5.c3, no answer
func TestSetUpKnowsWhoseMovesWereMade(t *testing.T) {
	p := gamesOf(board.White, slices.Concat(
		repeated(20, "1-0 5400 2000 Elm: e4 e5 Nf3 Nc6 Bc4 Bc5 O-O Nf6 d3 O-O c3 d6"), repeated(9, "1-0 5400 2000 Elm: e4 e5 Nf3 Nc6 Bc4 Bc5 O-O Nf6 c3"),
	)...)
	u := unansweredIn(t, p, bookOf(t, board.Black, "1. e4 e5 2. Nf3 Nc6 3. Bc4 Bc5 4. O-O Nf6 5. d3 O-O 6. c3 d6 *"),
		"1.e4 e5 2.Nf3 Nc6 3.Bc4 Bc5 4.O-O Nf6 5.c3")
	if strings.Join(u.SetUp, " ") != "O-O d6" || u.SetUpPly != 8 {
		t.Errorf("%v after %d plies", u.SetUp, u.SetUpPly)
	}
}

// The nearest note stands on a move of the line; else at the head of the one
// chapter that the line runs through; where several do, none is the nearest.
func TestNearestNote(t *testing.T) {
	b := bookOf(t, board.White,
		"{ Against the open game. } 1. e4 e5 2. Nf3 Nc6 3. Bc4 { Eye f7. } Bc5 ({ The second string. } 3... Nf6 4. d3) 4. c3 *",
		"{ Against the Sicilian. } 1. e4 c5 2. c3 *", "1. e4 d5 2. exd5 *")
	for _, c := range []struct {
		line, want string
		ply        int
	}{
		{"e4 e5 Nf3 Nc6 Bc4 Be7", "Eye f7.", 5},
		{"e4 e5 Nf3 Nc6 Bc4 Nf6", "The second string.", 6},
		{"e4 e5 Nf3 d6", "Against the open game.", 0},
		{"e4 c5 c3 d6", "Against the Sicilian.", 0},
		{"e4 d5 exd5 Nf6", "", 0},
		{"e4 f5", "", 0},
	} {
		at := walk.Resolved(strings.Fields(c.line))
		if text, ply := at.Note(b); text != c.want || ply != c.ply {
			t.Errorf("%s: %q at %d, want %q at %d", c.line, text, ply, c.want, c.ply)
		}
	}
}

// With no note near, the first chapter's is better than none when surprised.
func TestSurpriseNote(t *testing.T) {
	for _, c := range []struct{ book, note, at string }{
		{"{ Keep the king safe. } 1. e4 e5 2. Nf3 *", "Keep the king safe.", ""},
		{"1. e4 { Space first. } e5 2. Nf3 *", "Space first.", "e4"},
		{"1. e4 e5 2. Nf3 *", "", ""},
	} {
		s := Make(Input{Profile: e4Games(), Books: []*book.Book{bookOf(t, board.White, c.book)}}, Options{When: today}).Sides[0]
		if s.Surprise.Note != c.note || strings.Join(s.Surprise.NoteLine, " ") != c.at {
			t.Errorf("%s: %q at %q", c.book, s.Surprise.Note, s.Surprise.NoteLine)
		}
	}
}
