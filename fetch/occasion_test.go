package fetch

import (
	"strings"
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
		{"4", "4", coincides}, {"4", "4.2", agrees}, {"2", "2.2", agrees}, {"2", "1.2", unsaid}, {"2", "1.3", differs}, {"2.1", "1.2.1", unsaid}, {"4.1", "4.2", differs}, {"4", "5", differs}, {"1.2", "1.2", coincides},
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

// All that the tags of two games say of one occasion: how sure it is, the dates, whether the
// place of the game in an event or a day is the same, the year, and whether it is close.
func TestAllOfTwoOccasions(t *testing.T) {
	type is = occasion
	for _, c := range []struct {
		quirk string
		a, b  []string // tags
		want  occasion
	}{
		{"nothing", nil, nil, is{when: unsaid, dates: unsaid}},
		{"a year", []string{"Date", "2019.??.??"}, []string{"Date", "2019.03.02"}, is{when: agrees, dates: agrees, year: true}},
		{"a year and the event", []string{"Date", "2019.??.??", "Event", "Open"}, []string{"Date", "2019.03.02", "Event", "OPEN"}, is{when: agrees, dates: agrees, place: true, year: true}},
		{"a year and the event by its words", []string{"Date", "2019.??.??", "Event", "Aldbury-Open"}, []string{"Date", "2019.03.02", "Event", "Aldbury Open"}, is{when: agrees, dates: agrees, place: true, year: true}},
		{"a year and another event", []string{"Date", "2019.??.??", "Event", "Open"}, []string{"Date", "2019.03.02", "Event", "Cup"}, is{when: agrees, dates: agrees, year: true}},
		{"a year and the round", []string{"Date", "2019.??.??", "Round", "3"}, []string{"Date", "2019.03.02", "Round", "3"}, is{when: agrees, dates: agrees, place: true, year: true, close: true}},
		{"a year and the round, with its board", []string{"Date", "2019.??.??", "Round", "3"}, []string{"Date", "2019.03.02", "Round", "3.1"}, is{when: agrees, dates: agrees, place: true, year: true}},
		{"a year and another round", []string{"Date", "2019.??.??", "Round", "3", "Event", "Open"}, []string{"Date", "2019.03.02", "Round", "4", "Event", "Open"}, is{when: differs, dates: agrees}},
		{"the next day", []string{"Date", "2019.03.03"}, []string{"Date", "2019.03.02"}, is{when: nearly, dates: nearly, place: true, year: true}},
		{"two days apart", []string{"Date", "2019.03.04", "Event", "Open"}, []string{"Date", "2019.03.02", "Event", "Open"}, is{when: nearly, dates: nearly, year: true}},
		{"the day, one round", []string{"Date", "2019.03.02", "Round", "3"}, []string{"Date", "2019.03.02"}, is{when: agrees, dates: coincides, place: true, year: true, close: true}},
		{"the day and the round", []string{"Date", "2019.03.02", "Round", "3"}, []string{"Date", "2019.03.02", "Round", "3"}, is{when: coincides, dates: coincides, place: true, year: true, close: true}},
		{"the day, other rounds", []string{"Date", "2019.03.02", "Round", "3"}, []string{"Date", "2019.03.02", "Round", "4"}, is{when: differs, dates: coincides}},
		{"the day, other times", []string{"Date", "2019.03.02", "UTCTime", "10:00:00"}, []string{"Date", "2019.03.02", "UTCTime", "11:00:00"}, is{when: differs, dates: coincides}},
		{"the day, other addresses", []string{"Date", "2019.03.02", "Link", "https://example.org/1"}, []string{"Date", "2019.03.02", "Link", "https://example.org/2"}, is{when: differs, dates: coincides}},
		{"the number", []string{"GameId", "7"}, []string{"GameId", "7"}, is{when: coincides, dates: unsaid}},
		{"the number, other years", []string{"GameId", "7", "Date", "2018.03.02"}, []string{"GameId", "7", "Date", "2019.03.02"}, is{when: coincides, dates: differs}},
		{"the time, no day", []string{"UTCTime", "10:00:00"}, []string{"UTCTime", "10:00:00"}, is{when: coincides, dates: unsaid}},
		{"the section's round may be", []string{"Date", "2019.03.02", "Round", "2"}, []string{"Date", "2019.03.02", "Round", "1.2"}, is{when: agrees, dates: coincides, place: true, year: true, close: true}},
		{"other years", []string{"Date", "2018.03.02"}, []string{"Date", "2019.03.02"}, is{when: differs, dates: differs}},
	} {
		a, b := readEvidence(tagged(tags(c.a...)).Header()), readEvidence(tagged(tags(c.b...)).Header())
		if got, back := compareOccasions(&a, &b), compareOccasions(&b, &a); got != c.want || back != c.want {
			t.Errorf("%s: %+v, %+v, want %+v", c.quirk, got, back, c.want)
		}
	}
}

// Games are looked for among those that have a time (in seconds, plus one), a number, an address or the day in common.
func TestKeysOfAnOccasion(t *testing.T) {
	for _, c := range []struct {
		tags []string
		want string
	}{
		{[]string{"Date", "2019.03.02"}, "day2019-03-02"}, {[]string{"Date", "2019.03.??"}, ""}, {[]string{"GameId", "7"}, "number7"},
		{[]string{"UTCTime", "10:00:00"}, "time0 36001"}, {[]string{"StartTime", "10:00:00"}, "time1 36001"}, {[]string{"Time", "10:00:00"}, "time2 36001"},
		{[]string{"Link", "https://example.org/1"}, "linkexample.org/1"}, {[]string{"Site", "https://example.org/2?x=3"}, "linkexample.org/2?x=3"},
		{[]string{"UTCTime", "10:00:00", "GameId", "7", "Link", "https://example.org/1", "Site", "https://example.org/2", "Date", "2019.03.02"},
			"time0 36001|number7|linkexample.org/1|linkexample.org/2|day2019-03-02"},
	} {
		e := readEvidence(tagged(tags(c.tags...)).Header())
		if got := strings.Join(e.keys(), "|"); got != c.want {
			t.Errorf("%v: %s, want %s", c.tags, got, c.want)
		}
	}
}
