package fetch

import (
	"fmt"
	"slices"
	"strings"

	"foreply/fetch/pgn"
)

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

// datesAgree compares two dates.
func datesAgree(a, b pgn.Date) agreement {
	switch {
	case !a.Known() || !b.Known():
		return unsaid
	case a == b && a.Full():
		return coincides
	case !a.Contradicts(b):
		return agrees
	case a.Full() && b.Full() && daysApart(a, b) <= nearDays:
		return nearly
	}
	return differs
}

// daysApart counts the days between two; what is not known of a date stands at the
// start of its span.
func daysApart(a, b pgn.Date) int {
	d := int(a.Span().First) - int(b.Span().First)
	return max(d, -d)
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
	return len(b) == len(a)+1 && len(a) > 0 && slices.Equal(a, b[1:]) && a[0] != b[0]
}

func isNumber(text string) bool { return text != "" && strings.Trim(text, "0123456789") == "" }

// evidence is what the header says about when and where a game was played.
type evidence struct {
	event   string // folded
	date    pgn.Date
	utcDate pgn.Date
	rounds  []string       // the Round at its dots; empty when not known
	times   [3]pgn.Clock   // by UTC, and as two other tags have it
	number  string         // GameId
	links   [2]pgn.Address // of the game, and by Site
}

const utcTime, ownLink = 0, 0 // among times, among links

func readEvidence(h *pgn.Header) evidence {
	e := evidence{
		date: h.Date, utcDate: h.UTCDate, number: h.Number,
		times: [...]pgn.Clock{utcTime: h.UTCTime, h.StartTime, h.Time},
		links: [...]pgn.Address{ownLink: h.Link, h.Page},
	}
	if h.Event != "" {
		e.event = Fold(h.Event + " .")
	}
	if h.Round != "" {
		e.rounds = strings.Split(strings.TrimSpace(h.Round), ".")
	}
	return e
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
	for i, t := range e.times {
		if t > 0 {
			keys = append(keys, fmt.Sprint("time", i, " ", t))
		}
	}
	add("number", e.number)
	for _, link := range e.links {
		add("link", link.Host+link.Path)
	}
	if e.date.Full() {
		add("day", e.date.String())
	}
	return keys
}

// timesAgree compares when the games began, by the first tag that both have.
func timesAgree(a, b *evidence) agreement {
	for i := range a.times {
		if a.times[i] == 0 || b.times[i] == 0 {
			continue
		}
		days := datesAgree(a.date, b.date)
		if i == utcTime && a.utcDate.Known() && b.utcDate.Known() {
			days = datesAgree(a.utcDate, b.utcDate)
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
	for i := range a.links {
		if a.links[i].Host != "" && a.links[i].Host == b.links[i].Host {
			return equal(a.links[i].Path, b.links[i].Path)
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
	// year: it is the same; nothing speaks against one occasion.
	year bool
	// close: the same day and a round told by one of them at least, or one round with
	// dates that agree as far as given or are near. It proves nothing, since a day has
	// many games, but says much.
	close bool
}

func compareOccasions(a, b *evidence) occasion {
	o := occasion{dates: datesAgree(a.date, b.date)}
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
	free := rounds != differs && times != differs && links != differs && a.date.Known() && b.date.Known()
	o.year = free && o.dates >= nearly
	o.place = free && (a.date.Full() && b.date.Full() && daysApart(a.date, b.date) <= 1 ||
		o.dates >= agrees && (rounds > unsaid || a.event == b.event && a.event != ""))
	switch o.dates {
	case coincides:
		o.close = len(a.rounds)+len(b.rounds) > 0
	case nearly:
		o.close = rounds > unsaid
	case agrees: // 1.2 may be round 1, and within a year it may be round 2
		o.close = rounds == coincides
	}
	o.close = o.close && o.when != differs
	return o
}

// resultsAgree compares what two copies say of the result.
func resultsAgree(e, o *gameCopy) agreement {
	a, b := e.score, o.score
	switch {
	case a == "" || b == "":
		return unsaid
	case a == b:
		return coincides
	}
	return differs
}
