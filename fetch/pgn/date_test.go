package pgn

import "testing"

// The first forms are those of the PGN standard 8.1.1.3, the others common
// practice.
func TestParseDate(t *testing.T) {
	for _, c := range []struct {
		quirk, tag string
		want       Date
	}{
		{"full", "2024.05.06", Date{2024, 5, 6}},
		{"day not known", "2024.05.??", Date{2024, 5, 0}},
		{"only the year", "1993.??.??", Date{1993, 0, 0}},
		{"nothing known", "????.??.??", Date{}},
		{"half of the year known", "19??.??.??", Date{}},
		{"day without its month", "2024.??.06", Date{2024, 0, 0}},
		{"no such month", "2024.13.06", Date{2024, 0, 0}},
		{"no such day", "2024.05.32", Date{2024, 5, 0}},
		{"single digits", "2024.5.6", Date{2024, 5, 6}},
		{"year alone", " 2024 ", Date{2024, 0, 0}},
		{"hyphens", "2024-05-06", Date{2024, 5, 6}},
		{"slashes", "2024/05/06", Date{2024, 5, 6}},
		{"no signs", "20240506", Date{2024, 5, 6}},
		{"the time behind", "2024.05.06 18:30:00", Date{2024, 5, 6}},
		{"day first", "06.05.2024", Date{2024, 5, 6}},
		{"day first, blanks", "6. 5. 2024", Date{2024, 5, 6}},
		{"day first, unknown", "??.05.2024", Date{2024, 5, 0}},
		{"month and year", "05.2024", Date{2024, 5, 0}},
		{"day and month in either order", "05/06/2024", Date{2024, 0, 0}},
		{"day and month the same", "05/05/2024", Date{2024, 5, 5}},
		{"only one can be the month", "05/16/2024", Date{2024, 5, 16}},
		{"only the other can be", "16-05-2024", Date{2024, 5, 16}},
		{"month in words", "6 May 2024", Date{2024, 5, 6}},
		{"month in words, first", "Sept. 6, 2024", Date{2024, 9, 6}},
		{"month in words and year", "March 2024", Date{2024, 3, 0}},
		{"two digits for the year", "06.05.24", Date{}},
		{"years from to", "2023/2024", Date{2023, 0, 0}},
		{"words", "the other day", Date{}},
		{"empty", "", Date{}},
	} {
		t.Run(c.quirk, func(t *testing.T) {
			if got := ParseDate(c.tag); got != c.want {
				t.Errorf("ParseDate(%q) = %v, want %v", c.tag, got, c.want)
			}
		})
	}
}
