package fact

import "foreply/fetch/pgn"

// Shown is what they can know of the user from the games given as the user's
// own: what was played on the way of the lines to expect.
type Shown struct {
	Games   int        `json:"games"`   // of the user with that colour
	Choices int        `json:"choices"` // main choices on the lines to expect
	Known   int        `json:"known"`   // of these, played in one of the games
	Habits  []Habit    `json:"habits"`  // where the lines pass most often
	Hidden  [][]string `json:"hidden"`  // likely lines that end with a main choice never shown, SAN
}

// Habit is what the user mostly played at a position.
type Habit struct {
	Line  []string `json:"line"`             // to the position, SAN
	Move  string   `json:"move"`             // played most
	N     int      `json:"n"`                // in so many
	Of    int      `json:"of"`               // of the games that came there
	Last  pgn.Date `json:"last,omitzero"`    // when it was last
	Book  string   `json:"book,omitempty"`   // the book's move, if another
	BookN int      `json:"book_n,omitempty"` // in how many of the games that came
}
