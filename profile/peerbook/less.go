package peerbook

import (
	"bytes"
	"fmt"
	"slices"
	"sort"

	"foreply/profile/board"
)

// Less is games of a book that don't count for somebody: their own. A player's
// other games with the same moves weigh more without them, so what is taken off
// is worked out from all games of the players concerned.
type Less struct {
	Games []Game // as far as the book has their moves
	off   map[uint64][]Move
	total map[uint64][]Move // all days together
}

// Own says which games are somebody's.
type Own struct {
	Players []Player       // by these names, with either colour
	Lines   [][]board.Move // or with these moves, whatever the names; the first Depth of them tell
	// Fits reports whether the game of a line may be one whose last possible day is
	// this; nil: of any day.
	Fits func(line int, day int32) bool
}

// Less finds somebody's own games.
func (b *Book) Less(own Own) (*Less, error) {
	l := lessening{b: b, own: map[int]bool{}, surnames: make([]uint64, 1<<surnameBits/64), wanted: map[edge]bool{}}
	for i, line := range own.Lines {
		fits := func(r record) bool { return own.Fits == nil || own.Fits(i, unpackDay(r.day())) }
		if err := l.findLine(line, fits); err != nil {
			return nil, err
		}
	}
	if len(own.Players) > 0 {
		if err := l.findPlayers(own.Players); err != nil {
			return nil, err
		}
	}
	out := &Less{off: map[uint64][]Move{}, total: map[uint64][]Move{}}
	if len(l.own) == 0 {
		return out, nil
	}
	if err := l.readOwn(out); err != nil {
		return nil, err
	}
	if err := l.readOthers(); err != nil {
		return nil, err
	}
	l.sumUp(out)
	return out, nil
}

// edge is a move of one player: a key, and the move with the surname.
type edge struct{ key, player uint64 }

type lessening struct {
	b        *Book
	own      map[int]bool // by number
	surnames []uint64     // bits: the players of the own games
	wanted   map[edge]bool
	passes   []ownPass
	room     []byte
	games    gamesRoom
}

type ownPass struct {
	visit
	own bool
}

// findLine finds the games with these moves that fit; they stand together.
func (l *lessening) findLine(line []board.Move, fits func(record) bool) error {
	b, plies := l.b, l.b.about.Plies
	want := record(appendRecord(nil, &Game{Moves: line}, plies)).sameGame()
	var failed error
	compare := func(block int) (order int) {
		err := l.block(block, func(_ int, r record) bool {
			order = bytes.Compare(r.sameGame(), want)
			return false
		})
		if failed == nil {
			failed = err
		}
		return order
	}
	from := sort.Search(len(b.games), func(i int) bool { return compare(i) >= 0 }) - 1
	for i := max(from, 0); i < len(b.games) && failed == nil; i++ {
		past := false
		failed = l.block(i, func(k int, r record) bool {
			order := bytes.Compare(r.sameGame(), want)
			if order == 0 && fits(r) {
				l.own[b.games[i].first+k] = true
			}
			past = order > 0
			return !past
		})
		if past {
			break
		}
	}
	return failed
}

// block hands out the games of a block until hand says stop.
func (l *lessening) block(i int, hand func(k int, r record) bool) error {
	games, err := l.b.gamesOf(i, &l.games)
	if err != nil {
		return err
	}
	for k := 0; games.next(); k++ {
		if !hand(k, games.rec) {
			return nil
		}
	}
	if games.bad() {
		return damagedAt(l.b.games[i].at)
	}
	return nil
}

// names hands out the players of all games by number.
func (l *lessening) names(hand func(n int, white, black Player)) error {
	list, err := l.b.players()
	if err != nil {
		return err
	}
	for i, at := range l.b.games {
		body, err := l.b.block(at.stored, l.room)
		if err != nil {
			return err
		}
		l.room = body[:0]
		count, players, failed := playersInBlock(body, list)
		r := &bitReader{buf: players}
		for k := range count {
			white, ok := list.player(r.wide(list.width))
			black, too := list.player(r.wide(list.width))
			if failed = failed || !ok || !too; !failed {
				hand(l.b.games[i].first+k, white, black)
			}
		}
		if failed {
			return damagedAt(at.at)
		}
	}
	return nil
}

func (l *lessening) findPlayers(players []Player) error {
	return l.names(func(n int, white, black Player) {
		if slices.Contains(players, white) || slices.Contains(players, black) {
			l.own[n] = true
		}
	})
}

// some hands out the games of some numbers, which are sorted.
func (l *lessening) some(numbers []int, hand func(n int, r record)) error {
	for at := 0; at < len(numbers); {
		i := sort.Search(len(l.b.games), func(i int) bool { return l.b.games[i].first > numbers[at] }) - 1
		first := l.b.games[i].first
		before := at
		err := l.block(i, func(k int, r record) bool {
			if at < len(numbers) && numbers[at] == first+k {
				hand(numbers[at], r)
				at++
			}
			return at < len(numbers)
		})
		if err != nil {
			return err
		}
		if at == before {
			return fmt.Errorf("%w: game %d is missing", ErrDamaged, numbers[at])
		}
	}
	return nil
}

func (l *lessening) readOwn(out *Less) error {
	var numbers []int
	for n := range l.own {
		numbers = append(numbers, n)
	}
	slices.Sort(numbers)
	return l.some(numbers, func(_ int, r record) {
		out.Games = append(out.Games, r.game())
		for _, c := range [...]board.Color{board.White, board.Black} {
			s := r.player(c).Surname()
			l.surnames[s/64] |= 1 << (s % 64)
		}
		eachVisit(r, func(v visit) { l.wanted[edge{v.key, v.player()}] = true })
	})
}

// eachVisit hands out the visits of a game.
func eachVisit(r record, hand func(visit)) {
	pos := board.Start()
	for i := range r.kept() {
		c := board.Color(i & 1)
		hand(newVisit(pos.Key(), r.move(i), r.player(c).Surname(), r.day(), r.band(c), r.classResult()))
		pos.Play(r.move(i))
	}
}

// readOthers gathers the passes of the players concerned.
func (l *lessening) readOthers() error {
	has := func(p Player) bool { s := p.Surname(); return l.surnames[s/64]>>(s%64)&1 == 1 }
	var numbers []int
	err := l.names(func(n int, white, black Player) {
		if has(white) || has(black) {
			numbers = append(numbers, n)
		}
	})
	if err != nil {
		return err
	}
	return l.some(numbers, func(n int, r record) {
		eachVisit(r, func(v visit) {
			if l.wanted[edge{v.key, v.player()}] {
				l.passes = append(l.passes, ownPass{v, l.own[n]})
			}
		})
	})
}

// sumUp works out what is taken off: all passes of each player less those that
// are left.
func (l *lessening) sumUp(out *Less) {
	slices.SortFunc(l.passes, func(a, b ownPass) int { return compareVisits(a.visit, b.visit) })
	var all, left uint64
	for i, p := range l.passes {
		if i == 0 || p.key != l.passes[i-1].key || p.player() != l.passes[i-1].player() {
			all, left = 0, 0
		}
		c := Cell{Day: unpackDay(p.day()), Band: p.band(), Class: p.class()}
		all++
		weight := weightOf(all) - weightOf(all-1)
		if p.own {
			c.add(p.result(), weight)
		} else {
			left++
			c.Weight = weight - (weightOf(left) - weightOf(left-1)) // may be under zero, and wraps then
		}
		moves := out.off[p.key]
		if k := len(moves); k == 0 || moves[k-1].Move != p.move() {
			moves = append(moves, Move{Move: p.move()})
		}
		m := &moves[len(moves)-1]
		m.Cells = append(m.Cells, c)
		out.off[p.key] = moves
	}
	for key, moves := range out.off {
		for i := range moves {
			moves[i].Cells = together(moves[i].Cells)
			out.total[key] = append(out.total[key], Move{moves[i].Move, moves[i].total()})
		}
	}
}

// From takes the games off what the book has of a position.
func (l *Less) From(key uint64, moves []Move) []Move { return from(l.off[key], moves) }

// FromTotal is From for what Reader.Total gave.
func (l *Less) FromTotal(key uint64, moves []Move) []Move { return from(l.total[key], moves) }

func from(off, moves []Move) []Move {
	if len(off) == 0 {
		return moves
	}
	out := moves[:0]
	for _, m := range moves {
		if i := slices.IndexFunc(off, func(o Move) bool { return o.Move == m.Move }); i >= 0 {
			m.Cells = without(m.Cells, off[i].Cells)
		}
		if len(m.Cells) > 0 {
			out = append(out, m)
		}
	}
	return out
}

// without takes cells off others; both are in order.
func without(cells, off []Cell) []Cell {
	out := cells[:0]
	for _, c := range cells {
		for len(off) > 0 && compareCells(&off[0], &c) < 0 {
			off = off[1:]
		}
		if len(off) > 0 && compareCells(&off[0], &c) == 0 {
			c.Passes -= off[0].Passes
			c.White -= off[0].White
			c.Drawn -= off[0].Drawn
			c.Black -= off[0].Black
			c.Weight -= off[0].Weight
		}
		if c.Passes > 0 {
			out = append(out, c)
		}
	}
	return out
}
