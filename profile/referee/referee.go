// Package referee checks our chess board against an independent rules library
// (github.com/notnil/chess), of which it is the only importer outside tests.
// In comes a line of moves that is about to be printed, written by package
// board; out goes nil, or an error naming the first move on which the library
// disagrees. Such an error is a bug of ours or of the library, never the fault
// of the user's games: the caller shows it with its request for a report.
//
// Nothing of our own board is used here, so that a fault of one can't hide in
// the other.
package referee

import (
	"errors"
	"fmt"
	"slices"
	"strconv"
	"strings"

	"github.com/notnil/chess"
)

// ErrDisagreement is wrapped by every error of Line and Lines.
var ErrDisagreement = errors.New("please report this")

// Line replays moves in canonical SAN (with + and #, as board.SAN writes them;
// "--" passes the turn) from a position in FEN, of four to six fields; "" is
// the usual start. The FEN must be checked before, as board.ParseFEN does: the
// library believes all it is told about kings and castling rights. Line returns
// nil if the library finds each move legal and writes it the same way, and else
// an error about the first that differs.
func Line(startFEN string, sans []string) error {
	pos, number, err := setUp(startFEN)
	if err != nil {
		return fmt.Errorf("the rules library can't set up %q (%w): %w", startFEN, err, ErrDisagreement)
	}
	at := place{pos, number}
	for _, san := range sans {
		if at, err = at.after(san); err != nil {
			return err
		}
	}
	return nil
}

// Lines replays many lines from the usual start as Line does one, their common
// beginnings once, and returns an error for each move that differs.
func Lines(lines [][]string) []error {
	lines = slices.SortedFunc(slices.Values(lines), slices.Compare)
	pos, number, err := setUp("")
	if err != nil {
		return []error{err}
	}
	var errs []error
	stack := []place{{pos, number}} // stack[i] is the place after i moves of the line before
	var before []string
	for _, line := range lines {
		shared := 0
		for shared < len(line) && shared < len(before) && line[shared] == before[shared] {
			shared++
		}
		if shared >= len(stack) { // behind a move that differs
			continue
		}
		stack, before = stack[:shared+1], line
		for _, san := range line[shared:] {
			next, err := stack[len(stack)-1].after(san)
			if err != nil {
				errs = append(errs, err)
				break
			}
			stack = append(stack, next)
		}
	}
	return errs
}

// place is a position with its move number.
type place struct {
	pos    *chess.Position
	number int
}

// after plays one move; the error says how the library differs.
func (p place) after(san string) (place, error) {
	next, its := play(p.pos, san)
	switch {
	case next == nil:
		return p, fmt.Errorf("the rules library refuses %s in %s: %w", numbered(p.number, p.pos, san), p.pos, ErrDisagreement)
	case its != san:
		return p, fmt.Errorf("the rules library has %s for %s in %s: %w", its, numbered(p.number, p.pos, san), p.pos, ErrDisagreement)
	}
	number := p.number
	if p.pos.Turn() == chess.Black {
		number++
	}
	return place{next, number}, nil
}

// setUp gives the position and the number of its move.
func setUp(fen string) (*chess.Position, int, error) {
	if fen == "" {
		return chess.StartingPosition(), 1, nil
	}
	fields := strings.Fields(fen)
	if n := len(fields); n >= 4 && n < 6 {
		// The library wants the counters that EPD lacks.
		fields = append(fields, []string{"0", "1"}[n-4:]...)
	}
	pos := &chess.Position{}
	if err := pos.UnmarshalText([]byte(strings.Join(fields, " "))); err != nil {
		return nil, 0, err
	}
	number, err := strconv.Atoi(fields[5])
	return pos, number, err
}

// play makes the move of that SAN, check and mate marks aside, and returns the
// library's own writing of it; a nil position if no legal move has it.
func play(pos *chess.Position, san string) (*chess.Position, string) {
	if san == "--" {
		return pass(pos), san
	}
	bare := strings.TrimRight(san, "+#")
	for _, m := range pos.ValidMoves() {
		if !canBe(m, san) {
			continue
		}
		// Moves from ValidMoves carry their check tag; those that the library
		// decodes from text don't, and it would take a mate for a stalemate.
		its := chess.AlgebraicNotation{}.Encode(pos, m)
		if strings.TrimRight(its, "+#") == bare {
			return pos.Update(m), its
		}
	}
	return nil, ""
}

// canBe spares the encoding, which is slow, of moves to other squares.
func canBe(m *chess.Move, san string) bool {
	if m.HasTag(chess.KingSideCastle) || m.HasTag(chess.QueenSideCastle) {
		return strings.HasPrefix(san, "O")
	}
	return strings.Contains(san, m.S2().String())
}

// pass gives the turn to the other side, which the library can't do; nil if
// the side that passes is in check.
func pass(pos *chess.Position) *chess.Position {
	fields := strings.Fields(pos.String())
	if fields[1] == "w" {
		fields[1] = "b"
	} else {
		fields[1] = "w"
		if number, err := strconv.Atoi(fields[5]); err == nil {
			fields[5] = strconv.Itoa(number + 1)
		}
	}
	fields[3] = "-"
	next := &chess.Position{}
	if next.UnmarshalText([]byte(strings.Join(fields, " "))) != nil {
		return nil
	}
	for _, m := range next.ValidMoves() {
		if next.Board().Piece(m.S2()).Type() == chess.King {
			return nil
		}
	}
	return next
}

// numbered is a move with its number: "4.Bxh7" or "4...Bxh7".
func numbered(number int, pos *chess.Position, san string) string {
	if pos.Turn() == chess.Black {
		return fmt.Sprintf("%d...%s", number, san)
	}
	return fmt.Sprintf("%d.%s", number, san)
}
