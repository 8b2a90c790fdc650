package profile

import "testing"

// The forms are those of the PGN standard 8.1.1.3; what lies outside it is
// foreply's own reading: the year decides.
func TestParseDate(t *testing.T) {
	for _, c := range []struct{ name, tag, first, last string }{
		{"a full date", "2026.11.02", "2026-11-02", "2026-11-02"},
		{"day unknown", "2024.02.??", "2024-02-01", "2024-02-29"},
		{"month unknown", "2023.??.??", "2023-01-01", "2023-12-31"},
		{"month unknown, day known", "2023.??.05", "2023-01-01", "2023-12-31"},
		{"an impossible day spans the month", "2023.02.30", "2023-02-01", "2023-02-28"},
		{"an impossible month spans the year", "2023.13.01", "2023-01-01", "2023-12-31"},
		{"a year alone", "1999", "1999-01-01", "1999-12-31"},
		{"blanks around", " 2026.01.01 ", "2026-01-01", "2026-01-01"},
		{"before 1970", "1911.05.06", "1911-05-06", "1911-05-06"},
		{"unknown", "????.??.??", "", ""},
		{"half a year", "19??.??.??", "", ""},
		{"empty", "", "", ""},
		{"words", "yesterday", "", ""},
		{"the day first", "02.11.2026", "2026-11-02", "2026-11-02"},
	} {
		t.Run(c.name, func(t *testing.T) {
			span, ok := ParseDate(c.tag)
			if ok != (c.first != "") {
				t.Fatalf("ParseDate(%q) ok = %v", c.tag, ok)
			}
			if ok && (span.First.String() != c.first || span.Last.String() != c.last) {
				t.Errorf("ParseDate(%q) = %v to %v, want %s to %s", c.tag, span.First, span.Last, c.first, c.last)
			}
		})
	}
}

// Certainly earlier means: the latest possible day before the earliest.
func TestSpanBefore(t *testing.T) {
	for _, c := range []struct {
		a, b string
		want bool
	}{
		{"2025.05.01", "2025.05.02", true},
		{"2025.05.01", "2025.05.01", false},
		{"2025.??.??", "2025.12.31", false},
		{"2025.??.??", "2026.01.01", true},
		{"2025.04.??", "2025.05.??", true},
	} {
		a, _ := ParseDate(c.a)
		b, _ := ParseDate(c.b)
		if got := a.Before(b); got != c.want {
			t.Errorf("%s before %s: %v, want %v", c.a, c.b, got, c.want)
		}
	}
}

func TestDateNumber(t *testing.T) {
	for tag, want := range map[string]string{
		"2026.05.01": "2026.05.01",
		"2026.??.??": "2026.??.??",
		"2026.05.??": "2026.05.??",
		"????.??.??": "????.??.??",
		"":           "????.??.??",
		"soon":       "????.??.??",
	} {
		if got := DateText(dateNumber(tag)); got != want {
			t.Errorf("%q reads back as %q, want %q", tag, got, want)
		}
	}
}
