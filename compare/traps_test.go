package compare

import (
	"fmt"
	"slices"
	"strings"
	"testing"

	"foreply/compare/book"
	"foreply/compare/fact"
	"foreply/compare/words"
	"foreply/fetch/pgn"
	"foreply/profile"
	"foreply/profile/board"
)

// judgedGames makes a profile of games of "Them" with Black: 'date result
// timecontrol: moves', where a word as =0.3 is the evaluation after the move
// before it.
func judgedGames(t *testing.T, rows ...string) *profile.Profile {
	t.Helper()
	var text strings.Builder
	for _, row := range rows {
		head, moves, _ := strings.Cut(row, ":")
		f := strings.Fields(head)
		fmt.Fprintf(&text, "[White \"Elm\"]\n[Black \"Them\"]\n[Date %q]\n[Result %q]\n[TimeControl %q]\n\n", f[0], f[1], f[2])
		for word := range strings.FieldsSeq(moves) {
			if eval, ok := strings.CutPrefix(word, "="); ok {
				word = "{[%eval " + eval + "]}"
			}
			text.WriteString(word + " ")
		}
		text.WriteString(f[1] + "\n\n")
	}
	r := pgn.NewReader(strings.NewReader(text.String()), pgn.Options{File: "judged.pgn"})
	p := profile.Build(r.All(), profile.Options{Them: func(*pgn.Game) (board.Color, bool) { return board.Black, true }})
	if len(p.Games) != len(rows) || len(p.Problems) > 0 {
		t.Fatalf("the test's own games: %d of %d, %v", len(p.Games), len(rows), p.Problems)
	}
	return p
}

// The trap of the c3 Sicilian: 4...Nxe4? 5.Qa4+ wins the knight.
const (
	fell    = "e4 =0.3 c5 =0.3 c3 =0.2 d6 =0.3 d4 =0.3 Nf6 =0.4 dxc5 =0.2 Nxe4 =3.9 Qa4+ =3.8 Nc6 Qxe4"
	knew    = "e4 c5 c3 d6 d4 Nf6 dxc5 Nc6"
	decided = "e4 =0.3 c5 =0.3 c3 =0.2 d6 =0.3 d4 =0.3 Nf6 =1.2 dxc5 =2.2 Nxe4 =5.9 Qa4+"
)

// trapsOf compares a book of White with games.
func trapsOf(t *testing.T, p *profile.Profile, chapters ...string) *fact.Side {
	t.Helper()
	r := Make(Input{Profile: p, Books: []*book.Book{bookOf(t, board.White, chapters...)}},
		Options{When: today, FewGames: 1})
	return &r.Sides[0]
}

func TestTrapsInWords(t *testing.T) {
	const book = "1. e4 c5 2. c3 d6 3. d4 Nf6 4. dxc5 Nxe4 (4... Nc6 5. cxd6) 5. Qa4+ *"
	for name, c := range map[string]struct {
		games []string
		book  string
		want  []string // 'where: last move: text'
	}{
		"twice, and not repaired": {
			[]string{"2026.01.05 1-0 300: " + fell, "2026.02.03 1-0 5400: " + fell}, book,
			[]string{"in_book: 4...Nxe4: wrong in 2 of 2 games here (slow, blitz; from -0.2 to -3.9), last 3 Feb 2026; not here again since"},
		},
		"repaired": {
			[]string{"2026.01.05 1-0 300: " + fell, "2026.02.03 0-1 300: " + knew, "2026.02.04 0-1 300: " + knew}, book,
			[]string{"in_book: 4...Nxe4: wrong in 1 of 3 games here (blitz; from -0.2 to -3.9), last 5 Jan 2026; 4...Nc6 since (2 games): may have repaired it"},
		},
		"never from a decided position": {[]string{"2026.01.05 1-0 300: " + decided, "2026.01.06 1-0 300: " + decided}, book, nil},
		"no evaluations":                {[]string{"2026.01.05 1-0 300: " + knew, "2026.01.06 1-0 300: " + knew}, book, nil},
		"behind the end of the book": {
			[]string{"2026.01.05 1-0 300: " + fell, "2026.02.03 1-0 300: " + fell}, "1. e4 c5 2. c3 *",
			[]string{"past_book: 4...Nxe4: wrong in 2 of 2 games here (blitz; from -0.2 to -3.9), last 3 Feb 2026; not here again since"},
		},
		"once, behind the end of the book": {[]string{"2026.01.05 1-0 300: " + fell, "2026.02.03 1-0 300: e4 c5 c3 d5"}, "1. e4 c5 2. c3 *", nil},
		"behind the end of the book, once of many times": {
			append([]string{"2026.01.05 1-0 300: " + fell}, slices.Repeat([]string{"2026.02.03 1-0 300: " + knew}, 120)...), "1. e4 c5 2. c3 *", nil,
		},
		"behind another answer": {
			[]string{"2026.01.05 1-0 300: " + fell, "2026.02.03 1-0 300: " + fell}, "1. e4 c5 2. Nf3 (2. c3) *",
			[]string{"other_answer: 4...Nxe4: wrong in 2 of 2 games here (blitz; from -0.2 to -3.9), last 3 Feb 2026; not here again since"},
		},
		"off the book": {
			[]string{"2026.01.05 1-0 300: " + fell, "2026.02.03 1-0 300: " + fell}, "1. d4 d5 2. c4 *",
			[]string{"off_book: 4...Nxe4: wrong in 2 of 2 games here (blitz; from -0.2 to -3.9), last 3 Feb 2026; not here again since"},
		},
		"others fell for it, and the book too": {
			[]string{"2026.01.05 0-1 300: f3 =-0.6 e5 =-0.6 g4 =#-1 Qh4#", "2026.02.03 1/2-1/2 300: f3 e5 e4 Nc6"}, "1. f3 e5 2. g4 *",
			[]string{"in_book: 2.g4: others went wrong in 1 of 2 games here (blitz; from -0.6 to lost), they scored 1 of 1, last 5 Jan 2026; it is your book's move"},
		},
		"others fell for it, the book does not": {
			[]string{"2026.01.05 0-1 300: f3 =-0.6 e5 =-0.6 g4 =#-1 Qh4#", "2026.02.03 1/2-1/2 300: f3 e5 e4 Nc6"}, "1. f3 e5 2. e4 *",
			[]string{"in_book: 2.g4: others went wrong in 1 of 2 games here (blitz; from -0.6 to lost), they scored 1 of 1, last 5 Jan 2026; your book has 2.e4"},
		},
	} {
		t.Run(name, func(t *testing.T) {
			s := trapsOf(t, judgedGames(t, c.games...), c.book)
			var got []string
			for _, tr := range s.Traps {
				got = append(got, tr.Where+": "+words.LastMove(tr.Line)+": "+tr.Text)
			}
			if !slices.Equal(got, c.want) {
				t.Errorf("%q\nwant %q", got, c.want)
			}
		})
	}
}

// What the book reaches comes before what it does not, however often that came;
// an open trap before one that was repaired.
func TestTrapsInOrder(t *testing.T) {
	const (
		line1 = "e4 =0.3 e5 =0.3 Nf3 =0.3 f6 =1.9 Nxe5"
		line2 = "e4 =0.3 d6 =0.3 d4 =0.3 Nf6 =0.4 Nc3 =0.4 e5 =0.5 dxe5 =0.4 Nxe4 =4.0"
		other = "d4 =0.3 e5 =1.4 dxe5"
	)
	s := trapsOf(t, judgedGames(t,
		"2026.01.01 1-0 300: "+line1, "2026.01.02 1-0 300: e4 e5 Nf3 Nc6", "2026.01.03 1-0 300: "+line2,
		"2026.01.04 1-0 300: "+other, "2026.01.05 1-0 300: "+other, "2026.01.06 1-0 300: "+other,
	), "1. e4 e5 (1... d6 2. d4 Nf6 3. Nc3 e5 4. dxe5 dxe5 5. Qxd8+) 2. Nf3 Nc6 (2... f6 3. Nxe5) 3. Bb5 *")
	var got []string
	for _, tr := range s.Traps {
		got = append(got, tr.Where+" "+words.LastMove(tr.Line))
	}
	if want := []string{"in_book 4...Nxe4", "in_book 2...f6", "off_book 1...e5"}; !slices.Equal(got, want) {
		t.Errorf("%q, want %q", got, want)
	}
	var tasks []string
	for _, task := range s.Tonight {
		if task.Lead == "trap" {
			tasks = append(tasks, task.Text)
		}
	}
	if len(tasks) != 1 || !strings.HasPrefix(tasks[0], "1...d6") || !strings.Contains(tasks[0], "4.dxe5 Nxe4: wrong in 1 of 1 game here") {
		t.Errorf("tonight: %q", tasks)
	}
	if s.Traps[0].Before != -40 || s.Traps[0].After != -400 || s.Traps[0].Newest[0].Game != 3 {
		t.Errorf("%+v", s.Traps[0])
	}
	marked := 0
	for _, f := range s.Forks {
		for _, b := range f.Branches {
			if b.Trap != "" {
				marked++
				if b.Move != "f6" && b.Move != "Nxe4" {
					t.Errorf("a trap at %s", b.Move)
				}
			}
		}
	}
	if marked == 0 {
		t.Error("no branch tells of a trap")
	}
}

// They score well, or badly, from a position of the book: told with what was to
// be expected, shrunk, and as chance where it may be.
func TestTheyScore(t *testing.T) {
	var rows []string
	rows = append(rows, repeated(8, "0-1 5400 2000 Elm: e4 c5 Nf3 d6 d4 cxd4")...)
	rows = append(rows, repeated(20, "1-0 5400 2000 Fir: e4 e5 Nf3 Nc6 Bb5 a6")...)
	rows = append(rows, repeated(12, "0-1 5400 2000 Fir: e4 e6 d4 d5 Nc3 Nf6")...)
	repertoire := bookOf(t, board.White, "1. e4 c5 2. Nf3 d6 3. d4 *", "1. e4 e5 2. Nf3 Nc6 3. Bb5 *")
	r := Make(Input{Profile: gamesOf(board.Black, rows...), Books: []*book.Book{repertoire}}, Options{When: today})
	var got []string
	for _, tr := range r.Sides[0].Traps {
		got = append(got, words.Movetext(tr.Line, 0)+": "+tr.Text)
	}
	want := []string{
		"1.e4 c5 2.Nf3: they scored 8 of 8 from here, where ratings and record expect 4.0; weighed with their other games 53 in 100, usually 50; last 8 Jan 2026",
		"1.e4 e5 2.Nf3: they scored 0 of 20 from here, where ratings and record expect 10.0; weighed with their other games 43 in 100, usually 50; last 20 Jan 2026",
	}
	if !slices.Equal(got, want) {
		t.Errorf("%q, want %q", got, want)
	}
}

// Where they lost and then went another way, that is told.
func TestTheyFailAndRepair(t *testing.T) {
	var rows []string
	add := func(month string, n int, row string) {
		for _, row := range repeated(n, row) {
			rows = append(rows, strings.Replace(row, "2026.01.", month, 1))
		}
	}
	add("2025.11.", 12, "1/2-1/2 5400 2000 Fir: e4 e5 Nf3 Nc6 Bb5 a6")
	add("2026.01.", 8, "1-0 5400 2000 Elm: e4 c5 Nf3 d6 d4 cxd4")
	add("2026.03.", 6, "1/2-1/2 5400 2000 Elm: e4 e6 d4 d5")
	repertoire := bookOf(t, board.White, "1. e4 c5 2. Nf3 d6 3. d4 *", "1. e4 e5 2. Nf3 Nc6 3. Bb5 *", "1. e4 e6 2. d4 *")
	r := Make(Input{Profile: gamesOf(board.Black, rows...), Books: []*book.Book{repertoire}}, Options{When: today})
	var got []string
	for _, tr := range r.Sides[0].Traps {
		if tr.Kind == fact.TheyFail {
			got = append(got, words.Movetext(tr.Line, 0)+": "+tr.Text)
		}
	}
	want := []string{"1.e4 c5 2.Nf3: they scored 0 of 8 from here, where ratings and record expect 4.0; weighed with their other games 33 in 100, usually 35; " +
		"last 8 Jan 2026; another way since (6 games, last 1...e6): may have repaired it"}
	if !slices.Equal(got, want) {
		t.Errorf("%q, want %q", got, want)
	}
}

func TestInPawns(t *testing.T) {
	for cp, want := range map[int]string{
		0: "0.0", 4: "0.0", -4: "0.0", 30: "+0.3", -390: "-3.9", profile.MostEval: "won", -profile.MostEval: "lost",
	} {
		if got := words.Pawns(cp); got != want {
			t.Errorf("%d centipawns are %q, want %q", cp, got, want)
		}
	}
}
