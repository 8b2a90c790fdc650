package fact

import (
	"slices"

	"foreply/fetch/pgn"
)

// Unanswered is a likely move of theirs after which the book has nothing.
type Unanswered struct {
	Line  []string `json:"line"` // ends with their move
	Share Share    `json:"share"`
	Reach float64  `json:"reach"`         // of the position behind their move
	Lo    float64  `json:"lo"`            // lower end of its 80 % interval
	Hi    float64  `json:"hi"`            // upper end
	Last  pgn.Date `json:"last,omitzero"` // when they last played it
	Games int      `json:"games"`         // of theirs that came here, by any move order
	Of    int      `json:"of"`            // of so many that came to the first choice of theirs in Line
	// AnyOrder: other orders of moves add to Reach.
	AnyOrder bool  `json:"by_any_order,omitempty"`
	Score    Score `json:"score"`            // theirs from here
	Others   []Met `json:"others,omitempty"` // how others met it, most games first
	// Peers are how players like them met it when they sat where the user will, most
	// games first; PeerGames are all games of theirs that came here.
	Peers     []Met `json:"peers,omitempty"`
	PeerGames int   `json:"peer_games,omitempty"` // peers' games at the position
	// Apart: one of all the answers of others did better than the rest together, against what
	// was to be expected, by more than chance. None is put forward for it: out of sample
	// such an answer made no more than the others (cmd/measure/forecast/FIT.md).
	Apart bool `json:"apart,omitempty"`
	// SetUp is what you usually play in that family: in the lines of your book
	// through the position after SetUpPly plies of Line.
	SetUp    []string    `json:"set_up,omitempty"`
	SetUpPly int         `json:"set_up_ply,omitempty"` // half-moves of Line after which the family begins
	Note     string      `json:"note,omitempty"`       // your own, nearest to the move
	NotePly  int         `json:"note_ply,omitempty"`   // the ply it stands at, 0 for the head of the chapter
	Name     string      `json:"name,omitempty"`       // of the opening
	File     string      `json:"file,omitempty"`       // where the book has the last position before the move
	FileLine int         `json:"file_line,omitempty"`  // line of the file, from 1
	EPD      string      `json:"epd"`                  // of the position behind their move
	Best     []Evaluated `json:"best,omitempty"`       // your best moves here by the engine, if one was asked
}

// Often is how often their move comes.
func (u *Unanswered) Often() Often {
	return reached(Chance{u.Reach, u.Lo, u.Hi}, u.Games, u.Of, u.AnyOrder)
}

// Met is how others met their move, and what came of it for the opponent.
type Met struct {
	Move     string   `json:"move"`  // the answer, SAN
	Games    int      `json:"games"` // with it
	Score    Score    `json:"score"`
	Expected float64  `json:"expected,omitempty"` // points of theirs to be expected in these games, by ratings, else by their record; not of peers
	Then     []GoesOn `json:"then,omitempty"`     // how most went on, ply for ply: theirs first, as far as six games tell
	EPD      string   `json:"epd,omitempty"`      // the position behind Then; none without
}

// On is a line with the answer and how most went on.
func (m *Met) On(line []string) []string {
	on := append(slices.Clone(line), m.Move)
	for i := range m.Then {
		on = append(on, m.Then[i].Move)
	}
	return on
}

// GoesOn is the commonest move at a ply behind an answer, in the games that went on
// with the commonest moves before it.
type GoesOn struct {
	Move     string  `json:"move"`          // SAN
	Games    int     `json:"games"`         // with it
	Of       int     `json:"of"`            // games that went on
	Score    Score   `json:"score"`         // theirs in these games
	Expected float64 `json:"expected"`      // points of theirs to be expected in these games
	Gap      int     `json:"gap,omitempty"` // the position behind it is that of another of the Side's unanswered moves: its number among them, from 1
}

// Surprise is what helps when they leave early.
type Surprise struct {
	Note     string    `json:"note,omitempty"`      // your nearest note
	NoteLine []string  `json:"note_line,omitempty"` // to the move it stands at; none at the head of a chapter
	SetUp    []string  `json:"set_up,omitempty"`    // your moves most common in the book, SAN
	Returns  []WayBack `json:"returns,omitempty"`   // the likeliest of the Side's that are no branch of its partings
}

// Back tells of a move of the user's that the book doesn't have at its place, after
// which their likely moves lead into it again, by transposition.
type Back struct {
	Chance
	Hardly   bool     `json:"hardly_known"`        // the interval spans more than half of the scale
	Into     []string `json:"into"`                // the likeliest way to an answer of the book: your move, their move, and so on; SAN
	Answer   string   `json:"answer"`              // that answer, SAN
	File     string   `json:"file,omitempty"`      // where it stands
	FileLine int      `json:"file_line,omitempty"` // line of the file, from 1
}

// WayBack is a move of theirs that the book doesn't cover, with the way back that
// the user has.
type WayBack struct {
	Line  []string `json:"line"`  // ends with their move, SAN
	Reach float64  `json:"reach"` // of it
	Back
}
