package pgn

import (
	"cmp"
	"encoding/json"
	"testing"
)

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
		{"no such day in February", "2023.02.29", Date{2023, 2, 0}},
		{"a leap year", "2024.02.29", Date{2024, 2, 29}},
		{"no leap year", "1900.02.29", Date{1900, 2, 0}},
		{"a leap year of a century", "2000.02.29", Date{2000, 2, 29}},
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
		{"month not known, hyphens", "2024-??-06", Date{2024, 0, 0}},
		{"letters out of two months", "Anf 2024", Date{2024, 0, 0}},
		{"six digits", "202405", Date{}},
		{"empty", "", Date{}},
	} {
		t.Run(c.quirk, func(t *testing.T) {
			if got := ParseDate(c.tag); got != c.want {
				t.Errorf("ParseDate(%q) = %v, want %v", c.tag, got, c.want)
			}
		})
	}
}

// The forms are those of the PGN standard 8.1.1.3; what lies outside it is
// foreply's own reading: the year decides.
func TestSpan(t *testing.T) {
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
			span := ParseDate(c.tag).Span()
			if span.Known() != (c.first != "") || span.First.String() != c.first || span.Last.String() != c.last {
				t.Errorf("%q means %v to %v, want %s to %s", c.tag, span.First, span.Last, c.first, c.last)
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
		{"????.??.??", "2025.05.01", false},
		{"2025.05.01", "????.??.??", false},
	} {
		a, b := ParseDate(c.a).Span(), ParseDate(c.b).Span()
		if got := a.Before(b); got != c.want {
			t.Errorf("%s before %s: %v, want %v", c.a, c.b, got, c.want)
		}
	}
}

// A date comes back from its number and from its tag; the forms of String are those
// of ISO 8601.
func TestDateForms(t *testing.T) {
	for _, c := range []struct {
		date   Date
		number int32
		tag    string
		text   string
	}{
		{Date{2026, 11, 2}, 20261102, "2026.11.02", "2026-11-02"},
		{Date{2026, 11, 0}, 20261100, "2026.11.??", "2026-11"},
		{Date{2026, 3, 0}, 20260300, "2026.03.??", "2026-03"},
		{Date{2026, 0, 0}, 20260000, "2026.??.??", "2026"},
		{Date{}, 0, "????.??.??", ""},
	} {
		text, err := json.Marshal(struct {
			D Date `json:"d,omitzero"`
		}{c.date})
		want := `{"d":"` + c.text + `"}`
		if c.text == "" {
			want = "{}"
		}
		if c.date.Number() != c.number || c.date.Tag() != c.tag || c.date.String() != c.text || string(text) != want || err != nil {
			t.Errorf("%#v: %d %s %s %s", c.date, c.date.Number(), c.date.Tag(), c.date, text)
		}
		if c.date.Full() != (c.date.Day > 0) || c.date.Known() != (c.date.Year > 0) {
			t.Errorf("%#v: full %v, known %v", c.date, c.date.Full(), c.date.Known())
		}
		if NumberedDate(c.number) != c.date || ParseDate(c.tag) != c.date || ParseDate(c.text) != c.date {
			t.Errorf("%#v does not come back", c.date)
		}
		var back struct{ D Date }
		if err := json.Unmarshal(text, &back); err != nil || back.D != c.date {
			t.Errorf("%s is read as %#v, %v", text, back.D, err)
		}
	}
}

// Unknown parts come first (PGN standard 12).
func TestDatesCompare(t *testing.T) {
	order := []Date{{}, {2025, 0, 0}, {2025, 1, 0}, {2025, 1, 31}, {2025, 2, 0}, {2025, 2, 1}, {2026, 0, 0}}
	for i, a := range order {
		for j, b := range order {
			if got := a.Compare(b); got != cmp.Compare(i, j) || cmp.Compare(a.Number(), b.Number()) != got {
				t.Errorf("%v against %v: %d", a, b, got)
			}
		}
	}
}

// Days follow one another, and each is that of its date; the first of January 1970
// is 719163 days after the last of December of the year 0, as Rata Die counts (from
// memory: Reingold and Dershowitz, Calendrical Calculations).
func TestDays(t *testing.T) {
	if got := (Date{1970, 1, 1}).Span(); got != OneDay(719163) {
		t.Errorf("the epoch is %v", got)
	}
	next := (Date{1582, 1, 1}).Span().First
	for year := 1582; year < 2101; year++ {
		for month := 1; month <= 12; month++ {
			for day := 1; day <= 31; day++ {
				d := ParseDate(Date{year, month, day}.Tag())
				if d.Day == 0 { // no such day
					continue
				}
				if d.Span() != OneDay(next) || next.Date() != d {
					t.Fatalf("%v is %v, day %d is %v", d, d.Span(), next, next.Date())
				}
				next++
			}
		}
	}
}

// What is no date is told; nothing at all is a date that is not known.
func TestDateFromText(t *testing.T) {
	d := Date{2026, 11, 2}
	if err := d.UnmarshalText(nil); err != nil || d != (Date{}) {
		t.Errorf("nothing is read as %v, %v", d, err)
	}
	if err := d.UnmarshalText([]byte("soon")); err == nil || err.Error() != `"soon" is no date` {
		t.Errorf("words give %v", err)
	}
	if got := Day(0).Date(); got != (Date{}) {
		t.Errorf("a day that is not known is %v", got)
	}
	if got := (Span{10, 13}).Middle(); got != 11.5 {
		t.Errorf("the middle of four days is %v", got)
	}
}
