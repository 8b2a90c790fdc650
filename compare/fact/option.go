package fact

// Option is one of several answers the book has where the user is to move.
// Those of one position stand together, in the order of the side's Aim, else the
// main choice first.
type Option struct {
	Line      []string `json:"line"`                // to the position
	Move      string   `json:"move"`                // your answer, SAN
	Main      bool     `json:"main"`                // the answer given first
	Reach     float64  `json:"reach"`               // of the position
	Score     Share    `json:"score"`               // yours: expected, shrunk; seen: games of theirs with a result that came to it
	Covered   float64  `json:"covered"`             // share of their next moves that the book answers
	CoveredLo float64  `json:"covered_lo"`          // lower end of its 80 % interval
	CoveredHi float64  `json:"covered_hi"`          // upper end
	Depth     float64  `json:"depth"`               // mean full move at which the lines leave the book
	Familiar  int      `json:"familiar"`            // games of theirs that met it, by any order of moves
	Likeliest string   `json:"likeliest,omitempty"` // their likeliest next move, SAN
	Known     Share    `json:"known"`               // of that move: how predictable they are here
	Character string   `json:"character,omitempty"` // your own label of its chapter: 'sharp' or 'solid'
	Style     Style    `json:"style"`               // of their games after it
	// Reasons say what sets it apart from all others of the position by more than its
	// uncertainty: 'results', 'book'; none where nothing does. With one it is recommended.
	Reasons []string `json:"reasons,omitempty"`
}

// What sets an option apart.
const (
	ByResults = "results" // theirs against it are worse than chance and ratings explain
	ByBook    = "book"    // it answers clearly more of what they play then
)

// Aims: what the options of a position are ordered for.
const (
	ForWin       = "win"
	ForDraw      = "draw"
	ForTwoRounds = "two_rounds" // on one day
	ForFast      = "fast"       // a game of a fast time class
)

// Situation tells what a situation that the user named has changed.
type Situation struct {
	Aim    string     `json:"aim"`    // what the options are ordered for: 'win', 'draw', 'two_rounds' or 'fast'
	Places int        `json:"places"` // where the lines pass often and the book has several answers
	First  [][]string `json:"first"`  // lines that end with an answer that was put before the main choice, SAN
}

// Style is what their games after an option looked like, whatever their results
// but for short draws.
type Style struct {
	Of         int `json:"of"`          // games of theirs that came to it and lasted 20 moves, or were drawn before move 25
	QueensOff  int `json:"queens_off"`  // of these: by move 20
	ShortDraws int `json:"short_draws"` // drawn before move 25
	Opposite   int `json:"opposite"`    // castled on opposite sides by move 20
}
