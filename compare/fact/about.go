package fact

// What a fact about the opponent is of.
const (
	LongCastling  = "long_castling"  // how often they castle long
	LateCastling  = "late_castling"  // uncastled at move 20
	EarlyQueens   = "early_queens"   // queens off by move 20
	OppositeSides = "opposite_sides" // castling on opposite sides
	ShortDraw     = "short_draw"     // drawn before move 25
	LongGame      = "long_game"      // 60 moves or more
	AgainstLower  = "against_lower"  // results against players Limit points or more below them
	InLongGames   = "in_long_games"  // results in games of Limit moves or more
	AtOnce        = "at_once"        // up to which move they play at once, by their clocks
	PlainRecord   = "record"         // their results with a colour
)

// About is a fact of the opponent that is worth a player's attention. Which of
// its fields are set its kind tells: a habit has K and Usual, results have a Score
// and what was Expected, AtOnce a Move.
type About struct {
	Kind  string `json:"kind"`            // what habit or result it is
	N     int    `json:"n"`               // games it rests on
	Above bool   `json:"above"`           // more often, better or further than usual; else less
	Speed string `json:"speed,omitempty"` // of the games counted, if not all: 'slow' or their time class

	K     int     `json:"k,omitempty"`     // so many of N
	Usual float64 `json:"usual,omitempty"` // the share that is usual, 0..1
	Peers bool    `json:"peers,omitempty"` // Usual is that of the peers given, not of players at large

	Score    Score   `json:"score,omitzero"`     // theirs
	Expected float64 `json:"expected,omitempty"` // points of theirs by the ratings, or else their record
	Limit    int     `json:"limit,omitempty"`    // rating points, or full moves
	Color    string  `json:"color,omitempty"`    // theirs, of a record
	Rated    *Rated  `json:"rated,omitempty"`    // what a record is worth beside the ratings; nil where too few games are rated

	Move      int `json:"move,omitempty"`       // full move, the median
	UsualMove int `json:"usual_move,omitempty"` // that of others
}

// Rated is a record beside what the ratings let expect, in the games of one
// rating list.
type Rated struct {
	List     string  `json:"list"`     // the rating list, as in Rating
	Games    int     `json:"games"`    // rated games counted
	Points   float64 `json:"points"`   // theirs
	Expected float64 `json:"expected"` // of theirs
	Beside   int     `json:"beside"`   // 1 more than rated, -1 less, 0 about as rated
	All      bool    `json:"all"`      // all games of the record are of this list
}
