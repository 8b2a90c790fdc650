package pdf

import (
	"slices"
	"strings"
	"testing"

	"foreply/compare/fact"
	"foreply/compare/words"
	"foreply/fetch/pgn"
	"foreply/pdf/sheet"
)

// Games between the two, each with the user's result in bold, up to twelve plies and who left
// the book; beside the title what the user made of those that stand.
func TestBetweenYou(t *testing.T) {
	c := columnFor(t, fact.Side{MyColor: "white", Met: fact.Score{Wins: 1}}, fact.Side{MyColor: "black"})
	c.l.rep.Basis.Met = fact.Score{Losses: 3}
	c.l.rep.Basis.Meetings = []fact.GameRow{
		{Theirs: "black", Score: "0", Date: pgn.ParseDate("2026.03.02"), Moves: san("e4 c5 Nf3 d6 d4 cxd4 Nxd4 Nf6 Nc3 a6 Be3 e5 Nb3"), LeftBy: fact.LeftByYou, LeftPly: 12, Answer: "Nf3"},
		{Theirs: "white", Score: "1", Moves: san("d4")}, {Theirs: "black", Score: "½", LeftBy: fact.LeftByThem}, {Theirs: "black", Score: "1", Moves: san("b4"), LeftBy: fact.LeftByThem},
	}
	p := c.met()
	partIs(t, p, words.BetweenYou, 2, "1 with White, 2 Mar 2026: 1...c5 2.♞f3 d6 3.d4 cxd4 4.♞xd4 ♞f6 5.♞c3 a6 6.♝e3 e5 7.♞b3 – your book has 7.♞f3",
		"½ with White: – they left your book with the first move", "0 with White: 1.b4 – they left your book with 1.b4")
	if !slices.Equal(p.Asides, []string{"you made 0 of 1"}) || p.Rows[0].Fewest != 1 {
		t.Errorf("%q, %d lines", p.Asides, p.Rows[0].Fewest)
	}
	if got := runsOf(p.Rows[0].Set(4).Items, func(r sheet.Run) bool { return r.Bold }); len(got) == 0 || got[0] != "1" {
		t.Errorf("bold %q", got)
	}
	c.W = 120 // the moves stand in whatever lines they take
	if row := c.met().Rows[0]; row.Fewest < 3 || !strings.Contains(strings.Join(runsOf(row.Set(row.Fewest).Items, func(sheet.Run) bool { return true }), " "), "7.♞b3") {
		t.Errorf("in %d lines a game is told without its moves", row.Fewest)
	}
	c.W = 900
	c.l.rep.Sides = c.l.rep.Sides[:1]
	if p := c.met(); len(p.Rows) != 4 || !slices.Equal(p.Asides, []string{"you made 3 of 3"}) {
		t.Errorf("one colour: %d rows, %q", len(p.Rows), p.Asides)
	}
	c.l.rep.Basis.Meetings = nil
	partIs(t, c.met(), words.BetweenYou, 0)
}

// The user's notes stand with their numbers, where they are for, and oblique.
func TestYourPlans(t *testing.T) {
	c := columnFor(t, fact.Side{MyColor: "white"})
	p := c.plans([]planned{{1, san("e4 c5"), "the first"}, {4, san("e4"), "the second " + strings.Repeat("goes on ", 90)}})
	if p.Title != words.YourPlans || p.Short != 2 || len(p.Rows) != 2 || p.Rows[0].Fewest != 1 || p.Rows[1].Fewest != 3 || p.Rows[0].Most != 9 {
		t.Errorf("%+v", p)
	}
	items := p.Rows[0].Set(9).Items
	if got := strings.Join(runsOf(items, func(sheet.Run) bool { return true }), "|"); got != "1|after 1...c5:|the first" {
		t.Errorf("%q", got)
	}
	if bold, slant := runsOf(items, func(r sheet.Run) bool { return r.Bold }), runsOf(items, func(r sheet.Run) bool { return r.Slant }); !slices.Equal(bold, []string{"1"}) || !slices.Equal(slant, []string{"the first"}) {
		t.Errorf("bold %q, oblique %q", bold, slant)
	}
}

// What to watch for: mistakes that the book marks with their note, moves an engine doubts,
// slips, each behind its line.
func TestWatchFor(t *testing.T) {
	long := "e4 c5 Nf3 d6 d4 cxd4 Nxd4 Nf6 Nc3"
	c := columnFor(t, fact.Side{
		MyColor:  "white",
		Mistakes: []fact.Mistake{{Line: san("e4 f6"), Games: 2, Reached: 3, Note: "chapter 2"}, {}, {Line: san(long), Yours: true, Often: oftenOf(0.3, 2, 4)}},
		Again:    []fact.Again{{Line: san("e4"), Played: fact.Evaluated{Moves: san("c5"), Centipawns: -90}, Best: fact.Evaluated{Moves: san("e5"), Centipawns: 20}, Often: *oftenOf(0.44, 3, 6)}},
		Traps: []fact.Trap{{Kind: fact.TheirSlip}, {Kind: fact.TheirSlip, Line: san("d4 d5"), Games: 2, Of: 3, Speeds: []string{"blitz"}, Before: -20, After: -390, Last: pgn.ParseDate("2026.01")},
			{Kind: fact.OthersSlip, Line: san("d4"), Games: 1, Of: 4, Speeds: []string{"rapid"}, After: -100}},
	})
	want := []string{
		"1.e4 f6 is a mistake of theirs in your book; made in 2 of 3 games that came here; chapter 2",
		"3...cxd4 4.♞xd4 ♞f6 5.♞c3 is a mistake of yours to avoid; the place before comes in 3 in 10 games (2–4)",
		"1.e4 c5 is your book's move: -0.9; better 1...e5 (+0.2) (4 in 10 games)",
		"1.d4 d5 wrong in 2 of 3 games here (blitz; for you from +0.2 to +3.9 by the games' comments), last Jan 2026; not here again since",
		"1.d4 others went wrong in 1 of 4 games here (rapid; for you from 0.0 to -1.0 by the games' comments)",
	}
	partIs(t, c.watch(), words.WatchFor, 0, want...)
	if got := runsOf(c.watch().Rows[0].Set(7).Items, func(r sheet.Run) bool { return r.Slant }); !slices.Equal(got, []string{"chapter 2"}) {
		t.Errorf("oblique %q", got)
	}
	c.side.Few = true
	if got := rowsOfPart(c.watch())[1]; got != "3...cxd4 4.♞xd4 ♞f6 5.♞c3 is a mistake of yours to avoid" {
		t.Errorf("of few games %q", got)
	}
}

// About them stands what the head and tonight don't say: the record where both colours are on
// the page, further changes, hints of the other colour.
func TestAboutThem(t *testing.T) {
	s := fact.Side{
		MyColor: "white", Tonight: []fact.Task{{Lead: fact.LeadExpect}, {Lead: fact.LeadChanged}},
		Changes: []fact.Change{{Move: "a4", Of: 7}, {Move: "f4", N: 8, Of: 8, PastOf: 5, Up: true, Since: pgn.ParseDate("2026")}, {Move: "g4", N: 7, Of: 9, PastN: 1, PastOf: 6, Up: true, Since: pgn.ParseDate("2026")}},
		Hints:   []fact.Hint{{Moves: []fact.Played{{Move: "a3", Games: 4}}, Games: 5}, {Moves: []fact.Played{{Move: "h3", Games: 2}}, Games: 6}},
	}
	about := []fact.About{
		{Kind: fact.PlainRecord, Color: "white", Score: fact.Score{Wins: 3}}, {Kind: fact.InLongGames, N: 9, Limit: 40, Score: fact.Score{Wins: 4, Losses: 1}, Expected: 3},
	}
	rest := []string{
		"did badly in games of 40 moves or more: the other side made 1 of 5, expected about 2 (9 games)", "since 2026: 1.f4 in the last 8; before that in none of 5", "since 2026: 1.g4 in 7 of the last 9; before that in 1 of 6",
		"with White they opened 1.a3 in 4 of 5 games", "with White they opened 1.h3 in 2 of 6 games",
	}
	c := columnFor(t, s)
	c.l.rep.About = about
	partIs(t, c.about(), words.AboutThem, 1, rest...)
	c = columnFor(t, s, fact.Side{})
	c.l.rep.About = about
	partIs(t, c.about(), words.AboutThem, 1, append([]string{"against their White your side made 0 of 3"}, rest...)...)
	partIs(t, columnFor(t, fact.Side{}).about(), words.AboutThem, 0)
}

// The sections of sentences have every sentence of their fact, one at least stands.
func TestSectionsOfSentences(t *testing.T) {
	s := fact.Side{
		MyColor: "black", Coverage: []fact.Coverage{{Move: 5, Of100: 90}}, Options: []fact.Option{{Move: "Nc3"}, {Move: "Na3"}},
		KnowOfYou: &fact.Shown{Games: 9, Choices: 4, Known: 3, Hidden: [][]string{san("d4")}},
		Orders:    []fact.Order{{Line: san("d4 d6"), Move: "b3", Pet: "e5", Other: "Nf3", Games: 2, Met: 9, Share: share(7, 5, 8, 12, 18)}, {Line: san("d4 d5"), Move: "c4", Pet: "e6", Other: "Nc3"}},
		Surprise:  fact.Surprise{SetUp: san("g3 Bg2"), Note: "be calm", NoteLine: san("e4"), Returns: []fact.WayBack{{Line: san("e4"), Back: fact.Back{Chance: fact.Chance{P: 0.8}, Into: san("c5 Nf3")}}}},
	}
	c := columnFor(t, s)
	partIs(t, c.far(), words.HowFar, 1, "you still have an answer at move 5 in 90 of 100 such games")
	partIs(t, c.know(), words.TheyCanKnow, 1, "of your 4 main choices on the lines to expect you have shown 3", "never shown: 1.d4")
	first := "after 1.d4 d6: 2.b3 allows their 2...e5 (7 in 10 (5–8), 12 of 18 games); 2.♞f3 goes round it (they met it in 9 games)"
	if got := rowsRead(c.orders()); len(got) != 2 || !strings.HasPrefix(got[0], first) || !strings.HasPrefix(got[1], "after 1.d4 d5: 2.c4 allows") {
		t.Errorf("%q", got)
	}
	if p := c.orders(); p.Title != words.MoveOrder || p.Short != 1 {
		t.Errorf("%+v", p)
	}
	if got := rowsRead(c.options()); len(got) != 2 || !strings.HasPrefix(got[0], "1.♞c3: ") || !strings.HasPrefix(got[1], "or 1.♞a3: ") || c.options().Title != words.YourOptions || c.options().Short != 2 {
		t.Errorf("%q", got)
	}
	c.side.Options = append(c.side.Options, fact.Option{Line: san("e4"), Move: "c5"}, fact.Option{Line: san("e4"), Move: "e5"})
	if got := c.options().Short; got != 2 {
		t.Errorf("%d options stand together, want those of the first place", got)
	}
	c.side.Situation = &fact.Situation{Aim: fact.ForWin}
	if got := c.options(); got.Short != 1 || len(got.Rows) != 5 {
		t.Errorf("of %d rows %d stand, want what the need of a win changes", len(got.Rows), got.Short)
	}
	back := []string{"Your usual set-up: g3, ♝g2", "after 1.e4, 1...c5: back in your book 8 in 10"}
	partIs(t, c.surprise([]planned{{1, san("e4"), "be calm"}}), words.IfSurprised, 1, back...)
	partIs(t, c.surprise([]planned{{1, san("e4"), "another"}}), words.IfSurprised, 1, append(back, "Your note at 1.e4: be calm")...)
	if row := c.surprise(nil).Rows[2]; row.Fewest != 3 || row.Most != 6 {
		t.Errorf("the note takes %d to %d lines", row.Fewest, row.Most)
	}
	c.side.Surprise.Note = ""
	partIs(t, c.surprise(nil), words.IfSurprised, 1, back...)
	for i, most := range []int{8, 4, 5, 9, 9} { // lines of a row at most
		if p := []sheet.Part{c.far(), c.know(), c.orders(), c.options(), c.surprise(nil)}[i]; p.Rows[0].Most != most || p.Rows[0].Fewest != 1 {
			t.Errorf("%s: %d to %d lines, want 1 to %d", p.Title, p.Rows[0].Fewest, p.Rows[0].Most, most)
		}
	}
	p := c.write()
	if p.Title != words.ToWrite || !p.Silent || !about(p.Least, 1.5+leading+apart) || len(p.At(100).Items) != 2+4 {
		t.Errorf("to write: %+v", p)
	}
}

// Tonight's lines: what to expect, the other way from where it parts, the answer, what
// changed, and the gaps where nothing else tells them.
func TestTonightsLines(t *testing.T) {
	s := fact.Side{MyColor: "white", Tonight: []fact.Task{
		{Lead: fact.LeadExpect, Moves: san("e4 c5 Nf3 d6"), Often: oftenOf(0.44, 3, 6), Name: "Sicilian"}, {Lead: fact.LeadOr, Moves: san("e4 c5 Nf3 Nc6"), Often: oftenOf(0.3, 2, 4), Answer: "Bb5", Name: "Old"},
		{Lead: fact.LeadPlay, Moves: san("e4 c5 Nf3 d6 d4"), Depth: 8.4}, {Lead: fact.LeadChanged, About: &fact.Change{Move: "f4", N: 8, Of: 8, PastOf: 5, Up: true, Since: pgn.ParseDate("2026")}}, {Lead: fact.LeadAnswer, About: &fact.Unanswered{}}, {Lead: fact.LeadPlay},
	}, Unanswered: []fact.Unanswered{{Line: san("e4 e5"), Reach: 0.3, Of: 30}, {Line: san("e4 b6"), Reach: 0.2, Of: 30}}}
	c := columnFor(t, s)
	type line struct {
		lead, text string
		must       int
	}
	lines := func() (got []line) {
		for _, n := range c.l.nightly(c.side) {
			got = append(got, line{n.lead, seen(n.clauses), n.must})
		}
		return got
	}
	want := []line{
		{"expect", "*1.e4* *c5* *2.♞f3* *d6* · 4 in 10 games (3–6) · Sicilian", 2}, {"or", "*2...♞c6* · 3 in 10 games (2–4) · you play *3.♝b5* · Old", 3},
		{"play", "*3.d4* · prepared to about move 8", 1}, {"changed", "since 2026: 1.f4 in the last 8; before that in none of 5", 2}, {"gaps", "<A> 1.e4 *e5* 3 in 10 games  <B> 1.e4 *b6* 2 in 10 games", 3},
	}
	if got := lines(); !slices.Equal(got, want) {
		t.Errorf("%v\nwant %v", got, want)
	}
	c.l.form.narrow = true
	if got := lines(); !slices.Equal(got, want[:4]) {
		t.Errorf("narrow: %v", got)
	}
	if n := changedTonight(c.side); n != 1 {
		t.Errorf("%d changes are told", n)
	}
	c.side.Unanswered = append(c.side.Unanswered, fact.Unanswered{Line: san("e4 c6"), Reach: 0.1, Of: 30}, fact.Unanswered{Line: san("e4 d6")}, fact.Unanswered{Line: san("e4 g6")})
	if got := seen(c.l.toAnswer(c.side)); !strings.HasSuffix(got, "  <C> 1.e4 *c6* 1 in 10 games · 2 more") {
		t.Errorf("%q", got)
	}
}

// Tonight stands in rows under its title, the words at the left, the text behind them; a long
// task takes further lines, fewer where the page is low.
func TestTonightDrawn(t *testing.T) {
	long := san("e4 c5 Nf3 d6 d4 cxd4 Nxd4 Nf6 Nc3 a6 Be3 e5 Nb3 Be6 f3 Be7 Qd2 O-O O-O-O Nbd7 g4 b5 g5 b4 Ne2 Ne8 f4 a5 f5 a4")
	c := columnFor(t, fact.Side{MyColor: "white", Tonight: []fact.Task{{Lead: fact.LeadExpect, Moves: long}, {Lead: fact.LeadPlay, Moves: san("e4")}}})
	l := c.l
	l.form.lines = 300
	b := l.tonight(c.side, 700)
	at := map[string][]float64{}
	var moves []sheet.Run
	for _, it := range b.Items {
		r, ok := it.(sheet.Run)
		if !ok {
			continue
		}
		switch {
		case r.X == 0:
			at[r.S] = []float64{r.Y, r.Size}
		default:
			moves = append(moves, r)
		}
	}
	n := len(moves) - 1 // lines of the first task
	top := 1.5 + leading
	base := func(row int) float64 { return top + float64(row+1)*nightRow - 1.1*sheet.MM }
	if n < 3 || !about(at["expect"][0], base(0)) || !about(at["play"][0], base(n)) || at["expect"][1] != nightLead || !about(b.H, top+float64(n+1)*nightRow) {
		t.Errorf("%d lines, words at %v, %g high", n, at, b.H)
	}
	for i, r := range moves {
		if r.X != nightText || !about(r.Y, base(i)) || r.Size != nightMoves || !r.Bold {
			t.Errorf("line %d: %s", i, r.Dump())
		}
	}
	if b := l.tonight(c.side, 2*(top+3*nightRow)+0.01); !about(b.H, top+3*nightRow) {
		t.Errorf("in a low height %g high", b.H)
	}
	if b := l.tonight(c.side, 1); !about(b.H, top+2*nightRow) {
		t.Errorf("in no height %g high", b.H)
	}
	l.form.narrow = true
	if b := l.tonight(c.side, 700); !about(b.H, float64(n+1)*nightRow) {
		t.Errorf("beside another colour %g high", b.H)
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

// Of a task so many clauses stand as must, in the lines they take; others where they cost none.
func TestClausesOfATask(t *testing.T) {
	c := columnFor(t, fact.Side{MyColor: "white"})
	l := c.l
	words := func(word string, n int) []sheet.Piece {
		return []sheet.Piece{{S: strings.Repeat(" "+word, n)}}
	}
	wide := l.f.Regular.Width(strings.TrimSpace(strings.Repeat("mm ", 10)), nightWords) + 0.1
	l.form.lines = nightText + wide
	clauses := [][]sheet.Piece{words("mm", 8), words("mmm", 2), words("mm", 7), words("mmmm", 1)} // 8 and 2 make more than a line, the third fits beside, the last one does not
	for must, want := range map[int][2]int{1: {1, 8}, 2: {2, 17}, 3: {2, 17}, 4: {3, 18}, 9: {3, 18}} {
		lines := l.nightLines(nightly{"expect", clauses, must}, 12)
		said := 0
		for _, line := range lines {
			for _, r := range line.Items {
				said += len(strings.Fields(r.S))
			}
		}
		if got := [2]int{len(lines), said}; got != want {
			t.Errorf("%d must: %d lines of %d words, want %v", must, got[0], got[1], want)
		}
	}
	if lines := l.nightLines(nightly{"expect", clauses, 4}, 1); len(lines) != 1 {
		t.Errorf("%d lines where one has room", len(lines))
	}
}
