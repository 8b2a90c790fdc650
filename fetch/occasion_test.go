package fetch

import (
	"testing"

	"foreply/fetch/pgn"
)

func TestDatesAgainstEachOther(t *testing.T) {
	for _, c := range []struct {
		quirk, a, b string
		want        agreement
	}{
		{"the same day", "2019.03.02", "2019.03.02", coincides},
		{"the same, but only a month", "2019.03.??", "2019.03.??", agrees},
		{"year against day", "2019.??.??", "2019.03.02", agrees},
		{"month unknown, day given", "2019.??.02", "2019.03.05", agrees},
		{"no date", "????.??.??", "2019.03.02", unsaid},
		{"no tag", "", "", unsaid},
		{"two digits are no year", "19", "2019.03.02", unsaid},
		{"the day first", "02.03.2019", "2019.03.02", coincides},
		{"nonsense", "yesterday", "2019.03.02", unsaid},
		{"impossible month", "2019.13.02", "2019.03.02", agrees},
		{"first day of the event", "2019.03.02", "2019.03.10", nearly},
		{"first day, over the new year", "2018.12.28", "2019.01.04", nearly},
		{"three weeks", "2019.03.01", "2019.03.22", nearly},
		{"three weeks and a day", "2019.03.01", "2019.03.23", differs},
		{"another month without day", "2019.03.??", "2019.04.??", differs},
		{"another year", "2018.03.02", "2019.03.02", differs},
	} {
		t.Run(c.quirk, func(t *testing.T) {
			a, b := pgn.ParseDate(c.a), pgn.ParseDate(c.b)
			if got, back := datesAgree(a, b), datesAgree(b, a); got != c.want || back != c.want {
				t.Errorf("%s and %s: %d, %d, want %d", c.a, c.b, got, back, c.want)
			}
		})
	}
}

func TestRoundsAgree(t *testing.T) {
	for _, c := range []struct {
		a, b string
		want agreement
	}{
		{"4", "4", coincides}, {"4", "4.2", agrees}, {"4.1", "4.2", differs}, {"4", "5", differs}, {"1.2", "1.2", coincides},
		{"", "4", unsaid}, {"semi-final", "5", unsaid}, {"semi-final", "semi-final", coincides}, {"4.2.1", "4.2", agrees},
	} {
		a, b := readEvidence(tagged(tags("Round", c.a)).Header()), readEvidence(tagged(tags("Round", c.b)).Header())
		if got, back := roundsAgree(a.rounds, b.rounds), roundsAgree(b.rounds, a.rounds); got != c.want || back != c.want {
			t.Errorf("%s and %s: %d, %d, want %d", c.a, c.b, got, back, c.want)
		}
	}
}

// Games a few days apart are of one occasion if their rounds say so, too.
func TestCloseOccasions(t *testing.T) {
	for _, c := range []struct {
		quirk string
		a, b  []string // tags
		want  bool
	}{
		{"days apart, the same round", []string{"Date", "2019.03.02", "Round", "4"}, []string{"Date", "2019.03.05", "Round", "4"}, true},
		{"days apart, no round", []string{"Date", "2019.03.02"}, []string{"Date", "2019.03.05"}, false},
		{"days apart, one round", []string{"Date", "2019.03.02", "Round", "4"}, []string{"Date", "2019.03.05"}, false},
		{"the same day, one round", []string{"Date", "2019.03.02", "Round", "4"}, []string{"Date", "2019.03.02"}, true},
		{"the same day, no round", []string{"Date", "2019.03.02"}, []string{"Date", "2019.03.02"}, false},
		{"the same year, the same round", []string{"Date", "2019.??.??", "Round", "4"}, []string{"Date", "2019.03.02", "Round", "4"}, true},
		{"the same year, a part of the round", []string{"Date", "2019.??.??", "Round", "4"}, []string{"Date", "2019.03.02", "Round", "4.2"}, false},
	} {
		a, b := readEvidence(tagged(tags(c.a...)).Header()), readEvidence(tagged(tags(c.b...)).Header())
		if got, back := compareOccasions(&a, &b).close, compareOccasions(&b, &a).close; got != c.want || back != c.want {
			t.Errorf("%s: %v, %v, want %v", c.quirk, got, back, c.want)
		}
	}
}

func TestCompareOccasions(t *testing.T) {
	for _, c := range []struct {
		quirk string
		a, b  []string // tags
		want  agreement
	}{
		{"nothing known", nil, nil, unsaid},
		{"the same day", []string{"Date", "2019.03.02"}, []string{"Date", "2019.03.02"}, agrees},
		{"the same day and round", []string{"Date", "2019.03.02", "Round", "3"}, []string{"Date", "2019.03.02", "Round", "3"}, coincides},
		{"question marks are no round", []string{"Date", "2019.03.02", "Round", "?"}, []string{"Date", "2019.03.02", "Round", "?"}, agrees},
		{"the same round, no day", []string{"Date", "2019.??.??", "Round", "3"}, []string{"Date", "2019.??.??", "Round", "3"}, agrees},
		{"the same UTC time, local dates differ", []string{"UTCDate", "2019.03.02", "UTCTime", "23:30:00", "Date", "2019.03.02"},
			[]string{"UTCDate", "2019.03.02", "UTCTime", "23:30:00", "Date", "2019.03.03"}, coincides},
		{"the same time of another day", []string{"Date", "2019.03.02", "StartTime", "18:00:00"}, []string{"Date", "2019.03.03", "StartTime", "18:00:00"}, differs},
		{"a time on one side only", []string{"Date", "2019.03.02", "UTCTime", "18:00:00"}, []string{"Date", "2019.03.02"}, agrees},
		{"times of different tags", []string{"Date", "2019.03.02", "UTCTime", "18:00:00"}, []string{"Date", "2019.03.02", "StartTime", "20:00:00"}, agrees},
		{"the same link with another scheme", []string{"Link", "https://example.org/g/1"}, []string{"Link", "http://example.org/g/1"}, coincides},
		{"links at other hosts", []string{"Link", "https://a.example.org/g/1"}, []string{"Link", "https://b.example.org/g/2"}, unsaid},
		{"a site without a page", []string{"Site", "https://example.org/"}, []string{"Site", "https://example.org"}, unsaid},
		{"numbers", []string{"GameId", "77"}, []string{"GameId", "78"}, differs},
		{"one event page, other times", []string{"Site", "https://example.org/event/1", "UTCTime", "18:00:00"},
			[]string{"Site", "https://example.org/event/1", "UTCTime", "18:05:00"}, differs},
	} {
		t.Run(c.quirk, func(t *testing.T) {
			a, b := readEvidence(tagged(tags(c.a...)).Header()), readEvidence(tagged(tags(c.b...)).Header())
			if got, back := compareOccasions(&a, &b), compareOccasions(&b, &a); got.when != c.want || got != back {
				t.Errorf("%+v, %+v, want %d", got, back, c.want)
			}
		})
	}
}
