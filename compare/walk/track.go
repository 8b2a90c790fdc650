package walk

import (
	"fmt"
	"slices"

	"foreply/compare/book"
	"foreply/profile/board"
	"foreply/profile/openings"
)

// Resolved reads back a line of our own SAN.
func Resolved(line []string) Track {
	pos := board.Start()
	moves := make([]board.Move, len(line))
	for i, san := range line {
		m, err := pos.Resolve([]byte(san))
		if err != nil {
			panic(fmt.Sprintf("compare: our own line %v does not read back at %s: %v", line, san, err))
		}
		moves[i] = m
		pos.Play(m)
	}
	return NewTrack(moves)
}

// Played is a position after a move.
func Played(pos board.Position, m board.Move) board.Position {
	pos.Play(m)
	return pos
}

// Track is a line of moves from the first move with all that is looked up
// along it.
type Track struct {
	Moves []board.Move
	SANs  []string
	Keys  []uint64 // keys[i] is the position after i plies
	End   board.Position
}

// NewTrack looks up what there is along moves from the usual start.
func NewTrack(moves []board.Move) Track {
	t := Track{Moves: moves, SANs: make([]string, len(moves)), End: board.Start()}
	t.Keys = append(t.Keys, t.End.Key())
	for i, m := range moves {
		t.SANs[i] = t.End.SAN(m)
		t.End.Play(m)
		t.Keys = append(t.Keys, t.End.Key())
	}
	return t
}

// SAN writes moves from the usual start.
func SAN(moves []board.Move) []string { return NewTrack(moves).SANs }

// And returns the track with one move more.
func (t Track) And(m board.Move) Track { return NewTrack(append(slices.Clone(t.Moves), m)) }

// Opening is what players call the line; empty for one without a name.
func (t Track) Opening() openings.Opening {
	o, _ := openings.Said(t.Keys)
	return o
}

// Note is the user's note nearest to the end, and the ply it stands at: on a
// move, else at the head of the chapter that the line belongs to, ply 0.
func (t Track) Note(b *book.Book) (text string, ply int) {
	for i, key := range slices.Backward(t.Keys[1:]) {
		if text := b.Note(key); text != "" {
			return text, i + 1
		}
	}
	return b.Intro(t.Keys), 0
}

// Spot is where the repertoire stands that is nearest to the end.
func (t Track) Spot(b *book.Book) (file string, line int) {
	for _, key := range slices.Backward(t.Keys) {
		if file, line := b.Spot(key); line > 0 {
			return file, line
		}
	}
	return "", 0
}

// Origin is the square the last move came from.
func (t Track) Origin() string {
	if len(t.Moves) == 0 {
		return ""
	}
	return t.Moves[len(t.Moves)-1].From().String()
}
