package fetch

import (
	"strings"

	"foreply/fetch/pgn"
)

// sorter is a Classify that remembers the tags it has seen, since the games of an
// archive share most of them. It serves one worker.
type sorter struct {
	players map[string]bool    // White and Black, which no rule tells apart; true is ordinary
	others  map[pgn.Tag]judged // the other tags
	last    []pgn.Tag          // ordinary ones of games before, by their place
}

// judged is a tag in memory of its own.
type judged struct {
	tag      pgn.Tag
	ordinary bool
}

func newSorter() *sorter {
	return &sorter{players: map[string]bool{}, others: map[pgn.Tag]judged{}}
}

// classify is Classify. But for few moves a game is normal when each of its tags
// is, taken alone: no rule puts two of them together to make a game a special one.
func (s *sorter) classify(tags pgn.Tags, moves int) Kind {
	if moves < playedFromForfeit {
		return Classify(tags, moves)
	}
	for i := range tags {
		if i < len(s.last) && s.last[i] == tags[i] {
			continue
		}
		if tellsKind(tags[i].Name) && !s.isOrdinary(tags[i], i) {
			return Classify(tags, moves)
		}
	}
	return Normal
}

// isOrdinary judges the tag at a place among the tags of its game.
func (s *sorter) isOrdinary(tag pgn.Tag, place int) bool {
	if tag.Name == "White" || tag.Name == "Black" {
		ordinary, seen := s.players[tag.Value]
		if !seen {
			ordinary = alone(tag)
			remember(s.players, strings.Clone(tag.Value), ordinary)
		}
		return ordinary
	}
	known, seen := s.others[tag]
	if !seen {
		known = judged{pgn.Tag{Name: strings.Clone(tag.Name), Value: strings.Clone(tag.Value)}, alone(tag)}
		remember(s.others, known.tag, known)
	}
	if known.ordinary && place < mostPlaces {
		s.last = append(s.last, make([]pgn.Tag, max(0, place+1-len(s.last)))...)
		s.last[place] = known.tag
	}
	return known.ordinary
}

// mostPlaces is how many tags of a game are compared with those of the games before.
const mostPlaces = 32

// alone reports whether a game with this tag alone is normal.
func alone(tag pgn.Tag) bool { return Classify(pgn.Tags{tag}, anyMoves) == Normal }

func remember[K comparable, V any](m map[K]V, key K, value V) {
	if len(m) >= remembered {
		clear(m)
	}
	m[key] = value
}

// tellsKind tells the tags that Classify looks at when a game has moves.
func tellsKind(name string) bool {
	switch name {
	case "White", "Black", "Event", "EventType", "TimeControl", "Termination", "Variant", "Mode",
		"FEN", "SetUp", "WhiteType", "BlackType", "WhiteTitle", "BlackTitle":
		return true
	}
	return false
}
