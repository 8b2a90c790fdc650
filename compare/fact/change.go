package fact

import "foreply/fetch/pgn"

// Change is an opening that they took up or dropped, where chance hardly
// explains it.
type Change struct {
	Line    []string `json:"line"`              // SAN, to the position
	Move    string   `json:"move"`              // taken up, or dropped
	Up      bool     `json:"up"`                // taken up
	N       int      `json:"n"`                 // how often it came in the last Of games here
	Of      int      `json:"of"`                // games here since
	PastN   int      `json:"past_n"`            // how often it came in the PastOf games before
	PastOf  int      `json:"past_of"`           // games here before
	Now     string   `json:"now"`               // the commonest move since
	NowN    int      `json:"now_n"`             // how often it came
	Former  string   `json:"former"`            // the commonest move before
	FormerN int      `json:"former_n"`          // how often it came
	Habit   bool     `json:"habit"`             // Former was their habit, and Now is
	AllN    int      `json:"all_n"`             // how often Former, of a habit, else Move, came in the AllOf games here before, however old
	AllOf   int      `json:"all_of"`            // games here before, however old
	Since   pgn.Date `json:"since,omitzero"`    // date of the first game since
	Speed   string   `json:"speed,omitempty"`   // of the games compared: 'slow', or their time class; 'unknown' where some are not known to be slow or fast, none where all games here are of such
	SameIn  []string `json:"same_in,omitempty"` // other speeds at which the same changed
	Reach   float64  `json:"reach"`             // of the position
	Chance  float64  `json:"chance"`            // upper bound of how often so clear a change is seen here where nothing changed
	// Share is how likely the move that is told, Now of a habit, else Move, is in the game
	// to come, as the lines to expect have it; nil where no game is forecast.
	Share *Share `json:"share,omitempty"`
}

// Told is the move that the change is told of.
func (c *Change) Told() string {
	if c.Habit {
		return c.Now
	}
	return c.Move
}
