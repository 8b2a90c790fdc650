package openings

import (
	_ "embed"
	"strconv"
	"strings"
	"sync"
)

// players.tsv is written by hand: names of the open list for which players say another, or
// none.
//
//go:embed players.tsv
var playersTable string

// unlisted.tsv is written by hand: positions without a name in the open list that players
// have one for, since orders of moves meet there: node key, ECO, name, moves.
//
//go:embed unlisted.tsv
var unlistedTable string

// noName stands where players have none.
const noName = "-"

// saidFrom is the ply from which a line is called by a name: at its first two plies the
// moves themselves are shorter.
const saidFrom = 3

// Said names a line of play as players do: by the narrowest name that it has come to, from
// the third ply on. keys are the node keys of the line in order, keys[i] after i plies; ok
// is false if it has no name.
func Said(keys []uint64) (o Opening, ok bool) {
	if len(keys) <= saidFrom {
		return Opening{}, false
	}
	o, _, ok = along(keys, saidAt)
	return o, ok
}

// saidAt is what players call a position.
func saidAt(key uint64) (Opening, bool) {
	if o, ok := unlisted()[key]; ok {
		return o, true
	}
	o, ok := Name(key)
	if ok {
		o.Name = said(o.Name)
	}
	return o, ok && o.Name != noName
}

// said is what players say for a name of the list: the longest entry that it begins with
// decides, and what goes on behind it stays.
func said(name string) string {
	for head := name; head != ""; head = broader(head) {
		other, ok := players()[head]
		rest := strings.TrimLeft(name[len(head):], ",: ")
		switch {
		case !ok || other == noName && rest != "":
			continue
		case rest == "":
			return other
		case strings.Contains(other, ": "):
			return other + ", " + rest
		}
		return other + ": " + rest
	}
	return name
}

// broader is a name without its narrowest part; ” of one that has none.
func broader(name string) string { return name[:max(0, strings.LastIndexAny(name, ",:"))] }

var players = sync.OnceValue(func() map[string]string {
	m := map[string]string{}
	for _, f := range byHand(playersTable) {
		m[f[0]] = f[1]
	}
	return m
})

var unlisted = sync.OnceValue(func() map[uint64]Opening {
	m := map[uint64]Opening{}
	for _, f := range byHand(unlistedTable) {
		key, _ := strconv.ParseUint(f[0], 16, 64) // a test reads them all
		m[key] = Opening{ECO: f[1], Name: f[2]}
	}
	return m
})

// byHand are the rows of a table written by hand, below its header of '#' lines.
func byHand(text string) [][]string {
	var out [][]string
	for line := range strings.Lines(text) {
		if line = strings.TrimSuffix(line, "\n"); line != "" && line[0] != '#' {
			out = append(out, strings.Split(line, "\t"))
		}
	}
	return out
}
