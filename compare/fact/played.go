package fact

import "foreply/fetch/pgn"

// ShownPlies is after how many plies a game's position is shown, and how many are told at least.
const ShownPlies = 16

// PlayedGame is one of their games to be read or played through.
type PlayedGame struct {
	Date     pgn.Date `json:"date,omitzero"`       // day of the game, as far as it is known
	Rival    string   `json:"rival"`               // who had the user's side
	RivalElo int      `json:"rival_elo,omitempty"` // 0 when not known
	Elo      int      `json:"elo,omitempty"`       // theirs
	Event    string   `json:"event,omitempty"`     // as in the game
	Site     string   `json:"site,omitempty"`      // as in the game
	Round    string   `json:"round,omitempty"`     // as in the game
	Result   string   `json:"result"`              // as in the game: 1-0
	Yours    string   `json:"yours"`               // points of the side that the user will have: 1, ½, 0, *
	Speed    string   `json:"speed"`               // its time class, by the clock or by the words of the event; 'unknown' for none
	ECO      string   `json:"eco,omitempty"`       // code of the opening
	Opening  string   `json:"opening,omitempty"`   // name of the opening
	Moves    []string `json:"moves"`               // SAN from the first move, as far as they are told
	Plies    int      `json:"plies"`               // of the whole game
	// Telling is how many plies tell something: eight moves, or up to where they chose
	// or the game left the book.
	Telling  int    `json:"telling"`
	EPD      string `json:"epd"`              // after eight moves, or the end of a shorter game
	LeftBy   string `json:"left_by"`          // 'them', 'you' (the side you will have), 'book' (it ended), 'end' (game over)
	LeftPly  int    `json:"left_ply"`         // plies of the game that the book has
	Answer   string `json:"answer,omitempty"` // what the book plays there, where another player of the user's side did not; SAN
	File     string `json:"file"`             // where the game stands
	FileLine int    `json:"file_line"`        // that it begins on
	Game     int    `json:"game"`             // its number in the file
}

// ModelGames are games of theirs to play through for a line to expect, the most
// useful first.
type ModelGames struct {
	Line  []string    `json:"line"`  // SAN, as the line to expect
	Reach float64     `json:"reach"` // of the line
	Games []ModelGame `json:"games"`
}

// ModelGame is a game and how much of the line it has.
type ModelGame struct {
	PlayedGame
	Deep int `json:"deep"` // plies of the line up to the last position that the game came to, in any order of moves
}

func (g PlayedGame) lines() [][]string {
	return append([][]string{g.Moves}, after(g.Moves[:min(g.LeftPly, len(g.Moves))], g.Answer)...)
}

func (m ModelGames) lines() [][]string { return [][]string{m.Line} }
