package peerbook

import (
	"encoding/binary"
	"hash/fnv"
	"io"
	"math"

	"foreply/profile/board"
)

const (
	// Depth is how much of a game is looked at to tell copies from other games,
	// in plies; no book goes deeper.
	Depth = 40
	// DefaultPlies is how deep moves are counted, in plies.
	DefaultPlies = 24
	// alikePlies is from how many plies on two games of the same moves are one.
	alikePlies = 20
)

// Game is one game of an archive.
type Game struct {
	Moves   []board.Move // from the usual position, the first Depth of them; legal
	Players [2]Player    // by colour
	Last    int32        // latest possible day, as pgn.Day
	Ratings [2]int       // by colour, 0 unknown; out of a book the least of the band
	Class   uint8        // time class, 0..7, 0 unknown; its meaning is the caller's
	Result  Result
	Marks   uint8 // 0..63, added up in Rows; their meaning is the caller's
}

// Bands are those of the ratings, by colour.
func (g *Game) Bands() [2]uint8 { return [2]uint8{BandOf(g.Ratings[0]), BandOf(g.Ratings[1])} }

// Result of a game.
type Result uint8

const (
	Unknown Result = iota
	WhiteWon
	Drawn
	BlackWon
)

// Player is who played, as two hashes: 23 bits of the surname, which tell one
// player's games from another's, and 17 of the rest of the name.
type Player uint64

const (
	surnameBits = 23
	restBits    = 17
)

// PlayerOf hashes a name: the FNV-1a hash of the surname and that of the whole
// name, each folded together (Fowler, Noll and Vo; RFC 9923).
func PlayerOf(surname, whole string) Player {
	return Player(hashOf(surname, surnameBits)<<restBits | hashOf(whole, restBits))
}

// Surname is the part that players are told apart by in the counts.
func (p Player) Surname() uint32 { return uint32(p >> restBits) }

func hashOf(text string, width uint) uint64 {
	h := fnv.New64a()
	io.WriteString(h, text)
	v := h.Sum64()
	return (v>>width ^ v) & (1<<width - 1)
}

// Rating bands are 100 points wide: band 0 is unknown, 1 under 600, 2 from 600,
// and the last from 3500 on.
const (
	bandBits  = 5
	bandWidth = 100
	bandFloor = 600
	lastBand  = 1<<bandBits - 1
)

// BandOf is the band of a rating, 0 being unknown.
func BandOf(rating int) uint8 {
	switch {
	case rating <= 0:
		return 0
	case rating < bandFloor:
		return 1
	}
	return uint8(min((rating-bandFloor)/bandWidth+2, lastBand))
}

// BandRange is the ratings of a band, from lo up to under hi. The first begins
// with 1, the last has no end.
func BandRange(band uint8) (lo, hi int) {
	switch band {
	case 0:
		return 0, 0
	case 1:
		return 1, bandFloor
	case lastBand:
		return bandFloor + (lastBand-2)*bandWidth, math.MaxInt32
	}
	lo = bandFloor + (int(band)-2)*bandWidth
	return lo, lo + bandWidth
}

// Days are kept in 16 bits from 1 January 1900 on. An older game counts as one of
// that day, a later one as of the last: known rather too late than too early.
const (
	firstDay = 693596 // 1 January 1900, as pgn.Day
	dayBits  = 16
)

func packDay(day int32) uint16 {
	return uint16(min(max(int(day)-firstDay, 0), 1<<dayBits-1))
}

func unpackDay(day uint16) int32 { return int32(day) + firstDay }

// A record is a game in bytes whose order is that of the games: by moves, then
// copies of one game by day, the one that counts first.
//
//	moves        2 bytes each, NoMove behind the last
//	length       1 byte, up to Depth
//	tail         3 bytes, a hash of the moves deeper than the book
//	day          2 bytes
//	players      5 bytes each
//	bands        1 byte each
//	class,result 1 byte
//	marks        1 byte
const (
	tailBytes   = 3
	playerBytes = 5
	afterMoves  = 1 + tailBytes + 2 + 2*playerBytes + 2 + 1 + 1
)

type record []byte

// days is the range that a book's days are told in.
type days struct {
	base  uint16
	count uint64
}

func daysFrom(first, last uint16) days { return days{first, uint64(last-first) + 1} }

func (in days) put(w *bitWriter, day uint16) { w.below(uint64(day-in.base), in.count) }

func (in days) take(r *bitReader) uint64 { return uint64(in.base) + r.below(in.count) }

func recordWidth(plies int) int { return 2*plies + afterMoves }

// appendRecord appends the record of a game in a book of so many plies.
func appendRecord(to []byte, g *Game, plies int) []byte {
	moves := g.Moves[:min(len(g.Moves), Depth)]
	kept := moves[:min(len(moves), plies)]
	for _, m := range kept {
		to = binary.BigEndian.AppendUint16(to, uint16(m))
	}
	for range plies - len(kept) {
		to = append(to, 0, 0)
	}
	tail := tailHash(moves[len(kept):])
	to = append(to, byte(len(moves)), byte(tail>>16), byte(tail>>8), byte(tail))
	to = binary.BigEndian.AppendUint16(to, packDay(g.Last))
	for _, p := range g.Players {
		to = append(to, byte(p>>32), byte(p>>24), byte(p>>16), byte(p>>8), byte(p))
	}
	return append(to, BandOf(g.Ratings[0]), BandOf(g.Ratings[1]), g.Class<<2|uint8(g.Result), g.Marks)
}

// tailHash is 24 bits of the FNV-1a hash of moves, 0 for none.
func tailHash(moves []board.Move) uint32 {
	if len(moves) == 0 {
		return 0
	}
	h := fnv.New64a()
	for _, m := range moves {
		h.Write([]byte{byte(m >> 8), byte(m)})
	}
	v := h.Sum64()
	return uint32(v>>24^v) & (1<<24 - 1)
}

// plies is the depth of the book that the record is of.
func (r record) plies() int { return (len(r) - afterMoves) / 2 }

func (r record) move(i int) board.Move { return board.Move(binary.BigEndian.Uint16(r[2*i:])) }

// kept is how many moves the record has.
func (r record) kept() int { return min(r.length(), r.plies()) }

func (r record) rest() []byte { return r[len(r)-afterMoves:] }

func (r record) length() int { return int(r.rest()[0]) }

func (r record) tail() uint32 {
	b := r.rest()[1:]
	return uint32(b[0])<<16 | uint32(b[1])<<8 | uint32(b[2])
}

func (r record) day() uint16 { return binary.BigEndian.Uint16(r.rest()[1+tailBytes:]) }

// names are the bytes of both players.
func (r record) names() []byte {
	return r.rest()[1+tailBytes+2:][:2*playerBytes]
}

func (r record) player(c board.Color) Player { return playerAt(r.names()[playerBytes*int(c):]) }

func playerAt(b []byte) Player {
	return Player(b[0])<<32 | Player(b[1])<<24 | Player(b[2])<<16 | Player(b[3])<<8 | Player(b[4])
}

func putPlayer(b []byte, p Player) {
	b[0], b[1], b[2], b[3], b[4] = byte(p>>32), byte(p>>24), byte(p>>16), byte(p>>8), byte(p)
}

func (r record) band(c board.Color) uint8 { return r[len(r)-4+int(c)] }

// classResult is the class shifted by two, and the result.
func (r record) classResult() uint8 { return r[len(r)-2] }

func (r record) marks() uint8 { return r[len(r)-1] }

// sameGame is the part that copies of a game have in common.
func (r record) sameGame() []byte { return r[:len(r)-afterMoves+1+tailBytes] }

func (r record) game() Game {
	g := Game{
		Last: unpackDay(r.day()), Class: r.classResult() >> 2, Result: Result(r.classResult() & 3), Marks: r.marks(),
		Players: [2]Player{r.player(board.White), r.player(board.Black)},
	}
	for c := range g.Ratings {
		g.Ratings[c], _ = BandRange(r.band(board.Color(c)))
	}
	for i := range r.kept() {
		g.Moves = append(g.Moves, r.move(i))
	}
	return g
}
