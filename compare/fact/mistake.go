package fact

import "foreply/fetch/pgn"

// Mistake is a move the book marks ? or ??, which they met, or nearly: a game of
// theirs, or a line to expect, came to the position before it, or a game within a
// full move of that.
type Mistake struct {
	Line     []string `json:"line"`                // ends with the marked move
	Yours    bool     `json:"yours"`               // a move to avoid; else one of theirs
	Answer   string   `json:"answer,omitempty"`    // the book's to a mistake of theirs, SAN
	Games    int      `json:"games"`               // of theirs in which it was made
	Reached  int      `json:"reached"`             // games of theirs that reached the position before it
	Near     int      `json:"near"`                // games of theirs that came within a full move of that
	Reach    float64  `json:"reach"`               // of the position before it
	Often    *Often   `json:"often,omitempty"`     // Reach as it is told; nil where no line to expect comes there
	Last     pgn.Date `json:"last,omitzero"`       // when it was made last
	Note     string   `json:"note,omitempty"`      // your own at the position
	File     string   `json:"file,omitempty"`      // where the book has the position
	FileLine int      `json:"file_line,omitempty"` // line of the file, from 1
}
