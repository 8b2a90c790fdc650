package pgn

// Severity ranks a problem.
type Severity string

const (
	// Note is worth knowing; nothing was lost.
	Note Severity = "note"
	// Warning: something in the text was repaired or left out.
	Warning Severity = "warning"
	// Error: moves were lost here.
	Error Severity = "error"
)

// Kind names what is wrong; summaries count problems by kind.
type Kind string

// Kinds found by the reader. The three move kinds are found by whoever replays
// the moves (package profile), since this package knows no chess.
const (
	IllegalMove    Kind = "illegal move"
	AmbiguousMove  Kind = "ambiguous move"
	UnreadableMove Kind = "unreadable move"
	BadTag         Kind = "malformed tag"
	RepeatedTag    Kind = "tag given twice"
	ResultClash    Kind = "results differ"
	NoTermination  Kind = "no result at the end"
	OpenComment    Kind = "comment not closed"
	OpenVariation  Kind = "variation not closed"
	StrayClose     Kind = "closing parenthesis too many"
	StrayOpen      Kind = "variation before any move"
	StrayText      Kind = "text that is no move"
	TooLong        Kind = "game too long"
	BadEncoding    Kind = "not UTF-8"
	BadSetUp       Kind = "bad set-up position"
	NullInMain     Kind = "null move in the main line"
)

// A Problem is one finding with its place. Places count from 1; columns count
// runes; a zero means that the place is not known.
type Problem struct {
	Kind     Kind     `json:"kind"`
	Severity Severity `json:"severity"`
	Source   string   `json:"source,omitempty"` // id of the configured source
	File     string   `json:"file"`             // path; members as archive.zip:member.pgn; "-" is standard input
	Line     int      `json:"line"`
	Column   int      `json:"column"`
	Game     int      `json:"game"`            // number of the game in its file
	Ply      int      `json:"ply,omitempty"`   // half-moves from the start of the game, 1 = first move
	Token    string   `json:"token,omitempty"` // what was read
	Message  string   `json:"message"`
	Hint     string   `json:"hint,omitempty"`    // what to do about it
	Excerpt  string   `json:"excerpt,omitempty"` // the text line, for the caret
}
