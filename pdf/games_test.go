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
	c.side.NewestAlong = false
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

// What is known of a move without an answer: how others met it, what an engine plays, what it
// rests on, the set-up, how games went on.
func TestKnownWhole(t *testing.T) {
	u := &fact.Unanswered{
		Line: san("e4 c5 Nf3 a6"), Share: share(3, 1, 5, 7, 20), Games: 7, Last: pgn.ParseDate("2026.10"), SetUp: san("c3 d4"), SetUpPly: 2, PeerGames: 9,
		Others: []fact.Met{{Move: "c4", Games: 8, Score: fact.Score{Wins: 2, Draws: 1, Losses: 5}, Then: []fact.GoesOn{{Move: "e6", Games: 6, Of: 8}, {Move: "d4", Games: 4, Of: 6}}}, {Move: "d4", Games: 3, Then: []fact.GoesOn{{Move: "cxd4", Games: 3, Of: 3}}}},
		Peers:  []fact.Met{{Move: "c3", Games: 4, Score: fact.Score{Losses: 4}}}, Best: []fact.Evaluated{{Moves: san("c3"), Centipawns: 30}, {Moves: san("c4 e6"), Centipawns: 20}},
	}
	c := columnFor(t, fact.Side{MyColor: "white"})
	want := " · *3.c4* 5½ of 8, *3.d4* – · the difference may be chance; most have played *3.c4*" +
		" · players like them met it with *3.c3* in 4 of 9 games (made 4) · best *3.c3* (+0.3) · or *3.c4* e6 (+0.2)"
	seenIn, rest := " · they played it in 7 of 20 games, last Oct 2026", " · Your set-up: *c3*, *d4* · *3.c4* e6 in 6 of 8; then *4.d4* in 4 of 6 (made 0) · *3.d4* cxd4 in 3 of 3"
	if got := seen(c.known(u, false)); got != want+seenIn+rest {
		t.Errorf("%q\nwant %q", got, want+seenIn+rest)
	}
	c.side.Few = true
	if got := seen(c.known(u, false)); got != want+rest {
		t.Errorf("counted: %q", got)
	}
	c.side.MyColor = "black"
	if got := seen(c.known(u, false)); !strings.HasPrefix(got, " · 3.c4 5½ of 8, 3.d4 –") || !strings.Contains(got, "3.c4 *e6* in 6 of 8; then 4.d4 in") || !strings.Contains(got, "best 3.c3 (-0.3)") {
		t.Errorf("with Black %q", got)
	}
}

// A gap's row is ticked, has its letter, the end of its line, how often it comes; from the
// third on those that are rare, or beyond what the form has rows for, share one.
func TestRowsOfGaps(t *testing.T) {
	gap := func(line string, reach float64) fact.Unanswered {
		return fact.Unanswered{Line: san(line), Reach: reach, Of: 30, Share: fact.Share{Of: 30}}
	}
	line := "e4 c5 Nf3 d6 d4 cxd4 Nxd4 "
	s := fact.Side{MyColor: "white", Unanswered: []fact.Unanswered{gap(line+"a6", 0.2), gap(line+"b6", 0.02), gap("", 0.5), gap(line+"c6", runIn), gap(line+"d6", 0.0299), gap("e4 e6", 0.01)}}
	c := columnFor(t, s)
	rows := map[string]bool{"A": true, "D": true, "E": true}
	p := c.gapRows(0, rows, false)
	got := rowsRead(p)
	want := []string{"A 2...d6 3.d4 cxd4 4.♞xd4 a6 · 2 in 10 games", "B 1.e4 c5 2.♞f3 d6 3.d4 cxd4 4.♞xd4 b6 · 1 in 50 games", "D 2...d6 3.d4 cxd4 4.♞xd4 c6 · 1 in 35 games", "E 3...cxd4 4.♞xd4 d6 1 in 35 games; F 1.e4 e6 1 in 100 games"}
	for i := range got {
		if i < len(want) && !strings.HasPrefix(got[i], want[i]) || len(got) != len(want) {
			t.Errorf("%d: %q, want %q", i, got[i], want[i])
		}
	}
	if p.Short != 4 || p.Title != words.NoAnswer || !slices.Equal(p.Asides, []string{words.PointsAreYours}) || p.Rows[0].Weight != 0.2 || p.Rows[2].Weight != runIn {
		t.Errorf("%+v", p)
	}
	c.l.form.gaps = 3
	if got := rowsRead(c.gapRows(0, rows, false)); len(got) != 3 || !strings.HasPrefix(got[2], "D 3...cxd4 4.♞xd4 c6 1 in 35 games; E ") {
		t.Errorf("no more rows than three: %q", got)
	}
	if got := rowsRead(c.gapRows(2, rows, false)); len(got) != 1 || !strings.HasPrefix(got[0], "D ") {
		t.Errorf("behind two cards: %q", got)
	}
	whole := c.gaps(0, rows)
	dense := c.Measure(c.gapRows(0, rows, false))
	if whole.Title != words.NoAnswer || whole.Least != dense.Least || whole.Want < dense.Want || len(whole.At(dense.Least).Items) == 0 {
		t.Errorf("%+v", whole)
	}
}
