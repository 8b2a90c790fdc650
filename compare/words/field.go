package words

import (
	"fmt"
	"slices"

	"foreply/compare/fact"
	"foreply/fetch/pgn"
)

// The columns and the foot of a field's pages.
const (
	FieldPlayer    = "board, player, games"
	HowToReadField = "4 in 10: of ten games in which they have that choice. 1 in 20 behind a line: how often the game comes there if you play your book."
)

// IfYouHave heads what to do with a colour.
func IfYouHave(color string) string { return "if you have " + Colour(color) }

// Players counts the players of a field, and the pages where there are several.
func Players(n, page, of int) string {
	text := Plural(n, "player")
	if of > 1 {
		text += fmt.Sprintf(", page %d of %d", page, of)
	}
	return text
}

// Found says how many games of a player were found, and when the last was.
func Found(n int, last pgn.Date) string { return Thousands(n) + plainGames(n) + Last(last) }

func plainGames(n int) string {
	if n == 1 {
		return " game"
	}
	return " games"
}

// fewChoices are the moves of theirs that a field names.
const fewChoices = 3

// FirstChoices are the likeliest moves of theirs at the first parting, or of few games what
// most of them did; of none what players like them do, which it says.
func FirstChoices(s *fact.Side) Sentence {
	if s.Counted() || len(s.Partings) == 0 {
		for i := range s.Tonight {
			if s.Tonight[i].Lead == fact.LeadExpect {
				return append(Sentence{say("%s: ", games(s.Games, "game"))}, Expect(&s.Tonight[i], nil)...)
			}
		}
		return nil
	}
	fk := &s.Partings[0]
	var out Sentence
	for i := range fk.Branches[:min(len(fk.Branches), fewChoices)] {
		br := &fk.Branches[i]
		c := say("%s %s", move(br.Move, len(fk.Stem)), oddIn(br.Share, slices.Concat(fk.Stem, []string{br.Move})))
		switch {
		case i > 0:
			c = say(", %s", c)
		case len(fk.Stem) > 0:
			c = say("after %s: %s", Movetext(fk.Stem, 0), c)
		}
		if i == 0 && s.PeersOnly {
			c = say("players like them %s", c)
		}
		out = out.And(c)
	}
	return out
}

// mainPlies is how far a field tells the main line.
const mainPlies = 10

// MainLine is the likeliest line to expect, and how often it comes; where that is hardly
// known, so much of it as tonight tells.
func MainLine(s *fact.Side) Sentence {
	line, often := s.Exits[0].Line, s.Exits[0].Often()
	for i := range s.Tonight {
		if t := &s.Tonight[i]; often.Hardly && t.Lead == fact.LeadExpect && t.Often != nil {
			line, often = t.Moves, *t.Often
		}
	}
	told := moves(line[:min(len(line), mainPlies)], 0)
	if len(line) > mainPlies {
		told = append(told, Span{Text: " …"})
	}
	return Sentence{say("main %s", told), say(" · %s", oftenIn(often, line))}
}

// Gaps are the likeliest moves of theirs without an answer.
func Gaps(s *fact.Side) Sentence {
	var out Sentence
	for i := range s.Unanswered[:min(len(s.Unanswered), fewChoices)] {
		u := &s.Unanswered[i]
		if len(u.Line) == 0 {
			continue
		}
		n := len(u.Line)
		c := say("%s %s", moves(u.Line[max(0, n-2):], max(0, n-2)), oftenIn(u.Often(), u.Line))
		if len(out) == 0 {
			c = say("no answer %s", c)
		} else {
			c = say("; %s", c)
		}
		out = out.And(c)
	}
	return out
}

// ChangedTo is Change under its name.
func ChangedTo(ch *fact.Change) Sentence {
	s := Change(ch)
	s[0] = say("changed: %s", s[0])
	return s
}
