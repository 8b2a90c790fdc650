package web

import (
	"fmt"
	"time"
)

// Month is a month of the calendar.
type Month struct {
	Year  int
	Month time.Month
}

// ParseMonth reads YYYY-MM.
func ParseMonth(text string) (Month, bool) {
	t, err := time.Parse("2006-01", text)
	return monthOf(t), err == nil && t.Year() > 0
}

func monthOf(t time.Time) Month {
	t = t.UTC()
	return Month{t.Year(), t.Month()}
}

func (m Month) String() string { return fmt.Sprintf("%04d-%02d", m.Year, int(m.Month)) }

func (m Month) start() time.Time { return time.Date(m.Year, m.Month, 1, 0, 0, 0, 0, time.UTC) }
func (m Month) next() Month      { return monthOf(m.start().AddDate(0, 1, 0)) }
func (m Month) previous() Month  { return monthOf(m.start().AddDate(0, -1, 0)) }

func (m Month) before(o Month) bool { return m.start().Before(o.start()) }

// slack is how long after its end a month may still get games: somewhere it is
// not over yet, and servers write their archives late.
const slack = 48 * time.Hour

// closed reports whether nothing can be added to the month any more.
func (m Month) closed(now time.Time) bool { return !now.Before(m.next().start().Add(slack)) }
