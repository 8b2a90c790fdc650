package profile

import (
	"cmp"
	"iter"
	"slices"

	"foreply/profile/board"
)

// Tree is an opening tree: positions by key, transpositions merged. It holds
// integers only, so that the order in which games came changes nothing.
type Tree struct {
	Theirs board.Color // the opponent's colour
	MaxPly int
	nodes  map[uint64]*TreeNode
}

// Count counts games, and their results from the opponent's side.
type Count struct{ Games, Wins, Draws, Losses, Unknown int32 }

func (c *Count) add(r Result) {
	c.Games++
	switch r {
	case Win:
		c.Wins++
	case Draw:
		c.Draws++
	case Loss:
		c.Losses++
	default:
		c.Unknown++
	}
}

// TreeNode is a position that a move was played from.
type TreeNode struct {
	ToMove board.Color
	Count          // a game counts once, however often it passed
	Edges  []Edge  // most games first, then by move
	Visits []Visit // every pass, oldest first
	last   int32   // game that was counted last, plus one
}

// Edge is a move played from a position.
type Edge struct {
	Move board.Move
	Count
	LastDate int32 // Date of the newest game as yyyymmdd, unknown digits 0
	Child    uint64
	last     int32
}

// Visit is one pass of a game through a position.
type Visit struct {
	Game int32 // index into Profile.Games
	Ply  int16 // plies played before
	Move board.Move
}

// grow builds the tree of one colour. The games must be in order of time.
func grow(games []Game, theirs board.Color, maxPly int) *Tree {
	t := &Tree{Theirs: theirs, MaxPly: maxPly, nodes: map[uint64]*TreeNode{}}
	for i := range games {
		if games[i].Theirs == theirs {
			t.add(&games[i], int32(i))
		}
	}
	for _, n := range t.nodes {
		n.sort()
	}
	return t
}

// Merge adds the games of o to t. Both must be of one colour and depth and share
// no game; o's games count from offset in the list that t's visits point into,
// and must not be older than t's.
func (t *Tree) Merge(o *Tree, offset int32) {
	for key, from := range o.nodes {
		n := t.nodes[key]
		if n == nil {
			n = &TreeNode{ToMove: from.ToMove}
			t.nodes[key] = n
		}
		n.Count.merge(from.Count)
		for _, e := range from.Edges {
			to := n.edge(e.Move, e.Child)
			to.Count.merge(e.Count)
			to.LastDate = max(to.LastDate, e.LastDate)
		}
		for _, v := range from.Visits {
			v.Game += offset
			n.Visits = append(n.Visits, v)
		}
		n.sort()
	}
}

func (c *Count) merge(o Count) {
	c.Games += o.Games
	c.Wins += o.Wins
	c.Draws += o.Draws
	c.Losses += o.Losses
	c.Unknown += o.Unknown
}

func (n *TreeNode) sort() {
	slices.SortFunc(n.Edges, func(a, b Edge) int {
		return cmp.Or(cmp.Compare(b.Games, a.Games), cmp.Compare(a.Move, b.Move))
	})
}

func (t *Tree) add(g *Game, index int32) {
	pos := board.Start()
	date := dateNumber(g.Date)
	key := pos.Key()
	for ply, m := range g.Moves[:min(len(g.Moves), t.MaxPly)] {
		n := t.nodes[key]
		if n == nil {
			n = &TreeNode{ToMove: pos.Turn()}
			t.nodes[key] = n
		}
		pos.Play(m)
		key = pos.Key()
		if n.last != index+1 {
			n.last = index + 1
			n.Count.add(g.Result)
		}
		n.edge(m, key).count(g.Result, date, index)
		n.Visits = append(n.Visits, Visit{Game: index, Ply: int16(ply), Move: m})
	}
}

func (n *TreeNode) edge(m board.Move, child uint64) *Edge {
	for i := range n.Edges {
		if n.Edges[i].Move == m {
			return &n.Edges[i]
		}
	}
	n.Edges = append(n.Edges, Edge{Move: m, Child: child})
	return &n.Edges[len(n.Edges)-1]
}

func (e *Edge) count(r Result, date, game int32) {
	e.LastDate = max(e.LastDate, date)
	if e.last == game+1 {
		return
	}
	e.last = game + 1
	e.Count.add(r)
}

// At returns the node of a position, or nil if no move was played from it.
func (t *Tree) At(key uint64) *TreeNode { return t.nodes[key] }

// Len returns the number of positions.
func (t *Tree) Len() int { return len(t.nodes) }

// All yields every position with its node, each once, in the order of a walk
// from the first move that takes the most played moves first.
func (t *Tree) All() iter.Seq2[board.Position, *TreeNode] {
	return func(yield func(board.Position, *TreeNode) bool) {
		seen := map[uint64]bool{}
		stack := []board.Position{board.Start()}
		for len(stack) > 0 {
			pos := stack[len(stack)-1]
			stack = stack[:len(stack)-1]
			n := t.nodes[pos.Key()]
			if n == nil || seen[pos.Key()] {
				continue
			}
			seen[pos.Key()] = true
			if !yield(pos, n) {
				return
			}
			for _, e := range slices.Backward(n.Edges) {
				next := pos
				next.Play(e.Move)
				stack = append(stack, next)
			}
		}
	}
}

// Edge returns the edge of a move, or nil.
func (n *TreeNode) Edge(m board.Move) *Edge {
	for i := range n.Edges {
		if n.Edges[i].Move == m {
			return &n.Edges[i]
		}
	}
	return nil
}

// dateNumber reads a Date tag as yyyymmdd with unknown digits as 0, the order
// the PGN standard gives dates in section 12.
func dateNumber(tag string) int32 {
	var n int32
	digits := 0
	for i := 0; i < len(tag) && digits < 8; i++ {
		switch c := tag[i]; {
		case c >= '0' && c <= '9':
			n = n*10 + int32(c-'0')
			digits++
		case c == '?':
			n *= 10
			digits++
		case c != '.':
			return 0
		}
	}
	if digits != 8 {
		return 0
	}
	return n
}

// DateText prints a number of Edge.LastDate as a Date tag.
func DateText(n int32) string {
	part := func(v int32, width int) string {
		text := ""
		for range width {
			text = string(rune('0'+v%10)) + text
			v /= 10
		}
		if text == "0000"[:width] {
			return "????"[:width]
		}
		return text
	}
	return part(n/10000, 4) + "." + part(n/100%100, 2) + "." + part(n%100, 2)
}
