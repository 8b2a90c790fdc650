package fetch

import (
	"fmt"
	"strings"
	"testing"
)

func TestSignsOfTwoPeople(t *testing.T) {
	n := 0
	elo := func(date, elo string, more ...string) string {
		n++
		return game("Alder, Mina", "Brook, T", line(40, string(rune('a'+n%8))+"x"), "1-0",
			append([]string{"Date", date, "WhiteElo", elo, "BlackElo", "2500"}, more...)...)
	}
	for _, c := range []struct {
		quirk, text string
		messages    []string // a part of each
	}{
		{"steady", elo("2019.03.02", "1800") + elo("2019.05.02", "1900"), nil},
		{"a leap within a year", elo("2019.03.02", "1500") + elo("2020.02.02", "1900"), []string{"rating 1900 (2020.02.02) after 1500 (2019.03.02"}},
		{"out of order in the file", elo("2020.02.02", "1900") + elo("2019.03.02", "1500"), []string{"rating 1900 (2020.02.02) after 1500"}},
		{"a leap over more than a year", elo("2019.03.02", "1500") + elo("2020.04.02", "1900"), nil},
		{"399 points", elo("2019.03.02", "1500") + elo("2019.04.02", "1899"), nil},
		{"years only, next to each other", elo("1994.??.??", "2300") + elo("1995.??.??", "1700"), []string{"rating 1700 (1995.??.??) after 2300"}},
		{"no date", elo("????.??.??", "1500") + elo("????.??.??", "2300"), nil},
		{"no rating between", elo("2019.03.02", "1500") + elo("2019.04.02", "?") + elo("2019.05.02", "0") + elo("2019.06.02", "2000"), []string{"rating 2000"}},
		{"there and back, counted, the greatest told", elo("2019.03.02", "1500") + elo("2019.04.02", "2000") + elo("2019.05.02", "1400"),
			[]string{"rating 1400 (2019.05.02) after 2000"}},
		{"two lists", elo("2019.03.02", "1500") + elo("2019.03.02", "2100", "TimeControl", "180+2"), nil},
		{"a new account finds its level", elo("2019.03.02", "1500", "TimeControl", "180+2") + elo("2019.03.03", "2100", "TimeControl", "180+2"), nil},
		{"an account up and down within a day",
			elo("2019.03.02", "1500", "TimeControl", "180+2", "UTCTime", "10:00:00") + elo("2019.03.02", "1450", "TimeControl", "180+2", "UTCTime", "12:00:00") +
				elo("2019.03.02", "2100", "TimeControl", "180+2", "UTCTime", "11:00:00"), []string{"2 jumps"}},
		{"two places on a day", elo("2019.03.02", "1800", "Site", "Aldbury ENG") + elo("2019.03.02", "1800", "Site", "Norwick ENG"),
			[]string{"on 2019.03.02 in Norwick ENG, and in Aldbury ENG"}},
		{"two places on two days", elo("2019.03.02", "1800", "Site", "Aldbury") + elo("2019.03.02", "1800", "Site", "Norwick") +
			elo("2019.03.02", "1800", "Site", "Norwick") + elo("2019.03.03", "1800", "Site", "Aldbury") + elo("2019.03.03", "1800", "Site", "Norwick"),
			[]string{"; 2 such days"}},
		{"one place, told more closely", elo("2019.03.02", "1800", "Site", "Aldbury, Town Hall") + elo("2019.03.02", "1800", "Site", "aldbury"), nil},
		{"one place, nearly spelled alike", elo("2019.03.02", "1800", "Site", "Aldbury") + elo("2019.03.02", "1800", "Site", "Alldbury"), nil},
		{"at home and on the network", elo("2019.03.02", "1800", "Site", "Aldbury") + elo("2019.03.02", "1800", "Site", "https://example.org/1") +
			elo("2019.03.02", "1800", "Site", "example.org INT") + elo("2019.03.02", "1800", "Site", "?"), nil},
		{"a day that is not known", elo("2019.03.??", "1800", "Site", "Aldbury") + elo("2019.03.??", "1800", "Site", "Norwick"), nil},
	} {
		t.Run(c.quirk, func(t *testing.T) {
			r := run(t, alder, folder(t, "a.pgn", c.text))
			var got []string
			for _, p := range r.Problems {
				if p.Kind == TwoPeople {
					got = append(got, p.Message)
				}
			}
			if len(got) != len(c.messages) {
				t.Fatalf("%d signs: %s", len(got), strings.Join(got, "; "))
			}
			for i, want := range c.messages {
				if !strings.Contains(got[i], want) {
					t.Errorf("%s, want %s", got[i], want)
				}
			}
		})
	}
}

func TestSignsStayFewForManyGames(t *testing.T) {
	var text strings.Builder
	for i := range 60 {
		text.WriteString(game("Alder, Mina", fmt.Sprint("rival", i), line(40, string(rune('a'+i%8))+"x"), "1-0",
			"Date", fmt.Sprintf("2019.%02d.%02d", i/28+1, i%28+1), "WhiteElo", fmt.Sprint(1500+i%2*800), "Site", fmt.Sprint("Place", i)))
	}
	r := run(t, alder, folder(t, "a.pgn", text.String()))
	if len(r.Problems) != 1 || !strings.Contains(r.Problems[0].Message, "59 jumps") {
		t.Errorf("%+v", r.Problems)
	}
}
