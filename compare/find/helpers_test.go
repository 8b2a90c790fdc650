package find

import (
	"fmt"
	"strings"
	"testing"

	"foreply/compare/book"
	"foreply/compare/walk"
	"foreply/fetch/pgn"
	"foreply/profile"
	"foreply/profile/board"
)

// today is the day of the game to come, in every test.
var today = pgn.Date{Year: 2026, Month: 11, Day: 25}.Span()

// repeated is a row of a game on so many days.
func repeated(n int, row string) []string {
	var rows []string
	for i := range n {
		rows = append(rows, fmt.Sprintf("2026.%02d.%02d %s", i/28+1, i%28+1, row))
	}
	return rows
}

// gamesOf makes a profile of games of 'Them', rated 2000, with Black: 'date result
// timecontrol elo: moves' with the other's rating, and behind it the event if it has a name, where a word as =0.3 is the
// evaluation after the move before it, from White's side.
func gamesOf(t testing.TB, rows ...string) *profile.Profile {
	t.Helper()
	var text strings.Builder
	for _, row := range rows {
		head, moves, _ := strings.Cut(row, ":")
		f := strings.Fields(head)
		fmt.Fprintf(&text, "[White \"Elm\"]\n[Black \"Them\"]\n[Date %q]\n[Result %q]\n[TimeControl %q]\n", f[0], f[1], f[2])
		if len(f) > 4 { // an event
			fmt.Fprintf(&text, "[Event %q]\n", strings.Join(f[4:], " "))
		}
		if f[3] != "-" {
			fmt.Fprintf(&text, "[WhiteElo %q]\n[BlackElo \"2000\"]\n", f[3])
		}
		text.WriteByte('\n')
		for word := range strings.FieldsSeq(moves) {
			if eval, ok := strings.CutPrefix(word, "="); ok {
				word = "{[%eval " + eval + "]}"
			}
			text.WriteString(word + " ")
		}
		text.WriteString(f[1] + "\n\n")
	}
	r := pgn.NewReader(strings.NewReader(text.String()), pgn.Options{File: "games.pgn"})
	p := profile.Build(r.All(), profile.Options{Them: func(*pgn.Game) (board.Color, bool) { return board.Black, true }})
	if len(p.Games) != len(rows) || len(p.Problems) > 0 {
		t.Fatalf("the test's own games: %d of %d, %v", len(p.Games), len(rows), p.Problems)
	}
	return p
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
