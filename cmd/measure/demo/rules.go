package main

import (
	"fmt"
	"strings"

	"github.com/notnil/chess"
)

// startPosition is the position before White's first move.
func startPosition() *chess.Position { return chess.StartingPosition() }

// moveOf finds the legal move that a text in algebraic notation names. It wants
// the notation to be exact (the one spelling the rules library would write), so
// that what the demo contains is also well written.
func moveOf(pos *chess.Position, san string) (*chess.Move, error) {
	for _, m := range pos.ValidMoves() {
		if sanOf(pos, m) == san {
			return m, nil
		}
	}
	return nil, fmt.Errorf("no legal move is written %q in %s", san, pos)
}

// uciMove finds the legal move in the engine's spelling (e2e4, e7e8q). Moves are
// always taken from the legal ones: one decoded from text carries no check mark,
// and the library would then mistake mate for stalemate.
func uciMove(pos *chess.Position, text string) (*chess.Move, error) {
	for _, m := range pos.ValidMoves() {
		if m.String() == text {
			return m, nil
		}
	}
	return nil, fmt.Errorf("the engine's %q is not legal in %s", text, pos)
}

// sanOf writes a legal move in algebraic notation.
func sanOf(pos *chess.Position, m *chess.Move) string {
	return chess.AlgebraicNotation{}.Encode(pos, m)
}

// keyOf tells positions apart as the laws do: pieces, side to move, castling
// rights, and the en-passant file only if such a capture is legal.
func keyOf(pos *chess.Position) string {
	fields := strings.Fields(pos.String())
	passant := "-"
	for _, m := range pos.ValidMoves() {
		if m.HasTag(chess.EnPassant) {
			passant = fields[3]
		}
	}
	return strings.Join([]string{fields[0], fields[1], fields[2], passant}, " ")
}

// follow plays a list of moves from the start and returns the position reached.
func follow(moves []string) (*chess.Position, error) {
	pos := startPosition()
	for _, san := range moves {
		m, err := moveOf(pos, san)
		if err != nil {
			return nil, fmt.Errorf("after %s: %w", strings.Join(moves, " "), err)
		}
		pos = pos.Update(m)
	}
	return pos, nil
}
