package fetch

import (
	"net/url"
	"strconv"
	"strings"

	"foreply/fetch/pgn"
)

// date is a Date tag: YYYY.MM.DD, with 0 for what is not known (PGN standard
// 8.1.1.3).
type date struct{ year, month, day int }

func parseDate(tag string) date {
	parts := strings.Split(strings.TrimSpace(tag), ".")
	number := func(i, most int) int {
		if i >= len(parts) {
			return 0
		}
		n, err := strconv.Atoi(parts[i])
		if err != nil || n < 1 || n > most {
			return 0
		}
		return n
	}
	d := date{number(0, 9999), number(1, 12), number(2, 31)}
	if d.year == 0 {
		return date{}
	}
	if d.month == 0 {
		d.day = 0
	}
	return d
}

func (d date) known() bool { return d.year > 0 }
func (d date) full() bool  { return d.day > 0 }

// days is a count that grows with the date; unknown parts stand at the start of
// their span. Months have 31 days here, which is close enough for 'near'.
func (d date) days() int { return (d.year*12+d.month)*31 + d.day }

// agreement of two pieces of evidence about when or where a game was played.
type agreement int

const (
	differs   agreement = iota // they can't both be right
	nearly                     // they contradict each other by a few days
	unsaid                     // one of them, or both, says nothing
	agrees                     // as far as both say
	coincides                  // both say the same in full
)

// nearDays is how far two collections put one game apart when one of them gives
// every game the first day of its event (common practice).
const nearDays = 21

func (d date) against(o date) agreement {
	differ := func(a, b int) bool { return a > 0 && b > 0 && a != b }
	switch {
	case !d.known() || !o.known():
		return unsaid
	case d == o && d.full():
		return coincides
	case !differ(d.year, o.year) && !differ(d.month, o.month) && !differ(d.day, o.day):
		return agrees
	case d.full() && o.full() && max(d.days()-o.days(), o.days()-d.days()) <= nearDays:
		return nearly
	}
	return differs
}

// roundsAgree compares Round tags. Collections differ in giving the board behind
// the round: '4' and '4.2' don't contradict each other.
func roundsAgree(a, b string) agreement {
	if unknownTag(a) || unknownTag(b) {
		return unsaid
	}
	if a == b {
		return coincides
	}
	one, two := strings.Split(a, "."), strings.Split(b, ".")
	for i := range min(len(one), len(two)) {
		m, err := strconv.Atoi(one[i])
		n, err2 := strconv.Atoi(two[i])
		switch {
		case err != nil || err2 != nil:
			return unsaid // 'semi-final' and '5' may be one
		case m != n:
			return differs
		}
	}
	return agrees
}

// unknownTag tells values that say nothing.
func unknownTag(value string) bool {
	return strings.Trim(value, "?-.* ") == ""
}

// timeTags are when a game began: PGN standard 9.5.1 and 9.5.2 (from memory) have
// Time and UTCTime, StartTime is common practice.
var timeTags = [...]string{"UTCTime", "StartTime", "Time"}

// timesAgree compares when the games began, by the first pair of tags that both
// have.
func timesAgree(a, b pgn.Tags) agreement {
	for _, name := range timeTags {
		s, t := a.Get(name), b.Get(name)
		if unknownTag(s) || unknownTag(t) {
			continue
		}
		day := "Date"
		if name == "UTCTime" {
			day = "UTCDate"
		}
		if s == t && parseDate(a.Get(day)).against(parseDate(b.Get(day))) >= unsaid {
			return coincides
		}
		return differs
	}
	return unsaid
}

// linkTags are where sites give the game's own address (common practice).
var linkTags = [...]string{"Link", "GameURL", "Site"}

// linksAgree compares the game's own number or address. Addresses at different
// hosts say nothing, and neither does an address that is the event's.
func linksAgree(a, b pgn.Tags) agreement {
	if s, t := a.Get("GameId"), b.Get("GameId"); !unknownTag(s) && !unknownTag(t) {
		return equal(s, t)
	}
	for _, name := range linkTags {
		one, two := gameLink(a.Get(name)), gameLink(b.Get(name))
		if one != nil && two != nil && one.Host == two.Host {
			return equal(one.Path, two.Path)
		}
	}
	return unsaid
}

func equal(a, b string) agreement {
	if a == b {
		return coincides
	}
	return differs
}

// ownLink is the first of the game's addresses, empty without one.
func ownLink(tags pgn.Tags) string {
	for _, name := range linkTags {
		if link := gameLink(tags.Get(name)); link != nil {
			return link.Host + link.Path
		}
	}
	return ""
}

// gameLink is an address that leads further than to the site.
func gameLink(value string) *url.URL {
	link, err := url.Parse(strings.TrimSpace(value))
	if err != nil || link.Host == "" || strings.Trim(link.Path, "/") == "" {
		return nil
	}
	return link
}

// occasion says whether two games were played at the same time and place:
// coincides when tags prove it, differs when tags exclude it, and otherwise how
// well the dates agree; the same day alone proves nothing, it has many games.
func occasion(a, b pgn.Tags) (when, dates agreement) {
	dates = parseDate(a.Get("Date")).against(parseDate(b.Get("Date")))
	if times := timesAgree(a, b); times != unsaid {
		return times, dates
	}
	if links := linksAgree(a, b); links != unsaid {
		return links, dates
	}
	rounds := roundsAgree(a.Get("Round"), b.Get("Round"))
	switch {
	case rounds == differs || dates == differs:
		return differs, dates
	case dates == coincides && rounds == coincides:
		return coincides, dates
	case dates == coincides:
		return agrees, dates
	}
	return dates, dates
}
