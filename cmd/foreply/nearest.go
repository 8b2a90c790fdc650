package main

import (
	"strings"

	"foreply/fetch"
)

// nearest returns the word of the list that is most like word, and whether it
// is like enough to be what was meant: no more than a third of it mistyped.
func nearest(word string, list []string) (string, bool) {
	best, least := "", 1<<30
	for _, w := range list {
		if d := fetch.Distance(strings.ToLower(word), strings.ToLower(w)); d < least {
			best, least = w, d
		}
	}
	return best, best != "" && least <= max(1, len(word)/3)
}
