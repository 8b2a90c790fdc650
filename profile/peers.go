package profile

import (
	"cmp"
	"iter"
	"slices"
	"sync"

	"foreply/fetch/pgn"
	"foreply/profile/board"
)

// Peers counts what players like the opponent played, with either colour, by
// position, together with the days from which it is known: Counts, and on top 12
// bytes for each move and day. Of each game the first PeerPlies are looked at.
type Peers struct {
	Games   int   // counted
	Own     int   // left out: the opponent's own games
	Undated int   // left out: without a date none is certainly earlier
	Twice   int   // left out: the same moves stand in another of the games
	Unfit   int   // left out: another starting position, a null move or under 6 plies
	Span    Span  // of the counted games, from the earliest to the latest possible day
	Habits  Tally // of both players of the counted games, as far as the first 20 moves tell
	counts  *Counts
	passes  []peerPass // sorted
	lasts   []dayCount // latest possible days of the counted games, sorted
}

// peerPass counts the games that played a move and were over by a day.
type peerPass struct {
	edge edgeID
	last int32 // Day: the latest possible
	n    int32 // games; less than none where a game moves to an earlier day
}

type dayCount struct {
	day   Day
	games int
}

const (
	// PeerPlies is how deep peers' games are looked at, in plies.
	PeerPlies    = 40
	shortestGame = 6  // plies; a shorter game tells nothing
	alikePlies   = 20 // plies from which two games of the same moves are one game
)

// Before counts the peers' games that are certainly over before a game within
// when: those that its forecast rests on.
func (p *Peers) Before(when Span) int {
	n := 0
	for _, d := range p.lasts {
		if d.day < when.First {
			n += d.games
		}
	}
	return n
}

// NewPeers counts games, leaving out the opponent's own: those that own
// recognises by its names, and those with the same moves as one of p's, whatever
// the names in them. own may be nil.
func NewPeers(games iter.Seq[*pgn.Game], p *Profile, own func(*pgn.Game) bool) *Peers {
	c := CountPeers(p)
	add := c.Worker(own)
	for g := range games {
		add(g)
	}
	return c.Peers()
}

// PeerCount is a count of peers' games by several workers. Neither their number
// nor the order of the games changes the result: games with the same moves are
// one game, which counts from the earliest of its days.
type PeerCount struct {
	theirs map[uint64]bool // games of the opponent
	lock   sync.Mutex
	seen   map[uint64]Day // latest possible day of a game, the earliest of all its copies
	parts  []*peerPart
}

// peerPart is what one worker counted.
type peerPart struct {
	Peers
	whole *PeerCount
	lasts map[Day]int
	tidy  int // passes that are sorted and different
}

// CountPeers begins to count peers of the opponent with this profile.
func CountPeers(p *Profile) *PeerCount {
	return &PeerCount{theirs: signatures(p.Games), seen: map[uint64]Day{}}
}

// Worker returns a function that counts a game. Several of them may be called at
// once. own is as for NewPeers, and for this worker alone.
func (c *PeerCount) Worker(own func(*pgn.Game) bool) func(*pgn.Game) {
	part := &peerPart{whole: c, lasts: map[Day]int{}}
	part.counts = NewCounts(PeerPlies)
	c.lock.Lock()
	c.parts = append(c.parts, part)
	c.lock.Unlock()
	return func(g *pgn.Game) {
		if own != nil && own(g) {
			part.Own++
		} else {
			part.add(g)
		}
	}
}

func (p *peerPart) add(g *pgn.Game) {
	if !FromStart(g.Tags) {
		p.Unfit++
		return
	}
	moves, _ := p.counts.replay(g, PeerPlies)
	if len(moves) < shortestGame || slices.Contains(moves, board.NullMove) {
		p.Unfit++
		return
	}
	sign := signature(moves)
	span, dated := ParseDate(g.Tags.Get("Date"))
	switch {
	case p.whole.theirs[sign]:
		p.Own++
		return
	case !dated:
		p.Undated++
		return
	}
	if p.Span == (Span{}) {
		p.Span = span
	}
	p.Span.First = min(p.Span.First, span.First)
	before, twice := Day(0), false
	if len(moves) >= alikePlies {
		before, twice = p.whole.sight(sign, span.Last)
	}
	if twice {
		p.Twice++
		if before > span.Last {
			p.counts.learn(g)
			p.pass(before, -1)
			p.pass(span.Last, 1)
		}
		return
	}
	p.Games++
	p.counts.count(g, NoResult, 0)
	p.pass(span.Last, 1)
	traits := traitsOf(moves)
	p.Habits.enterEarly(&traits, board.White)
	p.Habits.enterEarly(&traits, board.Black)
}

// sight notes the day of a game; twice says that it was seen before, then with
// the day it had.
func (c *PeerCount) sight(sign uint64, last Day) (before Day, twice bool) {
	c.lock.Lock()
	defer c.lock.Unlock()
	before, twice = c.seen[sign]
	if !twice || last < before {
		c.seen[sign] = last
	}
	return before, twice
}

// pass counts the game replayed last for a day, or takes it off again.
func (p *peerPart) pass(last Day, n int32) {
	p.lasts[last] += int(n)
	p.counts.edges(func(e edgeID) { p.passes = append(p.passes, peerPass{e, int32(last), n}) })
	if len(p.passes) > 2*p.tidy+1<<16 {
		p.sum()
	}
}

// sum puts passes of one move and day together.
func (p *peerPart) sum() {
	slices.SortFunc(p.passes, func(a, b peerPass) int {
		return cmp.Or(cmp.Compare(a.edge, b.edge), cmp.Compare(a.last, b.last))
	})
	out := p.passes[:0]
	for _, q := range p.passes {
		if k := len(out) - 1; k >= 0 && out[k].edge == q.edge && out[k].last == q.last {
			out[k].n += q.n
		} else {
			out = append(out, q)
		}
	}
	p.passes = slices.DeleteFunc(out, func(q peerPass) bool { return q.n == 0 })
	p.tidy = len(p.passes)
}

// Peers puts together what the workers counted. It is called once, at the end.
func (c *PeerCount) Peers() *Peers {
	if len(c.parts) == 0 {
		c.Worker(nil)
	}
	whole := c.parts[0]
	for _, part := range c.parts[1:] {
		whole.merge(part)
	}
	whole.sum()
	for day, games := range whole.lasts {
		if games > 0 {
			whole.Peers.lasts = append(whole.Peers.lasts, dayCount{day, games})
		}
	}
	slices.SortFunc(whole.Peers.lasts, func(a, b dayCount) int { return cmp.Compare(a.day, b.day) })
	if k := len(whole.Peers.lasts); k > 0 {
		whole.Span.Last = whole.Peers.lasts[k-1].day
	}
	c.seen = nil
	return &whole.Peers
}

func (p *peerPart) merge(o *peerPart) {
	p.Games += o.Games
	p.Own += o.Own
	p.Undated += o.Undated
	p.Twice += o.Twice
	p.Unfit += o.Unfit
	p.Habits.merge(&o.Habits)
	if p.Span == (Span{}) || o.Span != (Span{}) && o.Span.First < p.Span.First {
		p.Span = o.Span
	}
	for day, games := range o.lasts {
		p.lasts[day] += games
	}
	became := map[edgeID]edgeID{}
	p.counts.merge(o.counts, func(from, to edgeID) { became[from] = to })
	for _, q := range o.passes {
		q.edge = became[q.edge]
		p.passes = append(p.passes, q)
	}
}

// signatures are those of games as far as peers' games are looked at.
func signatures(games []Game) map[uint64]bool {
	out := make(map[uint64]bool, len(games))
	for i := range games {
		moves := games[i].Moves
		out[signature(moves[:min(len(moves), PeerPlies)])] = true
	}
	return out
}

// signature is the 64-bit FNV-1a hash of the moves (Fowler, Noll and Vo; RFC
// 9923).
func signature(moves []board.Move) uint64 {
	const offset, prime = 14695981039346656037, 1099511628211
	h := uint64(offset)
	for _, m := range moves {
		h = (h ^ uint64(m&255)) * prime
		h = (h ^ uint64(m>>8)) * prime
	}
	return h
}

// count tells how often each move was played at the position in games
// certainly over before the day.
func (p *Peers) count(key uint64, day Day, hand func(board.Move, int)) {
	id := p.counts.find(key)
	if id < 0 {
		return
	}
	p.counts.each(id, func(name edgeID, e *countEdge) {
		at, _ := slices.BinarySearchFunc(p.passes, name, func(q peerPass, name edgeID) int { return cmp.Compare(q.edge, name) })
		known := 0
		for ; at < len(p.passes) && p.passes[at].edge == name && Day(p.passes[at].last) < day; at++ {
			known += int(p.passes[at].n)
		}
		if known > 0 {
			hand(e.move, known)
		}
	})
}
