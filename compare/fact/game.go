package fact

import "foreply/fetch/pgn"

// GameRow is a game between the two.
type GameRow struct {
	Date    pgn.Date `json:"date,omitzero"`     // day of the game, as far as it is known
	White   string   `json:"white"`             // name of the player
	Black   string   `json:"black"`             // name of the player
	Theirs  string   `json:"theirs"`            // colour the opponent had
	Elo     int      `json:"elo,omitempty"`     // of the other player
	Result  string   `json:"result"`            // as in the game: 1-0
	Score   string   `json:"score"`             // theirs: 1, ½, 0, *
	Class   string   `json:"class"`             // time class
	ECO     string   `json:"eco,omitempty"`     // code of the opening
	Opening string   `json:"opening,omitempty"` // name of the opening
	Moves   []string `json:"moves"`             // SAN as far as it matters
	LeftBy  string   `json:"left_by"`           // 'them', 'you' (the side you will have), 'book' (it ended), 'end' (game over)
	LeftPly int      `json:"left_ply"`          // half-moves before the one with which the book was left
	Answer  string   `json:"answer,omitempty"`  // what the book plays where 'you' left it, in a game between the two; SAN
	File    string   `json:"file"`              // where the game stands
	Game    int      `json:"game"`              // its number in the file, from 1
}
