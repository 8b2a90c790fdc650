package profile

import (
	"strconv"
	"strings"
	"time"
)

// Day counts days since 1 January 1970.
type Day int32

// DayOf returns the day of a calendar date.
func DayOf(year, month, day int) Day {
	return Day(time.Date(year, time.Month(month), day, 0, 0, 0, 0, time.UTC).Unix() / 86400)
}

// Date returns the calendar date of d.
func (d Day) Date() time.Time { return time.Unix(int64(d)*86400, 0).UTC() }

// String prints d as 2006-01-02.
func (d Day) String() string { return d.Date().Format(time.DateOnly) }

// ParseDay reads 2006-01-02 or 2006.01.02.
func ParseDay(s string) (Day, bool) {
	span, ok := ParseDate(strings.ReplaceAll(s, "-", "."))
	return span.First, ok && span.First == span.Last
}

// Span is the days a game may have been played on: a year-only date spans the
// year, a month-only date the month. The zero Span is of no use; an unknown
// date has no Span.
type Span struct{ First, Last Day }

// OneDay is the span of a day that is known.
func OneDay(d Day) Span { return Span{d, d} }

// Before reports whether s lies certainly before o.
func (s Span) Before(o Span) bool { return s.Last < o.First }

// Middle is the day that ages are counted from.
func (s Span) Middle() float64 { return (float64(s.First) + float64(s.Last)) / 2 }

// ParseDate reads a Date tag: YYYY.MM.DD with ? for unknown digits (PGN
// standard 8.1.1.3). A year that is not known, an impossible day or another
// form yields false; an unknown or impossible month spans the year.
func ParseDate(tag string) (Span, bool) {
	parts := strings.Split(strings.TrimSpace(tag), ".")
	year, err := strconv.Atoi(parts[0])
	if err != nil || year < 1000 || year > 9999 || len(parts) > 3 {
		return Span{}, false
	}
	month, ok := datePart(parts, 1, 12)
	if !ok {
		return Span{DayOf(year, 1, 1), DayOf(year, 12, 31)}, true
	}
	day, ok := datePart(parts, 2, DayOf(year, month+1, 0).Date().Day())
	if !ok {
		return Span{DayOf(year, month, 1), DayOf(year, month+1, 0)}, true
	}
	return OneDay(DayOf(year, month, day)), true
}

func datePart(parts []string, i, most int) (int, bool) {
	if i >= len(parts) {
		return 0, false
	}
	n, err := strconv.Atoi(parts[i])
	return n, err == nil && n >= 1 && n <= most
}

// parseTime reads a time tag (HH:MM:SS) as seconds since midnight; -1 when
// there is none.
func parseTime(tag string) int32 {
	t, err := time.Parse(time.TimeOnly, tag)
	if err != nil {
		return -1
	}
	return int32(t.Hour()*3600 + t.Minute()*60 + t.Second())
}
