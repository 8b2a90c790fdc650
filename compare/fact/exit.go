package fact

import "foreply/fetch/pgn"

// Exit kinds.
const (
	TheyLeave   = "they_leave"   // a move of theirs that the book does not cover where it covers another
	BookEnds    = "book_ends"    // the book covers nothing more here, or has no answer on your turn
	LimitInBook = "depth_limit"  // still in the book at the ply limit
	GameOver    = "game_is_over" // mate or stalemate inside the book
)

// Exit is one line to expect: from the first move to where it leaves the book.
type Exit struct {
	Kind     string     `json:"kind"`                   // how the line ends
	Reach    float64    `json:"reach"`                  // probability that the game ends here
	Lo       float64    `json:"lo"`                     // lower end of its 80 % interval
	Hi       float64    `json:"hi"`                     // upper end
	Of100    int        `json:"of_100"`                 // Reach as printed: shares of 100 by largest remainder, other included
	Line     []string   `json:"line"`                   // SAN from the first move; the leaving move is the last one
	Unseen   bool       `json:"unseen"`                 // they leave by some move not seen from them; Line then stops before it
	Games    int        `json:"games"`                  // of theirs that passed the end of Line
	Came     int        `json:"came"`                   // games of theirs in which their last move of Line came, whatever was played next
	Of       int        `json:"of"`                     // of so many that came to the first choice of theirs in it
	AnyOrder bool       `json:"by_any_order,omitempty"` // other orders of moves add to Reach
	Last     pgn.Date   `json:"last,omitzero"`          // when a game of theirs came here last
	Orders   int        `json:"orders"`                 // move orders that meet here, 1 or more
	ECO      string     `json:"eco,omitempty"`          // code of the opening
	Name     string     `json:"name,omitempty"`         // of the opening
	Note     string     `json:"note,omitempty"`         // the user's own, nearest to the end
	NotePly  int        `json:"note_ply,omitempty"`     // the ply it stands at, 0 for the head of the chapter
	WaysBack []int      `json:"ways_back,omitempty"`    // plies of your moves that are not of the book but lead back into it, by transposition
	NotSeen  []int      `json:"not_seen,omitempty"`     // plies of covered moves never seen from them
	Newest   []Ref      `json:"newest,omitempty"`       // newest games that passed here
	EPD      string     `json:"epd"`                    // of the end of Line
	YourMove bool       `json:"your_move"`              // it is the user's turn at the end of Line
	File     string     `json:"file,omitempty"`         // where the book stops: repertoire file and line
	FileLine int        `json:"file_line,omitempty"`    // line of the file, from 1
	Best     *Evaluated `json:"best,omitempty"`         // the best line from the end of Line, by the engine, if one was asked

	Structure Structure `json:"structure"`         // of the end of Line
	Instant   *Instant  `json:"instant,omitempty"` // how far they play at once from here by their clocks, where that is past the end of Line
}

// Often is how often the line comes.
func (x *Exit) Often() Often { return reached(Chance{x.Reach, x.Lo, x.Hi}, x.Came, x.Of, x.AnyOrder) }

func reached(c Chance, games, of int, anyOrder bool) Often {
	o := NewOften(c, games, of)
	o.AnyOrder = anyOrder
	return o
}

// Ref points at a game.
type Ref struct {
	File  string   `json:"file"`          // where the game stands
	Game  int      `json:"game"`          // its number in the file, from 1
	Date  pgn.Date `json:"date,omitzero"` // day of the game, as far as it is known
	Class string   `json:"class"`         // time class
}

// Coverage says how often you still have an answer at a move.
type Coverage struct {
	Move  int     `json:"move"`   // full move number
	P     float64 `json:"p"`      // share of their moves that the book answers
	Of100 int     `json:"of_100"` // the same in a hundred
}

// Instant is up to which move they usually play at once, by their clocks.
type Instant struct {
	Move  int `json:"move"`  // full move, the median
	Games int `json:"games"` // with clocks that came there
}
