package find

import (
	"strings"
	"testing"

	"foreply/compare/book"
	"foreply/compare/walk"
	"foreply/fetch/pgn"
	"foreply/profile"
	"foreply/profile/board"
	"foreply/profile/profiletest"
)

// today is the day of the game to come, in every test.
var today = profiletest.Today

var repeated = profiletest.Repeated

// gamesOf makes a profile of games of 'Them' with Black.
func gamesOf(t testing.TB, rows ...string) *profile.Profile {
	t.Helper()
	return profiletest.Judged(t, rows...)
}

// bookOf is a book of White's of chapters in PGN.
func bookOf(t testing.TB, chapters ...string) *book.Book {
	t.Helper()
	b := book.New(board.White)
	for _, text := range chapters {
		for g := range pgn.NewReader(strings.NewReader(text), pgn.Options{File: "book.pgn", Variations: true}).All() {
			b.Add(g)
		}
	}
	for _, p := range b.Problems {
		if p.Severity == pgn.Error {
			t.Fatalf("the test's own book: %v", p)
		}
	}
	return b
}

// compared is a walk of a book against games, and what findings take beside it.
type compared struct {
	w     *walk.Walk
	games Games
	look  *profile.Outlook
	p     *profile.Profile
}

func compare(t testing.TB, p *profile.Profile, chapters ...string) compared {
	t.Helper()
	look := profile.NewForecast(p, board.Black, profile.ForecastOptions{}).On(today)
	w := walk.New(bookOf(t, chapters...), look, walk.Options{MaxPly: 40, Threshold: 0.01})
	w.Run(board.Start(), 0)
	return compared{w, Games{All: p.Games, Tree: p.Tree(board.Black)}, look, p}
}

// line is moves as one string.
func line(sans []string) string { return strings.Join(sans, " ") }

// fields are the moves of a line.
func fields(line string) []string { return strings.Fields(line) }
