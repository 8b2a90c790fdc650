package pdf

import (
	"bufio"
	"slices"
	"strings"
	"testing"

	"foreply/compare/fact"
	"foreply/compare/words"
	"foreply/fetch/pgn"
)

// Every move without an answer stands in full with what is known of it, how games went on
// behind each answer, and the note.
func TestUnansweredInTheTerminal(t *testing.T) {
	s := &fact.Side{MyColor: "white", Unanswered: []fact.Unanswered{
		{
			Line: san("e4 c5 Nf3 a6"), Reach: 0.3, Lo: 0.1, Hi: 0.5, Of: 20, Games: 7, Share: share(3, 1, 5, 7, 20), Last: pgn.ParseDate("2026.10"), Name: "an opening", Note: "c3 at once",
			Others: []fact.Met{
				{Move: "c4", Games: 8, Score: fact.Score{Wins: 2, Draws: 1, Losses: 5}, Expected: 4, Then: []fact.GoesOn{{Move: "e6", Games: 6, Of: 8}, {Move: "d4", Games: 4, Of: 6, Score: fact.Score{Losses: 3, Wins: 1}}}},
				{Move: "d4", Games: 3, Score: fact.Score{Wins: 2, Losses: 1}, Expected: 1.5, Then: []fact.GoesOn{{Move: "cxd4", Games: 3, Of: 3}}},
			},
		},
		{Line: san("d4"), Reach: 0.1, Lo: 0.08, Hi: 0.12, Of: 20, Share: fact.Share{Of: 20}},
	}}
	for few, often := range map[bool]string{false: "3 in 10 games (1–5); ", true: ""} {
		s.Few = few
		second := "    not seen from them\n"
		if !few {
			second = "    1 in 10 games; not seen from them\n"
		}
		checkTerminal(t, "no answer", onTerminal(t, TextOptions{Columns: 300}, func(tl *lineWriter) { tl.unanswered(s) }), `
*NO ANSWER YET*
  *1.e4* *c5* *2.Nf3* *a6*
    `+often+`7 of 20 games; last Oct 2026; others played 3.c4 in 8 games (your side made 5½, 4.0 expected), 3.d4 in 3 (1, 1.5); the difference may be chance; most have played 3.c4
      3.c4 e6 in 6 of 8; then 4.d4 in 4 of 6 (made 3)
      3.d4 cxd4 in 3 of 3
    c3 at once
  *1.d4*
`+second)
	}
	checkTerminal(t, "all answered", onTerminal(t, TextOptions{}, func(tl *lineWriter) { tl.unanswered(&fact.Side{}) }), "")
}

// Slips stand by whose they are, theirs first, each title once over all of them; then the
// moves of the book that an engine doubts, with the move itself.
func TestSlipsInTheTerminal(t *testing.T) {
	others := func(line string) fact.Trap {
		return fact.Trap{Kind: fact.OthersSlip, Line: san(line), Games: 3, Of: 5, Speeds: []string{"rapid"}, Before: 10, After: -200, Score: fact.Score{Wins: 4, Losses: 1}, Expected: 2.5}
	}
	theirs := func(line string) fact.Trap {
		return fact.Trap{Kind: fact.TheirSlip, Line: san(line), Games: 2, Of: 3, Speeds: []string{"blitz"}, Before: -20, After: -390, Last: pgn.ParseDate("2026.01.30")}
	}
	s := &fact.Side{MyColor: "black", Traps: []fact.Trap{others("e4 e5"), theirs("d4 d5 c4"), others("c4 c5"), theirs("b4")}, Again: []fact.Again{
		{Line: san("e4"), Played: fact.Evaluated{Moves: san("f6 d4"), Centipawns: 90}, Best: fact.Evaluated{Moves: san("e5 Nf3"), Centipawns: 20}, Often: *oftenOf(0.44, 3, 6)},
		{Line: san("d4"), Played: fact.Evaluated{Moves: san("b5"), Centipawns: 70}, Best: fact.Evaluated{Moves: san("d5"), Centipawns: 10}, Often: *oftenOf(0.2, 1, 3)},
	}}
	checkTerminal(t, "slips", onTerminal(t, TextOptions{Columns: 200}, func(tl *lineWriter) { tl.wrong(s) }), `
*WHERE THEY WENT WRONG*
  *1.d4* *d5* *2.c4*
    wrong in 2 of 3 games here (blitz; for you from +0.2 to +3.9 by the games' comments), last 30 Jan 2026; not here again since
  *1.b4*
    wrong in 2 of 3 games here (blitz; for you from +0.2 to +3.9 by the games' comments), last 30 Jan 2026; not here again since

*WHERE YOUR SIDE WENT WRONG*
  *1.e4* *e5*
    others went wrong in 3 of 5 games here (rapid; for you from +0.1 to -2.0 by the games' comments), your side made 1 of 5, 2.5 expected
  *1.c4* *c5*
    others went wrong in 3 of 5 games here (rapid; for you from +0.1 to -2.0 by the games' comments), your side made 1 of 5, 2.5 expected

*LOOK AGAIN*
  *1.e4* *f6*
    is your book's move: 2.d4 (-0.9); better 1...e5 2.Nf3 (-0.2) (4 in 10 games)
  *1.d4* *b5*
    is your book's move: -0.7; better 1...d5 (-0.1) (2 in 10 games)
`)
	checkTerminal(t, "none", onTerminal(t, TextOptions{}, func(tl *lineWriter) { tl.wrong(&fact.Side{}) }), "")
}

// The moves that the book marks as bad stand in one sentence with their line and the note.
func TestMistakesInTheTerminal(t *testing.T) {
	s := &fact.Side{MyColor: "white", Mistakes: []fact.Mistake{
		{Line: san("e4 f6"), Games: 2, Reached: 3, Last: pgn.ParseDate("2025.05.10"), Note: "see chapter 2"},
		{Line: san("e4 e5 f3"), Yours: true, Often: oftenOf(0.3, 2, 4)},
	}}
	for few, often := range map[bool]string{false: "; the place before comes in 3 in 10 games (2–4)", true: ""} {
		s.Few = few
		checkTerminal(t, "mistakes", onTerminal(t, TextOptions{Columns: 200}, func(tl *lineWriter) { tl.mistakes(s) }), `
*MISTAKES*
  1.e4 f6 is a mistake of theirs in your book; made in 2 of 3 games that came here, last 10 May 2025 see chapter 2
  1.e4 e5 2.f3 is a mistake of yours to avoid`+often+"\n")
	}
	checkTerminal(t, "none", onTerminal(t, TextOptions{}, func(tl *lineWriter) { tl.mistakes(&fact.Side{}) }), "")
}

// Boards stand beside each other, as many as the columns hold, each as its side sees it, with
// its title, its reason and how often it comes; one that can't be drawn has its words.
func TestBoardsInTheTerminal(t *testing.T) {
	list := []fact.Diagram{
		{Line: san("e4 c5"), Why: fact.BoardNoAnswer, EPD: "r2qk2r/8/8/3P4/8/8/8/R3K3 w - -", View: "white", Reach: 0.3, Lo: 0.2, Hi: 0.4, Of: 20, Came: 6},
		{Line: san("d4 Nf6 c4"), Why: fact.BoardBookEnds, EPD: "1k6/8/8/8/8/8/8/R6K b - -", View: "black", Counted: true, Games: 2},
		{Line: san("b4"), Why: fact.BoardUnseen, EPD: "8/8", View: "white", Counted: true},
	}
	one := []string{
		"  after 1...c5", "  8 r . . q k . . r", "  7 . . . . . . . .", "  6 . . . . . . . .", "  5 . . . P . . . .", "  4 . . . . . . . .", "  3 . . . . . . . .", "  2 . . . . . . . .",
		"  1 R . . . K . . .", "    a b c d e f g h", "  no answer yet: 3 in 10", "  games",
	}
	two := []string{
		"  after 2.c4", "  1 K . . . . . . R", "  2 . . . . . . . .", "  3 . . . . . . . .", "  4 . . . . . . . .", "  5 . . . . . . . .", "  6 . . . . . . . .", "  7 . . . . . . . .",
		"  8 . . . . . . k .", "    h g f e d c b a", "  your book ends: 2", "  games of theirs",
	}
	three := []string{"  after 1.b4", "  a move not seen yet:", "  not in the games found"}
	abreast := func(columns ...[]string) string {
		out := "\n*BOARDS*\n"
		for row := range columns[0] {
			line := ""
			for _, c := range columns {
				cell := ""
				if row < len(c) {
					cell = c[row]
				}
				line += cell + strings.Repeat(" ", 26-len(cell))
			}
			out += strings.TrimRight(line, " ") + "\n"
		}
		return out
	}
	for columns, want := range map[int]string{40: abreast(one), 51: abreast(one), 52: abreast(one, two), 77: abreast(one, two), 78: abreast(one, two, three), 200: abreast(one, two, three)} {
		checkTerminal(t, "boards", onTerminal(t, TextOptions{Columns: columns}, func(tl *lineWriter) { tl.boards(list) }), want)
	}
	checkTerminal(t, "none", onTerminal(t, TextOptions{}, func(tl *lineWriter) { tl.boards(nil) }), "")
}

// A word of a caption that is longer than the board is cut at its width.
func TestCaptionsInTheTerminal(t *testing.T) {
	for s, want := range map[string]string{
		"": "", "  ": "", "one two": "  one two", "one three": "  one|  three", "abcdefgh": "  abcdefgh", "abcdefghi": "  abcdefgh", "a abcdefghijk b": "  a|  abcdefgh|  b",
	} {
		if got := strings.Join(textLines(s, 10), "|"); got != want {
			t.Errorf("%q: %q, want %q", s, got, want)
		}
	}
	for epd, want := range map[string]string{
		"8/8/8/8/8/8/8/K6k w - -": "........|........|........|........|........|........|........|K......k",
		"8/8/8/8/8/8/8/K6k":       "........|........|........|........|........|........|........|K......k",
		"8/8/8/8/8/8/K6k":         "", "8/8/8/8/8/8/8/8/8": "", "8/8/8/8/8/8/8/K7k": "", "8/8/8/8/8/8/8/K5k": "", "9/8/8/8/8/8/8/8": "", "1p6/8/8/8/8/8/8/71": ".p......|........|........|........|........|........|........|........",
	} {
		if got := strings.Join(ranks(epd), "|"); got != want {
			t.Errorf("%q: %q, want %q", epd, got, want)
		}
	}
}

// The foot has every warning behind a sign, the sources, whose evaluations, and the law.
func TestFootInTheTerminal(t *testing.T) {
	rep := &fact.Report{
		Basis:  fact.Basis{Sources: []fact.SourceCount{{Name: "a/otb.pgn", Games: 34, Read: 1204}}, Warnings: 3},
		Engine: &fact.Engine{Name: "Mover 3", Nodes: 2000},
	}
	dim := func(s string) string { return "~" + strings.ReplaceAll(s, " ", "~ ~") + "~\n" }
	checkTerminal(t, "foot", onTerminal(t, TextOptions{Columns: 300}, func(tl *lineWriter) { tl.foot(rep) }), `
! the forecast assumes that they did not prepare for you
! 3 problems met while reading the games
`+dim("Sources: otb.pgn 34 of 1,204.")+dim("Evaluations in pawns, + is good for you, by Mover 3, 2 k nodes each.")+dim(words.Laws+" "+words.EventRules))
}

// Sections stand in one order, each with every one of its entries.
func TestOrderOfTheTerminal(t *testing.T) {
	side := func(mine string) fact.Side {
		s := fact.Side{
			MyColor: mine, Games: 3, Few: true, PeersOnly: true,
			Tonight: []fact.Task{{Lead: fact.LeadExpect, Moves: san("e4")}}, Partings: whitePartings()[:1],
			Hints: []fact.Hint{{Moves: []fact.Played{{Move: "a3", Games: 4}}, Games: 5}, {Moves: []fact.Played{{Move: "h3", Games: 2}}, Games: 6}}, Boards: whiteBoards()[:1],
			Unanswered: []fact.Unanswered{{Line: san("b4")}}, Changes: []fact.Change{{Move: "f4", Of: 8}, {Move: "g4", Of: 9}},
			Traps:    []fact.Trap{{Kind: fact.TheirSlip, Line: san("a4")}, {Kind: fact.OthersSlip, Line: san("h4")}},
			Again:    []fact.Again{{Played: fact.Evaluated{Moves: san("c4")}}},
			Orders:   []fact.Order{{Line: san("d4 d6"), Move: "b3", Pet: "e5", Other: "Nf3"}, {Line: san("d4 d5"), Move: "c4", Pet: "e6", Other: "Nc3"}},
			Surprise: fact.Surprise{SetUp: san("g3 Bg2"), Note: "be calm"},
			Options:  []fact.Option{{Move: "Nc3"}, {Move: "Na3"}}, Mistakes: []fact.Mistake{{Line: san("f3")}},
			KnowOfYou: &fact.Shown{},
		}
		return s
	}
	rep := &fact.Report{Sides: []fact.Side{side("white"), side("black")}, About: []fact.About{
		{Kind: fact.PlainRecord, Color: "white", Score: fact.Score{Wins: 3}}, {Kind: fact.InLongGames, N: 9, Limit: 40, Score: fact.Score{Wins: 4, Losses: 1}, Expected: 3},
	}}
	rep.Basis.Meetings = []fact.GameRow{{Theirs: "white", Score: "1"}}
	var out strings.Builder
	if err := Text(&out, rep, TextOptions{Columns: 200}); err != nil {
		t.Fatal(err)
	}
	var titles []string
	for _, line := range strings.Split(out.String(), "\n") {
		if line != "" && line == strings.ToUpper(line) && !strings.Contains(line, " . ") || strings.HasPrefix(line, "== ") {
			titles = append(titles, strings.Trim(line, "= "))
		}
	}
	of := "TONIGHT|LINES TO EXPECT|WITH THE OTHER COLOUR|BOARDS|NO ANSWER YET|WHAT CHANGED|WHERE THEY WENT WRONG|WHERE YOUR SIDE WENT WRONG|LOOK AGAIN|MOVE ORDER|IF SURPRISED|YOUR OPTIONS|MISTAKES|THEY CAN KNOW"
	if got, want := strings.Join(titles, "|"), "YOU MET|if you have White|"+of+"|if you have Black|"+of+"|ABOUT THEM"; got != want {
		t.Errorf("%s\nwant\n%s", got, want)
	}
	for want, n := range map[string]int{
		"  with White they opened 1.a3 in 4 of 5 games\n  with White they opened 1.h3 in 2 of 6 games\n": 2, "1.f4 in none of the last 8": 2, "1.g4 in none of the last 9": 2,
		"after 1.d4 d6: 2.b3 allows their 2...e5": 2, "after 1.d4 d5: 2.c4 allows their 2...e6": 2, "  Your usual set-up: g3, Bg2\n  Your note at the head of the chapter: be calm\n": 2,
		"  1.Nc3: ": 2, "  or 1.Na3: ": 2, "no game of yours with White in the files": 1, "no game of yours with Black in the files": 1,
		"  against their White your side made 0 of 3\n  did badly in games of 40 moves or more: the other side made 1 of 5, expected about 2 (9 games)\n": 1,
	} {
		if got := strings.Count(out.String(), want); got != n {
			t.Errorf("%d times %q, want %d", got, want, n)
		}
	}
}

// What two lines have in common ends where the shorter does.
func TestCommonBeginning(t *testing.T) {
	for _, c := range []struct {
		a, b string
		want int
	}{{"e4 c5 Nf3", "e4 c5", 2}, {"e4", "e4 c5", 1}, {"e4 c5", "e4 e5", 1}, {"d4", "e4", 0}, {"", "e4", 0}} {
		if got := common(san(c.a), san(c.b)); got != c.want {
			t.Errorf("%s and %s: %d", c.a, c.b, got)
		}
	}
}

// The other colour's hints stand under their title where all is the peers', else with the
// few games.
func TestHintsStandOnce(t *testing.T) {
	s := &fact.Side{MyColor: "white", Hints: []fact.Hint{{Moves: []fact.Played{{Move: "a3", Games: 4}}, Games: 5}}}
	for _, c := range []struct {
		few, peers     bool
		partings, want int
		title          string
	}{{true, true, 1, 1, words.OtherColour}, {true, false, 0, 1, words.TheirGames}, {false, false, 1, 0, words.LinesToExpect}} {
		s.Few, s.PeersOnly, s.Partings = c.few, c.peers, whitePartings()[:c.partings]
		got := onTerminal(t, TextOptions{}, func(tl *lineWriter) { tl.side(s, false) })
		if strings.Count(got, "they opened 1.a3") != c.want || !strings.Contains(got, strings.ToUpper(c.title)) {
			t.Errorf("few %v, peers %v: %s", c.few, c.peers, got)
		}
	}
}

// What is not told takes its default, and no text is narrower than forty columns.
func TestTextDefaults(t *testing.T) {
	for in, want := range map[TextOptions]TextOptions{
		{}: {Columns: 80, Lines: 30}, {Columns: 39, Lines: -1}: {Columns: 40, Lines: 30}, {Columns: 41, Lines: 1, Style: true}: {Columns: 41, Lines: 1, Style: true}, {Columns: -5}: {Columns: 40, Lines: 30},
	} {
		if got := in.withDefaults(); got != want {
			t.Errorf("%+v: %+v, want %+v", in, got, want)
		}
	}
}

// Lines are filled to the last column, the first indented by one measure, the others by
// another; a word longer than a line stands alone.
func TestLinesInTheTerminal(t *testing.T) {
	for s, want := range map[string]string{
		"aaaa bbbb cccc dddd eeee ffff gggg hhhh": "  aaaa bbbb cccc dddd eeee ffff gggg hhhh\n",
		"aaaa bbbb cccc dddd eeee ffff gggg hhhhi": "  aaaa bbbb cccc dddd eeee ffff gggg\n" +
			"     hhhhi\n",
		"ä" + strings.Repeat("b", 50) + " c d": "  ä" + strings.Repeat("b", 50) + "\n     c d\n",
	} {
		checkTerminal(t, s, onTerminal(t, TextOptions{Columns: 41}, func(tl *lineWriter) { tl.write(2, 5, pieces(s, usual)) }), want)
	}
	line := words.Sentence{words.Expect(&fact.Task{Moves: san("e4 c5 Nf3 Nc6 Bb5 g6")}, nil)[0]}
	glued := words.Sentence{append(append(words.Clause{{Text: "a long beginning of more words so ("}}, line[0][2]), words.Span{Text: ")"})}
	for want, s := range map[string]words.Sentence{"1.e4 c5 2.Nf3\n2...Nc6 3.Bb5\n3...g6\n": line, "a long\nbeginning of\nmore words so\n(1...c5)\n": glued} {
		checkTerminal(t, "a sentence", onTerminal(t, TextOptions{Columns: 40}, func(tl *lineWriter) {
			tl.opt.Columns = 14
			tl.write(0, 0, said(s))
		}), want)
	}
	checkTerminal(t, "nothing to say", onTerminal(t, TextOptions{}, func(tl *lineWriter) {
		tl.say(3, " ", bold)
		tl.list("title", nil)
		tl.sentence(3, nil)
		tl.clause(3, nil)
	}), "")
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
