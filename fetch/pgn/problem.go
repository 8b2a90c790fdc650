package pgn

import (
	"fmt"
	"strings"

	"foreply/fetch/pgn/plain"
)

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

// Kinds found by the reader. The first three are found by whoever replays
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
	Label          Kind = "label of a line"
	TooLong        Kind = "game too long"
	BadEncoding    Kind = "not UTF-8"
	BadSetUp       Kind = "bad set-up position"
	NullInMain     Kind = "null move in the main line"
	Guess          Kind = "read as a guess" // by the replay too: lines typed by hand
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

	// ExcerptFrom is the column that Excerpt starts at; zero means 1. A long line
	// is cut to what is around Column.
	ExcerptFrom int `json:"excerpt_from,omitempty"`
}

// String returns 'file:line:column: message', without what is not known.
func (p Problem) String() string {
	s := ""
	if p.File != "" {
		s = p.File + ":"
	}
	if p.Line > 0 {
		s += fmt.Sprintf("%d:", p.Line)
	}
	if p.Line > 0 && p.Column > 0 {
		s += fmt.Sprintf("%d:", p.Column)
	}
	if s == "" {
		return p.Message
	}
	return s + " " + p.Message
}

// caretWidth is how wide the excerpt with the caret gets, in characters.
const caretWidth = 76

// Caret returns the excerpt and, under the column, a caret, as two lines. A long
// line is cut to what is around the column. Without a column it is the excerpt
// alone.
func (p Problem) Caret() string {
	if p.Excerpt == "" || p.Column == 0 {
		return p.Excerpt
	}
	line := []rune(clean(p.Excerpt, len(p.Excerpt)))
	at := min(max(p.Column-max(p.ExcerptFrom, 1), 0), len(line))
	from := max(0, min(at-caretWidth/2, len(line)-caretWidth))
	to := min(len(line), from+caretWidth)
	pad := plain.Columns(string(line[from:at]))
	return string(line[from:to]) + "\n" + strings.Repeat(" ", pad) + "^"
}

// clean makes text fit for a terminal: what steers becomes a blank, one for one, so that
// columns stay; and it is cut to so many runes.
func clean(s string, most int) string {
	var b strings.Builder
	n := 0
	for _, r := range s {
		if n == most {
			b.WriteString("…")
			break
		}
		if plain.Steers(r) {
			r = ' '
		}
		b.WriteRune(r)
		n++
	}
	return b.String()
}
