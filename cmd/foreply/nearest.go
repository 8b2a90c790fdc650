package main

import "strings"

// nearest returns the word of the list that is most like word, and whether it
// is like enough to be what was meant: no more than a third of it mistyped.
func nearest(word string, list []string) (string, bool) {
	best, least := "", 1<<30
	for _, w := range list {
		if d := distance(strings.ToLower(word), strings.ToLower(w)); d < least {
			best, least = w, d
		}
	}
	return best, best != "" && least <= max(1, len(word)/3)
}

// distance counts the insertions, deletions, substitutions and swaps of
// neighbours that turn a into b (optimal string alignment, a restricted form of
// the Damerau-Levenshtein distance).
func distance(a, b string) int {
	x, y := []rune(a), []rune(b)
	before, above := make([]int, len(y)+1), make([]int, len(y)+1)
	for j := range above {
		above[j] = j
	}
	for i := range x {
		row := make([]int, len(y)+1)
		row[0] = i + 1
		for j := range y {
			cost := 1
			if x[i] == y[j] {
				cost = 0
			}
			row[j+1] = min(above[j]+cost, above[j+1]+1, row[j]+1)
			if i > 0 && j > 0 && x[i] == y[j-1] && x[i-1] == y[j] {
				row[j+1] = min(row[j+1], before[j-1]+1)
			}
		}
		before, above = above, row
	}
	return above[len(y)]
}
