package fact

// Task is one line of 'tonight'.
type Task struct {
	Kind  string   `json:"kind"`            // 'expect', 'play', 'look'
	Lead  string   `json:"lead"`            // the word the line begins with: 'expect', 'or', 'play', 'answer', 'go on', 'trap', 'look', 'order', 'choose', 'again', 'changed'
	Text  string   `json:"text"`            // what follows it; the expected line in full, the others from where they part from it
	Note  string   `json:"note,omitempty"`  // the user's own, on the position after that line
	Moves []string `json:"moves,omitempty"` // the whole line it is about, SAN from the first move
	Need  float64  `json:"need"`            // what it is ranked by: reach, weighted by what is missing

	// What a line to expect, and the answer to it, are told with.
	Often   *Often   `json:"often,omitempty"`   // how often the line comes; nil where it is counted or nothing is known
	Played  int      `json:"played,omitempty"`  // of few games: so many went this way
	Of      int      `json:"of,omitempty"`      // of so many that came to the first choice of theirs in the line
	Name    string   `json:"name,omitempty"`    // of the opening the line leads to
	Answer  string   `json:"answer,omitempty"`  // your main choice behind a second line to expect, SAN
	Depth   float64  `json:"depth,omitempty"`   // of an answer: mean full move at which its lines leave the book
	Choices []Choice `json:"choices,omitempty"` // behind Moves, where no move of theirs stands out: the likeliest ones

	Best *Evaluated `json:"best,omitempty"` // your best move behind Moves by the engine, if one was asked and you have no answer

	// Minutes is a guess at the time it takes; 0 for what is only to be read.
	Minutes int    `json:"minutes,omitempty"`
	File    string `json:"file,omitempty"`
	Line    int    `json:"file_line,omitempty"`
}

// Diagram is a position worth a board.
type Diagram struct {
	Title   string  `json:"title"` // 'after 6...Qb6'
	Caption string  `json:"caption"`
	EPD     string  `json:"epd"`
	View    string  `json:"view"`            // colour at the bottom: 'white' or 'black'
	Origin  string  `json:"origin"`          // square the last move came from, '' at the start
	Arrow   string  `json:"arrow,omitempty"` // prepared answer as e2e4
	Reach   float64 `json:"reach"`
}

// Choice is a move of theirs and how likely it is; 0 where games are counted.
type Choice struct {
	Move string  `json:"move"` // SAN
	P    float64 `json:"p,omitempty"`
}
