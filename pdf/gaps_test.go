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
	u := fact.Unanswered{Line: san("d4 d5 Nc3"), Others: []fact.Met{{Move: "Nf6", Then: []fact.GoesOn{{Move: "Bf4", Games: 4, Of: 6, Gap: 2}}}, {Move: "e6", Then: []fact.GoesOn{{Move: "e4", Games: 5, Of: 6}, {Move: "dxe4", Games: 4, Of: 5, Gap: 1}}}}}
	if got := saidIn(c.onward(&u, true)); got != " · 2...♞f6 3.♝f4 in 4 of 6 (also B) · 2...e6 3.e4 in 5 of 6; then 3...dxe4 in 4 of 5 (made 0) (also A)" {
		t.Errorf("%q", got)
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
	rows := c.gapRows(0, nil, false).Rows
	for i, ticks := range []int{1, 1, 0} {
		for _, it := range rows[i].Set(99).Items {
			if r, ok := it.(sheet.Rect); ok && r.W == tickSize {
				ticks--
			}
		}
		if ticks != 0 {
			t.Errorf("row %d has %d squares to tick too few", i, ticks)
		}
	}
	c.W = 60 // all of them stand, however many lines they take
	if shared := c.gapRows(0, nil, false).Rows[2]; shared.Fewest < 4 || len(shared.Set(shared.Fewest).Lost) > 0 {
		t.Errorf("in %d lines is lost %v", shared.Fewest, shared.Set(shared.Fewest).Lost)
	}
	c.W = 250
	got := rowsOfPart(c.gapRows(0, nil, false))
	if len(got) != 3 || !strings.Contains(got[0], "A 1.e4 a6") || !strings.Contains(got[1], "B 1.e4 b6") || !strings.HasPrefix(got[2], "C ") || !strings.Contains(got[2], "; D ") {
		t.Errorf("%q", got)
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

// How games went on behind each answer stands in lines of its own as long as nothing is lost
// by that; else behind the other facts.
func TestOnwardInLinesOfItsOwn(t *testing.T) {
	met := func(move, then string) fact.Met {
		return fact.Met{Move: move, Games: 9, Then: []fact.GoesOn{{Move: then, Games: 7, Of: 9}}}
	}
	c := columnFor(t, fact.Side{MyColor: "white", Unanswered: []fact.Unanswered{{Line: san("e4 e5 Nf3 f5"), Reach: 0.3, Of: 30, Others: []fact.Met{met("Nxe5", "Nf6"), met("exf5", "e4")}}}})
	c.W = 400
	rows := map[string]bool{"A": true}
	airy, dense, p := c.Measure(c.gapRows(0, rows, true)), c.Measure(c.gapRows(0, rows, false)), c.gaps(0, rows)
	if airy.Want <= dense.Want || p.Want != airy.Want || p.Least != dense.Least {
		t.Errorf("wants %g, at least %g; %g in lines of its own, %g without", p.Want, p.Least, airy.Want, dense.Want)
	}
	for h, want := range map[float64]bool{airy.Want: true, airy.Want - 1: false, dense.Want: false} {
		b := p.At(h)
		begins := 0
		for _, it := range b.Items {
			if r, ok := it.(sheet.Run); ok && r.X == 0 && (strings.HasPrefix(r.S, "3.♞xe5") || strings.HasPrefix(r.S, "3.exf5")) {
				begins++
			}
		}
		if begins != map[bool]int{true: 2}[want] || len(b.Lost) > 0 {
			t.Errorf("%g high: %d begin a line, lost %v", h, begins, b.Lost)
		}
	}
}

// Behind cards the gaps keep their letters, and one whose row stands is told by its end.
func TestGapsBehindCards(t *testing.T) {
	line := "e4 e5 Nf3 Nc6 Bc4 Bc5 c3 "
	gap := func(move string) fact.Unanswered { return fact.Unanswered{Line: san(line + move), Reach: 0.1, Of: 30} }
	c := columnFor(t, fact.Side{MyColor: "white", Unanswered: []fact.Unanswered{gap("a6"), gap("b6"), gap("d6")}})
	for stands, want := range map[string][2]string{
		"A": {"B 1.e4 e5 2.♞f3 ♞c6 3.♝c4 ♝c5 4.c3 b6 · ", "C 1.e4 e5 2.♞f3 ♞c6 3.♝c4 ♝c5 4.c3 d6 · "}, "B": {"B 2...♞c6 3.♝c4 ♝c5 4.c3 b6 · ", "C 1.e4 e5 2.♞f3 ♞c6 3.♝c4 ♝c5 4.c3 d6 · "},
	} {
		got := rowsRead(c.gapRows(1, map[string]bool{stands: true}, false))
		if len(got) != 2 || !strings.HasPrefix(got[0], want[0]) || !strings.HasPrefix(got[1], want[1]) {
			t.Errorf("the row of %s stands: %q", stands, got)
		}
	}
}
