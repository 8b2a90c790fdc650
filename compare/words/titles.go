package words

import (
	"fmt"
	"strings"
	"unicode"
	"unicode/utf8"
)

// The titles of the sections, and the labels of the page.
const (
	Tonight       = "tonight"
	LinesToExpect = "lines to expect"
	YourAnswer    = "your answer"
	HowItGoesOn   = "how often · how it goes on"
	YouBegin      = "you begin"
	Boards        = "boards"
	NoAnswer      = "no answer yet"
	NoAnswerShort = "no answer"
	NoAnswerRare  = "no answer, rare line" // too rare to be tonight's work: it has no letter
	BetweenYou    = "between you"
	YourPlans     = "your plans"
	WatchFor      = "watch for"
	MoveOrder     = "move order"
	IfSurprised   = "if surprised"
	YourOptions   = "your options"
	ToPlayThrough = "games to play through"
	AboutThem     = "about them"
	TheyCanKnow   = "they can know"
	HowFar        = "how far your book goes"
	NewestGames   = "their newest games"
	AfterEight    = "after eight moves"
	ToWrite       = "to write"

	// On the terminal only.
	YouMet           = "you met"
	TheirGames       = "their games"
	OtherColour      = "with the other colour"
	WhatChanged      = "what changed"
	WhereItWentWrong = "where they went wrong"
	WhereYouMay      = "where your side went wrong"
	Doubted          = "look again"
	Mistakes         = "mistakes"
	FromFirstMove    = "from the first move"

	MoreLines = "moves"

	AlsoGap        = " (also " // before a gap's letter
	PointsAreYours = "your side's points"
	Expected       = "expect"
	Otherwise      = "or"
	ToPlay         = "play"
	ToAnswer       = "gaps"
	Changed        = "changed"
)

// The blanks of the head, in reading order.
const (
	EventBlank = "event"
	RoundBlank = "round"
	BoardBlank = "board"
	DateBlank  = "date"
	ClockBlank = "clock"
)

// Unnamed stands where the opponent's name is not known.
const Unnamed = "your opponent"

// YouHave says the user's colour.
func YouHave(color string) string { return "you have " + Colour(color) }

// YouNeed says what the user needs; empty for nothing.
func YouNeed(need string) string {
	if need == "" {
		return ""
	}
	return "you need a " + need
}

// Laws is the reminder that every sheet carries (FIDE Laws of Chess 11.3.1), and
// EventRules what stands behind it.
const (
	Laws = "For study before the round. Notes are forbidden during play (FIDE Laws of Chess 11.3.1): " +
		"leave this sheet outside the playing venue."
	EventRules = "The event's own rules decide."
)

// HowToRead says what the figures and the lines of the page mean.
const HowToRead = "4 in 10 (2–6): of ten games with that choice about 4; eight times in ten the share lies between 2 and 6 of ten, as in 1 in 7 (0–3). " +
	"'1 in 12 games' counts all games in which you have this colour. The thicker a line, the more games come through."

// LeftOut names what found no room; empty for nothing.
func LeftOut(list string) string {
	if list == "" {
		return ""
	}
	return "Left out for want of room: " + list + "."
}

// Lost names a part of the page that found no room, or so many rows of it with their
// reach together, or so many details.
func Lost(title string, count int, reach float64, details int) string {
	switch {
	case details > 0 && count == 0:
		return fmt.Sprintf("%s (%s)", title, Plural(details, "detail"))
	case count == 0:
		return title
	case title == MoreLines:
		return fmt.Sprintf("%s (lines together %s)", Plural(count, "move"), InGames(reach))
	case reach > 0:
		return fmt.Sprintf("%s (%d more, together %s)", title, count, InGames(reach))
	}
	return fmt.Sprintf("%s (%d more)", title, count)
}

// SheetTitle is a document's title.
func SheetTitle(name string) string {
	if name == "" {
		return "Preparation"
	}
	return "Preparation for " + name
}

// WithColourOf says of which colour of the user's something is told.
func WithColourOf(color, text string) string { return "with " + Colour(color) + ": " + text }

// Capital begins a sentence.
func Capital(s string) string {
	r, n := utf8.DecodeRuneInString(s)
	if n == 0 {
		return ""
	}
	return string(unicode.ToUpper(r)) + s[n:]
}

// AsSentence begins a note with a capital and ends it with a full stop, since others
// follow in the line.
func AsSentence(s string) string {
	s = Capital(strings.TrimSpace(s))
	if s == "" || strings.ContainsAny(s[len(s)-1:], ".!?") {
		return s
	}
	return s + "."
}

// LinesLeft says how many lines the terminal leaves out, with their reach together; empty
// for none.
func LinesLeft(n int, reach float64) string {
	switch n {
	case 0:
		return ""
	case 1:
		return "1 more line, " + InGames(reach) + ", left out"
	}
	return fmt.Sprintf("%s more lines, together %s, left out", Thousands(n), InGames(reach))
}

// Numeral is a number that stands for a note.
func Numeral(n int) string { return fmt.Sprint(n) }

// SeeBelow refers to a parting by its letter.
func SeeBelow(key string) string { return "see " + key }

// NoteMark is how the lines refer to a note by its number.
func NoteMark(n int) Span { return Span{Kind: Number, Text: fmt.Sprintf("note %d", n)} }

// Language is that of these words, as a document names it (RFC 3066).
const Language = "en"
