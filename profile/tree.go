package profile

import (
	"iter"
	"slices"

	"foreply/profile/board"
)

// Tree is the opening tree of a player: Counts, and every visit on top. A visit
// takes 8 bytes.
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
}

// Edge is a move played from a position.
type Edge struct {
	Move board.Move
	Count
	LastDate int32 // pgn.Date.Number of the newest game
	Child    uint64
}

// Visit is one pass of a game through a position.
type Visit struct {
	Game int32 // index into Profile.Games
	Ply  int16 // plies played before
	Move board.Move
}

// grow builds the tree of one colour. The games must be in order of time.
func grow(games []Game, theirs board.Color, maxPly int) *Tree {
	c := NewCounts(maxPly)
	for i := range games {
		if g := &games[i]; g.Theirs == theirs {
			c.addMoves(g.Moves, g.Result, g.Date.Number())
		}
	}
	return c.tree(games, theirs)
}

// tree makes the tree of the counted games, which are those of the colour among
// games, in order of time.
func (c *Counts) tree(games []Game, theirs board.Color) *Tree {
	t := &Tree{Theirs: theirs, MaxPly: c.maxPly, nodes: make(map[uint64]*TreeNode, c.nodes.n)}
	nodes := make([]TreeNode, c.nodes.n) // by node of c; those without moves stay empty
	edges := make([]Edge, 0, c.nodes.n+c.more.n)
	for id := range nodes {
		n, from := &nodes[id], len(edges)
		for _, e := range c.sorted(int32(id)) {
			edges = append(edges, Edge{Move: e.move, Count: e.count(), LastDate: e.date, Child: c.nodes.at(e.child).key})
			nodes[e.child].ToMove = n.ToMove.Other()
		}
		if n.Edges = edges[from:len(edges):len(edges)]; len(n.Edges) > 0 {
			n.Count = c.nodes.at(int32(id)).count()
			t.nodes[c.nodes.at(int32(id)).key] = n
		}
	}
	c.visits(games, theirs, func(id int32, v Visit) { nodes[id].Visits = append(nodes[id].Visits, v) })
	return t
}

// visits hands out every pass of the games of a colour, in their order.
func (c *Counts) visits(games []Game, theirs board.Color, hand func(int32, Visit)) {
	for i := range games {
		g := &games[i]
		if g.Theirs != theirs {
			continue
		}
		id := int32(0)
		for ply, m := range g.Moves[:min(len(g.Moves), c.maxPly)] {
			hand(id, Visit{Game: int32(i), Ply: int16(ply), Move: m})
			id = c.played(id, m).child
		}
	}
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
