package compare

import (
	"fmt"
	"slices"
	"strings"
	"testing"

	"foreply/compare/book"
	"foreply/profile/board"
)

// switchRows are games at a time control on days of a month each: first the old
// line, then the new one.
func switchRows(month int, clock, old, anew string) []string {
	var rows []string
	for i := range 28 {
		line := old
		if i >= 20 {
			line = anew
		}
		rows = append(rows, fmt.Sprintf("2026.%02d.%02d 1-0 %s 2000 Elm: %s", month, i+1, clock, line))
	}
	return rows
}

// A change at several speeds is told once; what your book meets comes first, and
// one that it never meets last.
func TestChangesAreToldOnce(t *testing.T) {
	for name, c := range map[string]struct {
		rows []string
		want []string
	}{
		"at one speed": {
			switchRows(9, "300", "e4 e5 Nf3 Nc6", "e4 c5 Nf3 d6"),
			[]string{"against 1.e4, in blitz since 21 Sep 2026: 1...c5 in the last 8, before that 1...e5 in all 20"},
		},
		"at three": {
			slices.Concat(
				switchRows(8, "900+10", "e4 e5 Nf3 Nc6", "e4 c5 Nf3 d6"),
				switchRows(9, "300", "e4 e5 Nf3 Nc6", "e4 c5 Nf3 d6"),
				switchRows(10, "5400", "e4 e5 Nf3 Nc6", "e4 c5 Nf3 d6"),
			),
			[]string{
				"against 1.e4, in blitz since 21 Sep 2026: 1...c5 in the last 8, before that 1...e5 in all 20; " +
					"the same in rapid and slow games",
			},
		},
		"one that you cannot meet": {
			slices.Concat(
				switchRows(8, "300", "d4 d5 c4 e6", "d4 Nf6 c4 e6"),
				switchRows(9, "300", "c4 e5 g3 Nf6", "c4 c5 g3 Nc6"),
				switchRows(10, "300", "e4 e5 Nf3 Nc6", "e4 c5 Nf3 d6"),
			),
			[]string{
				"against 1.e4, in blitz since 21 Oct 2026: 1...c5 in the last 8, before that 1...e5 in all 20",
				"against 1.d4, in blitz since 21 Aug 2026: 1...Nf6 in the last 8, before that 1...d5 in all 20",
			},
		},
	} {
		t.Run(name, func(t *testing.T) {
			repertoire := bookOf(t, board.White, "1. e4 e5 (1... c5 2. c3) 2. Nf3 *")
			rep := Make(Input{Profile: gamesOf(board.Black, c.rows...), Books: []*book.Book{repertoire}}, Options{When: today})
			var got []string
			for _, ch := range rep.Sides[0].Changes {
				got = append(got, ch.Text)
			}
			if !slices.Equal(got, c.want) {
				t.Errorf("got\n  %s\nwant\n  %s", strings.Join(got, "\n  "), strings.Join(c.want, "\n  "))
			}
		})
	}
}
