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

// A game of few stands with its moves as far as they tell something, further where there is
// room; dots where it went on, and what the book says to it.
func TestPlayedGames(t *testing.T) {
	c := columnFor(t, fact.Side{MyColor: "white"})
	g := &fact.PlayedGame{Yours: "½", Date: pgn.ParseDate("2026.05.01"), Rival: "Elm", RivalElo: 2000, Moves: san("e4 c5 Nf3 d6 d4 cxd4"), Plies: 40, Telling: 2, LeftBy: fact.LeftByThem, LeftPly: 1}
	read := func(lines int) string {
		var out []string
		for _, it := range c.playedGame("title", g).Set(lines).Items {
			out = append(out, it.(sheet.Run).S)
		}
		return strings.Join(out, " ")
	}
	if got, want := read(1), "½ 1 May 2026, Elm 2000: 1.e4 c5 2.♞f3 d6 3.d4 cxd4 … – 1...c5 is not in your book"; got != want {
		t.Errorf("%q, want %q", got, want)
	}
	wide := func(plies int, more string) float64 { // of what stands with so many plies
		pieces := append(resultFirst(words.PlayedHead(g)), sheet.Piece{S: " "})
		pieces = append(pieces, lineOf(g.Moves[:plies], 0, func(ply int) bool { return ply == 1 })...)
		lines, _ := c.F.Break(c.F.Spans(append(append(pieces, sheet.Piece{S: more}), clausePieces(words.PlayedLeft(g))...), bodyStyle()), 9999, 0)
		return lines[0].W + 0.01
	}
	told := map[int]string{1: "1.e4", 4: "1.e4 c5 2.♞f3 d6", 6: "1.e4 c5 2.♞f3 d6 3.d4 cxd4"}
	for tell, want := range map[int]int{0: 1, 1: 1, 4: 4, 6: 6, 99: 6} {
		g.Telling = tell
		c.W = wide(max(want, 1), " … – ")
		row := c.playedGame("title", g)
		if got := read(1); row.Fewest != 1 || row.Most != mostGameLines || !strings.Contains(got, ": "+told[want]+" … – ") {
			t.Errorf("%d tell: %d to %d lines, %q", tell, row.Fewest, row.Most, got)
		}
		if c.W = wide(max(want, 1), " … – ") - 0.1; c.playedGame("title", g).Fewest != 2 {
			t.Errorf("%d tell: in less than their width %d lines", tell, c.playedGame("title", g).Fewest)
		}
	}
	c.W, g.Plies, g.LeftBy = 900, 6, fact.GameEnded
	if got, want := read(1), "½ 1 May 2026, Elm 2000: 1.e4 c5 2.♞f3 d6 3.d4 cxd4"; got != want {
		t.Errorf("%q, want %q", got, want)
	}
}

// Moves are told as far as they go into so many lines, so many at least.
func TestAsFarAsThereIsRoom(t *testing.T) {
	c := columnFor(t, fact.Side{})
	set := func(plies int) []sheet.Word {
		return c.F.Own(strings.TrimSpace(strings.Repeat("m ", plies)), ink(8.5, false))
	}
	wide := func(n int) float64 {
		return c.F.Regular.Width(strings.TrimSpace(strings.Repeat("m ", n)), 8.5) + 0.01
	}
	for _, tc := range []struct{ room, least, most, lines, want int }{{5, 1, 9, 1, 5}, {5, 1, 9, 2, 9}, {5, 1, 4, 1, 4}, {5, 6, 9, 2, 9}, {4, 1, 9, 2, 8}, {5, 2, 2, 1, 2}} {
		c.W = wide(tc.room)
		n := 0
		for _, l := range c.asFar(set, tc.least, tc.most, tc.lines) {
			n += len(strings.Fields(l.Items[0].S))
		}
		if n != tc.want {
			t.Errorf("%+v: %d", tc, n)
		}
	}
}

// The newest games stand with ten half-moves at least; one of them stands, the others are no
// loss.
func TestNewestGames(t *testing.T) {
	moves := san("e4 c5 Nf3 d6 d4 cxd4 Nxd4 Nf6 Nc3 a6 Be3 e5")
	c := columnFor(t, fact.Side{MyColor: "white", NewestAlong: true, NewestGames: []fact.PlayedGame{{Yours: "1", Rival: "Elm", Moves: moves, Plies: 60}, {Yours: "0", Rival: "Oak", Moves: moves[:1], Plies: 60}}})
	p := c.newest()
	partIs(t, p, words.NewestGames, 1, "1 Elm: 1.e4 c5 2.♞f3 d6 3.d4 cxd4 4.♞xd4 ♞f6 5.♞c3 a6 6.♝e3 e5", "0 Oak: 1.e4")
	if p.Plenty != 1 || !slices.Equal(p.Asides, words.NewestAsides(true)) || p.Rows[0].Fewest != 1 || p.Rows[0].Most != 2 {
		t.Errorf("%+v", p)
	}
	if bold := runsOf(p.Rows[0].Set(2).Items, func(r sheet.Run) bool { return r.Bold }); !slices.Equal(bold, []string{"1"}) {
		t.Errorf("bold %q", bold)
	}
	two := c.side.NewestGames
	c.side.NewestGames = slices.Repeat(two, 6)
	if got := len(c.newest().Rows); got != 12 {
		t.Errorf("%d of twelve games", got)
	}
	c.side.NewestGames, c.side.NewestAlong = two, false
	if p := c.newest(); !slices.Equal(p.Asides, words.NewestAsides(false)) {
		t.Errorf("%q", p.Asides)
	}
	c.W = 100
	row := c.newest().Rows[0]
	text := ""
	for _, it := range row.Set(row.Fewest).Items {
		text += " " + it.(sheet.Run).S
	}
	if !strings.Contains(text, "a6") || row.Fewest < 3 {
		t.Errorf("in %d lines %q", row.Fewest, text)
	}
}

// Games to play through have a square to tick; a likelier line's games are told once; two
// stand at least.
func TestGamesToPlayThrough(t *testing.T) {
	game := func(n, deep int) fact.ModelGame {
		return fact.ModelGame{Deep: deep, PlayedGame: fact.PlayedGame{File: "club.pgn", Game: n, Date: pgn.ParseDate("2026.05.01")}}
	}
	c := columnFor(t, fact.Side{MyColor: "white", ModelGames: []fact.ModelGames{
		{Line: san("e4 c5 Nf3"), Reach: 0.5, Games: []fact.ModelGame{game(1, 2), game(2, 2)}}, {Line: san("e4 c5 d4"), Games: []fact.ModelGame{game(3, 2)}}, {Line: san("d4")}, {Games: []fact.ModelGame{game(4, 1)}},
		{Line: san("c4"), Reach: 0.25, Games: []fact.ModelGame{game(5, 9)}}, {Line: san("b4"), Games: []fact.ModelGame{game(6, 1)}},
	}})
	p := c.playThrough()
	partIs(t, p, words.ToPlayThrough, 2, "1.e4 c5 club 1, May 2026; 2, May 2026", "1.c4 club 5, May 2026", "1.b4 club 6, May 2026")
	if p.Rows[0].Weight != 0.5 || p.Rows[1].Weight != 0.25 || p.Rows[0].Most != 4 {
		t.Errorf("%+v", p.Rows)
	}
	if tick, ok := p.Rows[0].Set(4).Items[0].(sheet.Rect); !ok || tick.Filled || !about(tick.W, tickSize) {
		t.Errorf("%+v", p.Rows[0].Set(4).Items[0])
	}
	c.side.ModelGames = c.side.ModelGames[:1]
	if p := c.playThrough(); p.Short != 1 {
		t.Errorf("%d of one stand", p.Short)
	}
}

// Against whom a game to play through was is told where that costs no line.
func TestRivalsOfGamesToPlayThrough(t *testing.T) {
	c := columnFor(t, fact.Side{MyColor: "white", ModelGames: []fact.ModelGames{
		{Line: san("e4"), Games: []fact.ModelGame{{Deep: 1, PlayedGame: fact.PlayedGame{File: "club.pgn", Game: 7, Rival: "Elm, Ada"}}}},
	}})
	for w, want := range map[float64]string{900: "1.e4 club 7, Elm", 70: "1.e4 club 7"} {
		c.W = w
		if got := rowsRead(c.playThrough()); !slices.Equal(got, []string{want}) {
			t.Errorf("%g wide: %q, want %q", w, got, want)
		}
	}
}

// Few games stand over the lines, all of them where there is room, else in what the lines
// leave: at least half the height.
func TestFewGamesOverTheLines(t *testing.T) {
	rep := gamesReport(9)
	l, _ := layoutOf(t, rep)
	s := &rep.Sides[0]
	all := l.fewGames(s, 900)
	c := &column{Column: l.columnOf(l.form.lines), l: l, side: s}
	p := sheet.Part{Title: words.AllGames(s), Asides: []string{words.PointsAreYours}}
	for i := range s.FewGames {
		p.Rows = append(p.Rows, c.playedGame(p.Title, &s.FewGames[i]))
	}
	m := c.Measure(p)
	sameDrawn(t, "all", all.Items, m.At(m.Want).Items)
	if !about(all.H, m.Want+air) || len(all.Lost) > 0 {
		t.Errorf("%g high of %g, lost %v", all.H, m.Want, all.Lost)
	}
	s.FewGames = slices.Repeat(s.FewGames, 3)
	for i := range s.FewGames[9:] {
		p.Rows = append(p.Rows, c.playedGame(p.Title, &s.FewGames[9+i]))
	}
	if m = c.Measure(p); m.Want < behindGames+20 {
		t.Fatalf("the games want no more than %g", m.Want)
	}
	for h, room := range map[float64]float64{behindGames + 100: behindGames/2 + 50, 2*behindGames + 20: behindGames + 20} {
		b := l.fewGames(s, h)
		sameDrawn(t, "low", b.Items, m.At(min(m.Want, room)).Items)
		if b.H > room+air+0.02 {
			t.Errorf("of %g points %g are taken", h, b.H)
		}
	}
	if b := l.fewGames(&fact.Side{NewestGames: s.FewGames}, 900); b.H != 0 || len(b.Items) > 0 {
		t.Errorf("no few games: %+v", b)
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
		{Line: san("c4 b6"), Games: []fact.ModelGame{{Deep: 2, PlayedGame: fact.PlayedGame{File: "club.pgn", Game: 6}}}},
	}
	_, c := layoutOf(t, rep)
	c.side = s
	got := rowsOfPart(c.playThrough())
	if len(got) != 3 || !strings.HasSuffix(got[0], "B 1...b6 club 7") || got[2] != "1.c4 b6 club 6" || !strings.HasSuffix(got[1], "1.e4 e5 2.♞f3 ♞c6 3.♝b5 club 8") {
		t.Errorf("%q", got)
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
	c.side.ModelGames = []fact.ModelGames{{Line: san("c4"), Games: []fact.ModelGame{{Deep: 1}}}}
	if rows := c.playThrough().Rows; len(rows) > 0 {
		t.Error("games that all stand whole are told again")
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
