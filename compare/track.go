package compare

import (
	"slices"

	"foreply/profile/board"
	"foreply/profile/openings"
)

// track is a line of moves from the first move with all that is looked up
// along it.
type track struct {
	moves []board.Move
	sans  []string
	keys  []uint64 // keys[i] is the position after i plies
	end   board.Position
}

func newTrack(moves []board.Move) track {
	t := track{moves: moves, sans: make([]string, len(moves)), end: board.Start()}
	t.keys = append(t.keys, t.end.Key())
	for i, m := range moves {
		t.sans[i] = t.end.SAN(m)
		t.end.Play(m)
		t.keys = append(t.keys, t.end.Key())
	}
	return t
}

// SAN writes moves from the usual start.
func SAN(moves []board.Move) []string { return newTrack(moves).sans }

// and returns the track with one move more.
func (t track) and(m board.Move) track { return newTrack(append(slices.Clone(t.moves), m)) }

// opening names the last named position on the way.
func (t track) opening() openings.Opening {
	o, _, _ := openings.Along(t.keys)
	return o
}

// note is the user's note nearest to the end, and the ply it stands at: on a
// move, else at the head of the chapter that the line belongs to, ply 0.
func (t track) note(b *Book) (text string, ply int) {
	for i, key := range slices.Backward(t.keys[1:]) {
		if text := b.Note(key); text != "" {
			return text, i + 1
		}
	}
	return b.intro(t.keys), 0
}

// place is where the repertoire stands that is nearest to the end.
func (t track) place(b *Book) (file string, line int) {
	for _, key := range slices.Backward(t.keys) {
		if file, line := b.Spot(key); line > 0 {
			return file, line
		}
	}
	return "", 0
}

// origin is the square the last move came from.
func (t track) origin() string {
	if len(t.moves) == 0 {
		return ""
	}
	return t.moves[len(t.moves)-1].From().String()
}
