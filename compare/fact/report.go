package fact

import "foreply/fetch/pgn"

// Counted tells whether a side prints counts instead of shares: its games are
// few, and not for want of any told by the peers.
func (s *Side) Counted() bool { return s.Few && !s.PeersOnly }

// TellPeers says at each share that it is one of peers, where all are.
func (s *Side) TellPeers() {
	for _, list := range [][]Parting{s.Partings, s.Further} {
		for i := range list {
			for k := range list[i].Branches {
				list[i].Branches[k].Share.OfPeers = s.PeersOnly
			}
		}
	}
	for i := range s.Unanswered {
		s.Unanswered[i].Share.OfPeers = s.PeersOnly
	}
	for i := range s.Options {
		s.Options[i].Known.OfPeers = s.PeersOnly
	}
	for i := range s.Tonight {
		for _, c := range s.Tonight[i].Choices {
			if c.Share != nil {
				c.Share.OfPeers = s.PeersOnly
			}
		}
	}
}

// ReportVersion counts changes of the Report's shape that a reader of its JSON
// must know of.
const ReportVersion = 4

// Report is all that the page, the terminal and the JSON print: no presentation
// computes chess or statistics. Facts stand in it; package words says them.
type Report struct {
	Version  int      `json:"version"` // counts changes of the shape that readers must know of
	Opponent Opponent `json:"opponent"`
	Heading  Heading  `json:"heading"`
	Basis    Basis    `json:"basis"`
	Sides    []Side   `json:"sides"`
	About    []About  `json:"about"`            // about the opponent, most telling first
	Engine   *Engine  `json:"engine,omitempty"` // if one was asked
	Faults   []string `json:"faults,omitempty"` // lines on which our rules and the rules library's differ: a bug of ours
	Pages    []Page   `json:"page,omitempty"`   // what of it stands on each page drawn, if any was
}

// Opponent is who the sheet is about.
type Opponent struct {
	ID      string   `json:"id,omitempty"`      // of the configuration
	Name    string   `json:"name"`              // as the page prints it
	Names   []string `json:"names"`             // names and handles whose games were taken
	Unsure  []string `json:"unsure,omitempty"`  // handles the configuration marks as uncertain
	Ratings []Rating `json:"ratings,omitempty"` // newest by rating list
}

// Rating is the newest rating of one list; lists are never pooled.
type Rating struct {
	List  string   `json:"list"`            // the id of a source, a host, 'online' or 'over the board'
	Speed string   `json:"speed,omitempty"` // time class of the games of it, where games are played online and it is known
	Value int      `json:"value"`           // points
	Date  pgn.Date `json:"date,omitzero"`   // of the newest game with it
}

// Heading is what the user knows of the game to come; empty fields print as
// blanks to fill in.
type Heading struct {
	Me    string   `json:"me,omitempty"`    // name of the user
	Event string   `json:"event,omitempty"` // as given
	Round string   `json:"round,omitempty"` // as given
	Board string   `json:"board,omitempty"` // as given
	Date  pgn.Date `json:"date,omitzero"`   // YYYY-MM-DD
	Clock string   `json:"clock,omitempty"` // time control, as of a TimeControl tag
	Need  string   `json:"need,omitempty"`  // 'win' or 'draw', if you need one
}

// Basis says what the report rests on.
type Basis struct {
	Games int `json:"games"` // of theirs that count
	// By the time control, else by the words of the event: classical by the FIDE Laws;
	// rapid, blitz and bullet; those of which neither tells the speed.
	Slow        int           `json:"slow"`
	Fast        int           `json:"fast"`                        // of these, known to be rapid, blitz or bullet
	NoSpeed     int           `json:"speed_unknown"`               // of these, neither
	LastSlow    pgn.Date      `json:"last_slow,omitzero"`          // newest of the slow ones
	LastFast    pgn.Date      `json:"last_fast,omitzero"`          // newest of the fast ones
	LastNoSpeed pgn.Date      `json:"last_speed_unknown,omitzero"` // newest of those of unknown speed
	Less        int           `json:"less"`                        // games that count less, since by their time control they are not of Class
	Class       string        `json:"class,omitempty"`             // time class of the game to come, by whose speed games count; empty: all alike
	First       pgn.Date      `json:"first,omitzero"`              // oldest game
	Last        pgn.Date      `json:"last,omitzero"`               // YYYY-MM-DD, or a part of it
	AsOf        pgn.Date      `json:"as_of,omitzero"`              // the day the forecast is made for
	Sources     []SourceCount `json:"sources"`
	LeftOut     []LeftOut     `json:"left_out"`
	Meetings    []GameRow     `json:"meetings,omitempty"` // games between the two
	Met         Score         `json:"met,omitzero"`       // theirs in all of them
	// Age is how many years before the game the newest of theirs was played; 0 under five.
	Age      int        `json:"newest_years_ago,omitempty"`
	Peers    *PeersUsed `json:"peers,omitempty"`  // games of players like the opponent, if given
	Warnings int        `json:"warnings"`         // problems met while reading
	Unread   []Unread   `json:"unread,omitempty"` // files that couldn't be read
	// Maybe are names in the files that may be the opponent's, too: their games are not
	// counted. The likest come first.
	Maybe []Maybe `json:"maybe,omitempty"`
	// TwoPeople is how many signs there are that the games are those of two people:
	// numbers of federations, ratings, places.
	TwoPeople int `json:"two_people,omitempty"`
}

// Maybe is a name that may be the opponent's.
type Maybe struct {
	Name  string `json:"name"`  // as in the games
	Games int    `json:"games"` // with it
}

// Unread is a file of games that couldn't be read, or not to its end.
type Unread struct {
	File   string `json:"file"`   // which it is
	Partly bool   `json:"partly"` // the games at its start were read
}

// PeersUsed counts games of players like the opponent: what the forecast rests
// on beside the opponent's own, and what was left out.
type PeersUsed struct {
	Games   int      `json:"games"`          // dated, each once
	Before  int      `json:"before"`         // of these, certainly over before the day of the game: what was used
	First   pgn.Date `json:"first,omitzero"` // oldest of their games
	Last    pgn.Date `json:"last,omitzero"`  // YYYY-MM-DD, the latest possible day
	Undated int      `json:"undated"`        // not used: never certainly earlier
	Own     int      `json:"own"`            // not used: the opponent's own
	Twice   int      `json:"twice"`          // not used: found before
	Unfit   int      `json:"unfit"`          // not used: set up, or under 6 plies
	// Which of them are like the opponent: rated so (0 and 0: all), in games of this
	// speed (empty: all).
	MinRating int    `json:"min_rating,omitempty"`
	MaxRating int    `json:"max_rating,omitempty"` // highest rating of a peer, 0 for any
	Speed     string `json:"speed,omitempty"`      // 'slow', 'rapid', 'blitz' or 'bullet'
}

// SourceCount is what one file or source gave.
type SourceCount struct {
	Name  string `json:"name"`  // of the file, behind the id of its source
	Games int    `json:"games"` // of this opponent
	Read  int    `json:"read"`  // in the file
}

// LeftOut counts games of the opponent that do not enter the tree, by reason.
type LeftOut struct {
	Reason string `json:"reason"` // why
	Games  int    `json:"games"`  // left out for it
}

// Side is the comparison for one colour of the user.
type Side struct {
	MyColor    string       `json:"my_color"`      // 'white' or 'black'
	Games      int          `json:"games"`         // of theirs with the other colour
	Slow       int          `json:"slow"`          // of known speed, as in the Basis
	Fast       int          `json:"fast"`          // of Games, known to be fast
	NoSpeed    int          `json:"speed_unknown"` // of Games, of unknown speed
	Last       pgn.Date     `json:"last,omitzero"` // newest game
	Score      Score        `json:"score"`         // theirs with that colour
	Book       BookFacts    `json:"book"`
	Few        bool         `json:"few"`             // so few games that they are listed instead of counted
	PeersOnly  bool         `json:"peers_only"`      // no game with that colour: the forecast is of the peers alone
	Hints      []Hint       `json:"hints,omitempty"` // of few games: what they do with the other colour
	Tonight    []Task       `json:"tonight"`
	Exits      []Exit       `json:"exits"`    // lines to expect, likeliest first
	Other      float64      `json:"other"`    // reach cut under the threshold; exits + other = 1
	Partings   []Parting    `json:"partings"` // the same lines as a tree, in reading order
	Further    []Parting    `json:"further"`  // the tree with lines under the threshold as well, for who has room
	Unanswered []Unanswered `json:"unanswered"`
	WaysBack   []WayBack    `json:"ways_back"` // moves of theirs that are not in the book and need no new answer, likeliest first
	Coverage   []Coverage   `json:"coverage"`
	Options    []Option     `json:"options"`
	Aim        string       `json:"aim,omitempty"`       // what the options of a position are ordered for; empty: as the book has them
	Situation  *Situation   `json:"situation,omitempty"` // what the need of a result, or two rounds a day, changed; nil without either
	Met        Score        `json:"met,omitzero"`        // theirs in the games between the two in which they had that colour
	Boards     []Diagram    `json:"boards"`              // most wanted first
	Surprise   Surprise     `json:"surprise"`
	Left       Left         `json:"left"`
	// Games of theirs with that colour: the newest first, few games whole, and those to
	// play through for the lines to expect.
	NewestGames []PlayedGame  `json:"newest_games"`
	NewestAlong bool          `json:"newest_along,omitempty"` // only games in which the other player kept to the book as long as it went are among the newest
	FewGames    []PlayedGame  `json:"few_games,omitempty"`
	ModelGames  []ModelGames  `json:"model_games"`
	KnowOfYou   *Shown        `json:"know_of_you,omitempty"` // nil without games of the user's own
	Mistakes    []Mistake     `json:"mistakes,omitempty"`
	MaxPly      int           `json:"max_ply"`               // the walk's limit
	Threshold   float64       `json:"threshold"`             // smallest reach that is followed
	Changes     []Change      `json:"changes"`               // what they took up or dropped, what you can meet first
	Orders      []Order       `json:"orders"`                // where the order of moves matters
	Unpractised []Unpractised `json:"unpractised,omitempty"` // likely lines that games of the user's own have not had for long
	Again       []Again       `json:"again,omitempty"`       // moves of your book on lines to expect that the engine finds much worse than the best, what costs you most first
	Traps       []Trap        `json:"traps"`                 // where a side went wrong, what your book can reach first; then where they score
}

// BookFacts sums up the user's repertoire for this colour.
type BookFacts struct {
	Files     []string `json:"files"`               // of the repertoire
	Chapters  int      `json:"chapters"`            // in the files
	Positions int      `json:"positions"`           // with a prepared answer
	Notes     int      `json:"notes"`               // comments in them
	Unread    int      `json:"unread,omitempty"`    // moves that cannot be played, whose lines are missing
	File      string   `json:"file,omitempty"`      // of the first of them, with its line
	FileLine  int      `json:"file_line,omitempty"` // line of the file, from 1
}
