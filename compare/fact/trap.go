package fact

import "foreply/fetch/pgn"

// Trap kinds.
const (
	TheirSlip  = "their_slip"  // they went wrong from a roughly level position
	OthersSlip = "others_slip" // who sat where you will sit went wrong against them, with your book's move or where it has none
)

// Where a trap lies.
const (
	InBook      = "in_book"      // on the lines to expect
	PastBook    = "past_book"    // behind an exit
	OtherAnswer = "other_answer" // behind an answer of your book that is not the main choice
	OffBook     = "off_book"     // behind a move your book has not
)

// Trap is a place where a side went wrong though the game was roughly level, by the
// evaluations in the comments or the engine's. Scores alone make none: out of sample
// they foretold nothing (cmd/measure/forecast/FIT.md).
type Trap struct {
	Kind     string   `json:"kind"`                // whose mistake it is
	Line     []string `json:"line"`                // SAN from the first move; ends with the wrong move
	File     string   `json:"file,omitempty"`      // where the book has the last position before it
	FileLine int      `json:"file_line,omitempty"` // line of the file, from 1
	Where    string   `json:"where"`               // where it lies: on your lines, or beside them
	Reach    float64  `json:"reach"`               // of the position before the move; behind an exit by how others went on
	Need     float64  `json:"need"`                // what it is ranked by: reach, weighted by how often and whether it was repaired
	Before   int      `json:"before,omitempty"`    // mean evaluation before the move in centipawns, from the side that went wrong
	After    int      `json:"after,omitempty"`     // and after it
	Games    int      `json:"games"`               // of theirs with the move
	Of       int      `json:"of"`                  // that came to the position
	Last     pgn.Date `json:"last,omitzero"`       // when last
	Speeds   []string `json:"speeds,omitempty"`    // time classes of the games
	Since    int      `json:"since"`               // later games that came here and went another way
	Then     string   `json:"then,omitempty"`      // the commonest move in these
	// ThenPly is where Then stands: after so many plies of Line.
	ThenPly  int   `json:"then_ply,omitempty"`
	Repaired bool  `json:"repaired"` // they may have repaired it: since the last of the games they went another way
	Yours    bool  `json:"yours"`    // where another went wrong: by your book's main choice; else your book has nothing there
	Score    Score `json:"score"`    // theirs in these games
	// Expected are the points of theirs to be expected in these games: by the ratings,
	// else by their record with the colour.
	Expected float64    `json:"expected"`
	Newest   []Ref      `json:"newest,omitempty"` // newest of the games
	Engine   bool       `json:"engine,omitempty"` // Before and After are the engine's, not from the comments of the games
	Best     *Evaluated `json:"best,omitempty"`   // the best line behind the wrong move, by the engine, if one was asked
	// Prepared: Best begins with your book's main choice.
	Prepared bool `json:"prepared,omitempty"`
}

// MostEval is where evaluations are cut, in centipawns: what stands there is
// decided.
const MostEval = 1000
