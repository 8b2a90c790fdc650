package fetch

import (
	"strings"

	"foreply/fetch/pgn"
)

// sorter is a Classify that remembers the tags it has seen, since the games of an
// archive share most of them. It serves one worker.
type sorter struct{ ordinary map[pgn.Tag]bool }

func newSorter() *sorter { return &sorter{ordinary: map[pgn.Tag]bool{}} }

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
	known, seen := s.ordinary[tag]
	if seen {
		return known
	}
	if len(s.ordinary) >= remembered {
		clear(s.ordinary)
	}
	known = Classify(pgn.Tags{tag}, anyMoves) == Normal
	s.ordinary[pgn.Tag{Name: strings.Clone(tag.Name), Value: strings.Clone(tag.Value)}] = known
	return known
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
