package pgn

// Header is every tag that means something, read once. What a tag doesn't tell is
// zero, whatever it says for 'unknown'.
type Header struct {
	White, Black       Player
	Event, Site, Round string // empty where the tag says nothing
	Date, UTCDate      Date
	// When the game began, by the tag of this name (PGN standard 9.5; from memory;
	// StartTime is common practice). Clocks of two tags can't be compared.
	UTCTime, StartTime, Time Clock
	Control                  Control
	Speed                    Speed   // by Control, else by the words of Event and EventType
	Manner                   Manner  // by Control, Mode, Event and EventType
	Venue                    Venue   // where it was played, as far as ratings go
	Link, Page               Address // of the game itself: by Link or GameURL, and by Site
	Number                   string  // GameId
	Start                    Start
	FEN                      string // of a SetUp; empty otherwise
	Variant                  string // of an OtherVariant; empty otherwise
	Unplayed                 bool   // Termination speaks of a game not played
	ByDefault                bool   // so does Result
	Result                   string // 1-0, 0-1, 1/2-1/2, or empty
	ECO, Opening             string
	Role, Character          string // of a chapter of a repertoire, in small letters
}

// Player is what the tags tell of one of the two.
type Player struct {
	Name    string
	Elo     int
	Title   string
	ID      string // FIDE number, without leading zeros
	Local   string // number of another body, a national federation's say, as LocalNumber has it
	Body    string // what its tag calls that number: NationalId
	Machine bool   // by type, title or name
}

// Clock is a time of day in seconds since midnight, plus one; 0 is not known.
type Clock int32

// Seconds since midnight, -1 if not known.
func (c Clock) Seconds() int { return int(c) - 1 }

// Began is when the game began, by the first tag that tells.
func (h *Header) Began() Clock {
	for _, c := range [...]Clock{h.UTCTime, h.StartTime, h.Time} {
		if c > 0 {
			return c
		}
	}
	return 0
}

// Manner is how a game was played that is kept apart from others.
type Manner uint8

const (
	UsualManner Manner = iota
	Correspondence
	Simultaneous
	Blindfold
)

// Start is what a game begins with.
type Start uint8

const (
	UsualStart Start = iota
	SetUp
	OtherVariant // of the rules
)

// Venue is where a game was played. Online is set by an address or the name of a
// host in Site or Link, by words for the net in Site, by Mode ICS, and by tags that
// only servers write (common practice).
type Venue struct {
	Host   string // in lower case
	Place  string // Site, if it is a place in the world
	Online bool
}

// Address is where the game itself stands on the net.
type Address struct{ Host, Path string }

// headed is how much of a Header is read.
type headed uint8

const (
	nothingRead headed = iota
	playersRead
	allRead
)

// Header returns what the tags mean. They are read when it is first asked for.
func (g *Game) Header() *Header {
	if g.headed == allRead {
		return g.header
	}
	g.Players()
	g.header.readRest(g.tags)
	g.headed = allRead
	return g.header
}

// Players returns what the tags tell of the two, for those who pass most games
// over: the rest of the header is not read, nor whether a name is that of a machine.
func (g *Game) Players() (white, black *Player) {
	if g.header == nil {
		g.header = new(Header)
	}
	h := g.header
	if g.headed == nothingRead {
		*h = Header{} // it may be that of the game before
		h.readPlayers(g.tags)
		g.headed = playersRead
	}
	return &h.White, &h.Black
}

// Tags returns the tag pairs as they stand in the text, for handing them on. What
// they mean is told by Header.
func (g *Game) Tags() Tags { return g.tags }

// SetTags gives the game other tags; the header follows.
func (g *Game) SetTags(tags Tags) { g.tags, g.header, g.headed = tags, nil, nothingRead }
