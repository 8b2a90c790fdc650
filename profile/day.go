package profile

import (
	"time"

	"foreply/fetch/pgn"
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

// ParseDay reads 2006-01-02 or another date that ParseDate knows to the day.
func ParseDay(s string) (Day, bool) {
	span, ok := ParseDate(s)
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

// ParseDate reads a Date tag as pgn.ParseDate does. A year that is not known
// yields false; an unknown or impossible month spans the year, such a day the
// month.
func ParseDate(tag string) (Span, bool) {
	d := pgn.ParseDate(tag)
	switch {
	case d.Year == 0:
		return Span{}, false
	case d.Month == 0:
		return Span{DayOf(d.Year, 1, 1), DayOf(d.Year, 12, 31)}, true
	case d.Day == 0 || d.Day > DayOf(d.Year, d.Month+1, 0).Date().Day():
		return Span{DayOf(d.Year, d.Month, 1), DayOf(d.Year, d.Month+1, 0)}, true
	}
	return OneDay(DayOf(d.Year, d.Month, d.Day)), true
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
