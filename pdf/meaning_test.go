package pdf

import (
	"bufio"
	"slices"
	"strings"
	"testing"

	"foreply/compare/fact"
	"foreply/compare/words"
	"foreply/fetch/pgn"
	"foreply/pdf/sheet"
)

// layoutOf is a page's layout for a Report, with a column for its first side.
func layoutOf(t *testing.T, rep *fact.Report) (*layout, *column) {
	t.Helper()
	l := &layout{f: testFaces(t), rep: rep, w: 540, h: 760}
	l.form = formOf(rep, Options{}, l.w)
	side := &fact.Side{}
	if len(rep.Sides) > 0 {
		side = &rep.Sides[0]
	}
	return l, &column{Column: l.columnOf(250), l: l, side: side}
}

// saidIn is the text of pieces as it reads in one line.
func saidIn(clauses [][]sheet.Piece) string {
	var b strings.Builder
	for _, c := range clauses {
		for _, p := range c {
			b.WriteString(p.S)
			if p.Tied {
				b.WriteByte(' ')
			}
		}
	}
	return b.String()
}

// rowsOfPart are the texts of a part's rows, set as wide as they want.
func rowsOfPart(p sheet.Part) []string {
	var out []string
	for _, r := range p.Rows {
		var runs []string
		for _, it := range r.Set(r.Most).Items {
			if run, ok := it.(sheet.Run); ok {
				runs = append(runs, run.S)
			}
		}
		out = append(out, strings.Join(strings.Fields(strings.Join(runs, " ")), " "))
	}
	return out
}

// In a field's row what to know with White stands under the head for White, with Black under
// that for Black, whichever comes first in the Report; an open square is White's.
func TestFieldColumns(t *testing.T) {
	rep := bothReport()
	slices.Reverse(rep.Sides)
	row := fact.FieldRow{Name: "Ashgrove, Tilde", ID: "a"}
	row.Fill(rep)
	pages, err := layoutField(Field{Title: "The field", Rows: []fact.FieldRow{row}}, Options{}, (*fieldPages).rows)
	if err != nil {
		t.Fatal(err)
	}
	at := map[string]float64{}
	for _, r := range texts(pages[0]) {
		if _, seen := at[r.S]; !seen {
			at[r.S] = r.X
		}
	}
	white, black := at[words.IfYouHave("white")], at[words.IfYouHave("black")]
	if white == 0 || black <= white {
		t.Fatalf("heads at %g and %g", white, black)
	}
	first := words.FirstChoices(&rep.Sides[1]).String() // the side with White
	start := strings.Fields(strings.ReplaceAll(first, ":", ""))[1]
	for _, r := range texts(pages[0]) {
		if strings.Contains(r.S, figurine(start)) && r.X > black-20 && !strings.Contains(saidIn(sentencePieces(words.FirstChoices(&rep.Sides[0]))), figurine(start)) {
			t.Errorf("%q, of the games with White, stands at %g under Black", r.S, r.X)
		}
	}
	for _, it := range pages[0].Items {
		if r, ok := it.(sheet.Rect); ok && r.W == squareSize && r.Filled {
			if under := r.X > black-20; (r.Fill == sheet.Black) != under {
				t.Errorf("a square of grey %g at %g", r.Fill, r.X)
			}
		}
	}
}

// A board in the terminal stands as its side sees it.
func TestBoardInTheTerminal(t *testing.T) {
	for view, want := range map[string][]string{
		"white": {"8 r . . . k . . .", "1 . . . . . . K R", "a b c d e f g h"},
		"black": {"1 R K . . . . . .", "8 . . . k . . . r", "h g f e d c b a"},
	} {
		d := fact.Diagram{Line: san("e4"), EPD: "r3k3/8/8/8/8/8/8/6KR w", View: view, Why: fact.BoardBookEnds}
		var got []string
		for _, l := range textBoard(d, 24) {
			l = strings.TrimSpace(l)
			if strings.HasPrefix(l, "8 ") || strings.HasPrefix(l, "1 ") || strings.Contains(l, "b c d") || strings.Contains(l, "d c b") {
				got = append(got, l)
			}
		}
		if !slices.Equal(got, want) {
			t.Errorf("%s: %q, want %q", view, got, want)
		}
	}
}

// On a page of one colour all games between the two stand, on one of both each with its own.
func TestMeetingsOfAColour(t *testing.T) {
	games := []fact.GameRow{{Theirs: "black", Score: "0", Moves: san("e4 e5")}, {Theirs: "white", Score: "1", Moves: san("d4 d5")}}
	for sides, want := range map[int]int{1: 2, 2: 1} {
		rep := bothReport()
		rep.Sides, rep.Basis.Meetings = rep.Sides[:sides], games
		_, c := layoutOf(t, rep)
		got := rowsOfPart(c.met())
		if len(got) != want || !strings.HasPrefix(got[0], "1 with White") {
			t.Errorf("%d sides: %q", sides, got)
		}
	}
}

// What has no answer has the letters of the whole list: tonight names the first of them,
// and how many more; the other parts go on with the same letters.
func TestLettersOfGaps(t *testing.T) {
	rep := richReport()
	s := &rep.Sides[0]
	s.Unanswered = nil
	for i, m := range []string{"a6", "b6", "c6", "d6", "e6"} {
		reach := []float64{0.2, 0.1, 0.05, 0.04, 0.01}[i]
		s.Unanswered = append(s.Unanswered, fact.Unanswered{Line: san("e4 " + m), Reach: reach, Share: share(2, 1, 3, 4, 20), Games: 4})
	}
	l, c := layoutOf(t, rep)
	if got := saidIn(l.toAnswer(s)); !strings.HasPrefix(got, "A 1.e4 a6 2 in 10 games  B 1.e4 b6 1 in 10 games  C 1.e4 c6 ") || !strings.HasSuffix(got, " · 2 more") {
		t.Errorf("tonight: %q", got)
	}
	got := rowsOfPart(c.gapRows(1, nil, true))
	if len(got) != 4 || !strings.HasPrefix(got[0], "B ") || !strings.HasPrefix(got[1], "C ") || !strings.HasPrefix(got[2], "D ") || !strings.HasPrefix(got[3], "E ") {
		t.Errorf("gaps: %q", got)
	}
	if marks := marks(s); marks["e4 a6"] != "A" || marks["e4 e6"] != "E" {
		t.Errorf("marks %v", marks)
	}
}

// Of how others went on the answer that most played comes first; an engine's best moves are
// the user's, numbered as they come.
func TestKnownOfAGap(t *testing.T) {
	u := fact.Unanswered{
		Line: san("e4 e5 Nf3 f5"),
		Others: []fact.Met{
			{Move: "Nxe5", Games: 9, Score: fact.Score{Losses: 9}, Then: []fact.GoesOn{{Move: "Nf6", Games: 7, Of: 9}}},
			{Move: "exf5", Games: 8, Score: fact.Score{Losses: 8}, Then: []fact.GoesOn{{Move: "e4", Games: 6, Of: 8}}},
		},
		Best: []fact.Evaluated{{Moves: san("Nxe5 Nf6 exf5")}},
	}
	_, c := layoutOf(t, richReport())
	got := saidIn(c.known(&u, false))
	if more, fewer := strings.Index(got, "3.♞xe5 ♞f6 in"), strings.Index(got, "3.exf5 e4"); more < 0 || fewer < more {
		t.Errorf("%q", got)
	}
	if !strings.Contains(got, "best 3.♞xe5 ♞f6 4.exf5") {
		t.Errorf("%q", got)
	}
}

// In what is known of a gap the user's moves stand out, theirs don't; on a card how games
// went on behind each answer begins a line.
func TestYoursStandOutInAGap(t *testing.T) {
	rep := richReport()
	s := &rep.Sides[0]
	s.MyColor = "white"
	s.Unanswered = []fact.Unanswered{{
		Line: san("e4 e5 Nf3 f5"), Reach: 0.3, Share: share(2, 1, 3, 4, 20), Games: 20,
		Others: []fact.Met{
			{Move: "Nxe5", Games: 9, Score: fact.Score{Losses: 9}, Then: []fact.GoesOn{{Move: "Nf6", Games: 7, Of: 9}, {Move: "d4", Games: 6, Of: 7}}},
			{Move: "exf5", Games: 8, Score: fact.Score{Losses: 8}, Then: []fact.GoesOn{{Move: "e4", Games: 6, Of: 8}}},
		},
	}}
	l, c := layoutOf(t, rep)
	c.side = s
	strong := map[string]bool{}
	for _, clause := range c.known(&s.Unanswered[0], true) {
		for _, p := range clause {
			strong[strings.TrimSpace(p.S)] = p.Look == sheet.Strong
		}
	}
	for move, want := range map[string]bool{"3.♞xe5": true, "♞f6": false, "4.d4": true, "3.exf5": true, "e4": false} {
		if got, told := strong[move]; !told || got != want {
			t.Errorf("%s strong: %v, told: %v", move, got, told)
		}
	}
	left := map[string]float64{}
	for _, it := range l.card(s, 0, l.form.lines).Items {
		if run, ok := it.(sheet.Run); ok && strings.HasPrefix(run.S, "3.") {
			left[run.S] = run.X // the last of its kind: the line of its own
		}
	}
	if left["3.♞xe5"] != 0 || left["3.exf5"] != 0 || len(left) != 2 {
		t.Errorf("begin at %v", left)
	}
}

// Games to play through are named by the gap's letter, or by how far the first came into
// their line; one that came less far isn't told.
func TestGamesAreNamedByLetters(t *testing.T) {
	rep := richReport()
	s := &rep.Sides[0]
	s.Unanswered = []fact.Unanswered{{Line: san("e4 e6 d4 a6")}, {Line: san("e4 b6")}}
	s.ModelGames = []fact.ModelGames{
		{Line: san("e4 b6"), Games: []fact.ModelGame{{Deep: 2, PlayedGame: fact.PlayedGame{File: "club.pgn", Game: 7}}}},
		{Line: san("e4 e5 Nf3 Nc6 Bb5 a6"), Games: []fact.ModelGame{{Deep: 5, PlayedGame: fact.PlayedGame{File: "club.pgn", Game: 8}}, {Deep: 4, PlayedGame: fact.PlayedGame{File: "club.pgn", Game: 9}}}},
	}
	_, c := layoutOf(t, rep)
	c.side = s
	got := rowsOfPart(c.playThrough())
	if len(got) != 2 || !strings.HasSuffix(got[0], "B 1...b6 club 7") || !strings.HasSuffix(got[1], "1.e4 e5 2.♞f3 ♞c6 3.♝b5 club 8") {
		t.Errorf("%q", got)
	}
}

// A parting may be told by another order than the row that it hangs on: the row goes on by its
// own moves.
func TestRowGoesOnByItsOwnOrder(t *testing.T) {
	partings := []fact.Parting{
		{Stem: san("e4 c5 c3"), From: -1, Branches: []fact.Branch{
			{Move: "e6", Answer: "d4", State: fact.Answered, Then: san("d5 e5 Nc6 Nf3"), Next: 1, Reach: 0.2, Share: share(3, 2, 4, 3, 10)},
			{Move: "d5", Answer: "exd5", State: fact.Answered, Next: -1, Reach: 0.1, Share: share(2, 1, 3, 2, 10)},
		}},
		{Stem: san("e4 e6 d4 d5 e5 c5 c3 Nc6 Nf3"), From: 0, Branches: []fact.Branch{{Move: "Qb6", Answer: "a3", State: fact.Answered, Next: -1, Reach: 0.1}}},
	}
	rows := rowsOf(&fact.Side{MyColor: "white"}, partings, false)
	got := ""
	for n := range rows.rows {
		if rows.rows[n].Box == "3.d4" {
			got = saidIn(rows.text(n, sheet.TreeView{Stands: func(int) bool { return true }}))
		}
	}
	if !strings.Contains(got, "3...d5 4.e5 ♞c6 5.♞f3") {
		t.Errorf("%q", got)
	}
}

// A gap whose letter no row bears is told from the first move.
func TestGapWithoutARow(t *testing.T) {
	rep := richReport()
	s := &rep.Sides[0]
	s.Unanswered = nil
	for _, end := range []string{"a6", "b6", "c6", "d6"} {
		s.Unanswered = append(s.Unanswered, fact.Unanswered{Line: san("e4 e5 Nf3 Nc6 Bc4 Bc5 c3 " + end), Reach: runIn / 2, Share: share(1, 0, 2, 1, 20), Games: 1})
	}
	_, c := layoutOf(t, rep)
	got := strings.Join(rowsOfPart(c.gapRows(0, map[string]bool{"A": true, "C": true}, false)), "\n")
	for letter, whole := range map[string]bool{"A": false, "B": true, "C": false, "D": true} {
		if strings.Contains(got, letter+" 1.e4 e5 2.♞f3 ♞c6 3.♝c4 ") != whole {
			t.Errorf("%s: %q", letter, got)
		}
	}
}

// Where the games went on into another gap its letter stands.
func TestGapLeadsIntoAnother(t *testing.T) {
	_, c := layoutOf(t, richReport())
	u := fact.Unanswered{Line: san("d4 d5 Nc3"), Others: []fact.Met{{Move: "Nf6", Then: []fact.GoesOn{{Move: "Bf4", Games: 4, Of: 6, Gap: 2}}}}}
	if got := saidIn(c.onward(&u, true)); got != " · 2...♞f6 3.♝f4 in 4 of 6 (also B)" {
		t.Errorf("%q", got)
	}
}

// Behind moves that are counted the others are counted, too; beside a forecast they are
// forecast.
func TestOthersBesideCounts(t *testing.T) {
	counted := fact.Share{P: 0.5, Lo: 0.1, Hi: 0.9, Seen: 5, Of: 11, TenHi: 9, TenLo: 1, Hardly: true}
	known := fact.Share{P: 0.2, Lo: 0.1, Hi: 0.3, Seen: 2, Of: 11, TenLo: 1, TenHi: 3}
	all := counted
	all.Seen = 6
	for want, shares := range map[string][]fact.Share{
		"else 6 of 11 games": {counted}, "else 3 in 10": {counted, known}, "": {counted, all},
	} {
		p := fact.Parting{From: -1}
		for i, s := range shares {
			p.Branches = append(p.Branches, fact.Branch{Move: []string{"e4", "d4"}[i], Answer: "e6", Share: s, Reach: s.P, Next: -1})
		}
		rows := rowsOf(&fact.Side{MyColor: "black"}, []fact.Parting{p}, false)
		v := sheet.TreeView{Others: 0.3, Stands: func(int) bool { return true }}
		if got := rows.others(at{0, len(shares) - 1}, v); got != want {
			t.Errorf("%d moves: %q, want %q", len(shares), got, want)
		}
	}
}

// Of few games the positions after eight moves stand, newest first, seen from the user's
// side; a shorter game has none.
func TestBoardsOfFewGames(t *testing.T) {
	long := san("e4 e5 Nf3 Nc6 Bb5 a6 Ba4 Nf6 O-O Be7 Re1 b5 Bb3 d6 c3 O-O")
	game := func(rival, epd string, moves []string) fact.PlayedGame {
		return fact.PlayedGame{Rival: rival, Yours: "½", Date: pgn.Date{Year: 2026}, Moves: moves, Plies: len(moves), EPD: epd}
	}
	_, c := layoutOf(t, richReport())
	c.side = &fact.Side{MyColor: "black", FewGames: []fact.PlayedGame{
		game("Elm", "8/8/8/8/8/8/8/K6k w - -", long), game("Ash", "8/8/8/8/8/8/8/7k w - -", long[:15]),
		game("Oak", "8/8/8/8/8/8/K7/7k w - -", long), game("Yew", "8/8/8/8/8/K7/8/7k w - -", long),
	}}
	p := c.gameBoards()
	var shown []string
	for _, r := range p.Rows {
		for _, it := range r.Set(1).Items {
			if b, ok := it.(Board); ok {
				shown = append(shown, b.View+" "+strings.Fields(b.EPD)[0])
			}
		}
	}
	if want := []string{"black 8/8/8/8/8/8/8/K6k", "black 8/8/8/8/8/8/K7/7k", "black 8/8/8/8/8/K7/8/7k"}; !slices.Equal(shown, want) {
		t.Errorf("%q", shown)
	}
	if got := strings.Join(rowsOfPart(p), " "); !strings.Contains(got, "8...O-O Elm, 2026: ½") || strings.Contains(got, "Ash") {
		t.Errorf("%q", got)
	}
	if rows := c.playThrough().Rows; len(rows) > 0 {
		t.Error("games that all stand whole are told again")
	}
}

// A card shows the position of its gap from move 4 on; of an earlier one that to which most
// games went on, if they went on to move 4.
func TestBoardOfACard(t *testing.T) {
	then := []fact.GoesOn{{Move: "Nf6"}, {Move: "d4"}, {Move: "d6"}}
	gap := func(line string, then []fact.GoesOn) *fact.Unanswered {
		return &fact.Unanswered{Line: san(line), EPD: "8/8/8/8/8/8/8/K6k w - -", Others: []fact.Met{{Move: "Nxe5", Then: then, EPD: "8/8/8/8/8/8/K7/7k w - -"}}}
	}
	l, _ := layoutOf(t, richReport())
	s := &fact.Side{MyColor: "white"}
	for name, c := range map[string]struct {
		gap  *fact.Unanswered
		want string
	}{
		"late": {gap("e4 e5 Nf3 Nc6 Bb5 a6 Ba4 f5", then), "8/8/8/8/8/8/8/K6k w - - "}, "early": {gap("e4 e5 Nf3 f5", then), "8/8/8/8/8/8/K7/7k w - - after 4...d6"},
		"too early": {gap("e4 e5 Nf3 f5", then[:1]), " "}, "nobody went on": {&fact.Unanswered{Line: san("e4 b6"), EPD: "8/8/8/8/8/8/8/K6k w - -"}, " "},
	} {
		epd, said := "", ""
		for _, it := range l.cardBoard(s, c.gap).Items {
			switch it := it.(type) {
			case Board:
				epd += it.EPD
			case sheet.Run:
				said += it.S
			}
		}
		if got := epd + " " + strings.ReplaceAll(said, "after", "after "); strings.Join(strings.Fields(got), " ") != strings.TrimSpace(c.want) {
			t.Errorf("%s: %q", name, got)
		}
	}
}

// Where there is room the newest games are told further, never less far.
func TestNewestGamesGrow(t *testing.T) {
	rep := richReport()
	_, c := layoutOf(t, rep)
	c.side = &fact.Side{MyColor: "white", NewestGames: []fact.PlayedGame{{
		Yours: "1", Rival: "Elm", Moves: san("e4 e5 Nf3 Nc6 Bb5 a6 Ba4 Nf6 O-O Be7 Re1 b5 Bb3 d6 c3 O-O h3 Nb8 d4 Nbd7"),
	}}}
	p := c.newest()
	row := p.Rows[0]
	told := func(lines int) int {
		n := 0
		for _, it := range row.Set(lines).Items {
			if run, ok := it.(sheet.Run); ok {
				n += len(run.S)
			}
		}
		return n
	}
	if least, most := told(row.Fewest), told(row.Most); row.Most > row.Fewest && most <= least || least < 40 {
		t.Errorf("%d characters in %d lines, %d in %d", least, row.Fewest, most, row.Most)
	}
}

// A note that stands among the plans isn't told again for a surprise.
func TestNoteStandsOnce(t *testing.T) {
	rep := richReport()
	_, c := layoutOf(t, rep)
	c.side = &fact.Side{MyColor: "white", Surprise: fact.Surprise{SetUp: san("e4 d4"), Note: "keep the bishops", NoteLine: san("e4 e5")}}
	all, once := rowsOfPart(c.surprise(nil)), rowsOfPart(c.surprise([]planned{{1, san("e4 e5"), "keep the bishops"}}))
	if len(all) != len(once)+1 || !strings.Contains(all[len(all)-1], "keep the bishops") {
		t.Errorf("%q, with the plan %q", all, once)
	}
}

// All warnings stand in the foot, from the first.
func TestWarningsStand(t *testing.T) {
	rep := richReport()
	l, _ := layoutOf(t, rep)
	got := l.warnings()
	if want := words.Footnotes(rep); len(got) != len(want) || !strings.HasPrefix(got[0], "The forecast assumes") {
		t.Errorf("%q", got)
	}
}

// Of the notes those are printed through whose rows most games come, where a line ends first,
// and they are numbered as they stand.
func TestNotesThatAreNumbered(t *testing.T) {
	s := &fact.Side{MyColor: "white", Partings: []fact.Parting{{Stem: san("e4"), From: -1, Branches: []fact.Branch{
		{Move: "e5", Reach: 0.2, State: fact.Answered, Answer: "Nf3", Next: -1, Note: "seldom"},
		{Move: "e6", Reach: 0.3, State: fact.Answered, Answer: "d4", Next: -1, Note: "often"},
		{Move: "c5", Reach: 0.5, State: fact.Answered, Answer: "Nf3", Next: -1, Note: "most"},
	}}}}
	rows := newTreeRows(s, false)
	stands := make([]bool, len(rows.rows))
	for i := range stands {
		stands[i] = true
	}
	var got []string
	for i, n := range rows.number(stands, 2) {
		got = append(got, rows.branch(rows.at[n]).Note)
		if rows.notes[n] != i+1 {
			t.Errorf("%q has number %d", got[i], rows.notes[n])
		}
	}
	if !slices.Equal(got, []string{"often", "most"}) {
		t.Errorf("%q", got)
	}
}

// Which games of others the shares lean on stands once on a page: under the name, or in the
// foot where that line has no room for it.
func TestPeersStandOnce(t *testing.T) {
	used := &fact.PeersUsed{Games: 777, Before: 777, First: pgn.ParseDate("2019"), Last: pgn.ParseDate("2026-10-31"), MinRating: 1900, MaxRating: 2100, Speed: "slow"}
	for name, rep := range map[string]*fact.Report{"one colour": richReport(), "both": bothReport()} {
		rep.Basis.Peers = used
		l, _ := layoutOf(t, rep)
		places := map[string]bool{}
		for l.w = 300.0; l.w < 1300; l.w += 10 {
			var head []string
			for _, it := range l.head().Items {
				if r, ok := it.(sheet.Run); ok {
					head = append(head, r.S)
				}
			}
			above, below := strings.Count(strings.Join(head, " "), "777 games"), 0
			for _, s := range l.warnings() {
				below += strings.Count(s, "777 games")
			}
			if above+below != 1 {
				t.Errorf("%s, %g wide: %d times under the name, %d in the foot: %q", name, l.w, above, below, head)
				break
			}
			places[[]string{"head", "foot"}[below]] = true
		}
		rep.Basis.Games = 0 // then the head is of nothing but them
		if got := strings.Join(l.warnings(), " "); strings.Contains(got, "777 games") {
			t.Errorf("%s, of no games of theirs: %q", name, got)
		}
		if len(places) != 2 {
			t.Errorf("%s: stands in %v", name, places)
		}
	}
}

// The first two moves without an answer have a row each, however rare; rare ones behind them
// share one.
func TestRareGapsShareARow(t *testing.T) {
	rep := richReport()
	s := &rep.Sides[0]
	s.Unanswered = nil
	for _, m := range []string{"a6", "b6", "c6", "d6"} {
		s.Unanswered = append(s.Unanswered, fact.Unanswered{Line: san("e4 " + m), Reach: runIn / 2, Share: share(1, 0, 2, 1, 20), Games: 1})
	}
	_, c := layoutOf(t, rep)
	got := rowsOfPart(c.gapRows(0, nil, false))
	if len(got) != 3 || !strings.Contains(got[0], "A 1.e4 a6") || !strings.Contains(got[1], "B 1.e4 b6") || !strings.HasPrefix(got[2], "C ") || !strings.Contains(got[2], "; D ") {
		t.Errorf("%q", got)
	}
}

// Lines that never part begin with the first move of theirs and have the user's answer in
// the box, for either colour.
func TestLinesThatNeverPart(t *testing.T) {
	for mine, want := range map[string]fact.Parting{
		"white": {Stem: san("e4"), Branches: []fact.Branch{{Move: "c5", Answer: "Nf3", Then: san("d6 d4")}}},
		"black": {Branches: []fact.Branch{{Move: "e4", Answer: "c5", Then: san("Nf3 d6 d4")}}},
	} {
		got := lineTree(&fact.Side{MyColor: mine, Exits: []fact.Exit{{Line: san("e4 c5 Nf3 d6 d4"), Reach: 0.4}}})
		if len(got) != 1 || len(got[0].Branches) != 1 || !slices.Equal(got[0].Stem, want.Stem) {
			t.Fatalf("%s: %+v", mine, got)
		}
		if br, w := got[0].Branches[0], want.Branches[0]; br.Move != w.Move || br.Answer != w.Answer || !slices.Equal(br.Then, w.Then) {
			t.Errorf("%s: %s in the row, %s in the box, then %v", mine, br.Move, br.Answer, br.Then)
		}
	}
}

// What both colours of a page show is the mean of the two; what each lost under one title is
// told of each.
func TestColoursOfAPageTogether(t *testing.T) {
	var all drawn
	all.add(drawn{fact.Page{Rows: 4, Shown: 0.9, Sections: []string{"a"}}})
	all.add(drawn{fact.Page{Rows: 3, Shown: 0.5, Sections: []string{"b"}}})
	if all.Rows != 7 || all.Shown < 0.699 || all.Shown > 0.701 || len(all.Sections) != 2 {
		t.Errorf("%+v", all)
	}
	got := together([]sheet.Loss{{Half: 1, Title: "x", Count: 2}, {Half: 2, Title: "x", Count: 3}, {Half: 1, Title: "x", Count: 1}})
	if want := []sheet.Loss{{Half: 1, Title: "x", Count: 3}, {Half: 2, Title: "x", Count: 3}}; !slices.Equal(got, want) {
		t.Errorf("%+v, want %+v", got, want)
	}
}

// In a game that is told whole the move that left the book is strong, no other; the newest
// games don't tell again what stands whole.
func TestMoveThatLeftIsStrong(t *testing.T) {
	_, c := layoutOf(t, richReport())
	g := fact.PlayedGame{Yours: "1", Rival: "Elm", Moves: san("e4 c5 c3 Nc6 d4 cxd4"), Plies: 6, Telling: 6, LeftBy: "them", LeftPly: 3}
	row := c.playedGame("all", &g)
	var strong []string
	for _, it := range row.Set(row.Most).Items {
		if r, ok := it.(sheet.Run); ok && r.Bold {
			strong = append(strong, r.S)
		}
	}
	if !slices.Equal(strong, []string{"1", "♞c6", "2...♞c6"}) { // and where it is named behind them
		t.Errorf("strong: %q", strong)
	}
	c.side = &fact.Side{MyColor: "white", NewestGames: []fact.PlayedGame{g}}
	if got := len(c.newest().Rows); got != 1 {
		t.Errorf("%d newest games", got)
	}
	c.side.FewGames = []fact.PlayedGame{g}
	if got := len(c.newest().Rows); got != 0 {
		t.Errorf("%d newest games where all stand", got)
	}
}

// The board of a card stands as the user sees it.
func TestCardIsSeenByTheUser(t *testing.T) {
	for _, mine := range []string{"white", "black"} {
		s := &fact.Side{MyColor: mine, Unanswered: []fact.Unanswered{{Line: san(stem), EPD: "8/8/8/8/8/8/8/4K3 w", Reach: 0.2}}}
		l, _ := layoutOf(t, richReport())
		var views []string
		for _, it := range l.card(s, 0, l.form.lines).Items {
			if b, ok := it.(Board); ok {
				views = append(views, b.View)
			}
		}
		if !slices.Equal(views, []string{mine}) {
			t.Errorf("with %s boards are seen by %q", mine, views)
		}
	}
}

// Lines are counted where they end, not where they go on.
func TestLinesLeftOutAreCountedOnce(t *testing.T) {
	r := rank([]fact.Parting{
		{Stem: san("e4"), From: -1, Branches: []fact.Branch{{Move: "c5", Reach: 0.6, Next: 1}, {Move: "e5", Reach: 0.3, Next: -1}}},
		{Stem: san("e4 c5 Nf3"), From: 0, Branches: []fact.Branch{{Move: "d6", Reach: 0.4, Next: -1}, {Move: "Nc6", Reach: 0.2, Next: -1}}},
	})
	if got := r.rest[0]; got.lines != 3 || got.reach < 0.899 || got.reach > 0.901 {
		t.Errorf("%+v", got)
	}
}

// In a field a strong rule stands where another board begins, and a player's habit stands
// rather than their plain record.
func TestRulesAndHabitsOfAField(t *testing.T) {
	rep := richReport()
	fp := &fieldPages{f: testFaces(t), w: 520, h: 700}
	for _, board := range []int{1, 1, 2, 2, 3} {
		row := fact.FieldRow{Name: "Ashgrove", Board: board}
		row.Fill(rep)
		fp.field.Rows = append(fp.field.Rows, row)
	}
	var widths []float64
	for _, it := range fp.rows()[0].Items {
		if line, ok := it.(sheet.Line); ok && line.X2-line.X1 == fp.w {
			widths = append(widths, line.Width)
		}
	}
	if want := []float64{1.3, 0.3, 1.3, 0.3, 1.3}; !slices.Equal(widths, want) {
		t.Errorf("rules %v, want %v", widths, want)
	}
	var said []string
	for _, it := range fp.player(&fp.field.Rows[0]).Items {
		if r, ok := it.(sheet.Run); ok {
			said = append(said, r.S)
		}
	}
	text := strings.Join(strings.Fields(strings.Join(said, " ")), " ")
	plain, habit := words.About(&rep.About[0])[0].String(), words.About(&rep.About[1])[0].String()
	if strings.Contains(text, plain) || !strings.Contains(text, habit[:20]) {
		t.Errorf("%q: wanted %q, not %q", text, habit, plain)
	}
}

// Of the candidates those of whom something is known share the whole page.
func TestCandidatesShareThePage(t *testing.T) {
	fp := &fieldPages{f: testFaces(t), w: 520, h: 700}
	rows := make([]fact.FieldRow, 3)
	rows[0].Fill(bothReport())
	rows[1].Fill(bothReport())
	rows[2].Missing = "no games"
	page, _ := fp.bandPage(rows)
	var at []float64
	for _, it := range page.Items {
		if line, ok := it.(sheet.Line); ok && line.X2-line.X1 == fp.w {
			at = append(at, line.Y1)
		}
	}
	each := (fp.h - bandHead) / 2
	if len(at) != 3 || at[0] != 0 || at[1] < each-0.1 || at[1] > each+0.1 || at[2] < 2*each-0.1 || at[2] > 2*each+0.1 {
		t.Errorf("bands begin at %v, want 0, %g, %g", at, each, 2*each)
	}
}

// The 27th letter is AA.
func TestLetters(t *testing.T) {
	for i, want := range map[int]string{0: "A", 25: "Z", 26: "AA", 27: "AB", 51: "AZ", 52: "BA", 701: "ZZ", 702: "AAA"} {
		if got := letter(i); got != want {
			t.Errorf("%d: %s, want %s", i, got, want)
		}
	}
}

// Pages of a field are counted from 1.
func TestPagesOfAField(t *testing.T) {
	fp := &fieldPages{f: testFaces(t), field: Field{Title: "The field", Rows: make([]fact.FieldRow, 9)}, w: 520, h: 700}
	for page, want := range map[int]string{0: words.Players(9, 1, 2), 1: words.Players(9, 2, 2)} {
		var said []string
		for _, it := range fp.head(page, 2).Items {
			if r, ok := it.(sheet.Run); ok {
				said = append(said, r.S)
			}
		}
		if !slices.Contains(said, want) || words.Players(9, 1, 2) == words.Players(9, 2, 2) {
			t.Errorf("page %d: %q, want %q", page, said, want)
		}
	}
}

// In the terminal moves, answers and what follows have the numbers of the game, and a move
// without an answer says so once.
func TestNumbersInTheTerminal(t *testing.T) {
	s := whiteSide()
	var out strings.Builder
	lines := &lineWriter{w: bufio.NewWriter(&out), opt: TextOptions{Columns: 200}.withDefaults()}
	lines.partings(&s)
	if err := lines.w.Flush(); err != nil {
		t.Fatal(err)
	}
	text := strings.Join(strings.Fields(out.String()), " ")
	for _, want := range []string{"A 1.e4 c5 2.Nf3 ", " 5...a6 5 in 10 ", " [6.Be3]", " B 5...a6 6.Be3 ", " 6...e5 ", " [7.Nb3] ", " 7...Be6 8.f3 ", " C 5...Nc6 6.Bg5 "} {
		if !strings.Contains(text, want) {
			t.Errorf("no %q in %s", want, text)
		}
	}
	if got := strings.Count(strings.ToLower(text), words.NoAnswer); got != 2 {
		t.Errorf("no answer: said %d times of two moves in %s", got, text)
	}
}

// How the game begins has the numbers of the game: with White the user's first move in the
// box, with Black theirs before it.
func TestFirstRowOfTheLines(t *testing.T) {
	for mine, want := range map[string][2]string{"white": {words.YouBegin, "1.d4"}, "black": {"1.d4", "1...♞f6"}} {
		rows := newTreeRows(&fact.Side{MyColor: mine, Partings: []fact.Parting{{Stem: san("d4 Nf6 c4"), From: -1, Branches: []fact.Branch{{Move: "e6", Reach: 0.4, Next: -1}}}}}, false)
		if got := [2]string{rows.rows[0].Label, rows.rows[0].Box}; got != want {
			t.Errorf("%s: %q, want %q", mine, got, want)
		}
	}
}

// In the terminal their own slips and those of others stand each under its title.
func TestTitlesOfSlips(t *testing.T) {
	for kind, want := range map[string]string{fact.TheirSlip: words.WhereItWentWrong, fact.OthersSlip: words.WhereYouMay} {
		var out strings.Builder
		lines := &lineWriter{w: bufio.NewWriter(&out), opt: TextOptions{}.withDefaults()}
		lines.wrong(&fact.Side{MyColor: "white", Traps: []fact.Trap{{Kind: kind, Line: san("e4 e5")}}})
		if err := lines.w.Flush(); err != nil {
			t.Fatal(err)
		}
		other := words.WhereItWentWrong
		if want == other {
			other = words.WhereYouMay
		}
		text := strings.ToLower(out.String())
		if !strings.Contains(text, strings.ToLower(want)) || strings.Contains(text, strings.ToLower(other)) {
			t.Errorf("%s: %s", kind, out.String())
		}
	}
}
