package fetch

import (
	"slices"
	"strings"
)

// finder collects games and finds those that are there already. Each game is
// compared with few others: those with the same moves, those of which it is a
// beginning or which are a beginning of it, and those of the same occasion.
type finder struct {
	entries    []*entry            // in order of arrival
	byMoves    map[string][]*entry // by all the moves
	sorted     []*entry            // in order of the moves as text
	byOccasion map[string][]*entry // by the day, the time, the number, the address
}

// shortestBeginning in half-moves: shorter ones are looked for only among the
// games of the same occasion.
const shortestBeginning = 12

func newFinder() *finder {
	return &finder{byMoves: map[string][]*entry{}, byOccasion: map[string][]*entry{}}
}

// find returns the entry that is the same game on the best evidence, the earlier
// one if two are equal, or nil; and if there is none, one that may be.
func (f *finder) find(e *entry) (found, perhaps *entry) {
	best := -1
	f.candidates(e, func(old *entry) {
		if old.group != e.group {
			return
		}
		switch verdict, strength := old.compare(e); {
		case verdict == same && strength > best,
			verdict == same && strength == best && old.order < found.order:
			found, best = old, strength
		case verdict == undecided && (perhaps == nil || old.order < perhaps.order):
			perhaps = old
		}
	})
	return found, perhaps
}

// candidates hands out all entries that can be the same game, some of them more
// than once.
func (f *finder) candidates(e *entry, hand func(*entry)) {
	all := func(entries []*entry) {
		for _, old := range entries {
			hand(old)
		}
	}
	all(f.byMoves[e.moves])
	for _, key := range e.keys() {
		all(f.byOccasion[key])
	}
	end := endOfPly(e.moves, shortestBeginning)
	if end < 0 {
		return
	}
	for end < len(e.moves) { // what it begins with
		all(f.byMoves[e.moves[:end]])
		end += strings.IndexByte(e.moves[end:], ' ') + 1
	}
	for _, old := range f.sorted[f.position(e.moves):] { // what begins with it
		if !strings.HasPrefix(old.moves, e.moves) {
			break
		}
		hand(old)
	}
}

// keys are those of the occasion, and the season with the rival: few games have more.
func (e *entry) keys() []string {
	keys := e.when.keys()
	if e.season != "" {
		keys = append(keys, e.season)
	}
	return keys
}

// endOfPly is where the n-th half-move ends, or -1.
func endOfPly(moves string, n int) int {
	end := 0
	for range n {
		next := strings.IndexByte(moves[end:], ' ')
		if next < 0 {
			return -1
		}
		end += next + 1
	}
	return end
}

// position is where moves stand in sorted, or would.
func (f *finder) position(moves string) int {
	i, _ := slices.BinarySearchFunc(f.sorted, moves, func(e *entry, moves string) int {
		return strings.Compare(e.moves, moves)
	})
	return i
}

func (f *finder) add(e *entry) {
	e.order = len(f.entries)
	f.entries = append(f.entries, e)
	f.index(e)
}

func (f *finder) index(e *entry) {
	f.byMoves[e.moves] = append(f.byMoves[e.moves], e)
	f.sorted = slices.Insert(f.sorted, f.position(e.moves), e)
	for _, key := range e.keys() {
		f.byOccasion[key] = append(f.byOccasion[key], e)
	}
}

// change lets a function change an entry and files it anew.
func (f *finder) change(e *entry, how func()) {
	for i := f.position(e.moves); i < len(f.sorted); i++ {
		if f.sorted[i] == e {
			f.sorted = slices.Delete(f.sorted, i, i+1)
			break
		}
	}
	drop := func(index map[string][]*entry, key string) {
		index[key] = slices.DeleteFunc(index[key], func(other *entry) bool { return other == e })
	}
	drop(f.byMoves, e.moves)
	for _, key := range e.keys() {
		drop(f.byOccasion, key)
	}
	how()
	f.index(e)
}
