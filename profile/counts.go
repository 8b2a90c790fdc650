package profile

import (
	"bufio"
	"cmp"
	"encoding/binary"
	"fmt"
	"io"
	"slices"

	"foreply/fetch/pgn"
	"foreply/profile/board"
)

// Counts is an opening tree without visits: how often each move was played at
// each position, and with what results. Positions are told apart by key, so that
// transpositions meet; all values are integers that add up, so that neither the
// order of the games nor a Merge of parts changes anything.
//
// It is made for archives. A position takes 64 bytes with the first move played
// from it, about 10 for finding it, and 40 for every further move; the moves remember how they were written,
// so a game that goes where others went is followed without asking the board (the
// table from SAN to child). The opponent's Tree stands on it, and what reads peers' games
// learns moves by it.
type Counts struct {
	maxPly int
	games  int32 // counted
	nodes  slab[countNode]
	more   slab[countEdge] // second and further moves of a position
	index  []int32         // of nodes by key, plus one; open addressing
	way    way
}

// countNode is a position. One without a move is an end of the tree. It fills a
// line of the processor's cache.
type countNode struct {
	key     uint64
	edge    countEdge // the first of its moves; the others hang on it
	results           // a game counts once, however often it passed
}

// countEdge is a move played from a position.
type countEdge struct {
	san   [8]byte // as written, filled up with zeros; all zero when that is longer
	child int32   // node
	next  int32   // place in Counts.more, plus one
	date  int32   // of the newest game, as Edge.LastDate
	move  board.Move
	results
}

// results are a Count without the games of an unknown result, which are the rest.
type results struct{ games, wins, draws, losses int32 }

func (r *results) add(result Result) {
	r.games++
	switch result {
	case Win:
		r.wins++
	case Draw:
		r.draws++
	case Loss:
		r.losses++
	}
}

func (r *results) merge(o results) {
	r.games += o.games
	r.wins += o.wins
	r.draws += o.draws
	r.losses += o.losses
}

func (r results) count() Count {
	return Count{r.games, r.wins, r.draws, r.losses, r.games - r.wins - r.draws - r.losses}
}

// way is the way of one game through the counts.
type way struct {
	moves []board.Move
	nodes []int32      // positions before the moves, as far as the tree knows them
	edges []*countEdge // the moves, as far as the tree knows them
	keys  []uint64     // of the positions behind the moves that it doesn't know
	seen  uint64       // a filter of the nodes counted
}

// NewCounts returns an empty tree of at most so many plies.
func NewCounts(maxPly int) *Counts {
	c := &Counts{maxPly: maxPly, index: make([]int32, 1<<10)}
	start := board.Start()
	c.node(start.Key())
	return c
}

// Add replays a game from the usual position and counts it, with results from
// White's side. It reports whether the game counts: not if it begins elsewhere,
// has no legal move, or passes a turn. An illegal move ends the replay.
func (c *Counts) Add(g *pgn.Game) bool {
	if g.Header().Start != pgn.UsualStart {
		return false
	}
	moves, _ := c.replay(g, c.maxPly)
	if len(moves) == 0 || slices.Contains(moves, board.NullMove) {
		return false
	}
	c.count(g, resultFor(board.White, g.Result()), g.Header().Date.Number())
	return true
}

// replay resolves at most so many moves of a game that begins with the usual
// position and remembers its way for count. It stops before the first move that
// is not legal, which is the problem it returns. The moves are valid until the
// next call.
func (c *Counts) replay(g *pgn.Game, most int) ([]board.Move, *pgn.Problem) {
	n := min(most, len(g.Moves))
	c.follow(g.Moves[:min(n, c.maxPly)])
	w := &c.way
	if len(w.moves) == n {
		return w.moves, nil
	}
	pos := board.Start()
	for _, m := range w.moves {
		pos.Play(m)
	}
	for i := len(w.moves); i < n; i++ {
		m := &g.Moves[i]
		move, err := pos.Resolve(m.SAN)
		if err != nil {
			p := g.Locate(moveProblem(string(m.SAN), string(m.SAN), i+1, int(m.Line), int(m.Column), &pos, err))
			return w.moves, &p
		}
		w.moves = append(w.moves, move)
		pos.Play(move)
		if i < c.maxPly {
			w.keys = append(w.keys, pos.Key())
		}
	}
	return w.moves, nil
}

// follow goes from the start as far as the tree has the moves as written.
func (c *Counts) follow(moves []pgn.Move) {
	w := &c.way
	w.moves, w.nodes, w.edges, w.keys = w.moves[:0], w.nodes[:0], w.edges[:0], w.keys[:0]
	id := int32(0)
	for i := range moves {
		e := c.written(id, packed(moves[i].SAN))
		if e == nil {
			return
		}
		w.moves = append(w.moves, e.move)
		w.nodes = append(w.nodes, id)
		w.edges = append(w.edges, e)
		id = e.child
	}
}

// packed is a move as written, filled up with zeros; zero when it is too long.
func packed(san []byte) uint64 {
	var b [8]byte
	if len(san) > len(b) {
		return 0
	}
	copy(b[:], san)
	return binary.LittleEndian.Uint64(b[:])
}

// written returns the edge of a move as written, nil when there is none.
func (c *Counts) written(id int32, san uint64) *countEdge {
	if san == 0 {
		return nil
	}
	e := &c.nodes.at(id).edge
	for binary.LittleEndian.Uint64(e.san[:]) != san {
		if e.next == 0 {
			return nil
		}
		e = c.more.at(e.next - 1)
	}
	return e
}

// learn gives the tree the moves of the game that was replayed last, to its
// depth, without counting them.
func (c *Counts) learn(g *pgn.Game) {
	w := &c.way
	known, id := len(w.edges), int32(0)
	if known > 0 {
		id = w.edges[known-1].child
	}
	for i := known; i < min(len(w.moves), c.maxPly); i++ {
		e := c.edge(id, w.moves[i], packed(g.Moves[i].SAN), w.keys[i-known])
		w.nodes, w.edges = append(w.nodes, id), append(w.edges, e)
		id = e.child
	}
}

// count counts the game that was replayed last, to the depth of the tree.
func (c *Counts) count(g *pgn.Game, result Result, date int32) {
	c.learn(g)
	c.games++
	c.way.seen = 0
	for i := range c.way.edges {
		c.pass(i, result, date)
	}
}

// addMoves counts a game by its moves.
func (c *Counts) addMoves(moves []board.Move, result Result, date int32) {
	w := &c.way
	w.nodes, w.edges, w.seen = w.nodes[:0], w.edges[:0], 0
	c.games++
	pos, id := board.Start(), int32(0)
	for i, m := range moves[:min(len(moves), c.maxPly)] {
		pos.Play(m)
		e := c.played(id, m)
		if e == nil {
			e = c.edge(id, m, 0, pos.Key())
		}
		w.nodes, w.edges = append(w.nodes, id), append(w.edges, e)
		c.pass(i, result, date)
		id = e.child
	}
}

// pass counts one pass of the newest game.
func (c *Counts) pass(i int, result Result, date int32) {
	w := &c.way
	id, e := w.nodes[i], w.edges[i]
	e.date = max(e.date, date)
	bit := uint64(1) << (uint32(id) * 0x9E3779B1 >> 26)
	if w.seen&bit != 0 && slices.Contains(w.nodes[:i], id) { // a repetition
		if !slices.Contains(w.edges[:i], e) {
			e.add(result)
		}
		return
	}
	w.seen |= bit
	c.nodes.at(id).add(result)
	e.add(result)
}

// played returns the edge of a move, nil when there is none.
func (c *Counts) played(id int32, m board.Move) *countEdge {
	e := &c.nodes.at(id).edge
	for e.move != m {
		if e.next == 0 {
			return nil
		}
		e = c.more.at(e.next - 1)
	}
	return e
}

// edge returns the edge of a move, made if there was none.
func (c *Counts) edge(id int32, m board.Move, san, childKey uint64) *countEdge {
	child := c.node(childKey)
	e := &c.nodes.at(id).edge
	for e.move != m {
		switch {
		case e.move == board.NoMove:
			e.move, e.child = m, child
			binary.LittleEndian.PutUint64(e.san[:], san)
		case e.next == 0:
			e.next = c.more.add() + 1
			e = c.more.at(e.next - 1)
		default:
			e = c.more.at(e.next - 1)
		}
	}
	return e
}

// node returns the node of a key, made if there was none.
func (c *Counts) node(key uint64) int32 {
	slot := c.slot(key)
	if c.index[slot] == 0 {
		id := c.nodes.add()
		c.nodes.at(id).key = key
		if 4*int(id) > 3*len(c.index) {
			c.rehash()
			slot = c.slot(key)
		}
		c.index[slot] = id + 1
	}
	return c.index[slot] - 1
}

// slot is where the index has the key, or has room for it.
func (c *Counts) slot(key uint64) int {
	slot := int(key) & (len(c.index) - 1)
	for c.index[slot] != 0 && c.nodes.at(c.index[slot]-1).key != key {
		slot = (slot + 1) & (len(c.index) - 1)
	}
	return slot
}

// rehash doubles the index.
func (c *Counts) rehash() {
	old := c.index
	c.index = make([]int32, 2*len(old))
	for _, id := range old {
		if id != 0 {
			c.index[c.slot(c.nodes.at(id-1).key)] = id
		}
	}
}

// each hands out the edges of a node.
func (c *Counts) each(id int32, hand func(*countEdge)) {
	e := &c.nodes.at(id).edge
	if e.move == board.NoMove {
		return
	}
	for hand(e); e.next != 0; hand(e) {
		e = c.more.at(e.next - 1)
	}
}

// Merge adds the games of o, which must be of the same depth. o stays as it is.
func (c *Counts) Merge(o *Counts) {
	for i := range o.nodes.n {
		from := o.nodes.at(i)
		id := c.node(from.key)
		c.nodes.at(id).merge(from.results)
		o.each(i, func(e *countEdge) {
			to := c.edge(id, e.move, binary.LittleEndian.Uint64(e.san[:]), o.nodes.at(e.child).key)
			to.merge(e.results)
			to.date = max(to.date, e.date)
		})
	}
	c.games += o.games
}

// Games returns the number of games counted.
func (c *Counts) Games() int { return int(c.games) }

// Len returns the number of positions.
func (c *Counts) Len() int { return int(c.nodes.n) }

// Dump writes the tree, a line for each position in order of keys: the key, the
// games, wins, draws and losses, then for each move the same with the date of the
// newest game and the key it leads to. Equal trees give equal dumps.
func (c *Counts) Dump(w io.Writer) error {
	order := make([]int32, c.nodes.n)
	for i := range order {
		order[i] = int32(i)
	}
	slices.SortFunc(order, func(a, b int32) int { return cmp.Compare(c.nodes.at(a).key, c.nodes.at(b).key) })
	out := bufio.NewWriter(w)
	for _, id := range order {
		n := c.nodes.at(id)
		fmt.Fprintf(out, "%016x %d %d %d %d", n.key, n.games, n.wins, n.draws, n.losses)
		for _, e := range c.sorted(id) {
			fmt.Fprintf(out, " %s %d %d %d %d %08d %016x", e.move.UCI(), e.games, e.wins, e.draws, e.losses,
				e.date, c.nodes.at(e.child).key)
		}
		fmt.Fprintln(out)
	}
	return out.Flush()
}

// sorted are the edges of a node, most games first, then by move.
func (c *Counts) sorted(id int32) []*countEdge {
	var out []*countEdge
	c.each(id, func(e *countEdge) { out = append(out, e) })
	slices.SortFunc(out, func(a, b *countEdge) int {
		return cmp.Or(cmp.Compare(b.games, a.games), cmp.Compare(a.move, b.move))
	})
	return out
}

// slab is a growing array whose elements never move.
type slab[T any] struct {
	chunks []*[slabChunk]T
	n      int32
}

const slabChunk = 1 << 10

func (s *slab[T]) at(i int32) *T { return &s.chunks[i/slabChunk][i%slabChunk] }

// add adds a zero element and returns its place.
func (s *slab[T]) add() int32 {
	if int(s.n) == len(s.chunks)*slabChunk {
		s.chunks = append(s.chunks, new([slabChunk]T))
	}
	s.n++
	return s.n - 1
}
