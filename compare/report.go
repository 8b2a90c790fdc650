package compare

// ReportVersion counts changes of the Report's shape that a reader of its JSON
// must know of.
const ReportVersion = 1

// Report is all that the page, the terminal and the JSON print: no presentation
// computes chess or statistics. Sentences stand in it ready to print; numbers
// stand beside them for programs.
type Report struct {
	Version  int      `json:"version"`
	Opponent Opponent `json:"opponent"`
	Heading  Heading  `json:"heading"`
	Basis    Basis    `json:"basis"`
	Sides    []Side   `json:"sides"`
	About    []Fact   `json:"about"`     // about the opponent, most telling first
	Footnote []string `json:"footnotes"` // warnings that must be read with the page
}

// Opponent is who the sheet is about.
type Opponent struct {
	ID      string   `json:"id,omitempty"`
	Name    string   `json:"name"`              // as the page prints it
	Names   []string `json:"names"`             // names and handles whose games were taken
	Unsure  []string `json:"unsure,omitempty"`  // handles the configuration marks as uncertain
	Ratings []Rating `json:"ratings,omitempty"` // newest by rating list
}

// Rating is the newest rating of one list; lists are never pooled.
type Rating struct {
	List  string `json:"list"` // 'over the board', or the id of a source, a host, 'online', with the time class
	Value int    `json:"value"`
	Date  string `json:"date"`
}

// Heading is what the user knows of the game to come; empty fields print as
// blanks to fill in.
type Heading struct {
	Me    string `json:"me,omitempty"`
	Event string `json:"event,omitempty"`
	Round string `json:"round,omitempty"`
	Board string `json:"board,omitempty"`
	Date  string `json:"date,omitempty"` // YYYY-MM-DD
	Clock string `json:"clock,omitempty"`
	Need  string `json:"need,omitempty"` // 'win' or 'draw', if you need one
}

// Basis says what the report rests on.
type Basis struct {
	Text     string        `json:"text"` // 'based on 34 slow games, last 2 Nov 2026; 210 fast ones count less'
	Games    int           `json:"games"`
	Slow     int           `json:"slow"` // classical by the FIDE Laws, and games without a time control
	Fast     int           `json:"fast"` // rapid, blitz and bullet
	First    string        `json:"first,omitempty"`
	Last     string        `json:"last,omitempty"` // YYYY-MM-DD, or a part of it
	AsOf     string        `json:"as_of"`          // the day the forecast is made for
	Sources  []SourceCount `json:"sources"`
	LeftOut  []LeftOut     `json:"left_out"`
	Meetings []GameRow     `json:"meetings,omitempty"` // games between the two
	Peers    *PeersUsed    `json:"peers,omitempty"`    // games of players like the opponent, if given
	Warnings int           `json:"warnings"`           // problems met while reading
}

// PeersUsed counts games of players like the opponent: what the forecast rests
// on beside the opponent's own, and what was left out.
type PeersUsed struct {
	Games   int    `json:"games"`  // dated, each once
	Before  int    `json:"before"` // of these, certainly over before the day of the game: what was used
	First   string `json:"first,omitempty"`
	Last    string `json:"last,omitempty"` // YYYY-MM-DD, the latest possible day
	Undated int    `json:"undated"`        // not used: never certainly earlier
	Own     int    `json:"own"`            // not used: the opponent's own
	Twice   int    `json:"twice"`          // not used: found before
	Unfit   int    `json:"unfit"`          // not used: set up, or under 6 plies
}

// SourceCount is what one file or source gave.
type SourceCount struct {
	Name  string `json:"name"`
	Games int    `json:"games"` // of this opponent
	Read  int    `json:"read"`  // in the file
}

// LeftOut counts games of the opponent that do not enter the tree, by reason.
type LeftOut struct {
	Reason string `json:"reason"`
	Games  int    `json:"games"`
}

// Side is the comparison for one colour of the user.
type Side struct {
	MyColor    string       `json:"my_color"` // 'white' or 'black'
	Games      int          `json:"games"`    // of theirs with the other colour
	Slow       int          `json:"slow"`
	Fast       int          `json:"fast"`
	Last       string       `json:"last,omitempty"`
	Score      Score        `json:"score"` // theirs with that colour
	Book       BookFacts    `json:"book"`
	Few        bool         `json:"few"`        // so few games that they are listed instead of counted
	PeersOnly  bool         `json:"peers_only"` // no game with that colour: the forecast is of the peers alone
	List       []GameRow    `json:"list,omitempty"`
	Hints      []Fact       `json:"hints,omitempty"` // of few games: what they do with the other colour
	Tonight    []Task       `json:"tonight"`
	Exits      []Exit       `json:"exits"`          // lines to expect, likeliest first
	Other      float64      `json:"other"`          // reach cut under the threshold; exits + other = 1
	Rare       string       `json:"rare,omitempty"` // Other in words, where it is worth saying
	Forks      []Fork       `json:"forks"`          // the same lines as a tree, in reading order
	Unanswered []Unanswered `json:"unanswered"`
	Coverage   []Coverage   `json:"coverage"`
	Options    []Option     `json:"options"`
	Boards     []Diagram    `json:"boards"` // most wanted first
	Surprise   Surprise     `json:"surprise"`
	Left       Left         `json:"left"`
	KnowOfYou  []string     `json:"know_of_you,omitempty"`
	Mistakes   []Mistake    `json:"mistakes,omitempty"`
	MaxPly     int          `json:"max_ply"`   // the walk's limit
	Threshold  float64      `json:"threshold"` // smallest reach that is followed
	Changes    []Change     `json:"changes"`   // what they took up or dropped, what you can meet first
	Orders     []Order      `json:"orders"`    // where the order of moves matters
	Traps      []Trap       `json:"traps"`     // where a side went wrong, what your book can reach first; then where they score
}

// BookFacts sums up the user's repertoire for this colour.
type BookFacts struct {
	Files     []string `json:"files"`
	Chapters  int      `json:"chapters"`
	Positions int      `json:"positions"` // with a prepared answer
	Notes     int      `json:"notes"`
}

// Score counts results from the opponent's side.
type Score struct {
	Wins    int `json:"w"`
	Draws   int `json:"d"`
	Losses  int `json:"l"`
	Unknown int `json:"u"`
}

// Share is a probability that knows what it rests on: P with its 80 % interval
// Lo..Hi, and the plain count Seen of Of visits.
type Share struct {
	P    float64 `json:"p"`
	Lo   float64 `json:"lo"`
	Hi   float64 `json:"hi"`
	Seen int     `json:"seen"`
	Of   int     `json:"of"`
	// Ten is the share of ten that is printed, by largest remainder among the
	// shares that stand together; TenLo to TenHi is the 80 % interval of how
	// often it comes in their next ten games here.
	Ten   int `json:"ten"`
	TenLo int `json:"ten_lo"`
	TenHi int `json:"ten_hi"`
}

// Exit kinds.
const (
	TheyLeave   = "they_leave"   // a move of theirs that the book does not cover where it covers another
	BookEnds    = "book_ends"    // the book covers nothing more here, or has no answer on your turn
	LimitInBook = "depth_limit"  // still in the book at the ply limit
	GameOver    = "game_is_over" // mate or stalemate inside the book
)

// Exit is one line to expect: from the first move to where it leaves the book.
type Exit struct {
	Kind     string   `json:"kind"`
	Reach    float64  `json:"reach"`
	Lo       float64  `json:"lo"`
	Hi       float64  `json:"hi"`
	Of100    int      `json:"of_100"` // Reach as printed: shares of 100 by largest remainder, other included
	Line     []string `json:"line"`   // SAN from the first move; the leaving move is the last one
	Unseen   bool     `json:"unseen"` // they leave by some move not seen from them; Line then stops before it
	Games    int      `json:"games"`  // of theirs that passed the end of Line
	Last     string   `json:"last,omitempty"`
	Orders   int      `json:"orders"` // move orders that meet here, 1 or more
	ECO      string   `json:"eco,omitempty"`
	Name     string   `json:"name,omitempty"`
	Note     string   `json:"note,omitempty"`     // the user's own, nearest to the end
	NotePly  int      `json:"note_ply,omitempty"` // the ply it stands at, 0 for the head of the chapter
	NotSeen  []int    `json:"not_seen,omitempty"` // plies of covered moves never seen from them
	Newest   []Ref    `json:"newest,omitempty"`   // newest games that passed here
	EPD      string   `json:"epd"`                // of the end of Line
	YourMove bool     `json:"your_move"`          // it is the user's turn at the end of Line
	File     string   `json:"file,omitempty"`     // where the book stops: repertoire file and line
	FileLine int      `json:"file_line,omitempty"`

	Structure Structure `json:"structure"`         // of the end of Line
	Instant   string    `json:"instant,omitempty"` // 'they are usually instant to move 11 here (6 games)', by their clocks, where that is past the end of Line
}

// Ref points at a game.
type Ref struct {
	File  string `json:"file"`
	Game  int    `json:"game"`
	Date  string `json:"date"`
	Class string `json:"class"`
}

// Fork is a position with the opponent to move where the lines to expect part.
type Fork struct {
	Stem     []string `json:"stem"`     // SAN from the first move to the position
	Reach    float64  `json:"reach"`    // of the position
	Visits   int      `json:"visits"`   // of theirs
	From     int      `json:"from"`     // index of the fork it continues, -1 for the first
	Branches []Branch `json:"branches"` // likeliest first
	Rest     Share    `json:"rest"`     // all other moves together
	ECO      string   `json:"eco,omitempty"`
	Name     string   `json:"name,omitempty"`
}

// Branch states: what the book has for their move.
const (
	Answered   = "answered"
	NoAnswer   = "no_answer"  // unanswered
	BookIsOver = "book_ended" // the line had ended before this move
	Returns    = "transposes" // not written here, but the position is in the book
)

// Branch is one move of theirs at a fork and what the book has for it.
type Branch struct {
	Move     string   `json:"move"` // SAN
	Share    Share    `json:"share"`
	Reach    float64  `json:"reach"` // of the position after the move
	State    string   `json:"state"`
	Answer   string   `json:"answer,omitempty"`    // your main choice, SAN
	Then     []string `json:"then,omitempty"`      // how it most likely goes on from there, to the next fork or exit
	Next     int      `json:"next"`                // index of the fork it leads to, -1 for none
	EndsWith string   `json:"ends_with,omitempty"` // exit kind when it leads to no fork
	Note     string   `json:"note,omitempty"`      // the user's own, on their move or your answer
	Last     string   `json:"last,omitempty"`      // when they last played it
	Text     string   `json:"text"`                // '5 in 10, likely 3-7' or 'not seen from them'

	Trap      string `json:"trap,omitempty"`      // if their move here was wrong before: how often, and whether they repaired it
	Structure string `json:"structure,omitempty"` // where the book ends here: what is uneven about the pawns, men and kings
	Instant   string `json:"instant,omitempty"`   // where the book ends here: up to which move they play at once, if further
}

// Unanswered is a likely move of theirs after which the book has nothing.
type Unanswered struct {
	Line   []string `json:"line"` // ends with their move
	Share  Share    `json:"share"`
	Reach  float64  `json:"reach"`
	Lo     float64  `json:"lo"`
	Hi     float64  `json:"hi"`
	Last   string   `json:"last,omitempty"`
	Games  int      `json:"games"`            // of theirs that came here, by any move order
	Score  Score    `json:"score"`            // theirs from here
	Others []Met    `json:"others,omitempty"` // how others met it, most games first
	Return []string `json:"return,omitempty"` // moves of yours that lead back into the book, SAN
	// SetUp is what you usually play in that family: in the lines of your book
	// through the position after SetUpPly plies of Line.
	SetUp    []string `json:"set_up,omitempty"`
	SetUpPly int      `json:"set_up_ply,omitempty"`
	Note     string   `json:"note,omitempty"`     // your own, nearest to the move
	NotePly  int      `json:"note_ply,omitempty"` // the ply it stands at, 0 for the head of the chapter
	Name     string   `json:"name,omitempty"`
	EPD      string   `json:"epd"`
	Text     string   `json:"text"` // 'about 1 game in 12, likely 1 in 30 to 1 in 6; 5 of 9 games; last 3 Oct 2026'
}

// Met is how others met their move, and what came of it for the opponent.
type Met struct {
	Move  string `json:"move"`
	Games int    `json:"games"`
	Score Score  `json:"score"`
}

// Coverage says how often you still have an answer at a move.
type Coverage struct {
	Move  int     `json:"move"` // full move number
	P     float64 `json:"p"`
	Of100 int     `json:"of_100"`
}

// Option is one of several answers the book has where the user is to move.
// Those of one position stand together, the main choice first.
type Option struct {
	Line      []string `json:"line"` // to the position
	Move      string   `json:"move"`
	Main      bool     `json:"main"`
	Reach     float64  `json:"reach"`   // of the position
	Score     Share    `json:"score"`   // yours: expected, shrunk; seen: games of theirs with a result that came to it
	Covered   float64  `json:"covered"` // share of their next moves that the book answers
	CoveredLo float64  `json:"covered_lo"`
	CoveredHi float64  `json:"covered_hi"`
	Depth     float64  `json:"depth"`               // mean full move at which the lines leave the book
	Familiar  int      `json:"familiar"`            // games of theirs that met it
	Likeliest string   `json:"likeliest,omitempty"` // their likeliest next move, SAN
	Known     float64  `json:"known"`               // chance of that move: how predictable they are here
	KnownLo   float64  `json:"known_lo"`
	KnownHi   float64  `json:"known_hi"`
	Character string   `json:"character,omitempty"` // your own label of its chapter: 'sharp' or 'solid'
	Style     Style    `json:"style"`               // of their games after it
	// Recommended only where something sets it apart from all others of the
	// position by more than its uncertainty; Reason says what.
	Recommended bool   `json:"recommended,omitempty"`
	Reason      string `json:"reason,omitempty"`
	Text        string `json:"text"` // what it is; the last of a position ends with the verdict
}

// Task is one line of 'tonight'.
type Task struct {
	Kind  string   `json:"kind"`            // 'expect', 'play', 'look'
	Lead  string   `json:"lead"`            // the word the line begins with: 'expect', 'or', 'play', 'answer', 'go on', 'trap', 'order', 'choose', 'again', 'changed'
	Text  string   `json:"text"`            // what follows it; the expected line in full, the others from where they part from it
	Note  string   `json:"note,omitempty"`  // the user's own, on the position after that line
	Moves []string `json:"moves,omitempty"` // the whole line it is about, SAN from the first move
	Need  float64  `json:"need"`            // what it is ranked by: reach, weighted by what is missing
	// Minutes is a guess at the time it takes; 0 for what is only to be read.
	Minutes int    `json:"minutes,omitempty"`
	File    string `json:"file,omitempty"`
	Line    int    `json:"file_line,omitempty"`
}

// Fact is a sentence with the number of games it rests on.
type Fact struct {
	Text string `json:"text"`
	N    int    `json:"n"`
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

// Surprise is what helps when they leave early.
type Surprise struct {
	Note    string   `json:"note,omitempty"` // your nearest note
	NoteAt  string   `json:"note_at,omitempty"`
	SetUp   []string `json:"set_up,omitempty"`  // your moves most common in the book, in words or SAN
	Returns []string `json:"returns,omitempty"` // 'sentence: after 3...h6 the move 4.d4 is back in your book'
}

// Mistake is a move the book marks ? or ??, which they met, or nearly: a game of
// theirs, or a line to expect, came to the position before it, or a game within a
// full move of that.
type Mistake struct {
	Line     []string `json:"line"`           // ends with the marked move
	Whose    string   `json:"whose"`          // 'theirs' or 'yours'
	Games    int      `json:"games"`          // of theirs in which it was made
	Reached  int      `json:"reached"`        // games of theirs that reached the position before it
	Near     int      `json:"near"`           // games of theirs that came within a full move of that
	Reach    float64  `json:"reach"`          // of the position before it
	Last     string   `json:"last,omitempty"` // when it was made last
	Note     string   `json:"note,omitempty"`
	File     string   `json:"file,omitempty"`
	FileLine int      `json:"file_line,omitempty"`
	Text     string   `json:"text"` // 'is a mistake of theirs in your book; made in 2 of 3 games that came here, last 30 Jan 2026'
}

// GameRow is one game in a list.
type GameRow struct {
	Date    string   `json:"date"`
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
	Left    string   `json:"left"` // 'they left with 5...Qb6'
	File    string   `json:"file"`
	Game    int      `json:"game"`
}
