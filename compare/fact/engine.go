package fact

// Engine is the engine that looked at positions before the round, and how long.
type Engine struct {
	Name      string `json:"name"`      // and version, as it tells them
	Nodes     int    `json:"nodes"`     // that it looked at each position for
	Positions int    `json:"positions"` // that it looked at
	Wanted    int    `json:"wanted"`    // that were worth a look; more than Positions where the time was over
}

// Evaluated is a variation with its evaluation.
type Evaluated struct {
	Moves      []string `json:"moves"`          // SAN, from the position it is about
	Centipawns int      `json:"cp"`             // from White's side; 0 beside a mate
	Mate       int      `json:"mate,omitempty"` // full moves to mate, negative if Black mates
	Depth      int      `json:"depth"`          // plies, as the engine counts them
}

// Again is a move of the user's book that an engine finds much worse than the
// best one there.
type Again struct {
	Line     []string  `json:"line"`                // SAN to the position before it, from the first move
	Played   Evaluated `json:"played"`              // begins with the book's move
	Best     Evaluated `json:"best"`                // the best move by the engine
	Loss     int       `json:"loss"`                // centipawns, for the user
	Reach    float64   `json:"reach"`               // of the position before it
	Often    Often     `json:"often"`               // Reach as it is told
	File     string    `json:"file,omitempty"`      // where the book has the move
	FileLine int       `json:"file_line,omitempty"` // line of the file, from 1
}
