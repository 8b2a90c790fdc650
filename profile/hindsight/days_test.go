package hindsight

import (
	"testing"

	"foreply/profile"
)

// Worked by hand: 31 December 1997 is 365.25·1997 + 30.44·11 + 31 = 729770.09, 1
// January 1998 is 365.25·1998 + 1 = 729770.5: one day. In 1999 they are 730500.59
// and 730501.00.
func TestRoughDays(t *testing.T) {
	for year, same := range map[int]bool{1996: false, 1997: true, 1998: true, 1999: false, 2000: false, 2001: true} {
		last, next := roughDay(profile.DayOf(year, 12, 31)), roughDay(profile.DayOf(year+1, 1, 1))
		if (last == next) != same {
			t.Errorf("%d ends on day %d, the next begins on %d", year, last, next)
		}
	}
	for d := profile.DayOf(1970, 1, 1); d < profile.DayOf(2040, 1, 1); d++ {
		if r := roughDay(d); r > d || r < d-5 || roughDay(d+1) < r {
			t.Fatalf("%s becomes %d", d, r-d)
		}
	}
}
