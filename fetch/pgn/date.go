package pgn

import (
	"strconv"
	"strings"
	"unicode"
)

// Date is a calendar date of which parts may not be known; they are 0. Without a
// year nothing is known.
type Date struct{ Year, Month, Day int }

// ParseDate reads a date tag: YYYY.MM.DD with ? for unknown digits (PGN standard
// 8.1.1.3), and what else has only one meaning: other signs between the parts,
// 20190302, the day first as in 2.3.2019, the month by its English name. Where the
// day and the month could be the other way round, as in 2/3/2019, the year alone
// is known. A day that its month does not have stays for the caller to judge.
func ParseDate(tag string) Date {
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
	_, first := number(day, 12)
	_, second := number(month, 12)
	switch {
	case monthNamed(day) > 0, first && !second && monthNamed(month) == 0:
		day, month = month, day
	case first && second && day != month && !strings.Contains(tag, "."):
		day, month = "", ""
	}
	return dated(year, month, day)
}

// dated puts a date together as far as its parts can be.
func dated(year, month, day string) (d Date) {
	d.Year, _ = number(year, 9999)
	if d.Year < 1000 {
		return Date{}
	}
	if d.Month = monthNamed(month); d.Month == 0 {
		d.Month, _ = number(month, 12)
	}
	if d.Month > 0 {
		d.Day, _ = number(day, 31)
	}
	return d
}

func number(text string, most int) (n int, ok bool) {
	n, err := strconv.Atoi(text)
	if err != nil || n < 1 || n > most {
		return 0, false
	}
	return n, true
}

const monthNames = "janfebmaraprmayjunjulaugsepoctnovdec"

// monthNamed returns the number of a month by the first letters of its name, 0
// when it is none.
func monthNamed(name string) int {
	if len(name) < 3 {
		return 0
	}
	k := strings.Index(monthNames, strings.ToLower(name[:3]))
	if k < 0 || k%3 != 0 {
		return 0
	}
	return k/3 + 1
}
