package fact

import "foreply/fetch/pgn"

// Who left the book in a game.
const (
	LeftByThem = "them"
	LeftByYou  = "you"  // the side you will have; another player sat there
	BookOver   = "book" // it had nothing more
	GameEnded  = "end"  // the game ended inside the book
)

// Left tells how their past games with this colour ran through the book, had
// you sat there with it: the past, where the exits are a forecast.
type Left struct {
	Games int      `json:"games"` // counted
	Them  int      `json:"them"`  // they left first
	You   int      `json:"you"`   // the other player made a move that is no answer of yours
	Book  int      `json:"book"`  // the book had nothing more
	Never int      `json:"never"` // the game ended in the book
	Back  int      `json:"back"`  // came back to a position of the book after leaving it
	Move  float64  `json:"move"`  // mean full move at which the book was left
	Usual []WayOut `json:"usual"` // commonest first
}

// WayOut is one place where games left the book.
type WayOut struct {
	Line  []string `json:"line"`          // ends with the move that left it; where the book ended, before it
	By    string   `json:"by"`            // as LeftBy of a game
	Games int      `json:"games"`         // that left here
	Last  pgn.Date `json:"last,omitzero"` // when one last did
}
