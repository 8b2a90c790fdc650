package pgn

import (
	"bytes"
	"encoding/binary"
	"math/bits"
)

// Where comments end. Most end at the first closing brace; the rest is for comments in
// comments, for those that nobody closed, and for games swallowed by them.

// plainComment is commentEnd for a brace comment as most are, with no other brace
// in it; 0 for others.
func plainComment(b []byte, i int) (end int) {
	if end = shortComment(b, i); end > 0 {
		return end
	}
	k := bytes.IndexByte(b[i:min(len(b), i+farComment)], '}')
	if k < 0 || bytes.IndexByte(b[i+1:i+k], '{') >= 0 {
		return 0
	}
	return i + k + 1
}

// shortComment returns the place behind the brace comment at b[i] if it is as short
// as the time on a clock, 0 if it may be longer. It looks at eight bytes at a time
// for those that are a brace but for the bits of 6: { and }, and y and DEL, which
// end the search in vain. The first zero byte of v is found as Hacker's Delight
// (Warren, 2nd ed., 6-1) finds it.
func shortComment(b []byte, i int) int {
	const ones, tops = 0x0101010101010101, 0x8080808080808080
	for p := i + 1; p < i+25 && p+8 <= len(b); p += 8 {
		v := (binary.LittleEndian.Uint64(b[p:]) &^ (6 * ones)) ^ (('{' &^ 6) * ones)
		if zero := (v - ones) &^ v & tops; zero != 0 {
			if p += bits.TrailingZeros64(zero) / 8; b[p] == '}' {
				return p + 1
			}
			return 0
		}
	}
	return 0
}

// commentSpan is what commentEnd finds.
type commentSpan struct {
	end   int
	open  bool // never closed
	lines bool // may hold line ends
}

// farComment is how far a comment is looked through for its end before a tag
// section in it is taken as proof that it was never closed.
const farComment = 64 << 10

// commentEnd returns the place behind the brace comment that starts at b[i].
// Braces do not nest (PGN standard 5), so it ends at the next closing brace. But
// people nest them: see nestedEnd. And when a tag section after a blank line comes
// first, and the brace found closes another comment opened after it or is far
// away, then ours was never closed; it ends at that tag section. Without any
// closing brace it ends there too, or with b. ok is false when b is not final and
// the end is not in it.
func commentEnd(b []byte, i int, final bool) (c commentSpan, ok bool) {
	near := b[i:min(len(b), i+farComment)]
	k := bytes.IndexByte(near, '}')
	if k < 0 {
		return farCommentEnd(b, i, len(near), final)
	}
	text := near[:k]
	c.end = i + k + 1
	c.lines = bytes.IndexByte(text, '\n') >= 0
	inner := bytes.Count(text[1:], opening)
	if inner == 0 {
		return c, true
	}
	if t := hiddenTags(text); t > 0 && bytes.IndexByte(text[t:], '{') >= 0 {
		c.end, c.open = i+t, true
		return c, true
	}
	end, ok := nestedEnd(b, c.end, inner, final)
	if end > 0 {
		c.end, c.lines = end, true
	}
	return c, ok
}

var opening = []byte("{")

// farNested is how far behind its first closing brace a comment with braces in it
// is looked through for the others.
const farNested = 1 << 10

// nestedEnd returns the place behind the brace that closes a comment in which so
// many inner ones are open at b[i]; 0 when there is none before a tag section. In
// a text that keeps to the standard each of them would be one too many, so no
// good comment is read longer than it is.
func nestedEnd(b []byte, i, inner int, final bool) (end int, ok bool) {
	near := b[i:min(len(b), i+farNested)]
	for p := 0; ; p++ {
		k := bytes.IndexAny(near[p:], "{}")
		if k < 0 {
			return 0, final || len(near) == farNested
		}
		if p += k; near[p] == '{' {
			inner++
		} else if inner--; inner == 0 {
			if hasTag(near[:p]) {
				return 0, true
			}
			return i + p + 1, true
		}
	}
}

// farCommentEnd is commentEnd for a comment that does not end in its first n
// bytes.
func farCommentEnd(b []byte, i, n int, final bool) (c commentSpan, ok bool) {
	if n < farComment && !final {
		return c, false
	}
	c.lines = true
	if t := hiddenTags(b[i : i+n]); t > 0 {
		c.end, c.open = i+t, true
		return c, true
	}
	k := bytes.IndexByte(b[i+n:], '}')
	switch {
	case k >= 0:
		c.end = i + n + k + 1
	case !final:
		return c, false
	default:
		c.end, c.open = len(b), true
	}
	if t := hiddenTags(b[i:c.end]); t > 0 {
		c.end, c.open = i+t, true
	}
	return c, true
}
