package compare

import (
	"fmt"
	"iter"
	"regexp"
	"slices"
	"strings"
	"testing"

	"foreply/compare/book"
	"foreply/compare/fact"
	"foreply/compare/words"
	"foreply/fetch/pgn"
	"foreply/profile"
	"foreply/profile/board"
	"foreply/profile/profiletest"
)

// gamesOf makes a profile of rows 'date result timecontrol elo rival: moves';
// the opponent is "Them", with the colour given.
func gamesOf(theirs board.Color, rows ...string) *profile.Profile {
	games := gamesFrom(rows, func(f []string) pgn.Tags {
		white, black := "Them", f[4]
		if theirs == board.Black {
			white, black = black, white
		}
		return pgn.Tags{
			{Name: "White", Value: white}, {Name: "Black", Value: black}, {Name: "Date", Value: f[0]},
			{Name: "Result", Value: f[1]}, {Name: "TimeControl", Value: f[2]}, {Name: "WhiteElo", Value: f[3]}, {Name: "BlackElo", Value: "2000"},
		}
	})
	return profile.Build(games, profile.Options{Them: func(*pgn.Game) (board.Color, bool) { return theirs, true }})
}

// gamesFrom makes games of rows 'fields: moves', their tags of the fields.
func gamesFrom(rows []string, tags func(fields []string) pgn.Tags) iter.Seq[*pgn.Game] {
	return func(yield func(*pgn.Game) bool) {
		for i, row := range rows {
			head, moves, _ := strings.Cut(row, ":")
			g := &pgn.Game{File: "games.pgn", Index: i + 1}
			g.SetTags(tags(strings.Fields(head)))
			for san := range strings.FieldsSeq(moves) {
				g.Moves = append(g.Moves, pgn.Move{SAN: []byte(san)})
			}
			if !yield(g) {
				return
			}
		}
	}
}

var (
	today    = profiletest.Today
	repeated = profiletest.Repeated
)

// The opponent has Black: 1...e5 and 2...Nc6 in 12 games, 1...c5 in 6, 1...f5
// in 2. The book answers 1...e5 to 3.Bc4 and 1...c5 to 2.c3.
//
//	1.e4 ─┬─ 1...e5 2.Nf3 Nc6 3.Bc4 ── the book ends
//	      ├─ 1...c5 2.c3 ── the book ends
//	      └─ 1...f5 ── no answer
func e4Games() *profile.Profile {
	rows := slices.Concat(
		repeated(12, "1-0 5400 2000 Elm: e4 e5 Nf3 Nc6 d4 exd4"),
		repeated(6, "0-1 300 2000 Fir: e4 c5 Nf3 d6"),
		repeated(2, "1/2-1/2 5400 2000 Ash: e4 f5 exf5 Nf6"),
	)
	return gamesOf(board.Black, rows...)
}

func e4Side(t *testing.T) fact.Side {
	t.Helper()
	b := bookOf(t, board.White, "1. e4 { Space first. } e5 (1... c5 2. c3 { Then d4. }) 2. Nf3 Nc6 3. Bc4 *")
	rep := Make(Input{Profile: e4Games(), Books: []*book.Book{b}}, Options{When: today, Class: profile.Classical})
	return rep.Sides[0]
}

func TestPartings(t *testing.T) {
	s := e4Side(t)
	if len(s.Partings) != 1 {
		t.Fatalf("%d partings: %+v", len(s.Partings), s.Partings)
	}
	f := s.Partings[0]
	var got []string
	for _, b := range f.Branches {
		got = append(got, fmt.Sprintf("%s %s %s %s %d/%d", b.Move, b.State, b.Answer, strings.Join(b.Then, " "), b.Share.Seen, b.Share.Of))
	}
	want := []string{"e5 answered Nf3 Nc6 Bc4 12/20", "c5 answered c3  6/20", "f5 no_answer   2/20"}
	if !slices.Equal(got, want) || strings.Join(f.Stem, " ") != "e4" || f.From != -1 {
		t.Errorf("got %q after %v, want %q", got, f.Stem, want)
	}
	if f.Branches[1].Note != "Then d4." || f.Branches[0].Note != "" {
		t.Errorf("notes %q and %q: a note stands only where it was written", f.Branches[0].Note, f.Branches[1].Note)
	}
	if f.Branches[0].EndsWith != fact.BookEnds || f.Branches[2].EndsWith != fact.TheyLeave {
		t.Errorf("ends %q and %q", f.Branches[0].EndsWith, f.Branches[2].EndsWith)
	}
}

func TestUnanswered(t *testing.T) {
	s := e4Side(t)
	if len(s.Unanswered) != 1 {
		t.Fatalf("%d unanswered: %+v", len(s.Unanswered), s.Unanswered)
	}
	u := s.Unanswered[0]
	if words.Movetext(u.Line, 0) != "1.e4 f5" || u.Share.Seen != 2 || u.Share.Of != 20 || u.Note != "Space first." || u.NotePly != 1 {
		t.Errorf("%+v", u)
	}
	if u.Score != (fact.Score{Draws: 2}) || len(u.Others) != 1 || u.Others[0].Move != "exf5" || u.Others[0].Games != 2 {
		t.Errorf("what came of it: %+v, others %+v", u.Score, u.Others)
	}
	if u.Last.String() != "2026-01-02" || u.Games != 2 {
		t.Errorf("last %s, %d games", u.Last, u.Games)
	}
}

func TestExitsCite(t *testing.T) {
	s := e4Side(t)
	x := s.Exits[0]
	if x.Kind != fact.BookEnds || words.Movetext(x.Line, 0) != "1.e4 e5 2.Nf3 Nc6 3.Bc4" {
		t.Fatalf("%+v", x)
	}
	// They never met 3.Bc4 itself.
	if x.Games != 0 || x.Name == "" || x.ECO[0] != 'C' || x.YourMove {
		t.Errorf("%+v", x)
	}
	leave := s.Exits[slices.IndexFunc(s.Exits, func(x fact.Exit) bool { return x.Kind == fact.TheyLeave && !x.Unseen })]
	if leave.Games != 2 || len(leave.Newest) != 2 || leave.Newest[0].Date.String() != "2026-01-02" || leave.Newest[0].Game != 20 {
		t.Errorf("%+v", leave)
	}
}

func TestCoverage(t *testing.T) {
	s := e4Side(t)
	last := 1.0
	for i, c := range s.Coverage {
		if c.Move != i+1 || c.P > last+1e-9 {
			t.Errorf("coverage %+v", s.Coverage)
		}
		last = c.P
	}
	if len(s.Coverage) != 3 || s.Coverage[0].Of100 != 100 || s.Coverage[1].P < 0.7 || s.Coverage[1].P > 0.95 {
		t.Errorf("coverage %+v", s.Coverage)
	}
}

// The expected line is written out once; what parts from it begins there. The
// rule for the intervals: see TestOften.
func TestTonight(t *testing.T) {
	s := e4Side(t)
	want := []string{
		"expect 1.e4 e5 2.Nf3 Nc6: in 12 of 20 games, Open Game",
		"play 3.Bc4, then your book ends",
		"go on from 3.Bc4, where your book ends: in 12 of 20 games",
		"answer 1...f5: 1 in 15 games (0–2), 2 of 20 games",
		"go on from 1...c5 2.c3, where your book ends: 1 in 10 games (0–3)",
	}
	if got := told(s.Tonight); !slices.Equal(got, want) {
		t.Errorf("got\n%s\nwant\n%s", strings.Join(got, "\n"), strings.Join(want, "\n"))
	}
	if moves := strings.Join(s.Tonight[3].Moves, " "); moves != "e4 f5" {
		t.Errorf("the task's line is %s", moves)
	}
}

func told(tasks []fact.Task) []string {
	var lines []string
	for _, task := range tasks {
		lines = append(lines, strings.TrimSpace(task.Lead+" "+words.Task(&task).String()+" "+task.Note))
	}
	return lines
}

// Six first moves share the games: none is likely enough to name alone.
func TestTonightOfAnOpenField(t *testing.T) {
	var rows []string
	for i, first := range []string{"e4", "d4", "c4", "Nf3", "g3", "b3"} {
		for j := range 3 {
			rows = append(rows, fmt.Sprintf("2026.%02d.%02d 1-0 5400 2000 Elm: %s", j+1, i+1, first))
		}
	}
	b := bookOf(t, board.Black, "1. e4 c5 *", "1. d4 d5 *", "1. c4 e5 *", "1. Nf3 d5 *", "1. g3 d5 *", "1. b3 e5 *")
	s := Make(Input{Profile: gamesOf(board.White, rows...), Books: []*book.Book{b}}, Options{When: today}).Sides[0]
	if got := told(s.Tonight)[0]; got != "expect no move of theirs stands out: 1.Nf3 2 in 10 (0–4), 1.b3 2 in 10 (0–4), 1.d4 1 in 7 (0–4)" {
		t.Errorf("%q", got)
	}
}

// Few games: what is said of them is a count. They met 1.e4 in four games, and
// 1...c5 in three of these.
func TestTonightOfFewGames(t *testing.T) {
	p := gamesOf(board.Black,
		"2026.01.01 1-0 5400 2000 Elm: e4 c5 c3 d5", "2026.02.01 0-1 5400 2000 Fir: e4 c5 Nf3 d6",
		"2026.03.01 1/2-1/2 5400 2000 Ash: e4 c5 c3 Nf6", "2026.04.01 0-1 5400 2000 Oak: d4 d5", "2026.05.01 0-1 5400 2000 Yew: e4 f5",
	)
	b := bookOf(t, board.White, "1. e4 e5 (1... c5 2. c3 { Then d4. } Nf6 3. e5) 2. Nf3 *")
	s := Make(Input{Profile: p, Books: []*book.Book{b}}, Options{When: today}).Sides[0]
	want := []string{
		"expect 1.e4 c5, played in 3 of 4 games after 1.e4", "play 2.c3, no answer to 2...d5 Then d4.",
		"answer 1...f5: 1 of 4 games", "answer 2...d5: 1 of 2 games",
	}
	if got := told(s.Tonight); !slices.Equal(got, want) {
		t.Errorf("got\n%s\nwant\n%s", strings.Join(got, "\n"), strings.Join(want, "\n"))
	}
	if shares := sharesIn(&s); len(shares) > 0 {
		t.Errorf("shares are said of few games: %q", shares)
	}
}

// sharesIn lists what a side says in shares, of what it says in counts when its
// games are few.
func sharesIn(s *fact.Side) []string {
	var texts []string
	for _, u := range s.Unanswered {
		texts = append(texts, words.Unanswered(&u, s.Counted()).String())
	}
	for _, d := range s.Boards {
		texts = append(texts, words.BoardOften(&d).Text)
	}
	texts = append(texts, words.Strings(words.Options(s))...)
	return slices.DeleteFunc(append(texts, told(s.Tonight)...), func(text string) bool { return !shareWords.MatchString(text) })
}

var shareWords = regexp.MustCompile(`in 10\b|about \d+ games? in|\b1 in \d|nearly every game|hardly ever`)

// Three games of theirs, none of which met 1.e4.
func TestTonightWhenNoneMetTheBook(t *testing.T) {
	p := gamesOf(board.Black, "2026.01.01 1-0 5400 2000 Elm: d4 d5", "2026.02.01 0-1 5400 2000 Fir: d4 Nf6", "2026.03.01 0-1 5400 2000 Fir: c4 e5")
	b := bookOf(t, board.White, "1. e4 e5 2. Nf3 *")
	s := Make(Input{Profile: p, Books: []*book.Book{b}}, Options{When: today}).Sides[0]
	if got := told(s.Tonight)[0]; got != "expect the unknown: no game of theirs met 1.e4; go through your main lines" {
		t.Errorf("%q", got)
	}
}

func TestParted(t *testing.T) {
	stem := strings.Fields("e4 e5 Nf3 Nc6 Bc4")
	for _, c := range []struct{ line, want string }{
		{"e4 c5", "1...c5"},
		{"e4 e5 Nf3 d6", "2...d6"},
		{"d4 d5", "1.d4 d5"},
		{"e4 e5", "1...e5"},
		{"e4 e5 Nf3 Nc6 Bc4 Bc5 c3", "3...Bc5 4.c3"},
		{"e4 c5 c3 d6 d4 Nf6 dxc5", "1...c5 2.c3 d6 3.d4 Nf6 4.dxc5"},
		{"e4 c5 c3 d6 d4 Nf6 dxc5 Nxe4", "1...c5 2.c3 … 4.dxc5 Nxe4"},
	} {
		if got := words.Parted(strings.Fields(c.line), stem); got != c.want {
			t.Errorf("%s: %q, want %q", c.line, got, c.want)
		}
	}
	if got := words.Parted([]string{"e4"}, nil); got != "1.e4" {
		t.Errorf("%q", got)
	}
}

// With twelve games or fewer of the colour the games are listed, newest first,
// each with its rival, what the user's side made of it, the moves as far as they tell something, who
// left the book where, and what the book has there.
func TestFewGamesAreListed(t *testing.T) {
	p := gamesOf(board.Black,
		"2026.01.01 1-0 5400 2000 Elm: e4 e5 Nf3 Nc6 Bc4 Bc5",
		"2026.02.01 0-1 5400 2000 Fir: e4 c5 Nf3 d6",
		"2026.03.01 1/2-1/2 5400 2000 Ash: e4 f5 exf5 Nf6",
		"2026.04.01 * 5400 2000 Oak: d4 d5",
		"2026.05.01 0-1 5400 2000 Yew: e4 e5",
	)
	b := bookOf(t, board.White, "1. e4 e5 (1... c5 2. c3) 2. Nf3 Nc6 3. Bc4 *")
	s := Make(Input{Profile: p, Books: []*book.Book{b}}, Options{When: today}).Sides[0]
	var got []string
	for _, g := range s.FewGames {
		got = append(got, fmt.Sprintf("%s %s %s %s %s at %d %s", g.Date, g.Rival, g.Yours, strings.Join(g.Moves[:g.Telling], " "), g.LeftBy, g.LeftPly, g.Answer))
	}
	want := []string{
		"2026-05-01 Yew 0 e4 e5 end at 2 ",
		"2026-04-01 Oak * d4 d5 you at 0 e4",
		"2026-03-01 Ash ½ e4 f5 exf5 Nf6 them at 1 ",
		"2026-02-01 Fir 0 e4 c5 Nf3 d6 you at 2 c3",
		"2026-01-01 Elm 1 e4 e5 Nf3 Nc6 Bc4 Bc5 book at 5 ",
	}
	if !s.Few || !slices.Equal(got, want) {
		t.Errorf("few %v\n%s\nwant\n%s", s.Few, strings.Join(got, "\n"), strings.Join(want, "\n"))
	}
	if many := e4Side(t); many.Few || len(many.FewGames) != 0 {
		t.Error("twenty games are listed")
	}
}

// Meeting a position of the book by an order that is not written is no leaving.
func TestListKnowsTranspositions(t *testing.T) {
	p := gamesOf(board.Black, "2026.01.01 1-0 5400 2000 Elm: d4 e6 c4 d5 Nc3")
	b := bookOf(t, board.White, "1. d4 d5 2. c4 e6 3. Nc3 *", "1. d4 e6 2. c4 *")
	s := Make(Input{Profile: p, Books: []*book.Book{b}}, Options{When: today}).Sides[0]
	if r := s.FewGames[0]; r.LeftBy != fact.GameEnded {
		t.Errorf("%+v", r)
	}
}

func TestNoGamesAtAll(t *testing.T) {
	for _, mine := range []board.Color{board.White, board.Black} {
		b := bookOf(t, mine, "1. e4 e5 2. Nf3 *")
		r := Make(Input{Profile: gamesOf(mine, "2026.01.01 1-0 5400 2000 Elm: e4"), Books: []*book.Book{b}}, Options{When: today})
		s := r.Sides[0]
		if s.Games != 0 || !s.Few || len(s.Tonight) != 1 || !strings.Contains(words.Task(&s.Tonight[0]).String(), "no game of theirs") {
			t.Errorf("%v: %+v", mine, s.Tonight)
		}
	}
}

// Marked moves of either side, by how near they came in these games: 2...Qxd5 was
// made in two of three, 3.d4 (yours) in none of the two that reached its place,
// and 5...f5 in none, though one came within a move of its place. 2...g5 lies in
// nobody's way.
//
//	1.e4 ─┬─ 1...d5 2.exd5 ─┬─ 2...Qxd5? 3.Nc3, not 3.d4?
//	      │                 └─ 2...Nf6 3.d4 Nxd5 4.Nf3 Bg4 5.h3 f5?
//	      └─ 1...c5 2.c3 g5?
func TestMistakes(t *testing.T) {
	p := gamesOf(board.Black, slices.Concat(
		repeated(2, "1-0 5400 2000 Elm: e4 d5 exd5 Qxd5 Nc3 Qa5"), repeated(1, "1-0 5400 2000 Elm: e4 d5 exd5 Nf6 d4 Nxd5 Nf3 g6"),
	)...)
	b := bookOf(t, board.White,
		"1. e4 d5 2. exd5 Qxd5? { Loses time. } (2... Nf6 3. d4 Nxd5 4. Nf3 Bg4 5. h3 f5? 6. hxg4) 3. Nc3 (3. d4? { Keep the c-pawn free. }) *",
		"1. e4 c5 2. c3 g5? 3. d4 *")
	s := Make(Input{Profile: p, Books: []*book.Book{b}}, Options{When: today, Threshold: 0.2}).Sides[0]
	var got []string
	for _, m := range s.Mistakes {
		got = append(got, fmt.Sprintf("%s yours %v, %d of %d, near %d, last %q", words.Movetext(m.Line, 0), m.Yours, m.Games, m.Reached, m.Near, m.Last))
	}
	want := []string{
		`1.e4 d5 2.exd5 Qxd5 yours false, 2 of 3, near 3, last "2026-01-02"`,
		`1.e4 d5 2.exd5 Qxd5 3.d4 yours true, 0 of 2, near 2, last ""`,
		`1.e4 d5 2.exd5 Nf6 3.d4 Nxd5 4.Nf3 Bg4 5.h3 f5 yours false, 0 of 0, near 1, last ""`,
	}
	if !slices.Equal(got, want) {
		t.Errorf("got\n%s\nwant\n%s", strings.Join(got, "\n"), strings.Join(want, "\n"))
	}
	if s.Mistakes[0].Note != "Loses time." {
		t.Errorf("%+v", s.Mistakes[0])
	}
}

// A chapter that begins with a position of its own: the line to its mistake is
// that of the game that came there.
func TestMistakeOfAChapterThatBeginsElsewhere(t *testing.T) {
	p := gamesOf(board.Black, "2026.01.01 1-0 5400 2000 Elm: e4 d5 exd5 Qxd5 Nc3 Qa5", "2026.01.01 1-0 5400 2000 Elm: d4 d5")
	at := after("e4 d5 exd5")
	b := bookOf(t, board.White, "[SetUp \"1\"]\n[FEN \""+at.FEN()+"\"]\n\n2... Qxd5? 3. Nc3 *")
	s := Make(Input{Profile: p, Books: []*book.Book{b}}, Options{When: today}).Sides[0]
	if len(s.Mistakes) != 1 || words.Movetext(s.Mistakes[0].Line, 0) != "1.e4 d5 2.exd5 Qxd5" || s.Mistakes[0].Games != 1 {
		t.Errorf("%+v", s.Mistakes)
	}
}

// A board of a line that ends on your turn says that the answer is missing,
// whether it is the worst of these or not.
//
//	1.e4 e5 2.Nf3 Nc6 ─┬─ 3.Bc4 Bc5 4.c3 Nf6 5.d3, your book ends
//	                   │            (12 games)
//	                   ├─ 3...Nf6 4.d3 Bc5, no answer (8)
//	                   └─ 3...Be7 4.d4 d6, no answer (6)
func TestBoardsSayWhatIsMissing(t *testing.T) {
	p := gamesOf(board.Black, slices.Concat(
		repeated(12, "1-0 5400 2000 Elm: e4 e5 Nf3 Nc6 Bc4 Bc5 c3 Nf6 d3 d6"), repeated(8, "1-0 5400 2000 Elm: e4 e5 Nf3 Nc6 Bc4 Nf6 d3 Bc5"),
		repeated(6, "1-0 5400 2000 Elm: e4 e5 Nf3 Nc6 Bc4 Be7 d4 d6"),
	)...)
	b := bookOf(t, board.White, "1. e4 e5 2. Nf3 Nc6 3. Bc4 Bc5 (3... Nf6 4. d3 Bc5) (3... Be7 4. d4 d6) 4. c3 Nf6 5. d3 *")
	s := Make(Input{Profile: p, Books: []*book.Book{b}}, Options{When: today}).Sides[0]
	got := map[string]string{}
	for _, d := range s.Boards {
		got[words.BoardTitle(&d).String()] = words.BoardWhy(&d).String()
	}
	for title, want := range map[string]string{"after 4...Bc5": "no answer yet", "after 4...d6": "no answer yet", "after 5.d3": "your book ends"} {
		if got[title] != want {
			t.Errorf("%s: %q, want %q", title, got[title], want)
		}
	}
}

// Nobody needs a board of the first three moves, or two that share all but their
// last half-move.
func TestBoardsFromMoveFour(t *testing.T) {
	p := gamesOf(board.Black, slices.Concat(
		repeated(9, "1-0 5400 2000 Elm: e4 c5 Nf3 d6"), repeated(9, "1-0 5400 2000 Elm: e4 e5 Nf3 Nc6 Bc4 Bc5 c3 Nf6"),
		repeated(8, "1-0 5400 2000 Elm: e4 e5 Nf3 Nc6 Bc4 Bc5 c3 d6"), repeated(7, "1-0 5400 2000 Elm: e4 e5 Nf3 Nc6 Bc4 Bc5 c3 Qe7"),
	)...)
	b := bookOf(t, board.White, "1. e4 e5 2. Nf3 Nc6 3. Bc4 Bc5 4. c3 Nf6 5. d3 *")
	s := Make(Input{Profile: p, Books: []*book.Book{b}}, Options{When: today}).Sides[0]
	siblings := 0
	for _, d := range s.Boards {
		switch words.BoardTitle(&d).String() {
		case "after 1...c5":
			t.Error("a board of the first move")
		case "after 4...d6", "after 4...Qe7":
			siblings++
		}
	}
	if len(s.Unanswered) < 3 || siblings != 1 {
		t.Errorf("%d boards of two sisters among %d: %+v", siblings, len(s.Unanswered), s.Boards)
	}
}

// Behind the answer to the line to expect the book holds to about a move on average, and
// has no answer to a likely move before it: both are told.
func TestPreparedButForAGap(t *testing.T) {
	rows := slices.Concat(
		repeated(10, "1-0 5400 2000 Elm: e4 e5 Nf3 Nc6 Bc4 Bc5 c3 Nf6"), repeated(10, "1-0 5400 2000 Elm: e4 e5 Nf3 Nc6 Bc4 Nf6 d3 Be7"),
		repeated(10, "1-0 5400 2000 Elm: e4 e5 Nf3 Nc6 Bc4 Be7 d4 d6"), repeated(10, "1-0 5400 2000 Elm: e4 e5 Nf3 Nc6 Bc4 d6 c3 Nf6"),
	)
	b := bookOf(t, board.White, "1. e4 e5 2. Nf3 Nc6 3. Bc4 Bc5 (3... Be7 4. d4 d6 5. d5) (3... d6 4. c3 Nf6 5. d3) 4. c3 Nf6 5. d3 *")
	s := Make(Input{Profile: gamesOf(board.Black, rows...), Books: []*book.Book{b}}, Options{When: today}).Sides[0]
	for _, task := range s.Tonight {
		if task.Lead != fact.LeadPlay {
			continue
		}
		if got := strings.Join(task.Gap, " "); got != "e4 e5 Nf3 Nc6 Bc4 Nf6" {
			t.Errorf("behind %v the gap is %q", task.Moves, got)
		}
		return
	}
	t.Errorf("nothing to play: %v", told(s.Tonight))
}

// What they play most is what to expect, though the book has nothing for it; what it has an
// answer to is the other way. A move without an answer that nothing else stands beside has a
// row of its own.
func TestExpectWithoutAnAnswer(t *testing.T) {
	rows := slices.Concat(repeated(14, "1-0 5400 2000 Elm: e4 e5"), repeated(10, "1-0 5400 2000 Elm: d4 d5 c4 e6 Nc3 Nf6"))
	b := bookOf(t, board.Black, "1. d4 d5 2. c4 e6 *")
	s := Make(Input{Profile: gamesOf(board.White, rows...), Books: []*book.Book{b}}, Options{When: today}).Sides[0]
	first, second := s.Tonight[0], s.Tonight[1]
	if first.Lead != fact.LeadExpect || !slices.Equal(first.Moves, []string{"e4"}) || !slices.Equal(first.Gap, first.Moves) || first.Often == nil {
		t.Errorf("first %+v", first)
	}
	if second.Lead != fact.LeadOr || second.Moves[0] != "d4" || second.Answer == "" || len(second.Gap) > 0 {
		t.Errorf("second %+v", second)
	}
	rows = slices.Concat(repeated(20, "1-0 5400 2000 Elm: e4 e5"), repeated(4, "1-0 5400 2000 Elm: d4 d5 c4 e6"))
	s = Make(Input{Profile: gamesOf(board.White, rows...), Books: []*book.Book{b}}, Options{When: today}).Sides[0]
	if only := s.Tonight[0]; !slices.Equal(only.Gap, []string{"e4"}) || len(only.Choices) > 0 || s.Tonight[1].Lead == fact.LeadOr {
		t.Errorf("only %+v", only)
	}
	rows = slices.Concat(repeated(16, "1-0 5400 2000 Elm: e4 c5 Nf3 d6"), repeated(8, "1-0 5400 2000 Elm: d4 d5 c4 e6"))
	b = bookOf(t, board.Black, "1. e4 c5 2. Nc3 Nc6 *", "1. d4 d5 2. c4 e6 *")
	s = Make(Input{Profile: gamesOf(board.White, rows...), Books: []*book.Book{b}}, Options{When: today}).Sides[0]
	alone := slices.IndexFunc(s.Partings, func(p fact.Parting) bool { return slices.Equal(p.Stem, []string{"e4", "c5"}) })
	if alone < 0 || s.Partings[alone].Branches[0].Move != "Nf3" || s.Partings[alone].Branches[0].State != fact.NoAnswer {
		t.Errorf("%+v", s.Partings)
	}
}
