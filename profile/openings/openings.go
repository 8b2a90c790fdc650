// Package openings names positions: ECO code and opening name by node key, so
// that a position is named alike whatever the order of moves that led to it.
//
// Node keys of package board come in; an Opening goes out. It stands below
// profile, compare and cmd and imports nothing of the project; only its
// generator knows the board. The table is text inside the program and is
// searched where it lies: nothing is decoded at the start or kept in memory.
package openings

import (
	_ "embed"
	"slices"
	"strconv"
	"strings"
)

//go:generate go run ./generate names.tsv

// table is the generated file: a header of '#' lines, an empty line, then one
// line for each named position, 'key ECO name' separated by tabs, the key as
// 16 hexadecimal digits, in ascending order.
//
//go:embed names.tsv
var table string

var _, rows, _ = strings.Cut(table, "\n\n")

// Opening is what a position is called.
type Opening struct {
	ECO  string // 'B90': the Encyclopaedia's volume and number
	Name string // 'Sicilian Defense: Najdorf Variation'
}

// Name returns the opening of exactly this position, given by its node key
// (board.Position.Key). ok is false for a position without a name of its own:
// most have none, the first position of a game among them.
func Name(key uint64) (o Opening, ok bool) {
	// Halving by bytes, not by lines: lo and hi are always line starts.
	lo, hi := 0, len(rows)
	for lo < hi {
		mid := lo + (hi-lo)/2
		start := lo + strings.LastIndexByte(rows[lo:mid], '\n') + 1
		end := start + strings.IndexByte(rows[start:], '\n')
		digits, title, _ := strings.Cut(rows[start:end], "\t")
		// Every row is well-formed: a test reads them all.
		switch here, _ := strconv.ParseUint(digits, 16, 64); {
		case here < key:
			lo = end + 1
		case here > key:
			hi = start
		default:
			eco, name, _ := strings.Cut(title, "\t")
			return Opening{ECO: eco, Name: name}, true
		}
	}
	return Opening{}, false
}

// along walks a line of play back to the last position that name knows. keys are the node
// keys of the line in order, keys[i] after i plies, and ply is the index of the named one.
// ok is false if none has a name.
//
// Where the end itself has no name, the answer depends on the way there: two
// orders of moves may have left named positions at different places.
func along(keys []uint64, name func(key uint64) (Opening, bool)) (o Opening, ply int, ok bool) {
	for i, key := range slices.Backward(keys) {
		if o, ok := name(key); ok {
			return o, i, true
		}
	}
	return Opening{}, 0, false
}
