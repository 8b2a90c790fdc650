package fact

import "foreply/fetch/pgn"

// Kinds of a task.
const (
	ToExpect = "expect"
	ToPlay   = "play"
	ToLook   = "look"
)

// Leads: the word a task begins with.
const (
	LeadExpect  = "expect"
	LeadOr      = "or"      // a second line to expect
	LeadPlay    = "play"    // your answer to the line expected
	LeadChanged = "changed" // what they took up or dropped
	LeadAnswer  = "answer"  // find an answer the book lacks
	LeadGoOn    = "go on"   // where the book ends early
	LeadTrap    = "trap"
	LeadLook    = "look"   // again at a move that an engine doubts
	LeadOrder   = "order"  // of your own moves
	LeadChoose  = "choose" // between two answers
	LeadAgain   = "again"  // go over a line not met for long
)

// Task is one line of 'tonight'.
type Task struct {
	Kind  string   `json:"kind"`            // 'expect', 'play', 'look'
	Lead  string   `json:"lead"`            // the word the line begins with
	Note  string   `json:"note,omitempty"`  // the user's own, on the position after that line
	Moves []string `json:"moves,omitempty"` // the whole line it is about, SAN from the first move
	From  int      `json:"from,omitempty"`  // plies of Moves that the line expected has as well: it is told from there
	Need  float64  `json:"need"`            // what it is ranked by: reach, weighted by what is missing

	// What a line to expect, and the answer to it, are told with.
	Often   *Often   `json:"often,omitempty"`   // how often the line comes; nil where it is counted or nothing is known
	Peers   bool     `json:"peers,omitempty"`   // as players like them do: there is no game of theirs
	Played  int      `json:"played,omitempty"`  // of few games: so many went this way
	Of      int      `json:"of,omitempty"`      // of so many that came to the first choice of theirs in the line
	First   int      `json:"first,omitempty"`   // plies before that choice
	Unmet   []string `json:"unmet,omitempty"`   // your own first moves, where none of few games met them
	Color   string   `json:"color,omitempty"`   // theirs, where no game of theirs with it was found
	Name    string   `json:"name,omitempty"`    // of the opening the line leads to
	Answer  string   `json:"answer,omitempty"`  // your main choice behind a second line to expect, SAN
	Gap     []string `json:"gap,omitempty"`     // of an answer: the likeliest line behind it that the book has no answer to, SAN from the first move; of a line to expect: itself, if the book has none
	Open    float64  `json:"open,omitempty"`    // of an answer: the share of what they play next that the book has no answer to, 0..1, where it is more than half
	Depth   float64  `json:"depth,omitempty"`   // of an answer: mean full move at which its lines leave the book
	Choices []Choice `json:"choices,omitempty"` // behind Moves, where no move of theirs stands out: the likeliest ones

	// What a look is for.
	About   any        `json:"-"`                 // the fact: an *Unanswered, *Exit, *Trap, *Again, *Option, *Order, *Unpractised or *Change of the side
	Aim     string     `json:"aim,omitempty"`     // of a choice: what asks for it is your own label, 'win' or 'draw'
	Counted bool       `json:"counted,omitempty"` // their games are few: how many is told, not how often
	Best    *Evaluated `json:"best,omitempty"`    // your best move behind Moves by the engine, if one was asked and you have no answer

	// Minutes is a guess at the time it takes; 0 for what is only to be read.
	Minutes int    `json:"minutes,omitempty"`
	File    string `json:"file,omitempty"`      // where to look
	Line    int    `json:"file_line,omitempty"` // line of the file, from 1
}

// Parts is after how many plies a line parts from a stem; its last move at least is
// its own.
func Parts(line, stem []string) int {
	n := 0
	for n < len(line)-1 && n < len(stem) && line[n] == stem[n] {
		n++
	}
	return n
}

// Unpractised is a likely line of the book that the user's own games have not had
// for long.
type Unpractised struct {
	Line     []string `json:"line"`                // ends with your main choice
	Last     pgn.Date `json:"last,omitzero"`       // when the position before it was met last; unknown: never
	Reach    float64  `json:"reach"`               // of the line
	Often    Often    `json:"often"`               // Reach as it is told
	File     string   `json:"file,omitempty"`      // where the book has it
	FileLine int      `json:"file_line,omitempty"` // line of the file, from 1
}

// Reasons for a board.
const (
	BoardNoAnswer = "no_answer"
	BoardBookEnds = "book_ends"
	BoardUnseen   = "unseen" // a move of theirs that was not seen from them
	BoardInBook   = "in_book"
	BoardGameOver = "game_over"
)

// BoardPlies is how many half-moves a position must be from the start to need a board:
// every player sees the first three moves without one.
const BoardPlies = 7

// Diagram is a position worth a board.
type Diagram struct {
	Line     []string `json:"line"`                   // to it, SAN from the first move
	Why      string   `json:"why"`                    // what the position is worth a board for
	EPD      string   `json:"epd"`                    // of the position
	View     string   `json:"view"`                   // colour at the bottom: 'white' or 'black'
	Origin   string   `json:"origin"`                 // square the last move came from, '' at the start
	Arrow    string   `json:"arrow,omitempty"`        // prepared answer as e2e4
	Reach    float64  `json:"reach"`                  // of the position
	Lo       float64  `json:"lo"`                     // lower end of its 80 % interval
	Hi       float64  `json:"hi"`                     // upper end
	AnyOrder bool     `json:"by_any_order,omitempty"` // other orders of moves add to Reach
	Games    int      `json:"games"`                  // of theirs that came here
	Came     int      `json:"came"`                   // games of theirs in which their last move of Line came
	Of       int      `json:"of"`                     // of so many that came to the first choice of theirs in it
	Counted  bool     `json:"counted,omitempty"`      // their games are few: how many is told, not how often
}

// Often is how often the game comes here.
func (d *Diagram) Often() Often {
	return reached(Chance{d.Reach, d.Lo, d.Hi}, d.Came, d.Of, d.AnyOrder)
}

// Choice is a move of theirs and how likely it is; nil where games are counted.
type Choice struct {
	Move  string `json:"move"` // SAN
	Share *Share `json:"share,omitempty"`
}
