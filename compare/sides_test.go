package compare

import (
	"fmt"
	"slices"
	"strings"
	"testing"

	"foreply/fetch/pgn"
	"foreply/profile"
	"foreply/profile/board"
)

// gamesOf makes a profile of rows 'date result timecontrol elo rival: moves';
// the opponent is "Them", with the colour given.
func gamesOf(theirs board.Color, rows ...string) *profile.Profile {
	return profile.Build(func(yield func(*pgn.Game) bool) {
		for i, row := range rows {
			head, moves, _ := strings.Cut(row, ":")
			f := strings.Fields(head)
			white, black := "Them", f[4]
			if theirs == board.Black {
				white, black = black, white
			}
			g := &pgn.Game{File: "games.pgn", Index: i + 1, Tags: pgn.Tags{
				{Name: "White", Value: white}, {Name: "Black", Value: black}, {Name: "Date", Value: f[0]},
				{Name: "Result", Value: f[1]}, {Name: "TimeControl", Value: f[2]}, {Name: "WhiteElo", Value: f[3]},
			}}
			for san := range strings.FieldsSeq(moves) {
				g.Moves = append(g.Moves, pgn.Move{SAN: []byte(san)})
			}
			if !yield(g) {
				return
			}
		}
	}, profile.Options{Them: func(*pgn.Game) (board.Color, bool) { return theirs, true }})
}

var today = profile.OneDay(profile.DayOf(2026, 11, 25))

// repeated repeats rows on days of their own.
func repeated(n int, row string) []string {
	var rows []string
	for i := range n {
		rows = append(rows, fmt.Sprintf("2026.%02d.%02d %s", i/28+1, i%28+1, row))
	}
	return rows
}

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

func e4Side(t *testing.T) Side {
	t.Helper()
	b := bookOf(t, board.White, "1. e4 { Space first. } e5 (1... c5 2. c3 { Then d4. }) 2. Nf3 Nc6 3. Bc4 *")
	rep := Make(Input{Profile: e4Games(), Books: []*Book{b}}, Options{When: today, Class: profile.Classical})
	return rep.Sides[0]
}

func TestForks(t *testing.T) {
	s := e4Side(t)
	if len(s.Forks) != 1 {
		t.Fatalf("%d forks: %+v", len(s.Forks), s.Forks)
	}
	f := s.Forks[0]
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
	if f.Branches[0].EndsWith != BookEnds || f.Branches[2].EndsWith != TheyLeave {
		t.Errorf("ends %q and %q", f.Branches[0].EndsWith, f.Branches[2].EndsWith)
	}
}

func TestUnanswered(t *testing.T) {
	s := e4Side(t)
	if len(s.Unanswered) != 1 {
		t.Fatalf("%d unanswered: %+v", len(s.Unanswered), s.Unanswered)
	}
	u := s.Unanswered[0]
	if Movetext(u.Line, 0) != "1.e4 f5" || u.Share.Seen != 2 || u.Share.Of != 20 || u.Note != "Space first." || u.NotePly != 1 {
		t.Errorf("%+v", u)
	}
	if u.Score != (Score{Draws: 2}) || len(u.Others) != 1 || u.Others[0].Move != "exf5" || u.Others[0].Games != 2 {
		t.Errorf("what came of it: %+v, others %+v", u.Score, u.Others)
	}
	if u.Last != "2026.01.02" || !strings.HasSuffix(u.Text, "2 of 20 games; last 2 Jan 2026") {
		t.Errorf("last %s, %q", u.Last, u.Text)
	}
}

func TestExitsCite(t *testing.T) {
	s := e4Side(t)
	x := s.Exits[0]
	if x.Kind != BookEnds || Movetext(x.Line, 0) != "1.e4 e5 2.Nf3 Nc6 3.Bc4" {
		t.Fatalf("%+v", x)
	}
	// They never met 3.Bc4 itself.
	if x.Games != 0 || x.Name == "" || x.ECO[0] != 'C' || x.YourMove {
		t.Errorf("%+v", x)
	}
	leave := s.Exits[slices.IndexFunc(s.Exits, func(x Exit) bool { return x.Kind == TheyLeave && !x.Unseen })]
	if leave.Games != 2 || len(leave.Newest) != 2 || leave.Newest[0].Date != "2026.01.02" || leave.Newest[0].Game != 20 {
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

func TestTonight(t *testing.T) {
	s := e4Side(t)
	var got []string
	for _, task := range s.Tonight {
		got = append(got, task.Lead+" "+task.Text)
	}
	text := strings.Join(got, "\n")
	for _, want := range []string{"expect 1.e4 e5", "play 3.Bc4", "answer 1.e4 f5"} {
		if !strings.Contains(text, want) {
			t.Errorf("tonight lacks %q:\n%s", want, text)
		}
	}
}

// With twelve games or fewer of the colour the games are listed, newest first,
// each with who left the book.
func TestFewGamesAreListed(t *testing.T) {
	p := gamesOf(board.Black,
		"2026.01.01 1-0 5400 2000 Elm: e4 e5 Nf3 Nc6 Bc4 Bc5",
		"2026.02.01 0-1 5400 2000 Fir: e4 c5 Nf3 d6",
		"2026.03.01 1/2-1/2 5400 2000 Ash: e4 f5 exf5 Nf6",
		"2026.04.01 * 5400 2000 Oak: d4 d5",
		"2026.05.01 0-1 5400 2000 Yew: e4 e5",
	)
	b := bookOf(t, board.White, "1. e4 e5 (1... c5 2. c3) 2. Nf3 Nc6 3. Bc4 *")
	s := Make(Input{Profile: p, Books: []*Book{b}}, Options{When: today}).Sides[0]
	var got []string
	for _, r := range s.List {
		got = append(got, fmt.Sprintf("%s %s %s %s", r.Date, r.Score, r.LeftBy, r.Left))
	}
	want := []string{
		"2026.05.01 1 end the game ended in your book",
		"2026.04.01 * you the other player left your book with 1.d4",
		"2026.03.01 ½ them they left your book with 1...f5",
		"2026.02.01 1 you the other player left your book with 2.Nf3",
		"2026.01.01 0 book your book ended before 3...Bc5",
	}
	if !s.Few || !slices.Equal(got, want) {
		t.Errorf("few %v\n%s\nwant\n%s", s.Few, strings.Join(got, "\n"), strings.Join(want, "\n"))
	}
	if many := e4Side(t); many.Few || len(many.List) != 0 {
		t.Error("twenty games are listed")
	}
}

// Meeting a position of the book by an order that is not written is no leaving.
func TestListKnowsTranspositions(t *testing.T) {
	p := gamesOf(board.Black, "2026.01.01 1-0 5400 2000 Elm: d4 e6 c4 d5 Nc3")
	b := bookOf(t, board.White, "1. d4 d5 2. c4 e6 3. Nc3 *", "1. d4 e6 2. c4 *")
	s := Make(Input{Profile: p, Books: []*Book{b}}, Options{When: today}).Sides[0]
	if r := s.List[0]; r.LeftBy != GameEnded {
		t.Errorf("%+v", r)
	}
}

func TestNoGamesAtAll(t *testing.T) {
	for _, mine := range []board.Color{board.White, board.Black} {
		b := bookOf(t, mine, "1. e4 e5 2. Nf3 *")
		r := Make(Input{Profile: gamesOf(mine, "2026.01.01 1-0 5400 2000 Elm: e4"), Books: []*Book{b}}, Options{When: today})
		s := r.Sides[0]
		if s.Games != 0 || !s.Few || len(s.Tonight) != 1 || !strings.Contains(s.Tonight[0].Text, "no game of theirs") {
			t.Errorf("%v: %+v", mine, s.Tonight)
		}
	}
}

func TestMeetings(t *testing.T) {
	p := gamesOf(board.Black, "2025.01.01 1-0 5400 2000 Me: e4 e5", "2026.02.01 1/2-1/2 5400 2000 Me: d4 d5", "2026.03.01 0-1 5400 2000 Fir: c4 c5")
	b := bookOf(t, board.White, "1. e4 *")
	r := Make(Input{Profile: p, Books: []*Book{b}}, Options{When: today, Me: func(n string) bool { return n == "Me" }})
	if len(r.Basis.Meetings) != 2 || !strings.HasSuffix(r.Basis.Text, "you met twice, your score ½, 1") {
		t.Errorf("%+v", r.Basis)
	}
}

// 3...Qxd5 is marked ? in the book; they have played it in two games.
func TestMistakes(t *testing.T) {
	p := gamesOf(board.Black, repeated(2, "1-0 5400 2000 Elm: e4 d5 exd5 Qxd5 Nc3 Qa5")...)
	b := bookOf(t, board.White, "1. e4 d5 2. exd5 Qxd5? { Loses time. } 3. Nc3 *")
	s := Make(Input{Profile: p, Books: []*Book{b}}, Options{When: today}).Sides[0]
	if len(s.Mistakes) != 1 || s.Mistakes[0].Games != 2 || s.Mistakes[0].Whose != "theirs" || s.Mistakes[0].Note != "Loses time." {
		t.Errorf("%+v", s.Mistakes)
	}
}

// Two answers to 1...e5: each gets a walk of its own, and results do not
// separate them.
func TestOptions(t *testing.T) {
	rows := slices.Concat(
		repeated(9, "1-0 5400 2000 Elm: e4 e5 Nf3 Nc6 Bc4"), repeated(5, "0-1 5400 2000 Elm: e4 e5 Nc3 Nf6 f4"),
	)
	b := bookOf(t, board.White, "1. e4 e5 2. Nf3 (2. Nc3 Nf6 (2... Nc6) 3. Bc4) 2... Nc6 3. Bc4 *")
	s := Make(Input{Profile: gamesOf(board.Black, rows...), Books: []*Book{b}}, Options{When: today}).Sides[0]
	if len(s.Options) != 2 || s.Options[0].Move != "Nf3" || !s.Options[0].Main || s.Options[1].Move != "Nc3" {
		t.Fatalf("%+v", s.Options)
	}
	for i, games := range []int{9, 5} {
		if o := s.Options[i]; o.Familiar != games || o.Covered < 0.5 || o.Covered > 1 || o.Known < 0.5 {
			t.Errorf("%+v", o)
		}
	}
	if !strings.Contains(s.Options[1].Text, "results don't separate these") {
		t.Errorf("%q", s.Options[1].Text)
	}
}
