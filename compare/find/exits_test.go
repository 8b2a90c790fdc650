package find

import (
	"fmt"
	"reflect"
	"slices"
	"testing"

	"foreply/compare/fact"
	"foreply/fetch/pgn"
	"foreply/profile/board"
)

// The lines to expect, whole, likeliest first: where each ends and why, how often, in which
// games, with the note nearest to it and where the book has it.
func TestExitsWhole(t *testing.T) {
	w, games := small(t)
	want := []fact.Exit{
		{Kind: fact.BookEnds, Line: fields("e4 e5 Nf3 Nc6 Bb5"), Of100: 56, Came: 7, Games: 7, Note: "Castle.", NotePly: 3, FileLine: 4, Last: pgn.ParseDate("2026.01.07"),
			Newest: refs("blitz", "7 2026.01.07", "6 2026.01.06", "5 2026.01.05")},
		{Kind: fact.BookEnds, Line: fields("e4 c5"), Of100: 20, Came: 2, Games: 2, YourMove: true, Note: "Head.", FileLine: 2, Last: pgn.ParseDate("2026.03.02"), Newest: refs("blitz", "11 2026.03.02", "10 2026.03.01")},
		{Kind: fact.TheyLeave, Line: fields("e4 e5 Nf3 d6"), Of100: 16, Came: 2, Games: 2, YourMove: true, Note: "Castle.", NotePly: 3, FileLine: 3, Last: pgn.ParseDate("2026.02.02"), Newest: refs("classical", "9 2026.02.02", "8 2026.02.01")},
		{Kind: fact.TheyLeave, Line: fields("e4 e5 Nf3"), Of100: 8, Unseen: true, Note: "Castle.", NotePly: 3, FileLine: 3},
	}
	got := Exits(w, games)
	if len(got) != len(want) {
		t.Fatalf("%+v", got)
	}
	for i, e := range w.Sorted() {
		x := want[i]
		end := lineOf(line(x.Line))
		x.Reach, x.Orders, x.Of, x.File, x.EPD, x.ECO, x.Name, x.Structure = got[i].Reach, 1, 11, "book.pgn", end.End.EPD(), end.Opening().ECO, end.Opening().Name, Structure(&end)
		if x.Lo, x.Hi = e.Interval(); x.Lo >= x.Hi || !near(got[i].Reach, []float64{0.56, 0.2, 0.16, 0.08}[i]) {
			t.Errorf("%d: %v to %v", i, x.Lo, x.Hi)
		}
		if !reflect.DeepEqual(got[i], x) {
			t.Errorf("%d: got\n  %+v\nwant\n  %+v", i, got[i], x)
		}
	}
}

// An unfinished book of Black's: the ways that books and walks are told for both colours.
func TestExitsOfBlack(t *testing.T) {
	b := bookAs(t, board.Black, "1. e4 e5 2. Nf3 Nc6 *")
	p := gamesAs(t, board.White, "2026.01.01 1-0 300: e4 e5 Nf3 Nc6 Bb5", "2026.01.02 1-0 300: e4 e5 Bc4 Nf6", "2026.01.03 1-0 300: d4 d5")
	w := walked(b, chances{"": "e4 75 2 d4 25 1", "e4 e5": "Nf3 60 1 Bc4 40 1"})
	var got []string
	for _, x := range Exits(w, Games{All: p.Games, Tree: p.Tree(board.White)}) {
		got = append(got, fmt.Sprintf("%s %s %.2f %d of %d, your move %v", x.Kind, line(x.Line), x.Reach, x.Came, x.Of, x.YourMove))
	}
	if want := []string{"book_ends e4 e5 Nf3 Nc6 0.45 1 of 3, your move false", "they_leave e4 e5 Bc4 0.30 1 of 3, your move true", "they_leave d4 0.25 1 of 3, your move true"}; !slices.Equal(got, want) {
		t.Errorf("%q", got)
	}
}

// Of an end where they leave it is told in how many games they did, not in how many they could.
func TestExitsCame(t *testing.T) {
	c := compare(t, gamesOf(t, slices.Concat(repeated(10, "1-0 300 2000: e4 e5 Nf3 f5"), repeated(20, "1-0 300 2000: e4 e5 Nf3 Nc6"))...), "1. e4 e5 2. Nf3 Nc6 3. Bb5 *")
	for _, x := range Exits(c.w, c.games) {
		if line(x.Line) == "e4 e5 Nf3 f5" {
			if x.Kind != fact.TheyLeave || x.Came != 10 || x.Games != 10 || x.Of != 30 {
				t.Errorf("%+v", x)
			}
			return
		}
	}
	t.Error("no end with 2...f5")
}

// A move never seen from them has no games to cite, though games came to where it is played.
func TestExitsNeverSeen(t *testing.T) {
	c := compare(t, gamesOf(t, repeated(10, "1-0 300 2000: e4 e5 Nf3 Nc6")...), "1. e4 e5 2. Nf3 *")
	seen, unseen := 0, 0
	for _, x := range Exits(c.w, c.games) {
		if x.Unseen {
			unseen++
			if x.Games != 0 || x.Last.Known() || len(x.Newest) != 0 || x.Instant != nil {
				t.Errorf("%+v", x)
			}
			continue
		}
		if seen++; x.Games != 10 || x.Last.String() != "2026-01-10" {
			t.Errorf("%+v", x)
		}
	}
	if seen != 1 || unseen != 1 {
		t.Errorf("%d seen and %d unseen", seen, unseen)
	}
}
