package fact

import "foreply/fetch/pgn"

// GameRow is one game in a list.
type GameRow struct {
	Date    pgn.Date `json:"date,omitzero"`
	White   string   `json:"white"`
	Black   string   `json:"black"`
	Theirs  string   `json:"theirs"`        // colour the opponent had
	Elo     int      `json:"elo,omitempty"` // of the other player
	Result  string   `json:"result"`        // as in the game: 1-0
	Score   string   `json:"score"`         // theirs: 1, ½, 0, *
	Class   string   `json:"class"`
	ECO     string   `json:"eco,omitempty"`
	Opening string   `json:"opening,omitempty"`
	Moves   []string `json:"moves"`   // SAN as far as it matters
	LeftBy  string   `json:"left_by"` // 'them', 'you' (the side you will have), 'book' (it ended), 'end' (game over)
	LeftPly int      `json:"left_ply"`
	Between bool     `json:"between,omitempty"` // the user had the other side
	File    string   `json:"file"`
	Game    int      `json:"game"`
}
