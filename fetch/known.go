package fetch

import (
	"fmt"
	"hash/maphash"

	"foreply/fetch/pgn"
)

// What two texts of one game from one source have in common. A source corrects
// results, moves, names and days, and then its newer text is to take the place of
// the older one; but nothing fetched is lost, so where both may be games of their
// own, both stay, and are compared once more when they are read (same.go).
//
//	known by                               is the same game
//	the players and the moment it began    always
//	all tags and moves                     always
//	its number or address                  if the moment is the same, or many moves are, or the
//	                                       players are, with the moves or the day
//	the players, the day and the round     if same.go says so
//
// An address in Site is often that of the event: there it takes players and day as well
// as moves.

// sum stands for what a game is known by, in twelve bytes of an index with its place.
type sum [2]uint32

// name is one thing that a game is known by. isSame judges a game that was known by
// it before; nil needs no judging.
type name struct {
	sum    sum
	isSame func(old, e *gameCopy) bool
}

// keptEntry groups games by both names: one source spells a player in one way,
// and what comes from it counts as one file.
func keptEntry(game *pgn.Game) *gameCopy {
	e := newCopy(game, true)
	white, black := game.Players()
	e.group = Fold(white.Name) + "/" + Fold(black.Name)
	e.files = []string{""}
	return e
}

// names are all that a game is known by, the surest first.
func (s *Shelf) names(e *gameCopy) []name {
	var out []name
	add := func(isSame func(old, e *gameCopy) bool, parts ...string) {
		out = append(out, name{s.sum(parts), isSame})
	}
	begun := moment(&e.when)
	if begun != "" {
		add(nil, "begun", e.group, begun)
	} else {
		add(nil, append(tagTexts(e.game.Tags()), e.moves)...)
	}
	own, address := ownAddress(&e.when)
	switch {
	case own:
		add(atOneAddress, "address", address)
	case address != "":
		add(atOnePlace, "address", address)
	case begun == "" && e.when.date.Full():
		round := ""
		if len(e.when.rounds) > 0 {
			round = e.when.rounds[0]
		}
		add(inOneRound, "round", e.group, e.when.date.String(), round)
	}
	return out
}

func (s *Shelf) sum(parts []string) sum {
	var h maphash.Hash
	h.SetSeed(s.seed)
	for _, p := range parts {
		h.WriteString(p)
		h.WriteByte(0)
	}
	n := h.Sum64()
	return sum{uint32(n), uint32(n >> 32)}
}

func tagTexts(tags pgn.Tags) []string {
	out := []string{"tags"}
	for _, t := range tags {
		out = append(out, t.Name, t.Value)
	}
	return out
}

// moment is when a game began, to the second; empty if its tags don't say. Midnight
// is what programs write that don't know (common practice).
func moment(w *evidence) string {
	for i, at := range w.times {
		day := w.date
		if i == utcTime && w.utcDate.Known() {
			day = w.utcDate
		}
		if at.Seconds() > 0 && day.Full() {
			return fmt.Sprint(i, " ", day, " ", at)
		}
	}
	return ""
}

// ownAddress is the game's number or address. One in Site is not surely the game's own.
func ownAddress(w *evidence) (own bool, address string) {
	if w.number != "" {
		return true, w.number
	}
	for i, link := range w.links {
		if link.Host != "" {
			return i == ownLink, link.Host + link.Path
		}
	}
	return false, ""
}

// pliesAlike is how many half-moves in common make one game of two at one address
// where players or days differ.
const pliesAlike = 20

// atOneAddress judges two games with the same number or address of their own.
func atOneAddress(old, e *gameCopy) bool { return isCorrection(old, e, true) }

// atOnePlace judges two games with an address that may be that of others, too.
func atOnePlace(old, e *gameCopy) bool { return isCorrection(old, e, false) }

func isCorrection(old, e *gameCopy, own bool) bool {
	if begun := moment(&old.when); begun != "" && begun == moment(&e.when) {
		return true
	}
	players, days := old.group == e.group, !apart(&old.when, &e.when)
	moves := compareMoves(old.folded(), e.folded())
	common := moves.common + commonTail(old.folded(), e.folded(), moves.shorter-moves.common)
	alike := moves.shorter > 0 && (moves.identical || moves.beginning || 4*common >= 3*moves.longer)
	switch {
	case alike && common >= pliesAlike:
		return true
	case own:
		return players && (alike || days)
	}
	return players && days && (alike || moves.shorter == 0)
}

// apart reports whether the tags give two games different moments, days or rounds.
func apart(a, b *evidence) bool {
	days := datesAgree(a.date, b.date)
	return timesAgree(a, b) == differs || days == differs || days == nearly || roundsAgree(a.rounds, b.rounds) == differs
}

func inOneRound(old, e *gameCopy) bool {
	verdict, _ := old.compare(e)
	return verdict == same
}

// lessOf reports whether a newer text has less of a game than an older one: a game
// that is still going on, or was cut off, corrects nothing.
func lessOf(e, old *gameCopy) bool {
	switch {
	case e.score == "" && old.score != "", e.moves == "" && old.moves != "":
		return true
	case e.score != "":
		return false
	}
	return compareMoves(e.folded(), old.folded()).beginning && len(e.moves) < len(old.moves)
}
