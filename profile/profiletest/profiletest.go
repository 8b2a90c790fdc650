// Package profiletest makes profiles of games that tests of the rooms above write as
// rows. Only tests import it.
package profiletest

import (
	"fmt"
	"strings"
	"testing"

	"foreply/fetch/pgn"
	"foreply/profile"
	"foreply/profile/board"
)

// Today is the day of the game to come.
var Today = pgn.Date{Year: 2026, Month: 11, Day: 25}.Span()

// Repeated is a row of a game, without its date, on so many days.
func Repeated(n int, row string) []string {
	var rows []string
	for i := range n {
		rows = append(rows, fmt.Sprintf("2026.%02d.%02d %s", i/28+1, i%28+1, row))
	}
	return rows
}

// Judged makes a profile of games of 'Them' with Black against Elm, as
// 'date result timecontrol: moves'. Behind the control the other's rating may stand,
// Them being rated 2000 then, and behind that the name of the event; '-' is no rating.
// A word as =0.3 is the evaluation after the move before it, from White's side.
func Judged(t testing.TB, rows ...string) *profile.Profile {
	t.Helper()
	var text strings.Builder
	for _, row := range rows {
		head, moves, _ := strings.Cut(row, ":")
		f := strings.Fields(head)
		fmt.Fprintf(&text, "[White \"Elm\"]\n[Black \"Them\"]\n[Date %q]\n[Result %q]\n[TimeControl %q]\n", f[0], f[1], f[2])
		if len(f) > 4 {
			fmt.Fprintf(&text, "[Event %q]\n", strings.Join(f[4:], " "))
		}
		if len(f) > 3 && f[3] != "-" {
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
