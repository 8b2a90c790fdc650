// Package lines writes a Report for other programs. In come the Report and the books it
// was made from, out go PGN to study from, a game for each line to expect and then games
// of theirs to play through, and EPD of where the lines end.
package lines

import (
	"fmt"
	"io"
	"strings"

	"foreply/compare/fact"
	"foreply/compare/words"
)

// WriteEPD writes the exits of every side as EPD (PGN standard 16.2), a line
// each: the opcode id says where the line ends, c0 the moves, c1 the reach, and c2
// to c9 the moves for which c0 is too short.
func WriteEPD(r *fact.Report, w io.Writer) error {
	for i := range r.Sides {
		for j := range r.Sides[i].Exits {
			x := &r.Sides[i].Exits[j]
			moves := chunks(words.Movetext(x.Line, 0))
			text := fmt.Sprintf("%s id %s; c0 %s; c1 %s;", x.EPD, quoted(words.Exit(x)), quoted(moves[0]), quoted(fmt.Sprintf("reach %.4f", x.Reach)))
			for k, more := range moves[1:min(len(moves), 9)] {
				text += fmt.Sprintf(" c%d %s;", k+2, quoted(more))
			}
			if _, err := io.WriteString(w, text+"\n"); err != nil {
				return err
			}
		}
	}
	return nil
}

// longestString is how many characters a string has at most (PGN standard 7).
const longestString = 255

// chunks cuts a text between words into pieces that are short enough for a string.
func chunks(text string) []string {
	var out []string
	for len(text) > longestString {
		cut := strings.LastIndexByte(text[:longestString+1], ' ')
		out = append(out, text[:cut])
		text = text[cut+1:]
	}
	return append(out, text)
}

// quoted is an EPD string operand, which has no escapes.
func quoted(s string) string { return `"` + strings.ReplaceAll(s, `"`, "'") + `"` }
