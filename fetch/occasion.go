package fetch

import (
	"fmt"
	"net/url"
	"slices"
	"strings"

	"foreply/fetch/pgn"
)

// date is a Date tag as pgn.ParseDate reads it.
type date pgn.Date

func parseDate(tag string) date { return date(pgn.ParseDate(tag)) }

func (d date) known() bool { return d.Year > 0 }
func (d date) full() bool  { return d.Day > 0 }

// days is a count that grows with the date; unknown parts stand at the start of
// their span. Months have 31 days here, which is close enough for 'near'.
func (d date) days() int { return (d.Year*12+d.Month)*31 + d.Day }

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
	case !differ(d.Year, o.Year) && !differ(d.Month, o.Month) && !differ(d.Day, o.Day):
		return agrees
	case d.full() && o.full() && max(d.days()-o.days(), o.days()-d.days()) <= nearDays:
		return nearly
	}
	return differs
}

// roundsAgree compares Round tags. Collections differ in giving the board behind
// the round: '4' and '4.2' don't contradict each other.
func roundsAgree(a, b []string) agreement {
	switch {
	case len(a) == 0 || len(b) == 0:
		return unsaid
	case slices.Equal(a, b):
		return coincides
	}
	if sectionOf(a, b) || sectionOf(b, a) {
		return unsaid
	}
	for i := range min(len(a), len(b)) {
		switch {
		case a[i] == b[i]:
		case isNumber(a[i]) && isNumber(b[i]):
			return differs
		default:
			return unsaid // 'semi-final' and '5' may be one
		}
	}
	return agrees
}

// sectionOf reports whether b may be the round a in a section of the event, as 1.2
// is round 2 of the first.
func sectionOf(a, b []string) bool {
	return len(a) == 1 && len(b) == 2 && a[0] == b[1] && a[0] != b[0]
}

func isNumber(text string) bool { return text != "" && strings.Trim(text, "0123456789") == "" }

// unknownTag tells values that say nothing.
func unknownTag(value string) bool {
	return strings.Trim(value, "?-.* ") == ""
}

// timeTags are when a game began: PGN standard 9.5.1 and 9.5.2 (from memory) have
// Time and UTCTime, StartTime is common practice.
var timeTags = [...]string{"UTCTime", "StartTime", "Time"}

// linkTags are where sites give the game's own address (common practice).
var linkTags = [...]string{"Link", "GameURL", "Site"}

// evidence is what the tags say about when and where a game was played.
type evidence struct {
	event   string // folded
	date    date
	utcDate date
	rounds  []string              // the Round tag at its dots; empty when not known
	times   [len(timeTags)]string // empty when not known
	number  string                // GameId
	hosts   [len(linkTags)]string // of the game's addresses; empty without one
	paths   [len(linkTags)]string
}

func readEvidence(tags pgn.Tags) evidence {
	e := evidence{
		event:   Fold(known(tags.Get("Event")) + " ."),
		date:    parseDate(tags.Get("Date")),
		utcDate: parseDate(tags.Get("UTCDate")),
		number:  known(tags.Get("GameId")),
	}
	if round := known(tags.Get("Round")); round != "" {
		e.rounds = strings.Split(strings.TrimSpace(round), ".")
	}
	for i, name := range timeTags {
		e.times[i] = known(tags.Get(name))
	}
	for i, name := range linkTags {
		e.hosts[i], e.paths[i] = gameLink(tags.Get(name))
	}
	return e
}

// known is the value of a tag, empty if it says nothing.
func known(value string) string {
	if unknownTag(value) {
		return ""
	}
	return value
}

// gameLink takes an address apart, if it leads further than to the site.
func gameLink(value string) (host, path string) {
	if !strings.Contains(value, "://") {
		return "", ""
	}
	link, err := url.Parse(strings.TrimSpace(value))
	if err != nil || link.Host == "" || strings.Trim(link.Path, "/") == "" {
		return "", ""
	}
	return link.Host, link.Path
}

// keys are what two games of one proven occasion have in common, at least one of
// them: a time, a number, an address, or the day.
func (e *evidence) keys() []string {
	keys := make([]string, 0, 4)
	add := func(kind, value string) {
		if value != "" {
			keys = append(keys, kind+value)
		}
	}
	for i, name := range timeTags {
		add(name, e.times[i])
	}
	add("number", e.number)
	for i, host := range e.hosts {
		add("link", host+e.paths[i])
	}
	if e.date.full() {
		add("day", fmt.Sprint(e.date.days()))
	}
	return keys
}

// timesAgree compares when the games began, by the first tag that both have.
func timesAgree(a, b *evidence) agreement {
	for i := range timeTags {
		if a.times[i] == "" || b.times[i] == "" {
			continue
		}
		days := a.date.against(b.date)
		if timeTags[i] == "UTCTime" && a.utcDate.known() && b.utcDate.known() {
			days = a.utcDate.against(b.utcDate)
		}
		if a.times[i] == b.times[i] && days >= unsaid {
			return coincides
		}
		return differs
	}
	return unsaid
}

// linksAgree compares the game's own number or address. Addresses at different
// hosts say nothing.
func linksAgree(a, b *evidence) agreement {
	if a.number != "" && b.number != "" {
		return equal(a.number, b.number)
	}
	for i := range linkTags {
		if a.hosts[i] != "" && a.hosts[i] == b.hosts[i] {
			return equal(a.paths[i], b.paths[i])
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

// occasion is what the tags of two games say about their being one.
type occasion struct {
	// when: coincides when tags prove one occasion, differs when they exclude it,
	// otherwise how well the dates agree.
	when  agreement
	dates agreement
	// place: the year and besides the event or the round are the same, or the day is, or
	// the next one; nothing speaks against it.
	place bool
	// close: the same day, or dates that agree as far as given, or are near, with
	// one round. It proves nothing, since a day has many games, but says much.
	close bool
}

func compareOccasions(a, b *evidence) occasion {
	o := occasion{dates: a.date.against(b.date)}
	o.when = o.dates
	rounds := roundsAgree(a.rounds, b.rounds)
	times, links := timesAgree(a, b), linksAgree(a, b)
	switch {
	case times != unsaid:
		o.when = times
	case links != unsaid:
		o.when = links
	case rounds == differs || o.dates == differs:
		o.when = differs
	case o.dates == coincides && rounds == unsaid:
		o.when = agrees
	}
	days := max(a.date.days()-b.date.days(), b.date.days()-a.date.days())
	o.place = rounds != differs && times != differs && links != differs && a.date.known() && b.date.known() &&
		(a.date.full() && b.date.full() && days <= 1 ||
			o.dates >= agrees && (rounds > unsaid || a.event == b.event && a.event != "" && !unknownTag(a.event)))
	o.close = o.when != differs && (o.dates == coincides || (o.dates == agrees || o.dates == nearly) && rounds > unsaid)
	return o
}
