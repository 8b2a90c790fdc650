package peerbook

import (
	"encoding/binary"
	"math/bits"
	"slices"
)

// A position that few games passed is not kept with its moves: the games have them.
// A block of places says which blocks of games have passed a position: of its key only
// so many bits are there that one of some six other positions would be taken for it,
// and going through the games tells.
//
//	2 bytes  how many places
//	1 byte   how many of the lowest bits of the keys are left out
//	1 byte   the width of the numbers of blocks
//	8 bytes  the first key without these bits
//	2 bytes  the byte, counted from here, at which the numbers begin
//	as bits  the differences of the keys in Rice's code, k being placeRice
//	as bits  the number of each one's block
type placeWriter struct {
	keys  []uint64
	at    []uint32 // blocks
	block []byte
	bits  bitWriter
}

const (
	// fewPasses is how many passes of a position are kept with its moves.
	fewPasses    = 12
	placeInBlock = 1024
	placeRice    = 2
	placeHead    = countBytes + 1 + 1 + 8 + 2
)

func (w *placeWriter) full() bool { return len(w.keys) >= placeInBlock }

// add takes a position and the blocks of the games that passed it, each of which may
// come more than once. Keys come in order.
func (w *placeWriter) add(key uint64, blocks []uint32) {
	slices.Sort(blocks)
	for _, at := range slices.Compact(blocks) {
		w.keys, w.at = append(w.keys, key), append(w.at, at)
	}
}

// flush returns the block, valid until the next one, and begins another.
func (w *placeWriter) flush(blocks int) []byte {
	n := len(w.keys)
	drop := uint(0)
	if n > 1 {
		mean := (w.keys[n-1] - w.keys[0]) / uint64(n-1)
		drop = uint(max(0, bits.Len64(mean)-1-placeRice))
	}
	width := uint(bits.Len(uint(blocks)))
	first := w.keys[0] >> drop
	b := binary.BigEndian.AppendUint16(w.block[:0], uint16(n))
	b = binary.BigEndian.AppendUint64(append(b, byte(drop), byte(width)), first)
	w.bits.reset()
	for i, key := range w.keys[1:] {
		w.bits.rice(key>>drop-w.keys[i]>>drop, placeRice)
	}
	w.bits.pad()
	b = binary.BigEndian.AppendUint16(b, uint16(len(w.bits.buf)))
	b = append(b, w.bits.buf...)
	w.bits.reset()
	for _, at := range w.at {
		w.bits.put(uint64(at), width)
	}
	w.bits.pad()
	w.block = append(b, w.bits.buf...)
	w.keys, w.at = w.keys[:0], w.at[:0]
	return w.block
}

// findPlaces returns the blocks of games in which a position may be. It fails on
// bytes that no writer wrote.
func findPlaces(block []byte, key uint64) (places []uint32, ok bool) {
	if len(block) < placeHead {
		return nil, false
	}
	n, drop, width := int(binary.BigEndian.Uint16(block)), uint(block[countBytes]), uint(block[countBytes+1])
	at := binary.BigEndian.Uint64(block[countBytes+2:])
	body := int(binary.BigEndian.Uint16(block[placeHead-2:]))
	rest := block[placeHead:]
	if drop > 63 || width > 32 || 8*(len(rest)-body) < n*int(width) {
		return nil, false
	}
	want := key >> drop
	r := &bitReader{buf: rest[:body]}
	numbers := rest[body:]
	for i := 0; i < n; i++ {
		if i > 0 {
			at += r.rice(placeRice)
		}
		if at >= want {
			if at > want || r.short {
				break
			}
			number := bitReader{buf: numbers, at: i * int(width)}
			places = append(places, uint32(number.take(width)))
		}
	}
	return places, !r.short
}

// placed returns the moves at a position that few games passed, from the games.
func (r *Reader) placed(key uint64) ([]Move, error) {
	kind := len(tiers)
	n := r.b.keys[kind].find(key)
	if n < 0 {
		return nil, nil
	}
	at := &r.b.keys[kind].blocks[n]
	block, err := r.part(at.sums)
	if err != nil {
		return nil, err
	}
	places, ok := findPlaces(block, key)
	if !ok {
		return nil, damagedAt(at.sums.at)
	}
	r.few = r.few[:0]
	slices.Sort(places) // a position that is taken for this one may be in the same block
	for _, place := range slices.Compact(places) {
		visits, err := r.visits(int(place))
		if err != nil {
			return nil, err
		}
		for i := range visits {
			if visits[i].key == key {
				r.few = append(r.few, visits[i])
			}
		}
	}
	if len(r.few) == 0 || len(r.few) < r.b.about.Least {
		return nil, nil
	}
	slices.SortFunc(r.few, compareVisits)
	var sum summing
	for _, v := range r.few {
		sum.add(v)
	}
	sum.close()
	return sum.moves, nil
}

// gamesKept is how many blocks of games a Reader keeps replayed: whoever goes along a
// line wants the same ones again.
const gamesKept = 64

// visits are the moves of a block of games.
func (r *Reader) visits(block int) ([]visit, error) {
	if visits, ok := r.played[block]; ok {
		return visits, nil
	}
	if block >= len(r.b.games) {
		return nil, damagedAt(r.b.about.positionsAt)
	}
	if len(r.played) >= gamesKept {
		for block, visits := range r.played {
			r.spare = append(r.spare, visits)
			delete(r.played, block)
		}
	}
	var visits []visit
	if k := len(r.spare) - 1; k >= 0 {
		visits, r.spare = r.spare[k][:0], r.spare[:k]
	}
	games, err := r.b.gamesOf(block, &r.games)
	if err != nil {
		return nil, err
	}
	for games.next() {
		visits = games.visits(visits)
	}
	if games.bad() {
		return nil, damagedAt(r.b.games[block].at)
	}
	r.played[block] = visits
	return visits, nil
}
