package fetch

import (
	"math"
	"slices"
	"strings"

	"github.com/google/btree"
)

// finder collects games and finds those that are there already. Each game is
// compared with few others: those with the same moves, those of which it is a
// beginning or which are a beginning of it, and those of the same occasion. So the
// time it takes is that of sorting, whatever the games are.
type finder struct {
	copies     []*gameCopy              // in order of arrival
	byMoves    *btree.BTreeG[*gameCopy] // in order of the moves as text, then of arrival
	finds      int                      // so far
	byOccasion map[string][]*gameCopy   // by the day, the time, the number, the address, the season
}

const (
	// shortestBeginning in half-moves: shorter ones are looked for only among the
	// games of the same occasion.
	shortestBeginning = 12

	// mostShared is how many games are looked at that share one thing with another: of
	// one key or of the same moves those that came first. Games that are known by
	// nothing else are very short ones, of which as many are hardly found in a career.
	mostShared = 32
)

func newFinder() *finder {
	return &finder{byMoves: btree.NewG(16, inOrderOfMoves), byOccasion: map[string][]*gameCopy{}}
}

func inOrderOfMoves(a, b *gameCopy) bool {
	if order := strings.Compare(a.moves, b.moves); order != 0 {
		return order < 0
	}
	return a.order < b.order
}

// find returns the copy that is the same game on the best evidence, the earlier
// one if two are equal, or nil; and if there is none, one that may be.
func (f *finder) find(e *gameCopy) (found, perhaps *gameCopy) {
	best := -1
	f.finds++
	f.candidates(e, func(old *gameCopy) {
		if old.group != e.group || old.looked == f.finds {
			return
		}
		old.looked = f.finds
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

// candidates hands out the copies that can be the same game, some of them more
// than once.
func (f *finder) candidates(e *gameCopy, hand func(*gameCopy)) {
	for _, key := range e.keys() {
		for _, old := range f.byOccasion[key] {
			hand(old)
		}
	}
	f.from(e.moves, e.moves, hand)
	if end := endOfPly(e.moves, shortestBeginning); end >= 0 {
		f.from(e.moves+"\x00", e.moves, hand) // what begins with it
		f.beginnings(e.moves, end, hand)
	}
}

// from hands out those from some moves on, as far as they begin with others; where
// the two are equal, those with exactly these moves.
func (f *finder) from(moves, with string, hand func(*gameCopy)) {
	n := 0
	f.byMoves.AscendGreaterOrEqual(&gameCopy{moves: moves, order: -1}, func(old *gameCopy) bool {
		if n++; n > mostShared || !strings.HasPrefix(old.moves, with) || moves == with && len(old.moves) > len(with) {
			return false
		}
		hand(old)
		return true
	})
}

// beginnings hands out what the moves begin with, the longest first, down to an end.
// What stands before some moves in order is a beginning of them, or tells how long one
// can still be.
func (f *finder) beginnings(moves string, end int, hand func(*gameCopy)) {
	at := &gameCopy{moves: moves, order: -1}
	for range mostShared {
		var old *gameCopy
		f.byMoves.DescendLessOrEqual(at, func(e *gameCopy) bool { old = e; return false })
		if old == nil {
			return
		}
		common := sharedLength(moves, old.moves)
		switch {
		case common < end:
			return
		case common == len(old.moves):
			hand(old)
			at = &gameCopy{moves: old.moves, order: old.order - 1}
		default:
			at = &gameCopy{moves: moves[:common], order: math.MaxInt}
		}
	}
}

// sharedLength is the length of the half-moves that two games have in common.
func sharedLength(a, b string) (length int) {
	for i := 0; i < min(len(a), len(b)) && a[i] == b[i]; i++ {
		if a[i] == ' ' {
			length = i + 1
		}
	}
	return length
}

// keys are those of the occasion, and the season with the rival: few games have more.
func (e *gameCopy) keys() []string {
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

func (f *finder) add(e *gameCopy) {
	e.order = len(f.copies)
	f.copies = append(f.copies, e)
	f.index(e)
}

func (f *finder) index(e *gameCopy) {
	f.byMoves.ReplaceOrInsert(e)
	for _, key := range e.keys() {
		if all := f.byOccasion[key]; len(all) < mostShared {
			f.byOccasion[key] = append(all, e)
		}
	}
}

// change lets a function change a copy and files it anew.
func (f *finder) change(e *gameCopy, how func()) {
	f.byMoves.Delete(e)
	for _, key := range e.keys() {
		f.byOccasion[key] = slices.DeleteFunc(f.byOccasion[key], func(other *gameCopy) bool { return other == e })
	}
	how()
	f.index(e)
}
