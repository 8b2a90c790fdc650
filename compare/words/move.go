package words

import (
	"fmt"
	"strings"
)

// Parted prints a line from where it parts from the stem that the reader has
// seen; a long one is cut in its middle: '3...Nd4 4.Nxd4 … 8...g6'.
func Parted(line, stem []string) string { return parted(line, stem).String() }

// wholeTail is how many plies behind the common stem are told in full.
const wholeTail = 6

// Alternatives prints moves to choose from at one ply: '4.d4 or 4.c3'.
func Alternatives(sans []string, ply int) string { return either(sans, ply).String() }

// Movetext prints a line of SAN with its move numbers; startPly is the number
// of plies played before it: 0 prints '1.e4 c5', 1 prints '1...c5'.
func Movetext(line []string, startPly int) string {
	var b strings.Builder
	for i, san := range line {
		ply := startPly + i
		if i > 0 {
			b.WriteByte(' ')
		}
		switch {
		case ply%2 == 0:
			fmt.Fprintf(&b, "%d.", ply/2+1)
		case i == 0:
			fmt.Fprintf(&b, "%d...", ply/2+1)
		}
		b.WriteString(san)
	}
	return b.String()
}

// LastMove prints the last move of a line with its number: '5...Qb6'.
func LastMove(line []string) string {
	if len(line) == 0 {
		return "the first move"
	}
	return Movetext(line[len(line)-1:], len(line)-1)
}
