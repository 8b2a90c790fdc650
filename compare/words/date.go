package words

import (
	"fmt"

	"foreply/fetch/pgn"
)

var months = [...]string{"Jan", "Feb", "Mar", "Apr", "May", "Jun", "Jul", "Aug", "Sep", "Oct", "Nov", "Dec"}

// Date prints a date as a player says it: '2 Nov 2026', 'Nov 2026', '2026', or 'date
// unknown'.
func Date(d pgn.Date) string {
	switch {
	case !d.Known():
		return "date unknown"
	case d.Month == 0:
		return fmt.Sprint(d.Year)
	case d.Day == 0:
		return fmt.Sprintf("%s %d", months[d.Month-1], d.Year)
	}
	return fmt.Sprintf("%d %s %d", d.Day, months[d.Month-1], d.Year)
}

// Dated is Date of a date that is known, or of a part of it; empty for none.
func Dated(d pgn.Date) string {
	if !d.Known() {
		return ""
	}
	return Date(d)
}

// Last tells the date of the newest game, ', last 2 Nov 2026', if it has one.
func Last(d pgn.Date) string {
	if !d.Known() {
		return ""
	}
	return ", last " + Date(d)
}
