package pgn

import (
	"cmp"
	"fmt"
	"strings"
	"time"
	"unicode"
)

// Date is a calendar date of which parts may not be known; they are 0. Without a
// year nothing is known, without a month no day.
type Date struct{ Year, Month, Day int }

// ParseDate reads a date tag: YYYY.MM.DD with ? for unknown digits (PGN standard
// 8.1.1.3), and what else has only one meaning: other signs between the parts,
// 20190302, the day first as in 2.3.2019, the month by its English name. Where the
// day and the month could be the other way round, as in 2/3/2019, the year alone
// is known. A day that its month does not have is not known.
func ParseDate(tag string) Date {
	if d, ok := usualDate(tag); ok {
		return d
	}
	parts := strings.FieldsFunc(tag, func(r rune) bool { return r != '?' && !unicode.IsLetter(r) && !unicode.IsDigit(r) })
	switch {
	case len(parts) == 0:
		return Date{}
	case len(parts) == 1 && len(parts[0]) == 8:
		return dated(parts[0][:4], parts[0][4:6], parts[0][6:])
	case len(parts[0]) == 4 && monthNamed(parts[0]) == 0:
		parts = append(parts, "", "")
		return dated(parts[0], parts[1], parts[2])
	case len(parts) == 2:
		return dated(parts[1], parts[0], "")
	case len(parts) != 3:
		return Date{}
	}
	day, month, year := parts[0], parts[1], parts[2]
	first, second := number(day, 12) > 0, number(month, 12) > 0
	switch {
	case monthNamed(day) > 0, first && !second && monthNamed(month) == 0:
		day, month = month, day
	case first && second && day != month && !strings.Contains(tag, "."):
		day, month = "", ""
	}
	return dated(year, month, day)
}

// usualDate reads YYYY.MM.DD, which nearly all files have, at a glance.
func usualDate(tag string) (d Date, ok bool) {
	if len(tag) != len("2006.01.02") || tag[4] != '.' || tag[7] != '.' {
		return Date{}, false
	}
	return dated(tag[:4], tag[5:7], tag[8:]), true
}

// dated puts a date together as far as its parts can be.
func dated(year, month, day string) (d Date) {
	d.Year = number(year, 9999)
	if d.Year < 1000 {
		return Date{}
	}
	if d.Month = number(month, 12); d.Month == 0 {
		d.Month = monthNamed(month)
	}
	if d.Month > 0 {
		d.Day = number(day, daysIn(d.Year, d.Month))
	}
	return d
}

// number reads digits as a number from 1 to most; 0 when they are none.
func number(text string, most int) int {
	n, ok := readNumber(text)
	if !ok || n > most {
		return 0
	}
	return n
}

const monthNames = "janfebmaraprmayjunjulaugsepoctnovdec"

// monthNamed returns the number of a month by the first letters of its name, 0
// when it is none.
func monthNamed(name string) int {
	if len(name) < 3 || name[0] <= '9' {
		return 0
	}
	k := strings.Index(monthNames, strings.ToLower(name[:3]))
	if k < 0 || k%3 != 0 {
		return 0
	}
	return k/3 + 1
}

// daysIn is the length of a month of the Gregorian calendar.
func daysIn(year, month int) int {
	switch month {
	case 2:
		if year%4 == 0 && (year%100 != 0 || year%400 == 0) {
			return 29
		}
		return 28
	case 4, 6, 9, 11:
		return 30
	}
	return 31
}

// Known reports whether at least the year is known.
func (d Date) Known() bool { return d.Year > 0 }

// Full reports whether the day is known.
func (d Date) Full() bool { return d.Day > 0 }

// Compare orders dates; a part that is not known comes before all others (PGN
// standard 12).
func (d Date) Compare(o Date) int {
	return cmp.Or(cmp.Compare(d.Year, o.Year), cmp.Compare(d.Month, o.Month), cmp.Compare(d.Day, o.Day))
}

// Contradicts reports whether no day is within both dates, so that they can't be
// those of one game. A date that is not known contradicts nothing.
func (d Date) Contradicts(o Date) bool {
	differ := func(a, b int) bool { return a > 0 && b > 0 && a != b }
	return differ(d.Year, o.Year) || differ(d.Month, o.Month) || differ(d.Day, o.Day)
}

// Number is the date as yyyymmdd, unknown parts 0: it grows as Compare orders.
func (d Date) Number() int32 { return int32(d.Year*10000 + d.Month*100 + d.Day) }

// NumberedDate is the date with a Number.
func NumberedDate(n int32) Date {
	return Date{int(n / 10000), int(n / 100 % 100), int(n % 100)}
}

// String prints a date as 2026-11-02, 2026-11, 2026, or nothing.
func (d Date) String() string {
	switch {
	case d.Year == 0:
		return ""
	case d.Month == 0:
		return fmt.Sprintf("%04d", d.Year)
	case d.Day == 0:
		return fmt.Sprintf("%04d-%02d", d.Year, d.Month)
	}
	return fmt.Sprintf("%04d-%02d-%02d", d.Year, d.Month, d.Day)
}

// MarshalText is String, for JSON; fields are tagged omitzero.
func (d Date) MarshalText() ([]byte, error) { return []byte(d.String()), nil }

// UnmarshalText reads what MarshalText wrote.
func (d *Date) UnmarshalText(text []byte) error {
	*d = ParseDate(string(text))
	if !d.Known() && len(text) > 0 {
		return fmt.Errorf("%q is no date", text)
	}
	return nil
}

// Tag prints a date as the PGN standard wants it: 2026.11.02, 2026.11.??.
func (d Date) Tag() string {
	tag := []byte("????.??.??")
	for _, part := range [...]struct{ n, from, to int }{{d.Year, 0, 4}, {d.Month, 5, 7}, {d.Day, 8, 10}} {
		for i, n := part.to-1, part.n; i >= part.from && part.n > 0; i-- {
			tag[i], n = byte('0'+n%10), n/10
		}
	}
	return string(tag)
}

// Span is the days that the date may mean; the zero Span if it is not known.
func (d Date) Span() Span {
	switch {
	case !d.Known():
		return Span{}
	case d.Month == 0:
		return Span{dayOf(d.Year, 1, 1), dayOf(d.Year, 12, 31)}
	case d.Day == 0:
		return Span{dayOf(d.Year, d.Month, 1), dayOf(d.Year, d.Month, daysIn(d.Year, d.Month))}
	}
	return OneDay(dayOf(d.Year, d.Month, d.Day))
}

// Day counts days of the Gregorian calendar, 1 being the first of January of the
// year 1; 0 is a day that is not known.
type Day int32

// beforeEpoch is the Day before 1 January 1970.
const beforeEpoch = 719162

func dayOf(year, month, day int) Day {
	return Day(time.Date(year, time.Month(month), day, 0, 0, 0, 0, time.UTC).Unix()/86400) + beforeEpoch + 1
}

// Date returns the calendar date of d.
func (d Day) Date() Date {
	if d == 0 {
		return Date{}
	}
	year, month, day := time.Unix(int64(d-beforeEpoch-1)*86400, 0).UTC().Date()
	return Date{year, int(month), day}
}

// String prints d as 2006-01-02, nothing if it is not known.
func (d Day) String() string { return d.Date().String() }

// Span is the days on which something may have been: those of a year if no more
// is known. The zero Span is not known.
type Span struct{ First, Last Day }

// OneDay is the span of a day that is known.
func OneDay(d Day) Span { return Span{d, d} }

// Known reports whether anything is known.
func (s Span) Known() bool { return s != Span{} }

// Before reports whether s lies certainly before o: never if one of the two is
// not known.
func (s Span) Before(o Span) bool { return s.Known() && s.Last < o.First }

// Middle is the day that ages are counted from.
func (s Span) Middle() float64 { return (float64(s.First) + float64(s.Last)) / 2 }
