package compare

import (
	"bytes"
	"encoding/json"
	"math"
	"slices"
	"strings"
	"testing"

	"foreply/compare/book"
	"foreply/compare/fact"
	"foreply/compare/find"
	"foreply/compare/lines"
	"foreply/compare/words"
	"foreply/profile/analysis"
	"foreply/profile/board"
	"foreply/profile/profiletest"
	"foreply/profile/uci"
)

// oracle is an engine's word on positions: 'way there: +0.3 move move; -0.2 move',
// evaluations from White's side, a mate as #2.
func oracle(t *testing.T, rows ...string) *analysis.Found {
	t.Helper()
	f := analysis.NewFound("Oracle 7", 400_000)
	for _, row := range rows {
		way, said, _ := strings.Cut(row, ":")
		pos := after(way)
		var r uci.Result
		for text := range strings.SplitSeq(said, ";") {
			fields := strings.Fields(text)
			line := uci.Line{Depth: 18, Score: scoreOf(t, fields[0])}
			at := pos
			for _, san := range fields[1:] {
				m, err := at.Resolve([]byte(san))
				if err != nil {
					t.Fatalf("the test's own line %q: %v", row, err)
				}
				line.Moves = append(line.Moves, m)
				at.Play(m)
			}
			r.Lines = append(r.Lines, line)
		}
		f.Add(&pos, r)
	}
	return f
}

func scoreOf(t *testing.T, text string) uci.Score {
	t.Helper()
	var n json.Number
	mate, isMate := strings.CutPrefix(text, "#")
	n = json.Number(strings.TrimPrefix(mate, "+"))
	v, err := n.Float64()
	if err != nil {
		t.Fatal(err)
	}
	if isMate {
		return uci.Score{Mate: int(v)}
	}
	return uci.Score{Centipawns: int(math.Round(v * 100))}
}

// At a gap stand the two best answers, from the user's side, whichever colour that
// is.
func TestBestAtAGap(t *testing.T) {
	p := gamesOf(board.White, repeated(20, "1-0 5400 2000 Elm: e4 c5 Nf3 d6 d4 cxd4")...)
	in := Input{
		Profile: p, Books: []*book.Book{bookOf(t, board.Black, "1. e4 c5 2. c3 d5 *")},
		Engine: oracle(t, "e4 c5 Nf3: +0.3 d6 d4 cxd4 Nxd4; +0.5 e6 d4; #5 g5 Nxg5"),
	}
	s := Make(in, Options{When: today}).Sides[0]
	u := s.Unanswered[0]
	if got := words.Best(u.Best, len(u.Line), s.MyColor); got != "best 2...d6 3.d4 cxd4 (-0.3) or 2...e6 3.d4 (-0.5)" {
		t.Errorf("%q", got)
	}
	if got := words.Gap(&u, s.Counted(), s.MyColor).String(); !strings.Contains(got, "; "+words.Best(u.Best, len(u.Line), s.MyColor)+"; ") {
		t.Errorf("the whole of a gap: %q", got)
	}
	if u.Best[0].Centipawns != 30 || u.Best[0].Depth != 18 {
		t.Errorf("from White's side: %+v", u.Best[0])
	}
	i := slices.IndexFunc(s.Tonight, func(task fact.Task) bool { return task.Lead == "answer" })
	if i < 0 || !strings.HasSuffix(words.Task(&s.Tonight[i]).String(), "; best 2...d6 (-0.3)") || len(s.Tonight[i].Best.Moves) != 1 || len(u.Best[0].Moves) != 3 {
		t.Errorf("tonight %+v", s.Tonight)
	}
}

// A trap behind a move that no book has is one only if nothing better brings as
// much; and where the best answer to a gap is told, tonight doesn't tell what others
// did wrong there.
func TestTrapsAtAGap(t *testing.T) {
	in := func(best string) Input {
		return Input{
			Profile: gamesOf(board.Black, repeated(20, "0-1 300 2000 Elm: e4 e5 Nf3 f5 Bc4 Nc6 d4 fxe4")...),
			Books:   []*book.Book{bookOf(t, board.White, "1. e4 e5 2. Nf3 Nc6 3. Bb5 *")},
			Engine: oracle(t, "e4 e5 Nf3 f5: "+best, "e4 e5 Nf3 f5 Bc4: +0.1 fxe4 Nxe5",
				"e4 e5 Nf3 f5 Bc4 Nc6: +1.3 d4 fxe4"),
		}
	}
	for best, want := range map[string][]string{
		"+1.0 Nxe5 Nf6": {"Nc6"},
		"+1.1 Nxe5 Nf6": {"Bc4"}, // the trap brings no 0.3 more
		"+1.3 Nxe5 Nf6": {"Bc4"},
		"#7 Nxe5 Nf6":   nil, // no level position to go wrong in
		"+0.4 Nxe5 Nf6": {"Nc6"},
		"+0.1 Bc4 fxe4": {"Nc6"},
	} {
		s := Make(in(best), Options{When: today}).Sides[0]
		var got []string
		for _, tr := range s.Traps {
			got = append(got, tr.Line[len(tr.Line)-1])
		}
		slices.Sort(got)
		if !slices.Equal(got, want) {
			t.Errorf("best %s: traps %v, want %v", best, got, want)
		}
		for _, task := range s.Tonight {
			if task.Lead == "trap" && task.Moves[len(task.Moves)-1] == "Bc4" {
				t.Errorf("best %s: tonight %q", best, words.Task(&task).String())
			}
		}
	}
}

// Where the book ends with their move the end is evaluated.
func TestEndIsEvaluated(t *testing.T) {
	p := gamesOf(board.White, repeated(20, "1-0 5400 2000 Elm: e4 c5 Nf3 d6")...)
	in := Input{
		Profile: p, Books: []*book.Book{bookOf(t, board.Black, "1. e4 c5 2. Nf3 d6 *")},
		Engine: oracle(t, "e4 c5 Nf3 d6: +0.4 d4 cxd4 Nxd4"),
	}
	r := Make(in, Options{When: today})
	if x := r.Sides[0].Exits[0]; x.Best == nil || words.Evaluated(x.Best, 4, "black") != "3.d4 cxd4 4.Nxd4 (-0.4)" {
		t.Errorf("%+v", x.Best)
	}
	var out bytes.Buffer
	if err := lines.WritePGN(r, &out, in.Books); err != nil {
		t.Fatal(err)
	}
	for _, want := range []string{"[%eval 0.40,18]", "Evaluations by Oracle 7, 400 k nodes each"} {
		if !strings.Contains(strings.Join(strings.Fields(out.String()), " "), want) {
			t.Errorf("no %q in\n%s", want, out.String())
		}
	}
}

// Of the user's own moves those stand that lose 0.8 or more, what costs most games
// first; not what is only an option, nor where the engine knows too little.
func TestLookAgain(t *testing.T) {
	p := gamesOf(board.White, slices.Concat(
		repeated(12, "1-0 5400 2000 Elm: e4 e5 Nf3 f6 Nxe5"), repeated(8, "1-0 5400 2000 Elm: d4 e5 dxe5"))...)
	in := Input{
		Profile: p,
		Books:   []*book.Book{bookOf(t, board.Black, "1. e4 e5 (1... g5 2. d4) 2. Nf3 f6 (2... Qg5 3. Nxg5) 3. Nxe5 Qe7 *", "1. d4 e5 2. dxe5 Nc6 *")},
		Engine: oracle(t,
			"e4: +0.3 e5 Nf3; +0.4 c5 Nf3",
			"e4 e5 Nf3: +0.3 Nc6 Bb5; +0.4 Nf6 Nxe5", "e4 e5 Nf3 f6: +1.6 Nxe5 Qe7 Nf3",
			"d4: +0.3 d5 c4; +0.3 Nf6 c4", "d4 e5: +1.2 dxe5 Nc6 Nf3",
			"e4 e5 Nf3 f6 Nxe5: +1.6 Qe7 Nf3"),
	}
	r := Make(in, Options{When: today})
	s := &r.Sides[0]
	var got []string
	for i := range s.Again {
		a := &s.Again[i]
		got = append(got, words.Movetext(a.Line, 0)+" | "+words.Again(a, len(a.Line), s.MyColor))
	}
	want := []string{
		"1.e4 e5 2.Nf3 | 2...f6 3.Nxe5 Qe7 (-1.6); better 2...Nc6 3.Bb5 (-0.3)",
		"1.d4 | 1...e5 2.dxe5 Nc6 (-1.2); better 1...d5 2.c4 (-0.3)",
	}
	if !slices.Equal(got, want) {
		t.Errorf("got\n%s\nwant\n%s", strings.Join(got, "\n"), strings.Join(want, "\n"))
	}
	if a := s.Again[0]; a.Loss != 130 || a.File != "book.pgn" || a.Reach < 0.4 {
		t.Errorf("%+v", a)
	}
	i := slices.IndexFunc(s.Tonight, func(task fact.Task) bool { return task.Lead == "look" })
	if i < 0 || !strings.HasSuffix(words.Task(&s.Tonight[i]).String(), "2...f6: 3.Nxe5 Qe7 (-1.6); better 2...Nc6 3.Bb5 (-0.3)") {
		t.Errorf("tonight %+v", s.Tonight)
	}
}

// What loses most stands first only if it comes as often: a small loss in most games
// stands before a big one in few.
func TestWhatCostsMostGamesStandsFirst(t *testing.T) {
	in := Input{
		Profile: gamesOf(board.White, slices.Concat(
			repeated(18, "1-0 5400 2000 Elm: e4 e5 Nf3 f6 Nxe5"), repeated(4, "1-0 5400 2000 Elm: d4 e5 dxe5"))...),
		Books: []*book.Book{bookOf(t, board.Black, "1. e4 e5 2. Nf3 f6 *", "1. d4 e5 2. dxe5 Nc6 *")},
		Engine: oracle(t, "e4 e5 Nf3: +0.3 Nc6 Bb5", "e4 e5 Nf3 f6: +1.2 Nxe5",
			"d4: +0.3 d5 c4", "d4 e5: +1.7 dxe5 Nc6"),
	}
	var got []string
	var losses []int
	for _, a := range Make(in, Options{When: today}).Sides[0].Again {
		got, losses = append(got, a.Line[0]), append(losses, a.Loss)
	}
	if !slices.Equal(got, []string{"e4", "d4"}) || !slices.Equal(losses, []int{90, 140}) {
		t.Errorf("to look at again: %v, which lose %v", got, losses)
	}
}

// A move of the book that others lost with, too, is told once; where the book has
// none, what others lost with is a trap, and where it has another it is no news.
func TestOwnMoveIsToldOnce(t *testing.T) {
	rows := []string{"2026.01.05 0-1 300: e4 e5 Nf3 Nc6 Ng1 d5", "2026.02.03 0-1 300: e4 e5 Nf3 Nc6 Ng1 d5", "2026.02.04 0-1 300: e4 e5 Nf3 Nc6 Bc4 Bc5"}
	engine := oracle(t, "e4 e5 Nf3 Nc6: +0.3 Bb5 a6", "e4 e5 Nf3 Nc6 Ng1: -0.9 d5 exd5")
	for chapter, want := range map[string][2]int{
		"1. e4 e5 2. Nf3 Nc6 3. Ng1 d5 *": {1, 0}, "1. e4 e5 2. Nf3 Nc6 *": {0, 1}, "1. e4 e5 2. Nf3 Nc6 3. Bb5 *": {0, 0},
	} {
		in := Input{Profile: profiletest.Judged(t, rows...), Books: []*book.Book{bookOf(t, board.White, chapter)}, Engine: engine}
		s := Make(in, Options{When: today, FewGames: 1}).Sides[0]
		if got := [2]int{len(s.Again), len(s.Traps)}; got != want {
			t.Errorf("%s: to look at again, traps: %v, want %v (%+v)", chapter, got, want, s.Traps)
		}
	}
}

// A move of theirs that loses by the engine is told as one by the comments of games
// is, from the user's side and with the way to punish it. Without an engine it is
// not known; the comments of games win.
func TestTrapsByTheEngine(t *testing.T) {
	silent := "e4 c5 c3 d6 d4 Nf6 dxc5 Nxe4 Qa4+ Nc6 Qxe4"
	rows := []string{"2026.01.05 1-0 300: " + silent, "2026.02.03 1-0 5400: " + silent}
	const way = "e4 c5 c3 d6 d4 Nf6 dxc5"
	engine := oracle(t, way+": +0.2 Nc6 cxd6 Nxe4", way+" Nxe4: +3.9 Qa4+ Nc6 Qxe4")
	for name, c := range map[string]struct {
		games  []string
		book   string
		engine *analysis.Found
		want   []string
	}{
		"not your answer": {
			rows, "1. e4 c5 2. c3 d6 3. d4 Nf6 4. dxc5 Nxe4 5. Be3 *", engine,
			[]string{"4...Nxe4: wrong in 2 of 2 games here (slow, blitz; for you from +0.2 to +3.9 by the engine), last 3 Feb 2026; not here again since; best then 5.Qa4+ Nc6 6.Qxe4 (+3.9)"},
		},
		"your answer": {
			rows, "1. e4 c5 2. c3 d6 3. d4 Nf6 4. dxc5 Nxe4 5. Qa4+ *", engine,
			[]string{"4...Nxe4: wrong in 2 of 2 games here (slow, blitz; for you from +0.2 to +3.9 by the engine), last 3 Feb 2026; not here again since; your 5.Qa4+ is best (+3.9)"},
		},
		"by the comments": {
			[]string{"2026.01.05 1-0 300: " + fell, "2026.02.03 1-0 5400: " + fell}, "1. e4 c5 2. c3 d6 3. d4 Nf6 4. dxc5 Nxe4 5. Qa4+ *", engine,
			[]string{"4...Nxe4: wrong in 2 of 2 games here (slow, blitz; for you from +0.2 to +3.9 by the games' comments), last 3 Feb 2026; not here again since; your 5.Qa4+ is best (+3.9)"},
		},
		"no engine": {rows, "1. e4 c5 2. c3 d6 3. d4 Nf6 4. dxc5 Nxe4 5. Qa4+ *", nil, nil},
		"only the position before": {rows, "1. e4 c5 2. c3 d6 3. d4 Nf6 4. dxc5 Nxe4 5. Qa4+ *",
			oracle(t, way+": +0.2 Nc6 cxd6 Nxe4"), nil},
		"from a decided position": {rows, "1. e4 c5 2. c3 d6 3. d4 Nf6 4. dxc5 Nxe4 5. Qa4+ *",
			oracle(t, way+": +1.6 Nc6 cxd6 Nxe4", way+" Nxe4: +3.9 Qa4+ Nc6 Qxe4"), nil},
	} {
		in := Input{Profile: profiletest.Judged(t, c.games...), Books: []*book.Book{bookOf(t, board.White, c.book)}, Engine: c.engine}
		s := Make(in, Options{When: today, FewGames: 1}).Sides[0]
		var got []string
		for _, tr := range s.Traps {
			got = append(got, words.LastMove(tr.Line)+": "+words.Trap(&tr).String())
		}
		if !slices.Equal(got, c.want) {
			t.Errorf("%s: got\n%s\nwant\n%s", name, strings.Join(got, "\n"), strings.Join(c.want, "\n"))
		}
	}
}

// Without an engine nothing of it stands in the JSON; with one all its lines have
// been replayed, and the whole is valid.
func TestReportWithAnEngine(t *testing.T) {
	p := gamesOf(board.White, repeated(20, "1-0 5400 2000 Elm: e4 c5 Nf3 d6 d4 cxd4")...)
	in := Input{Profile: p, Books: []*book.Book{bookOf(t, board.Black, "1. e4 c5 2. Nf3 d6 *")}}
	without, err := json.Marshal(Make(in, Options{When: today}))
	if err != nil || bytes.Contains(without, []byte(`"best"`)) || bytes.Contains(without, []byte(`"engine"`)) || bytes.Contains(without, []byte(`"again"`)) {
		t.Errorf("%v: something of an engine in %s", err, without)
	}
	in.Engine = oracle(t, "e4 c5 Nf3 d6: +0.4 d4 cxd4 Nxd4")
	r := Make(in, Options{When: today})
	if len(r.Faults) > 0 || *r.Engine != (fact.Engine{Name: "Oracle 7", Nodes: 400_000, Positions: 1}) {
		t.Errorf("faults %v, engine %+v", r.Faults, r.Engine)
	}
}

// What is asked first is what is needed most: gaps, ends, known traps, then the
// lines, then what they play again and again.
func TestWanted(t *testing.T) {
	p := gamesOf(board.White, slices.Concat(
		repeated(12, "1-0 5400 2000 Elm: e4 e5 Nf3 Nc6 Bb5 a6 Ba4 Nf6"),
		repeated(9, "1-0 5400 2000 Elm: d4 d5 c4 e6"))...)
	in := Input{Profile: p, Books: []*book.Book{bookOf(t, board.Black, "1. e4 e5 2. Nf3 Nc6 *", "1. d4 d5 2. Nf3 *")}}
	r := Make(in, Options{When: today})
	asked := find.Wanted(r, in.Profile, in.Books)
	place := func(way string) int {
		pos := after(way)
		return slices.IndexFunc(asked, func(o board.Position) bool { return o.Key() == pos.Key() })
	}
	ways := []string{"d4 d5 c4", "e4 e5 Nf3 Nc6", "e4 e5 Nf3 Nc6 Bb5"}
	last := -1
	for _, way := range ways {
		at := place(way)
		if at <= last {
			t.Errorf("%s is asked at %d, behind the one before at %d", way, at, last)
		}
		last = at
	}
	if at := place("d4 d5 c4 e6"); at >= 0 {
		t.Errorf("where the book doesn't lead and they don't decide: asked at %d", at)
	}
}
