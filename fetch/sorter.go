package fetch

import (
	"strings"

	"foreply/fetch/pgn"
)

// sorter is a Classify that remembers the tags it has seen, since the games of an
// archive share most of them. It serves one worker.
type sorter struct {
	players map[string]bool  // White and Black, which no rule tells apart; true is ordinary
	others  map[pgn.Tag]bool // the other tags
}

func newSorter() *sorter {
	return &sorter{players: map[string]bool{}, others: map[pgn.Tag]bool{}}
}

// classify is Classify. But for few moves a game is normal when each of its tags
// is, taken alone: no rule puts two of them together to make a game a special one.
func (s *sorter) classify(tags pgn.Tags, moves int) Kind {
	if moves < playedFromForfeit {
		return Classify(tags, moves)
	}
	for i := range tags {
		if tellsKind(tags[i].Name) && !s.isOrdinary(tags[i]) {
			return Classify(tags, moves)
		}
	}
	return Normal
}

func (s *sorter) isOrdinary(tag pgn.Tag) bool {
	if tag.Name == "White" || tag.Name == "Black" {
		ordinary, seen := s.players[tag.Value]
		if !seen {
			ordinary = alone(tag)
			remember(s.players, strings.Clone(tag.Value), ordinary)
		}
		return ordinary
	}
	ordinary, seen := s.others[tag]
	if !seen {
		ordinary = alone(tag)
		remember(s.others, pgn.Tag{Name: strings.Clone(tag.Name), Value: strings.Clone(tag.Value)}, ordinary)
	}
	return ordinary
}

// alone reports whether a game with this tag alone is normal.
func alone(tag pgn.Tag) bool { return Classify(pgn.Tags{tag}, anyMoves) == Normal }

func remember[K comparable](m map[K]bool, key K, value bool) {
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
