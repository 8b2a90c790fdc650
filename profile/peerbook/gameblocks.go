package peerbook

import "foreply/profile/board"

// gamesInBlock is how many games stand in a block.
const gamesInBlock = 128

// A block of games: 2 bytes how many, then as bits the players of each (names.go), and
// for each game
//
//	         moves shared with the game before it in the block, of those it has
//	1 bit    whether the whole game has Depth moves or more; 6 bits how many, if not
//	for each further move which of the pieces it is, and which of that one's steps
//	24 bits  the hash of deeper moves, if it has any
//	         the day, of those that the book spans
//	5 bits   White's band; Black's less White's, in gamma code
//	5 bits   class and result, 6 bits marks
type gameWriter struct {
	before  record // the newest of the block
	count   int
	players []uint64 // as the book numbers them, White and Black by turns
	games   bitWriter
	whole   bitWriter
}

const (
	lengthBits = 6
	markBits   = 6
)

// add takes a game and its positions before each of the moves that are kept. It
// reports false for a move that no piece has.
func (b *gameWriter) add(r record, pos []board.Position, players playerList, in days) bool {
	w, before, shared := &b.games, 0, 0
	if b.count > 0 {
		before, shared = b.before.kept(), sharedMoves(b.before, r)
	}
	b.count++
	b.before = append(b.before[:0], r...)
	b.players = append(b.players, players.number(r.player(board.White)), players.number(r.player(board.Black)))
	w.below(uint64(shared), uint64(before)+1)
	if r.length() == Depth {
		w.put(1, 1)
	} else {
		w.put(uint64(r.length()), 1+lengthBits)
	}
	for k := shared; k < r.kept(); k++ {
		if !putStep(w, &pos[k], r.move(k)) {
			return false
		}
	}
	if r.length() > r.plies() {
		w.put(uint64(r.tail()), 8*tailBytes)
	}
	in.put(w, r.day())
	w.put(uint64(r.band(board.White)), bandBits)
	w.gamma(zigzag(int64(r.band(board.Black))-int64(r.band(board.White))) + 1)
	w.put(uint64(r.classResult()), classResultBits)
	w.put(uint64(r.marks()), markBits)
	return true
}

// flush returns the block, valid until the next one, and begins another.
func (b *gameWriter) flush(width uint) []byte {
	w := &b.whole
	w.reset()
	w.put(uint64(b.count), 16)
	for _, p := range b.players {
		w.wide(p, width)
	}
	w.pad()
	b.games.pad()
	b.whole.buf = append(w.buf, b.games.buf...)
	b.games.reset()
	b.count, b.players = 0, b.players[:0]
	return b.whole.buf
}

func putStep(w *bitWriter, pos *board.Position, m board.Move) bool {
	piece := pos.PieceOn(m.From())
	steps := pos.Steps(piece)
	step := steps.Of(m)
	if step < 0 {
		return false
	}
	w.below(uint64(piece), uint64(pos.Pieces()))
	w.below(uint64(step), uint64(steps.Count()))
	return true
}

// sharedMoves is how many moves two games have in common at their beginning.
func sharedMoves(a, b record) int {
	n := min(a.kept(), b.kept())
	for i := range n {
		if a[2*i] != b[2*i] || a[2*i+1] != b[2*i+1] {
			return i
		}
	}
	return n
}
