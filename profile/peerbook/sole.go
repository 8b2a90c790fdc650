package peerbook

import (
	"encoding/binary"
	"math/bits"
)

// A position that a single game passed once is not kept with its move: the game has
// it. A block of such says which games may have passed a position: of its key only
// so many bits are there that one of some 32 other positions would be taken for
// it, and going through the game tells.
//
//	2 bytes  how many positions
//	1 byte   how many of the lowest bits of the keys are left out
//	1 byte   the width of the games' numbers
//	8 bytes  the first key without these bits
//	2 bytes  the byte, counted from here, at which the games begin
//	as bits  the differences of the keys in Rice's code, k being soleRice
//	as bits  the number of each one's game
type soleWriter struct {
	keys  []uint64
	games []uint32
	block []byte
	bits  bitWriter
}

const (
	soleInBlock = 1024
	soleRice    = 5
	soleHead    = countBytes + 1 + 1 + 8 + 2
)

func (w *soleWriter) add(key uint64, game uint32) {
	w.keys, w.games = append(w.keys, key), append(w.games, game)
}

// flush returns the block, valid until the next one, and begins another.
func (w *soleWriter) flush(games int) []byte {
	n := len(w.keys)
	drop := uint(0)
	if n > 1 {
		mean := (w.keys[n-1] - w.keys[0]) / uint64(n-1)
		drop = uint(max(0, bits.Len64(mean)-1-soleRice))
	}
	width := uint(bits.Len(uint(games)))
	first := w.keys[0] >> drop
	b := binary.BigEndian.AppendUint16(w.block[:0], uint16(n))
	b = binary.BigEndian.AppendUint64(append(b, byte(drop), byte(width)), first)
	w.bits.reset()
	for i, key := range w.keys[1:] {
		w.bits.rice(key>>drop-w.keys[i]>>drop, soleRice)
	}
	w.bits.pad()
	b = binary.BigEndian.AppendUint16(b, uint16(len(w.bits.buf)))
	b = append(b, w.bits.buf...)
	w.bits.reset()
	for _, game := range w.games {
		w.bits.put(uint64(game), width)
	}
	w.bits.pad()
	w.block = append(b, w.bits.buf...)
	w.keys, w.games = w.keys[:0], w.games[:0]
	return w.block
}

// findSole returns the games that may have passed a position. It fails on bytes
// that no writer wrote.
func findSole(block []byte, key uint64) (games []uint32, ok bool) {
	if len(block) < soleHead {
		return nil, false
	}
	n, drop, width := int(binary.BigEndian.Uint16(block)), uint(block[countBytes]), uint(block[countBytes+1])
	at := binary.BigEndian.Uint64(block[countBytes+2:])
	body := int(binary.BigEndian.Uint16(block[soleHead-2:]))
	rest := block[soleHead:]
	if drop > 63 || width > 32 || body > len(rest) || 8*(len(rest)-body) < n*int(width) {
		return nil, false
	}
	want := key >> drop
	r := &bitReader{buf: rest[:body]}
	numbers := rest[body:]
	for i := 0; i < n; i++ {
		if i > 0 {
			at += r.rice(soleRice)
		}
		if at >= want {
			if at > want || r.short {
				break
			}
			number := bitReader{buf: numbers, at: i * int(width)}
			games = append(games, uint32(number.take(width)))
		}
	}
	return games, !r.short
}
