package fetch

import (
	"fmt"
	"slices"
	"strings"

	"foreply/fetch/pgn"
)

// Kinds of contradictions between two copies of one game; pgn.ResultClash is
// the fourth.
const (
	DateClash  pgn.Kind = "dates differ"
	NameClash  pgn.Kind = "names differ"
	MovesClash pgn.Kind = "moves differ"
)

// PerhapsTwice is the kind of games that may be one and were not joined.
const PerhapsTwice pgn.Kind = "perhaps the same game twice"

// join makes one game of two copies and says where they contradict each other.
// The fuller copy gives moves, text and place, and its tags win; the other adds
// what the fuller has not or has only in part.
func (e *gameCopy) join(o *gameCopy) []pgn.Problem {
	problems := e.clashes(o)
	base, other := e.game, o.game
	if fuller(o, e) {
		base, other = other, base
		e.moves, e.kinds = o.moves, o.kinds
	}
	e.files = append(e.files, o.files...)
	base.SetTags(joinTags(base.Tags(), other.Tags()))
	e.game = base
	e.readTags()
	return problems
}

// fuller reports whether a has more of the game than b: more moves, else a
// result, else more notes (clocks), else more tags that say something.
func fuller(a, b *gameCopy) bool {
	for _, measure := range [...]func(*gameCopy) int{
		func(e *gameCopy) int { return len(e.game.Moves) },
		func(e *gameCopy) int { return min(1, len(e.score)) },
		func(e *gameCopy) int { return count(e.game.Moves, func(m pgn.Move) bool { return m.Note != nil }) },
		func(e *gameCopy) int {
			return count(e.game.Tags(), func(t pgn.Tag) bool { return pgn.Told(t.Value) != "" })
		},
	} {
		if m, n := measure(a), measure(b); m != n {
			return m > n
		}
	}
	return false
}

func count[T any](all []T, is func(T) bool) int {
	n := 0
	for _, one := range all {
		if is(one) {
			n++
		}
	}
	return n
}

// joinTags adds to base what other knows better: tags that base lacks or that
// say nothing there, a date with more of its parts, and a player's name of which
// base has only the initials.
func joinTags(base, other pgn.Tags) pgn.Tags {
	out := slices.Clone(base)
	for _, tag := range other {
		i := slices.IndexFunc(out, func(t pgn.Tag) bool { return t.Name == tag.Name })
		switch {
		case i < 0:
			out = append(out, tag)
		case pgn.Told(out[i].Value) == "":
			out[i].Value = tag.Value
		case strings.HasSuffix(tag.Name, "Date"):
			out[i].Value = fullerDate(out[i].Value, tag.Value)
		case tag.Name == "White" || tag.Name == "Black":
			out[i].Value = fullerName(out[i].Value, tag.Value)
		}
	}
	return out
}

func fullerDate(base, other string) string {
	a, b := pgn.ParseDate(base), pgn.ParseDate(other)
	if datesAgree(a, b) == agrees && b.Month*100+b.Day > a.Month*100+a.Day {
		return other
	}
	return base
}

func fullerName(base, other string) string {
	a, b := spell(base), spell(other)
	if like := a.like(b); (like == initials || like == sameSurname) && len(b.folded) > len(a.folded) {
		return other
	}
	return base
}

// clashes lists the contradictions, placed at the second copy.
func (e *gameCopy) clashes(o *gameCopy) []pgn.Problem {
	var out []pgn.Problem
	say := func(kind pgn.Kind, first, second string) {
		p := e.about(o, "the same game stands at %s:%d with "+first)
		p.Kind, p.Severity, p.Token, p.Hint = kind, pgn.Warning, second, "it is counted once, as in the fuller of the two"
		out = append(out, p)
	}
	if dates := datesAgree(e.when.date, o.when.date); dates == differs || dates == nearly {
		say(DateClash, "date "+e.when.date.Tag(), o.when.date.Tag())
	}
	if resultsAgree(e, o) == differs {
		say(pgn.ResultClash, "result "+e.score, o.score)
	}
	if e.rivalLike(o) == unlike {
		say(NameClash, "the other player "+e.you().Name, o.you().Name)
	}
	if m := compareMoves(e.folded(), o.folded()); !m.identical && !m.beginning {
		say(MovesClash, fmt.Sprintf("the same first %d half-moves only", m.common), "")
	}
	return out
}

// about is a problem at o that names the place of e.
func (e *gameCopy) about(o *gameCopy, message string) pgn.Problem {
	return pgn.Problem{
		Source: o.game.Source, File: o.game.File, Line: o.game.Line, Game: o.game.Index,
		Message: fmt.Sprintf(message, e.game.File, e.game.Line),
	}
}

// perhaps says that o may be e again and was counted nevertheless.
func (e *gameCopy) perhaps(o *gameCopy) pgn.Problem {
	p := e.about(o, "the same moves stand at %s:%d; too short to say that it is one game")
	p.Kind, p.Severity = PerhapsTwice, pgn.Note
	p.Hint = "both are counted; the day or the round in both games would decide it"
	return p
}
