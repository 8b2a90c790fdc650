package peerbook

// Reader looks positions up. It keeps what it read last, up to keptBytes, so one
// Reader serves one goroutine.
type Reader struct {
	b      *Book
	kept   map[uint64][]byte // parts of the file by their place
	size   int               // of all of them
	moves  movesRoom
	games  gamesRoom
	played map[int][]visit // of blocks of games
	spare  [][]visit
	few    []visit
}

// keptBytes bounds what a Reader keeps of the file: on a walk along the moves
// played most, the blocks of the first tiers are wanted again and again.
const keptBytes = 8 << 20

// Reader returns a new one.
func (b *Book) Reader() *Reader {
	return &Reader{b: b, kept: map[uint64][]byte{}, played: map[int][]visit{}}
}

// At returns the moves played at the position with the key, in order of the
// moves; none if the book doesn't have it. They are valid until the next call.
func (r *Reader) At(key uint64) ([]Move, error) { return r.at(key, false) }

// Total is At with the cells of all days together, their days 0; it reads less.
// What it returns is valid until the next call.
func (r *Reader) Total(key uint64) ([]Move, error) { return r.at(key, true) }

func (r *Reader) at(key uint64, total bool) ([]Move, error) {
	for i := range tiers {
		if moves, err := r.inTier(i, key, total); moves != nil || err != nil {
			return moves, err
		}
	}
	moves, err := r.placed(key)
	if total {
		for i := range moves {
			moves[i].Cells = moves[i].total()
		}
	}
	return moves, err
}

// part reads a part of the file, or has it already.
func (r *Reader) part(s stored) ([]byte, error) {
	if part, ok := r.kept[s.at]; ok {
		return part, nil
	}
	part, err := r.b.block(s, nil)
	if err != nil {
		return nil, err
	}
	if r.size += int(s.size); r.size > keptBytes {
		clear(r.kept)
		r.size = int(s.size)
	}
	r.kept[s.at] = part
	return part, nil
}

// inTier returns the moves of a position that stands in a tier.
func (r *Reader) inTier(i int, key uint64, total bool) ([]Move, error) {
	n := r.b.keys[i].find(key)
	if n < 0 {
		return nil, nil
	}
	block := &r.b.keys[i].blocks[n]
	sums, err := r.part(block.sums)
	if err != nil {
		return nil, err
	}
	f, there, ok := findInTier(sums, key)
	if ok && !there {
		return nil, nil
	}
	var moves []Move
	if ok {
		moves, ok = f.take(&r.moves)
	}
	if ok && !total {
		if ok, err = r.date(moves, f.index, block.details); err != nil {
			return nil, err
		}
	}
	if !ok {
		return nil, damagedAt(block.sums.at)
	}
	return moves, nil
}

// date tells the cells apart by days.
func (r *Reader) date(moves []Move, index int, details []detailPlace) (ok bool, err error) {
	for _, d := range details {
		if index < d.positions {
			detail, err := r.part(d.stored)
			if err != nil {
				return false, err
			}
			return dated(moves, detail, index, d.positions, r.b.days), nil
		}
		index -= d.positions
	}
	return false, nil
}
