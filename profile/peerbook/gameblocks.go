package peerbook

import "encoding/binary"

// gamesInBlock is how many games stand in a block.
const gamesInBlock = 128

// A block of games: 2 bytes how many, the names' hashes of each (10 bytes), then
// as bits for each game
//
//	6 bits   moves shared with the game before it in the block
//	6 bits   moves of the whole game, up to Depth
//	for each further move 12 bits its squares, 1 or 4 of promotion
//	24 bits  the hash of deeper moves, if it has any
//	days     in the book's width
//	5+5 bits bands, 5 bits class and result, 6 bits marks
type gameWriter struct {
	width int
	games []byte // records
	whole bitWriter
}

const (
	lengthBits = 6
	markBits   = 6
)

func (b *gameWriter) len() int { return len(b.games) / b.width }

func (b *gameWriter) add(r record) { b.games = append(b.games, r...) }

func (b *gameWriter) flush(in days) []byte {
	w := &b.whole
	w.reset()
	n := b.len()
	w.put(uint64(n), 16)
	at := func(i int) record { return record(b.games[i*b.width:][:b.width]) }
	for i := range n {
		w.buf = append(w.buf, at(i).names()...)
	}
	for i := range n {
		r, shared := at(i), 0
		if i > 0 {
			shared = sharedMoves(at(i-1), r)
		}
		w.put(uint64(shared), lengthBits)
		w.put(uint64(r.length()), lengthBits)
		for k := shared; k < r.kept(); k++ {
			putMove(w, r.move(k))
		}
		if r.length() > r.plies() {
			w.put(uint64(r.tail()), 8*tailBytes)
		}
		w.put(uint64(r.day()-in.base), in.width)
		w.put(uint64(r.band(0)), bandBits)
		w.put(uint64(r.band(1)), bandBits)
		w.put(uint64(r.classResult()), classResultBits)
		w.put(uint64(r.marks()), markBits)
	}
	w.pad()
	b.games = b.games[:0]
	return w.buf
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

// namesInBlock are the hashes of names in a block of games; nil if it is none.
func namesInBlock(block []byte) []byte {
	if len(block) < 2 {
		return nil
	}
	n := int(binary.BigEndian.Uint16(block))
	if n == 0 || len(block) < 2+2*playerBytes*n {
		return nil
	}
	return block[2:][:2*playerBytes*n]
}

// eachGame hands out the games of a block as records until hand says stop. It
// reports false for bytes that no writer wrote.
func eachGame(block []byte, plies int, in days, hand func(i int, r record) bool) bool {
	names := namesInBlock(block)
	if names == nil {
		return false
	}
	r := &bitReader{buf: block[2+len(names):]}
	rec := make(record, recordWidth(plies))
	for i := range len(names) / (2 * playerBytes) {
		if !takeGame(r, rec, i, in) {
			return false
		}
		copy(rec.names(), names[2*playerBytes*i:][:2*playerBytes])
		if !hand(i, rec) {
			return true
		}
	}
	return true
}

// takeGame makes a record of that of the game before it.
func takeGame(r *bitReader, rec record, i int, in days) bool {
	before := 0
	if i > 0 {
		before = rec.kept()
	}
	shared, length := int(r.take(lengthBits)), int(r.take(lengthBits))
	kept := min(length, rec.plies())
	if shared > before || shared > kept || length > Depth {
		return false
	}
	for k := shared; k < kept; k++ {
		binary.BigEndian.PutUint16(rec[2*k:], uint16(takeMove(r)))
	}
	clear(rec[2*kept : 2*rec.plies()])
	rest := rec.rest()
	rest[0] = byte(length)
	tail := uint64(0)
	if length > rec.plies() {
		tail = r.take(8 * tailBytes)
	}
	rest[1], rest[2], rest[3] = byte(tail>>16), byte(tail>>8), byte(tail)
	day := uint64(in.base) + r.take(in.width)
	binary.BigEndian.PutUint16(rest[1+tailBytes:], uint16(day))
	n := len(rec)
	rec[n-4], rec[n-3] = byte(r.take(bandBits)), byte(r.take(bandBits))
	rec[n-2], rec[n-1] = byte(r.take(classResultBits)), byte(r.take(markBits))
	return day < 1<<dayBits && !r.short
}
