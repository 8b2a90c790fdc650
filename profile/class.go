package profile

import "foreply/fetch/pgn"

// Class is the time class of a game.
type Class = pgn.Speed

const (
	UnknownClass = pgn.UnknownSpeed
	Bullet       = pgn.Bullet
	Blitz        = pgn.Blitz
	Rapid        = pgn.Rapid
	Classical    = pgn.Classical
)

// Span is the days that a game may have been played on.
type Span = pgn.Span
