package peerbook

import (
	"encoding/binary"

	"foreply/profile/board"
)

// blockGames reads the games of a block one by one.
type blockGames struct {
	in      days
	list    playerList
	count   int // of the block
	n       int // read of them
	failed  bool
	players bitReader
	games   bitReader
	rec     record
	shared  int                       // moves of the newest that the one before it has too
	pos     [Depth + 1]board.Position // of the newest, and the one behind its last move
	keys    [Depth]uint64             // as far as they were asked for
	known   int                       // so many keys are
}

// open begins with a block of a book of so many plies.
func (g *blockGames) open(block []byte, plies int, list playerList, in days) {
	if len(g.rec) != recordWidth(plies) {
		g.rec = make(record, recordWidth(plies))
		g.pos[0] = board.Start()
	}
	g.in, g.list, g.n, g.known = in, list, 0, 0
	g.count, g.players.buf, g.failed = playersInBlock(block, list)
	if g.failed {
		return
	}
	g.players.at, g.players.short = 0, false
	g.games = bitReader{buf: block[countBytes+len(g.players.buf):]}
}

// playersInBlock is how many games a block has, and the part with their players.
func playersInBlock(block []byte, list playerList) (count int, players []byte, failed bool) {
	if len(block) < countBytes {
		return 0, nil, true
	}
	count = int(binary.BigEndian.Uint16(block))
	size := (2*count*int(list.width) + 7) / 8
	if count == 0 || len(block) < countBytes+size {
		return 0, nil, true
	}
	return count, block[countBytes:][:size], false
}

// next reads a game, into rec; there is none behind the last, and behind bytes that no
// writer wrote.
func (g *blockGames) next() bool {
	if g.failed || g.n == g.count {
		return false
	}
	g.failed = !g.moves() || !g.rest()
	g.n++
	return !g.failed
}

// bad reports that there are bytes that no writer wrote.
func (g *blockGames) bad() bool { return g.failed }

func (g *blockGames) moves() bool {
	r, rec, before := &g.games, g.rec, 0
	if g.n > 0 {
		before = rec.kept()
	}
	shared, length := int(r.below(uint64(before)+1)), Depth
	if r.take(1) == 0 {
		length = int(r.take(lengthBits))
	}
	kept := min(length, rec.plies())
	if shared > kept || length > Depth {
		return false
	}
	g.shared, g.known = shared, min(g.known, shared+1)
	for k := shared; k < kept; k++ {
		m, ok := takeStep(r, &g.pos[k])
		if !ok {
			return false
		}
		binary.BigEndian.PutUint16(rec[2*k:], uint16(m))
		g.pos[k+1] = g.pos[k]
		g.pos[k+1].Play(m)
	}
	clear(rec[2*kept : 2*rec.plies()])
	rest := rec.rest()
	rest[0] = byte(length)
	tail := uint64(0)
	if length > rec.plies() {
		tail = r.take(8 * tailBytes)
	}
	rest[1], rest[2], rest[3] = byte(tail>>16), byte(tail>>8), byte(tail)
	return !r.short
}

// takeStep reports false for what is no move.
func takeStep(r *bitReader, pos *board.Position) (board.Move, bool) {
	pieces := pos.Pieces()
	if pieces == 0 {
		return 0, false
	}
	steps := pos.Steps(int(r.below(uint64(pieces))))
	n := steps.Count()
	if n == 0 {
		return 0, false
	}
	return steps.Move(int(r.below(uint64(n)))), true
}

// rest reads what stands behind the moves, and the players.
func (g *blockGames) rest() bool {
	r, rec := &g.games, g.rec
	day := g.in.take(r)
	binary.BigEndian.PutUint16(rec.rest()[1+tailBytes:], uint16(day))
	n := len(rec)
	white := r.take(bandBits)
	black := int64(white) + unzigzag(r.gamma()-1)
	if black < 0 || black > lastBand {
		return false
	}
	rec[n-4], rec[n-3] = byte(white), byte(black)
	rec[n-2], rec[n-1] = byte(r.take(classResultBits)), byte(r.take(markBits))
	for c := range 2 {
		p, ok := g.list.player(g.players.wide(g.list.width))
		if !ok {
			return false
		}
		putPlayer(rec.names()[playerBytes*c:], p)
	}
	return day < 1<<dayBits && !r.short
}

// visits appends those of the newest game.
func (g *blockGames) visits(to []visit) []visit {
	r := g.rec
	for i := range r.kept() {
		if i >= g.known {
			g.keys[i], g.known = g.pos[i].Key(), i+1
		}
		c := board.Color(i & 1)
		to = append(to, newVisit(g.keys[i], r.move(i), r.player(c).Surname(), r.day(), r.band(c), r.classResult()))
	}
	return to
}

// gamesRoom is room for a block of games, used again and again.
type gamesRoom struct {
	bytes []byte
	games blockGames
}

// gamesOf reads a block of games, which is valid until the room serves again.
func (b *Book) gamesOf(i int, room *gamesRoom) (*blockGames, error) {
	players, err := b.players()
	if err != nil {
		return nil, err
	}
	body, err := b.block(b.games[i].stored, room.bytes)
	if err != nil {
		return nil, err
	}
	room.bytes = body[:0]
	room.games.open(body, b.about.Plies, players, b.days)
	return &room.games, nil
}

// bookSource hands the games of a book out as records.
type bookSource struct {
	book  *Book
	block int
	games *blockGames
	room  gamesRoom
}

func (s *bookSource) next() ([]byte, error) {
	for {
		if s.games != nil && s.games.next() {
			return s.games.rec, nil
		}
		if s.games != nil && s.games.bad() {
			return nil, damagedAt(s.book.games[s.block-1].at)
		}
		if s.block == len(s.book.games) {
			return nil, nil
		}
		var err error
		if s.games, err = s.book.gamesOf(s.block, &s.room); err != nil {
			return nil, err
		}
		s.block++
	}
}
