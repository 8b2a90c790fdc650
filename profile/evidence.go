package profile

import (
	"slices"
	"sort"

	"foreply/profile/board"
	"foreply/profile/stat"
)

// tally is what is known of one legal move of a position.
type tally struct {
	long  [halfLives]float64    // weighted visits in which it was played
	once  [halfLives]float64    // the same, 1 at most
	setUp [halfLives]float64    // weighted visits of the own set-up elsewhere
	base  [2][halfLives]float64 // probability before any visit: without, with peers
	short float64               // weight in the short memory
	peers float64               // how much peers played it
	n     int32                 // how often the opponent did
	last  int32                 // the newest game with it
}

// pass is one known visit, newest first.
type pass struct {
	game  int32
	z     float64
	short float64
}

// evidence is what is known of a position on a day, and the sums the formulas
// need. An Outlook uses one again and again.
type evidence struct {
	legal    []board.Move
	moves    []tally
	passes   []pass
	natural  []float64 // probability for a player who is not known
	weights  []float64 // of the passes in the mixture
	parts    []part
	mixed    []float64
	outcomes []Outcome
	chances  []float64
	index    [1 << 15]uint8 // of a legal move, plus one

	long, once, setUp [halfLives]float64
	short             float64
	peers             float64 // peers' visits, as they count
	peered            bool    // the peers' games, not only rivals, have been here
	pull              float64 // of the peers before their scale
}

// gather collects the evidence at pos, where the opponent is to move.
func (o *Outlook) gather(pos *board.Position) *evidence {
	e := &o.evidence
	e.reset(pos)
	key := pos.Key()
	node := o.f.tree.At(key)
	if node != nil {
		o.gatherVisits(e, node)
	}
	for _, other := range o.f.setUps[pos.OwnKey(o.f.tree.Theirs)] {
		if other != node {
			o.gatherSetUp(e, other)
		}
	}
	if o.f.peers != nil {
		o.f.peers.count(key, firstDay(o.when), e.countPeers)
	}
	e.peered = e.peers > 0
	if o.f.model.Rivals {
		o.gatherRivals(e, key)
	}
	e.pull = 0
	if e.peers > 0 {
		e.pull = e.peers / (e.peers + o.f.model.PeerHalf)
		if o.class == Classical {
			e.pull *= o.f.model.PeerClassic
		}
	}
	e.natural = slices.Grow(e.natural[:0], len(e.legal))[:len(e.legal)]
	natural(pos, e.legal, o.f.model.NaturalPower, e.natural)
	e.bases(&o.f.model)
	return e
}

func (e *evidence) reset(pos *board.Position) {
	for _, m := range e.legal {
		e.index[m] = 0
	}
	e.legal = pos.Legal(e.legal[:0])
	for i, m := range e.legal {
		e.index[m] = uint8(i + 1)
	}
	e.moves = slices.Grow(e.moves[:0], len(e.legal))[:len(e.legal)]
	clear(e.moves)
	e.passes = e.passes[:0]
	e.long, e.once, e.setUp = [halfLives]float64{}, [halfLives]float64{}, [halfLives]float64{}
	e.short, e.peers = 0, 0
}

// knownVisits are the visits of the node in games that may be known.
func (o *Outlook) knownVisits(n *TreeNode) []Visit {
	return n.Visits[:sort.Search(len(n.Visits), func(i int) bool { return int(n.Visits[i].Game) >= o.end })]
}

func (o *Outlook) gatherVisits(e *evidence, n *TreeNode) {
	games := o.f.profile.Games
	for _, v := range slices.Backward(o.knownVisits(n)) {
		w := &o.weight[v.Game]
		if w[0] < 0 {
			continue
		}
		z := o.classes[games[v.Game].Class]
		t := &e.moves[e.index[v.Move]-1]
		if t.n == 0 {
			t.last = v.Game
		}
		t.n++
		for h := range halfLives {
			t.long[h] += z * w[h]
		}
		short := z * o.f.recent(len(e.passes))
		t.short += short
		e.passes = append(e.passes, pass{game: v.Game, z: z, short: short})
	}
	for i := range e.moves {
		t := &e.moves[i]
		for h := range halfLives {
			t.once[h] = min(1, t.long[h])
			e.long[h] += t.long[h]
			e.once[h] += t.once[h]
		}
		e.short += t.short
	}
}

// recent is 2^(-rank/ShortVisits); far back it is nothing.
func (f *Forecast) recent(rank int) float64 {
	if rank >= len(f.recency) {
		return 0
	}
	return f.recency[rank]
}

func recencies(m *Model) []float64 {
	table := make([]float64, 256)
	for r := range table {
		table[r] = stat.HalfLife(float64(r), m.ShortVisits)
	}
	return table
}

func (o *Outlook) gatherSetUp(e *evidence, n *TreeNode) {
	games := o.f.profile.Games
	for _, v := range o.knownVisits(n) {
		w := &o.weight[v.Game]
		if i := e.index[v.Move]; i > 0 && w[0] >= 0 {
			z := o.classes[games[v.Game].Class]
			for h := range halfLives {
				e.moves[i-1].setUp[h] += z * w[h]
				e.setUp[h] += z * w[h]
			}
		}
	}
}

func (e *evidence) countPeers(m board.Move, weight float64) {
	if i := e.index[m]; i > 0 {
		e.moves[i-1].peers += weight
		e.peers += weight
	}
}

// gatherRivals counts as peers' what the other players did here in the
// opponent's games with the other colour: they are peers by the choice of the
// pairing, and cost no further file.
func (o *Outlook) gatherRivals(e *evidence, key uint64) {
	n := o.f.profile.Tree(o.f.tree.Theirs.Other()).At(key)
	if n == nil {
		return
	}
	for _, v := range n.Visits {
		if o.f.profile.Games[v.Game].knownOn(o.when) {
			e.countPeers(v.Move, 1)
		}
	}
}

// bases works out what is expected before any visit.
//
// The own set-up S(m), smoothed by SetUpPrior visits spread over the legal moves
// as they are natural: B1 = (S(m) + 8*U(m)) / (S + 8). Peers and rivals, R(m) of
// N together as they count, by interpolated absolute discounting (Ney, Essen and
// Kneser 1994) over B1, with D(m) = 0.3*min(1, R(m)):
// B2 = (R(m) - D(m) + (0.5 + sum of D)*B1) / (N + 0.5).
func (e *evidence) bases(m *Model) {
	left := m.PeerPrior
	for i := range e.moves {
		left += m.PeerDiscount * min(1, e.moves[i].peers)
	}
	for i := range e.moves {
		t := &e.moves[i]
		for h := range halfLives {
			b := (t.setUp[h] + m.SetUpPrior*e.natural[i]) / (e.setUp[h] + m.SetUpPrior)
			t.base[0][h], t.base[1][h] = b, b
			if e.peers > 0 {
				t.base[1][h] = (t.peers - m.PeerDiscount*min(1, t.peers) + left*b) / (e.peers + m.PeerPrior)
			}
		}
	}
}
