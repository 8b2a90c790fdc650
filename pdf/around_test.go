package pdf

import (
	"reflect"
	"slices"
	"strings"
	"testing"

	"foreply/compare/fact"
	"foreply/compare/words"
	"foreply/fetch/pgn"
	"foreply/pdf/sheet"
)

// firstMoves are so many first moves of theirs, each with an answer and no more to say of it
// than stands in a line.
func firstMoves(n int) []fact.Parting {
	p := fact.Parting{From: -1}
	for range n {
		p.Branches = append(p.Branches, fact.Branch{Move: "a3", Answer: "e5", State: fact.Answered, Share: share(0, 0, 1, 1, 100), Reach: 0.01, Next: -1})
	}
	return []fact.Parting{p}
}

// ruleOver is where the title of a section stands: the left end of its rule.
func ruleOver(items []sheet.Item, title string) (x, y float64) {
	for i, it := range items {
		if r, ok := it.(sheet.Run); ok && r.S == title && r.Bold {
			if line, ok := items[i-1].(sheet.Line); ok {
				return line.X1, line.Y1
			}
		}
	}
	return -1, -1
}

// Where two colours stand on a page the lines take six tenths of what is behind the head of
// theirs; where some find no room no further ones are followed.
func TestShareOfTheLines(t *testing.T) {
	l, _ := layoutOf(t, bothReport())
	s := &fact.Side{MyColor: "black", Partings: firstMoves(60), Further: firstMoves(60)}
	const h, pitch = 500.0, 4.35 * sheet.MM
	behind, head := h-7*sheet.MM-air/2, 1.5+leading+0.4*sheet.MM
	rows := int((behind*0.6 - head) / pitch)
	if rows != 22 || int((h*0.6-head)/pitch) == rows {
		t.Fatalf("%d rows: this case shows nothing", rows)
	}
	b, on := l.sideWith(s, h, 0)
	if on.Rows != rows || !about(on.Shown, float64(rows)/60) || len(b.Lost) == 0 || b.Lost[0].Title != words.MoreLines || b.Lost[0].Count != 60-rows {
		t.Errorf("%d rows of 60, %g shown, lost %+v; want %d rows", on.Rows, on.Shown, b.Lost, rows)
	}
}

// Further lines are followed only as far as no section loses by them; however many of them
// stand, all of the lines over the threshold are shown, and no more notes have a number.
func TestFurtherLinesCostNothing(t *testing.T) {
	l, _ := layoutOf(t, richReport())
	s := &fact.Side{MyColor: "black", Partings: firstMoves(2), Further: firstMoves(90)}
	s.Further[0].Branches[3].Note = "a plan"
	read := func(h float64, most int) (text string, on drawn) {
		b, on := l.sideWith(s, h, most)
		return strings.Join(runsOf(b.Items, func(sheet.Run) bool { return true }), " "), on
	}
	text, on := read(400, 0)
	if on.Rows < 20 || on.Rows >= 90 || on.Shown != 1 || strings.Contains(text, "note") || slices.Contains(on.Sections, words.YourPlans) {
		t.Errorf("%+v: %s", on, text)
	}
	if text, on := read(400, 4); !strings.Contains(text, "note 1") || !slices.Contains(on.Sections, words.YourPlans) || on.Shown != 1 {
		t.Errorf("with notes %+v: %s", on, text)
	}
	l.form.margin = 0 // what is said of them stands under the lines
	s.Mistakes = slices.Repeat([]fact.Mistake{{Line: san("e4 f6"), Games: 2, Reached: 3, Note: "chapter 2"}}, 9)
	for h := 150.0; h < 600; h += 30 {
		top := l.top(s, h)
		lines := l.lines(rowsOf(s, s.Partings, false), h-top.H, 0)
		fewest := l.around(s, top, lines, h)
		b, on := l.sideWith(s, h, 0)
		if got, want := sheet.Lost(b.Lost), sheet.Lost(fewest.Lost); len(lines.Lost) == 0 && got > want || on.Rows > 2 && !slices.Contains(on.Sections, words.WatchFor) {
			t.Errorf("%g high: %d are lost by further lines, else %d; %+v", h, got, want, on)
		}
	}
}

// Over the lines stand the colour, tonight under it, then few games in the height that is left.
func TestTopOfAColour(t *testing.T) {
	rep := bothReport()
	few := gamesReport(12).Sides[0]
	few.Tonight = rep.Sides[0].Tonight[:1]
	rep.Sides[0] = few
	l, _ := layoutOf(t, rep)
	s := &rep.Sides[0]
	const h = 300.0
	b := l.top(s, h)
	at := map[string]float64{}
	for _, it := range b.Items {
		if r, ok := it.(sheet.Run); ok {
			if _, seen := at[r.S]; !seen {
				at[r.S] = r.Y
			}
		}
	}
	tonight, over := l.tonight(s, h).H, 7*sheet.MM+air/2
	games := l.fewGames(s, h-over-tonight)
	base := 1.5 + leading - (leading-1.02*8.5)/2 - 0.24*8.5
	if want := over + tonight + base; at[words.YouHave("white")] != 5.5*sheet.MM || !about(at[words.Expected], 7*sheet.MM+nightRow-1.1*sheet.MM) || !about(at[words.AllGames(s)], want) || !about(b.H, over+tonight+games.H) {
		t.Errorf("%v, %g high; want the games at %g", at, b.H, want)
	}
	if l.fewGames(s, h).H == games.H || !slices.Equal(b.Lost, games.Lost) || len(b.Lost) == 0 {
		t.Errorf("lost %+v, want %+v", b.Lost, games.Lost)
	}
}

// aroundCase is a form of one column of 300 and a margin of 150, with the top and the lines of
// a colour in it.
func aroundCase(t *testing.T, tall float64) (*layout, *fact.Side, sheet.Block, treeSet) {
	l, c := layoutOf(t, &fact.Report{Sides: []fact.Side{{MyColor: "white"}}})
	l.form = form{lines: 300, margin: 150, gap: 20, under: 1, most: 1, boards: 2, gaps: 99}
	dot := []sheet.Item{sheet.Dot{R: 1}}
	top := sheet.Block{H: tall, Items: dot, Lost: []sheet.Loss{{Title: "games", Count: 1}}}
	lines := treeSet{Block: sheet.Block{H: 100, Items: dot, Lost: []sheet.Loss{{Title: "moves", Count: 2}}}, on: drawn{fact.Page{Rows: 7, Shown: 0.5, Sections: []string{"lines"}}}}
	return l, c.side, top, lines
}

// Under the lines the sections begin behind some air; what each part lost is told in their
// order, and how much room is left under the lines.
func TestAroundTheLines(t *testing.T) {
	l, s, top, lines := aroundCase(t, 50)
	a := l.around(s, top, lines, 400)
	sameDrawn(t, "top and lines", a.Items[:2], []sheet.Item{sheet.Dot{R: 1}, sheet.Dot{Y: 50, R: 1}})
	if x, y := ruleOver(a.Items, words.ToWrite); x != 0 || !about(y, 150+air) {
		t.Errorf("the section stands at %g, %g", x, y)
	}
	want := fact.Page{Rows: 7, Shown: 0.5, Sections: []string{"lines", words.ToWrite}}
	if !reflect.DeepEqual(a.on.Page, want) || a.H != 400 || !about(a.spare, 250-air) || len(a.lost) > 0 || !slices.Equal(a.Lost, []sheet.Loss{{Title: "games", Count: 1}, {Title: "moves", Count: 2}}) {
		t.Errorf("%g high, %g left, lost %v and %v: %+v", a.H, a.spare, a.lost, a.Lost, a.on)
	}
	a = l.around(s, top, treeSet{}, 400) // no air behind no lines
	if x, y := ruleOver(a.Items, words.ToWrite); x != 0 || y != 50 || a.spare != 350 || !slices.Equal(a.on.Sections, []string{words.ToWrite}) {
		t.Errorf("without lines the section stands at %g, %g: %+v", x, y, a.on)
	}
	l.form.margin, l.form.under = 0, 2 // of two columns the fuller one says what is left
	s.KnowOfYou = &fact.Shown{Games: 9, Choices: 4, Known: 3}
	for _, h := range []float64{400, 300} {
		a := l.around(s, top, treeSet{}, h)
		c := &column{Column: l.columnOf((300 - gutter) / 2), l: l, side: s}
		if used := c.Measure(c.know()).Want; !about(a.spare, h-50-used-air) || used < 20 {
			t.Errorf("%g high: %g are left, want %g", h, a.spare, h-50-used-air)
		}
	}
	l.form.margin, l.form.under, s.KnowOfYou = 150, 1, nil
	s.Coverage = []fact.Coverage{{Move: 5, Of100: 90}} // has no room
	s.Mistakes = []fact.Mistake{{Line: san("e4 f6"), Games: 2, Reached: 3}}
	lost := []sheet.Loss{{Title: "games", Count: 1}, {Title: "moves", Count: 2}, {Title: words.WatchFor}, {Title: words.HowFar}}
	if a := l.around(s, top, lines, 12); !slices.Equal(a.Lost, lost) || !slices.Equal(a.lost, lost[2:3]) || a.spare != 0 {
		t.Errorf("lost %+v, of them no late ones %+v; want %+v", a.Lost, a.lost, lost)
	}
}

// How far the book goes, the newest games and room to write take the largest place that is
// left, one after the other.
func TestLateSectionsTakeTheLargestPlace(t *testing.T) {
	for tall, want := range map[float64][3]float64{
		120: {0, 0, 0},     // 300 by 280 under it, 150 by 400 beside it
		150: {0, 0, 320},   // 300 by 250, of which the first two take 53
		199: {0, 320, 320}, // 300 by 201
		210: {320, 0, 320}, // 300 by 190, nearly as large
		330: {320, 320, 320},
	} {
		l, s, top, _ := aroundCase(t, tall)
		s.Coverage = []fact.Coverage{{Move: 5, Of100: 90}}
		s.NewestGames = []fact.PlayedGame{{Yours: "1", Rival: "Elm", Date: pgn.ParseDate("2026.05.01"), Moves: san("e4 c5"), Plies: 60}}
		a := l.around(s, top, treeSet{}, 400)
		var got [3]float64
		for i, title := range []string{words.HowFar, words.NewestGames, words.ToWrite} {
			got[i], _ = ruleOver(a.Items, title)
		}
		if got != want || !slices.Equal(a.on.Sections, []string{words.HowFar, words.NewestGames, words.ToWrite}) {
			t.Errorf("%g high: at %v, want %v; %q", tall, got, want, a.on.Sections)
		}
		if a.spare != 400-tall {
			t.Errorf("%g high: %g are left under it", tall, a.spare)
		}
	}
}

// Cards stand under the lines, the sections behind them; the moves that have one stand in no
// other section. They go where they cost a section its place.
func TestCardsAmongTheSections(t *testing.T) {
	l, s := twoCards(t)
	s.Boards = []fact.Diagram{{Line: s.Unanswered[0].Line, EPD: s.Unanswered[0].EPD, View: "black", Why: fact.BoardNoAnswer}}
	two := l.cards(s, 2).H
	a := l.beside(s, treeSet{}, 100, 700)
	x, y := ruleOver(a.Items, words.NoAnswer)
	if wx, wy := ruleOver(a.Items, words.ToWrite); x != 0 || y != 100 || wx != 0 || !about(wy, 100+two+air) || !about(a.spare, 600-two-air) || !slices.Equal(a.on.Sections, []string{words.ToWrite}) {
		t.Errorf("cards at %g, %g, room to write at %g, %g, %g left: %q", x, y, wx, wy, a.spare, a.on.Sections)
	}
	s.Unanswered = append(s.Unanswered, fact.Unanswered{Line: san("c4"), Reach: 0.1, Of: 30})
	a = l.beside(s, treeSet{}, 100, 100+leading+2+two+2*cardsApart) // two of three
	if got := strings.Join(runsOf(a.Items, func(r sheet.Run) bool { return r.Gray == sheet.White }), ""); got != "ABC" || !slices.Equal(a.on.Sections, []string{words.NoAnswer, words.ToWrite}) {
		t.Errorf("two cards and a third move: %s, %q", got, a.on.Sections)
	}
	s.Unanswered, s.Boards = s.Unanswered[:2], nil
	notes := slices.Repeat([]planned{{1, san("e4"), strings.Repeat("a long plan ", 20)}}, 4)
	s.Orders = []fact.Order{{Line: san("d4 d6"), Move: "b3", Pet: "e5", Other: "Nf3", Games: 2, Met: 9, Share: share(7, 5, 8, 12, 18)}}
	s.Options = []fact.Option{{Move: "Nc3"}, {Move: "Na3"}, {Move: "a3"}, {Move: "b3"}}
	for h, want := range map[float64]bool{260: false, 310: true} {
		a := l.beside(s, treeSet{notes: notes}, 70, h)
		cards := 0
		for _, it := range a.Items {
			if r, ok := it.(sheet.Rect); ok && about(r.H, cardBoxTall) {
				cards++
			}
		}
		whole := func(o sheet.Loss) bool { return o.Count == 0 && o.Clauses == 0 }
		if (cards == 2) != want || cards == 1 || l.cardsIn(s, h-70) != 2 || slices.ContainsFunc(a.lost, whole) || slices.Contains(a.on.Sections, words.NoAnswer) == want || !slices.Contains(a.on.Sections, words.YourOptions) {
			t.Errorf("%g high: %d cards, lost %v: %q", h, cards, a.lost, a.on.Sections)
		}
	}
}

// What a card has no room to say is told among what is missing.
func TestCardsThatLose(t *testing.T) {
	l, s := twoCards(t)
	for i := range s.Unanswered {
		s.Unanswered[i].Others = slices.Repeat([]fact.Met{{Move: "Be3", Games: 9, Then: []fact.GoesOn{{Move: "e5", Games: 8, Of: 9}}}}, 60)
	}
	for i := range 2 {
		if b := l.card(s, i, 345); len(b.Lost) != 1 || b.Lost[0].Title != words.NoAnswer || b.Lost[0].Clauses == 0 || b.Lost[0].Count > 0 {
			t.Errorf("card %d lost %+v", i, b.Lost)
		}
	}
	cards := l.cards(s, 2)
	if len(cards.Lost) != 2 {
		t.Errorf("two cards lost %+v", cards.Lost)
	}
	if a := l.beside(s, treeSet{}, 0, 2000); !slices.Equal(a.Lost, cards.Lost) || !slices.Equal(a.lost, cards.Lost) {
		t.Errorf("beside the lines %+v is lost, want %+v", a.Lost, cards.Lost)
	}
}

// The sections follow each other in the order of what a player wants most; what a row of the
// lines or a plan tells none of them tells again.
func TestOrderOfSections(t *testing.T) {
	gap := func(move string) fact.Unanswered {
		return fact.Unanswered{Line: san("e4 c5 Nf3 d6 d4 " + move), Reach: 0.1, Of: 30}
	}
	moves := san("e4 c5 Nf3 d6 d4 cxd4 Nxd4 Nf6 Nc3 a6 Be3 e5 Nb3 Be6 f3 Be7")
	game := fact.PlayedGame{Yours: "1", Rival: "Elm", Moves: moves, Plies: 60, EPD: "8/8/8/8/8/8/8/K6k w - -"}
	s := fact.Side{
		MyColor: "white", Boards: []fact.Diagram{{Line: san("e4"), EPD: "8/8/8/8/8/8/8/7k w - -", View: "white", Why: fact.BoardBookEnds, Reach: 0.1, Of: 30}},
		Unanswered: []fact.Unanswered{gap("a6"), gap("b6")}, Mistakes: []fact.Mistake{{Line: san("e4 f6"), Games: 2, Reached: 3}},
		Orders:   []fact.Order{{Line: san("d4 d6"), Move: "b3", Pet: "e5", Other: "Nf3", Games: 2, Met: 9, Share: share(7, 5, 8, 12, 18)}},
		Surprise: fact.Surprise{SetUp: san("g3 Bg2"), Note: "be calm", NoteLine: san("e4")}, Options: []fact.Option{{Move: "Nc3"}, {Move: "Na3"}},
		ModelGames: []fact.ModelGames{{Line: san("c4"), Games: []fact.ModelGame{{Deep: 1, PlayedGame: game}}}}, KnowOfYou: &fact.Shown{Games: 9, Choices: 4, Known: 3},
		Coverage: []fact.Coverage{{Move: 5, Of100: 90}}, NewestGames: []fact.PlayedGame{game},
	}
	rep := &fact.Report{Sides: []fact.Side{s}, About: []fact.About{{Kind: fact.AtOnce, N: 3, Above: true, Move: 12, UsualMove: 6}}}
	rep.Basis.Meetings = []fact.GameRow{{Theirs: "black", Score: "0", Moves: san("e4 e5")}}
	l, _ := layoutOf(t, rep)
	l.form = form{lines: 345, under: 1, most: 1, boards: 2, gaps: 99}
	lines := treeSet{notes: []planned{{1, san("e4"), "be calm"}}, letters: map[string]bool{"A": true}}
	want := []string{
		words.Boards, words.NoAnswer, words.BetweenYou, words.YourPlans, words.WatchFor, words.MoveOrder, words.IfSurprised, words.YourOptions, words.ToPlayThrough, words.AboutThem, words.TheyCanKnow,
		words.HowFar, words.NewestGames, words.ToWrite,
	}
	a := l.beside(&rep.Sides[0], lines, 0, 3000)
	if !slices.Equal(a.on.Sections, want) {
		t.Errorf("%q\nwant %q", a.on.Sections, want)
	}
	text := strings.Join(strings.Fields(strings.Join(runsOf(a.Items, func(sheet.Run) bool { return true }), " ")), " ")
	if n := strings.Count(text, "be calm"); n != 1 {
		t.Errorf("the note stands %d times", n)
	}
	if !strings.Contains(text, "A 1...c5 2.♞f3 d6 3.d4 a6 · ") || !strings.Contains(text, "B 1.e4 c5 2.♞f3 d6 3.d4 b6 · ") {
		t.Errorf("which gap is told from the first move: %s", text)
	}
	rep.Sides[0].FewGames = []fact.PlayedGame{game}
	want = append(slices.DeleteFunc(want, func(s string) bool {
		return s == words.ToPlayThrough || s == words.HowFar || s == words.NewestGames || s == words.ToWrite
	}), words.AfterEight, words.HowFar, words.ToWrite)
	if got := l.beside(&rep.Sides[0], lines, 0, 3000).on.Sections; !slices.Equal(got, want) {
		t.Errorf("of few games %q\nwant %q", got, want)
	}
}
