package profile

import (
	"fmt"
	"strings"
	"testing"

	"foreply/fetch/pgn"
	"foreply/profile/board"
)

// All that is known of a game, from the opponent's side: colours, ratings, the rival, the
// place, the result, the days.
func TestAllOfAGame(t *testing.T) {
	text := "[White \"Other\"]\n[Black \"Them\"]\n[Date \"2026.02.??\"]\n[Result \"0-1\"]\n[WhiteElo \"1900\"]\n[BlackElo \"2100\"]\n[TimeControl \"300\"]\n\n1. e4 {[%eval 0.3]} e5 {[%emt 0:00:07]} 0-1\n\n"
	p := annotated(t, "[White \"Them\"]\n[Black \"Ash\"]\n[Date \"2026.03.04\"]\n[WhiteElo \"2110\"]\n[BlackElo \"1800\"]\n[Result \"0-1\"]\n\n1. d4 {[%emt 0:00:03]} d5 {[%emt 0:00:09]} 2. c4 *\n\n"+text)
	var got []string
	for i := range p.Games {
		g := &p.Games[i]
		seconds, _ := g.Spent(1)
		eval, _ := g.Eval(1, board.Black)
		got = append(got, fmt.Sprint(g.File, ":", g.Line, " game ", g.Index, " ", g.Theirs, " against ", g.Rival().Name, ", ", g.Elo, " against ", g.RivalElo, ", ", g.Result.Points(), ", ",
			g.Span.First, " to ", g.Span.Last, ", ", g.Class, ", ", len(g.Moves), " plies, ", seconds, "s, ", eval))
	}
	want := []string{"notes.pgn:10 game 2 black against Other, 2100 against 1900, 1, 2026-02-01 to 2026-02-28, blitz, 2 plies, 7s, -30",
		"notes.pgn:1 game 1 white against Ash, 2110 against 1800, 0, 2026-03-04 to 2026-03-04, unknown, 3 plies, 3s, 0"}
	if strings.Join(got, "\n") != strings.Join(want, "\n") {
		t.Errorf("%s\nwant\n%s", strings.Join(got, "\n"), strings.Join(want, "\n"))
	}
}

// The class is that of the clock alone; the speed is told by the event's name as well.
func TestClassAndSpeed(t *testing.T) {
	p := annotated(t, "[White \"Them\"]\n[Event \"Club blitz\"]\n\n1. e4 *\n\n[White \"Them\"]\n[Event \"Club blitz\"]\n[TimeControl \"60\"]\n\n1. e4 *\n")
	if a, b := p.Games[0], p.Games[1]; a.Class != UnknownClass || a.Speed != Blitz || b.Class != Bullet {
		t.Errorf("%v and %v, %v and %v", a.Class, a.Speed, b.Class, b.Speed)
	}
	if p.Games[0].Evaluated() || p.Games[0].Timed() {
		t.Error("a game without comments has evaluations or times")
	}
}

// Who is of which result, and older than whom.
func TestResultsAndAges(t *testing.T) {
	for result, want := range map[string][2]string{"1-0": {"1", "0"}, "0-1": {"0", "1"}, "1/2-1/2": {"½", "½"}, "*": {"*", "*"}, "": {"*", "*"}} {
		if got := [2]string{resultFor(board.White, result).Points(), resultFor(board.Black, result).Points()}; got != want {
			t.Errorf("%s is %v for White and Black, want %v", result, got, want)
		}
	}
	if (Results{Win: 0.5, Draw: 0.2, Loss: 0.3}).Score() != 0.6 {
		t.Error("half a point for a draw")
	}
	of := func(date, began, file string, index int) *Game {
		g := &pgn.Game{File: file, Index: index}
		g.SetTags(pgn.Tags{{Name: "Date", Value: date}, {Name: "UTCTime", Value: began}})
		out := newGame(g, board.White, nil)
		return &out
	}
	order := []*Game{of("????.??.??", "12:00:00", "z", 9), of("2026.01.01", "", "z", 9), of("2026.01.??", "", "a", 1), of("2026.01.20", "", "a", 1), of("2026.01.20", "10:00:00", "a", 1), of("2026.01.20", "10:00:01", "a", 1),
		of("2026.01.20", "10:00:01", "a", 2), of("2026.01.20", "10:00:01", "b", 1)}
	for i := range order {
		for k := range order {
			if got := older(order[i], order[k]) < 0; got != (i < k) {
				t.Errorf("game %d before game %d: %v", i, k, got)
			}
		}
	}
}

// A game is known to another if it is certainly earlier; one without a date is always, and
// before a day that is not known all are.
func TestKnownGames(t *testing.T) {
	for _, c := range []struct {
		game, when Span
		want       bool
	}{
		{on("2026.05.01"), on("2026.05.02"), true}, {on("2026.05.01"), on("2026.05.01"), false}, {on("2026.05.02"), on("2026.05.01"), false},
		{on("2026.04.??"), on("2026.05.??"), true}, {on("2026.05.01"), on("2026.05.??"), false}, {on("2026.05.??"), on("2026.05.31"), false},
		{Span{}, on("2026.05.01"), true}, {on("2026.05.01"), Span{}, true}, {Span{}, Span{}, true},
	} {
		if got := (&Game{Span: c.game}).knownOn(c.when); got != c.want {
			t.Errorf("a game of %v for one of %v: %v", c.game, c.when, got)
		}
	}
}
