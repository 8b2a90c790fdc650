package fact

import "foreply/fetch/pgn"

// Parting is a position with the opponent to move where the lines to expect part.
type Parting struct {
	Stem     []string `json:"stem"`           // SAN from the first move to the position
	Reach    float64  `json:"reach"`          // of the position
	Visits   int      `json:"visits"`         // of theirs
	From     int      `json:"from"`           // index of the parting it continues, -1 for the first
	Branches []Branch `json:"branches"`       // likeliest first
	Rest     Share    `json:"rest"`           // all other moves together
	ECO      string   `json:"eco,omitempty"`  // code of the opening
	Name     string   `json:"name,omitempty"` // of the opening
}

// Branch states: what the book has for their move.
const (
	Answered   = "answered"
	NoAnswer   = "no_answer"  // unanswered
	BookIsOver = "book_ended" // the line had ended before this move
	Returns    = "transposes" // not written here, but the position is in the book
	ByWayBack  = "way_back"   // not in the book, but Answer leads back into it
)

// Branch is one move of theirs at a parting and what the book has for it.
type Branch struct {
	Move     string   `json:"move"` // SAN
	Share    Share    `json:"share"`
	Reach    float64  `json:"reach"`               // of the position after the move
	State    string   `json:"state"`               // what the book has for it
	Answer   string   `json:"answer,omitempty"`    // your main choice, or your way back, SAN
	Back     *Back    `json:"back,omitempty"`      // what Answer is if it is a way back
	Then     []string `json:"then,omitempty"`      // how it most likely goes on from there, to the next parting or exit
	Next     int      `json:"next"`                // index of the parting it leads to, -1 for none
	EndsWith string   `json:"ends_with,omitempty"` // exit kind when it leads to no parting
	Note     string   `json:"note,omitempty"`      // the user's own, on their move or your answer
	Last     pgn.Date `json:"last,omitzero"`       // when they last played it

	Trap      *Trap      `json:"trap,omitempty"`      // if their move here was wrong before
	Best      *Evaluated `json:"best,omitempty"`      // where the book ends here: the best line from there, by the engine, if one was asked
	Structure *Structure `json:"structure,omitempty"` // where the book ends here: the pawns, men and kings
	Instant   *Instant   `json:"instant,omitempty"`   // where the book ends here: how far they play at once, if further
}
