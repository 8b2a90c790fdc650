// Package beginner ranks moves for programs that make games up: by chance, which each
// adds, and by what every beginner is told. In comes a position with a move, out goes
// a number. It is used by programs that measure only.
package beginner

import "foreply/profile/board"

// Worth of a move: take, castle, develop, leave the king alone. A captured pawn is
// worth pawn, the other pieces as many times that as they count.
func Worth(pos *board.Position, move board.Move, pawn int) int {
	worth := [...]int{0, 1, 3, 3, 5, 9, 0}[pos.At(move.To()).Kind()] * pawn
	from, to := move.From(), move.To()
	switch pos.At(from).Kind() {
	case board.King:
		worth -= 60
		if d := int(from) - int(to); d == 2 || d == -2 {
			worth += 160
		}
	case board.Knight, board.Bishop:
		if from.Rank()%7 == 0 {
			worth += 40
		}
	case board.Pawn:
		if to.File() == 3 || to.File() == 4 {
			worth += 30
		}
	}
	return worth
}
