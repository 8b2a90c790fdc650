package fact

// Hint tells what they do first with the other colour: something to go by where
// their games with this one are few.
type Hint struct {
	Color string   `json:"color"` // theirs: 'white' or 'black'
	Line  []string `json:"line"`  // SAN before their move: none with White, the first move met with Black
	Moves []Played `json:"moves"` // theirs there, most played first
	Games int      `json:"games"` // of theirs that came there
}

// Played is how often a move was played.
type Played struct {
	Move  string `json:"move"`  // SAN
	Games int    `json:"games"` // of theirs with it
}
