package peerbook

import (
	"encoding/binary"
	"math/bits"
)

// bitWriter appends bits, the highest first.
type bitWriter struct {
	buf  []byte
	acc  uint64
	have uint // bits in acc
}

// put appends the lowest n bits of v; n is at most 32.
func (w *bitWriter) put(v uint64, n uint) {
	w.acc = w.acc<<n | v&(1<<n-1)
	w.have += n
	for w.have >= 8 {
		w.have -= 8
		w.buf = append(w.buf, byte(w.acc>>w.have))
	}
}

// wide is put for n up to 64.
func (w *bitWriter) wide(v uint64, n uint) {
	if n > 32 {
		w.put(v>>32, n-32)
		n = 32
	}
	w.put(v, n)
}

// gamma appends v, at least 1, in Elias' gamma code (Elias 1975): its length in
// zeros, then the number.
func (w *bitWriter) gamma(v uint64) {
	n := uint(bits.Len64(v))
	for zeros := n - 1; zeros > 0; {
		some := min(zeros, 32)
		w.put(0, some)
		zeros -= some
	}
	w.wide(v, n)
}

// len is how many bits were put.
func (w *bitWriter) len() uint64 { return 8*uint64(len(w.buf)) + uint64(w.have) }

// rice appends v in Rice's code (Rice 1979): v>>k in ones and a zero, then the
// lowest k bits.
func (w *bitWriter) rice(v uint64, k uint) {
	for range v >> k {
		w.put(1, 1)
	}
	w.put(0, 1)
	w.wide(v, k)
}

// pad fills the last byte up with zeros.
func (w *bitWriter) pad() {
	if w.have > 0 {
		w.put(0, 8-w.have)
	}
}

func (w *bitWriter) reset() { *w = bitWriter{buf: w.buf[:0]} }

// bitReader reads what a bitWriter wrote. Behind the end it gives zeros and says
// so by short.
type bitReader struct {
	buf   []byte
	at    int // in bits
	short bool
}

// window returns the next 57 bits or more at the top of a word.
func (r *bitReader) window() uint64 {
	if i := r.at >> 3; i+8 <= len(r.buf) {
		return binary.BigEndian.Uint64(r.buf[i:]) << uint(r.at&7)
	}
	return r.last()
}

// last is the window where fewer than eight bytes are left.
func (r *bitReader) last() (v uint64) {
	i := r.at >> 3
	for k := range 8 {
		v <<= 8
		if i+k < len(r.buf) {
			v |= uint64(r.buf[i+k])
		}
	}
	return v << uint(r.at&7)
}

func (r *bitReader) skip(n uint) {
	r.at += int(n)
	if r.at > 8*len(r.buf) {
		r.at, r.short = 8*len(r.buf), true
	}
}

// take reads n bits, at most 32.
func (r *bitReader) take(n uint) uint64 {
	v := r.window() >> 1 >> (63 - n)
	r.skip(n)
	return v
}

func (r *bitReader) wide(n uint) uint64 {
	if n <= 32 {
		return r.take(n)
	}
	high := r.take(n - 32)
	return high<<32 | r.take(32)
}

func (r *bitReader) gamma() uint64 {
	w := r.window()
	if zeros := uint(bits.LeadingZeros64(w)); zeros <= 28 { // all of it is in the window
		r.skip(2*zeros + 1)
		return w >> (63 - 2*zeros)
	}
	zeros := uint(0)
	for {
		some := uint(bits.LeadingZeros64(r.window() | 1<<7))
		zeros += some
		r.skip(some)
		if some < 56 {
			break
		}
		if r.short || zeros > 63 {
			r.short = true
			return 1
		}
	}
	if r.short || zeros > 63 {
		r.short = true
		return 1
	}
	return r.wide(zeros + 1)
}

// windowBits is how many bits of a window are sure to be there.
const windowBits = 57

// gammaIn reads a number that begins at the top of what is left of a window, and goes
// on behind it.
func (r *bitReader) gammaIn(w uint64, used uint) uint64 {
	zeros := uint(bits.LeadingZeros64(w))
	if used+2*zeros+1 > windowBits {
		r.skip(used)
		return r.gamma()
	}
	r.skip(used + 2*zeros + 1)
	return w >> (63 - 2*zeros)
}

// gammas reads five numbers in this way, out of one window where they are small.
func (r *bitReader) gammas(w uint64, used uint) (v [5]uint64) {
	for i := range v {
		zeros := uint(bits.LeadingZeros64(w))
		if used+2*zeros+1 > windowBits {
			r.skip(used)
			for i := i; i < len(v); i++ {
				v[i] = r.gamma()
			}
			return v
		}
		v[i] = w >> (63 - 2*zeros)
		w <<= 2*zeros + 1
		used += 2*zeros + 1
	}
	r.skip(used)
	return v
}

func (r *bitReader) rice(k uint) uint64 {
	ones := uint64(0)
	for {
		some := uint(bits.LeadingZeros64(^r.window() | 1<<7))
		ones += uint64(some)
		r.skip(some)
		if some < 56 { // behind the end there are zeros
			break
		}
	}
	r.skip(1)
	return ones<<k | r.wide(k)
}

// left is how many bits are still there.
func (r *bitReader) left() int { return 8*len(r.buf) - r.at }

// below appends v, which is less than n, in the shortest codes of one length or the
// next (truncated binary code).
func (w *bitWriter) below(v, n uint64) {
	k := uint(bits.Len64(n)) - 1
	if short := 2<<k - n; v < short {
		w.put(v, k)
	} else {
		w.put(v+short, k+1)
	}
}

// below reads what is less than n, which is less than 2^31.
func (r *bitReader) below(n uint64) uint64 {
	k := uint(bits.Len64(n)) - 1
	short := 2<<k - n
	w := r.window()
	v := w >> 1 >> (63 - k)
	if v < short {
		r.skip(k)
		return v
	}
	r.skip(k + 1)
	return w>>(63-k) - short
}
