package words

import (
	"fmt"
	"strings"

	"foreply/compare/fact"
)

// Basis says what a Report rests on: 'based on 34 slow games, last 2 Nov 2026; 210 fast
// ones count less, last 30 Oct 2026; 12 of unknown speed; you met twice, your score 1½ of 2'.
func Basis(b *fact.Basis) Sentence {
	s := counted(b).And(aged(b), notKnown(b), counting(b), beside(b))
	if b.Games == 0 {
		return s
	}
	if n := len(b.Meetings); n > 0 {
		s = s.And(say("; you met %s", Times(n)), Between(b.Met, ", your score %s"))
	}
	return s
}

// Between is what the user made of games between the two; nothing where none has a result.
func Between(theirs fact.Score, phrase string) Clause {
	if theirs.Games() == theirs.Unknown {
		return nil
	}
	return say(phrase, yours(theirs))
}

// aged says how old the newest game is, if it is old.
func aged(b *fact.Basis) Clause {
	if b.Age == 0 {
		return nil
	}
	return say("; the newest is %s years old", number(b.Age))
}

// beside counts the peers' games beside theirs.
func beside(b *fact.Basis) Clause {
	if b.Games == 0 || b.Peers == nil {
		return nil
	}
	return say("; %s", Peers(b.Peers))
}

// counted counts the games, slow ones apart from fast ones as far as that is known.
func counted(b *fact.Basis) Sentence {
	switch {
	case b.Games == 0 && b.Peers != nil && b.Peers.Before > 0:
		return Sentence{say("%s", PeersAlone(b.Peers))}
	case b.Games == 0:
		return Sentence{say("no games of theirs found")}
	case b.Slow > 0 && b.Fast > 0:
		s := Sentence{say("based on %s", games(b.Slow, "slow game"))}.And(lastOn(", last %s", b.LastSlow), say("; %s", games(b.Fast, "fast one")))
		if fastLess(b) {
			s[len(s)-1] = say("; %s count less", games(b.Fast, "fast one"))
		}
		return s.And(lastOn(", last %s", b.LastFast))
	}
	s := Sentence{say("based on %s", games(b.Games, "game"))}
	if b.NoSpeed == b.Games {
		s = Sentence{say("based on %s of unknown speed", games(b.Games, "game"))}
	}
	s = s.And(lastOn(", last %s", b.Last))
	switch {
	case b.NoSpeed > 0 && b.Fast > 0:
		s = s.And(say("; %s of them fast", number(b.Fast)))
	case b.NoSpeed > 0 && b.Slow > 0:
		s = s.And(say("; %s of them slow", number(b.Slow)))
	}
	return s
}

// fastLess reports whether the fast games are those that count less.
func fastLess(b *fact.Basis) bool { return b.Class == classical && b.Less == b.Fast }

// notKnown counts the games of unknown speed among others.
func notKnown(b *fact.Basis) Clause {
	if b.NoSpeed == 0 || b.NoSpeed == b.Games {
		return nil
	}
	return say("; %s of unknown speed", number(b.NoSpeed))
}

// counting counts the games that count less for their speed, where that is not told of
// all fast ones.
func counting(b *fact.Basis) Clause {
	if b.Less == 0 || b.Less == b.Games || b.Slow > 0 && b.Fast > 0 && fastLess(b) {
		return nil
	}
	return say("; %s of another speed than yours count less", number(b.Less))
}

// classical is the name of the time class.
const classical = "classical"

// Footnotes are what must be read with the page.
func Footnotes(r *fact.Report) []Sentence {
	notes := []Sentence{{say("the forecast assumes that they did not prepare for you")}}
	add := func(c Clause) { notes = append(notes, Sentence{c}) }
	if len(r.Opponent.Unsure) > 0 {
		add(say("not certain to be theirs: %s", Span{Kind: Own, Text: strings.Join(r.Opponent.Unsure, ", ")}))
	}
	if r.Basis.TwoPeople > 0 {
		add(say("these may be the games of two people: see what is printed when the sheet is made"))
	}
	if maybe := r.Basis.Maybe; len(maybe) > 0 {
		add(Maybe(maybe, mostMaybe))
	}
	if r.Basis.Warnings > 0 {
		add(say("%s met while reading the games", games(r.Basis.Warnings, "problem")))
	}
	if p := r.Basis.Peers; p != nil && PeersLeftOut(p) != "" {
		add(say("%s", PeersLeftOut(p)))
	}
	for i := range r.Sides {
		s := &r.Sides[i]
		if s.Book.Unread > 0 {
			add(say("%s", Unread(&s.Book)))
		}
		if s.PeersOnly {
			add(say("no game of theirs for your game with %s found: its shares are those of players like them", s.MyColor))
		}
	}
	for _, fault := range r.Faults {
		add(say("please report this: our rules and the library's differ: %s", Span{Kind: Own, Text: fault}))
	}
	for _, lost := range r.Basis.Unread {
		file := Span{Kind: Own, Text: lost.File}
		if lost.Partly {
			add(say("not read to its end: %s", file))
		} else {
			add(say("not read: %s", file))
		}
	}
	return notes
}

// mostMaybe is how many names are told.
const mostMaybe = 3

// Maybe names those who may be the opponent: 'not counted, but maybe theirs: Alder, M.
// (12 games), Alder (1 game) and 2 more'.
func Maybe(list []fact.Maybe, most int) Clause {
	c := say("not counted, but maybe theirs: ")
	for i, m := range list[:min(len(list), most)] {
		if i > 0 {
			c = append(c, say(", ")...)
		}
		c = append(c, say("%s (%s)", Span{Kind: Own, Text: m.Name}, games(m.Games, "game"))...)
	}
	if more := len(list) - most; more > 0 {
		c = append(c, say(" and %s more", number(more))...)
	}
	return c
}

// Peers says what was used beside their games: 'beside them 11,204 slow games of
// Peers rated 1600 to 1899, 9,870 dated before the game'.
func Peers(u *fact.PeersUsed) string {
	games := peerGames(u)
	switch u.Before {
	case 0:
		return "beside them " + games + ", none dated before the game: not used"
	case u.Games:
		return "beside them " + games + ", all dated before the game"
	}
	return fmt.Sprintf("beside them %s, %s dated before the game", games, Thousands(u.Before))
}

// PeersAlone says what was used where no game of theirs is known.
func PeersAlone(u *fact.PeersUsed) string {
	return "no games of theirs found: this is what players like them play, from " + peerGames(u) + before(u)
}

// before says how many of them were used, if not all.
func before(u *fact.PeersUsed) string {
	if u.Before == u.Games {
		return ""
	}
	return ", " + Thousands(u.Before) + " dated before the game"
}

// peerGames counts them and says whose they are.
func peerGames(u *fact.PeersUsed) string {
	text := Thousands(u.Games) + " "
	if u.Speed != "" && u.Speed != "slow" {
		text += Class(u.Speed) + " "
	}
	text += "game"
	if u.Games != 1 {
		text += "s"
	}
	text += " of peers"
	switch {
	case u.MaxRating == 0:
		text += " of any rating"
	case u.MaxRating > highestRating:
		text += fmt.Sprintf(" rated %d and up", u.MinRating)
	case u.MinRating <= 1:
		text += fmt.Sprintf(" rated under %d", u.MaxRating+1)
	default:
		text += fmt.Sprintf(" rated %d to %d", u.MinRating, u.MaxRating)
	}
	if u.Speed == "slow" { // with those whose speed is not known
		text += ", not known to be fast"
	}
	return text
}

// highestRating is above all ratings.
const highestRating = 4000

// PeersLeftOut says what of the peers' games was not used; empty for nothing.
func PeersLeftOut(u *fact.PeersUsed) string {
	var parts []string
	for _, reason := range []struct {
		n    int
		what string
	}{
		{u.Undated, "without a date"}, {u.Own, "of the opponent's own"}, {u.Twice, "found before"},
		{u.Unfit, "set up, with null moves or under six half-moves"},
	} {
		if reason.n > 0 {
			parts = append(parts, Thousands(reason.n)+" "+reason.what)
		}
	}
	if len(parts) == 0 {
		return ""
	}
	return "of the peers' games not used: " + strings.Join(parts, ", ")
}

// Unread says that moves of the user's book can't be played, and where the first
// stands.
func Unread(b *fact.BookFacts) string {
	if b.Unread == 1 {
		return fmt.Sprintf("a move of your repertoire can't be played: its line is missing here (%s:%d)", b.File, b.FileLine)
	}
	return fmt.Sprintf("%d moves of your repertoire can't be played: their lines are missing here (first %s:%d)", b.Unread, b.File, b.FileLine)
}
