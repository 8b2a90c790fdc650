package profile

import (
	"cmp"
	"hash/fnv"
	"io"
	"iter"
	"math"
	"slices"
	"strings"
	"sync"

	"foreply/fetch/pgn"
	"foreply/profile/board"
)

// Peers counts what players like the opponent played, with either colour, by
// position, together with the days from which it is known: Counts, and on top 12
// bytes for each move and day (16 for each move, player and day while they are
// counted). Of each game the first PeerPlies are looked at.
type Peers struct {
	Games   int   // counted
	Own     int   // left out: the opponent's own games
	Undated int   // left out: without a date none is certainly earlier
	Twice   int   // left out: the same moves stand in another of the games
	Unfit   int   // left out: another starting position, a null move or under 6 plies
	Span    Span  // of the counted games, from the earliest to the latest possible day
	Habits  Tally // of both players of the counted games, as far as the first 20 moves tell
	counts  *Counts
	known   []peerKnown // sorted
	lasts   []dayCount  // latest possible days of the counted games, sorted
}

// peerKnown is how much a move counts from the day after last on, all earlier
// days included.
type peerKnown struct {
	edge edgeID
	last int32 // Day
	sum  float32
}

// peerPass counts the games in which a player played a move and that were over
// by a day.
type peerPass struct {
	edge   edgeID
	player uint32
	last   int32 // Day: the latest possible
	n      int32 // games; less than none where a game moves to an earlier day
}

// peerCopy is the copy of a game that counts: the earliest, and of one day the
// one whose players have the least numbers.
type peerCopy struct {
	last    Day
	players [2]uint32 // by colour
}

func (c peerCopy) before(o peerCopy) bool {
	return cmp.Or(cmp.Compare(c.last, o.last), slices.Compare(c.players[:], o.players[:])) < 0
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
	seen   map[uint64]peerCopy // which copy of a game counts
	parts  []*peerPart
}

// peerPart is what one worker counted.
type peerPart struct {
	Peers
	whole  *PeerCount
	lasts  map[Day]int
	passes []peerPass
	tidy   int // passes that are sorted and different
}

// CountPeers begins to count peers of the opponent with this profile.
func CountPeers(p *Profile) *PeerCount {
	return &PeerCount{theirs: signatures(p.Games), seen: map[uint64]peerCopy{}}
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
	this := peerCopy{span.Last, [2]uint32{board.White: playerOf(g.Tags.Get("White")), board.Black: playerOf(g.Tags.Get("Black"))}}
	if len(moves) >= alikePlies {
		if before, twice := p.whole.sight(sign, this); twice {
			p.Twice++
			if this.before(before) {
				p.counts.learn(g)
				p.pass(before, -1)
				p.pass(this, 1)
			}
			return
		}
	}
	p.Games++
	p.counts.count(g, NoResult, 0)
	p.pass(this, 1)
	traits := traitsOf(moves)
	p.Habits.enterEarly(&traits, board.White)
	p.Habits.enterEarly(&traits, board.Black)
}

// sight notes a copy of a game; twice says that the game was seen before, then
// with the copy that counted.
func (c *PeerCount) sight(sign uint64, this peerCopy) (before peerCopy, twice bool) {
	c.lock.Lock()
	defer c.lock.Unlock()
	before, twice = c.seen[sign]
	if !twice || this.before(before) {
		c.seen[sign] = this
	}
	return before, twice
}

// pass counts a copy of the game replayed last, or takes it off again.
func (p *peerPart) pass(c peerCopy, n int32) {
	p.lasts[c.last] += int(n)
	mover := board.White
	p.counts.edges(func(e edgeID) {
		p.passes = append(p.passes, peerPass{e, c.players[mover], int32(c.last), n})
		mover = mover.Other()
	})
	if len(p.passes) > 2*p.tidy+1<<18 {
		p.sum()
	}
}

// sum puts passes of one move, player and day together.
func (p *peerPart) sum() {
	slices.SortFunc(p.passes, func(a, b peerPass) int {
		if a.edge != b.edge {
			return cmp.Compare(a.edge, b.edge)
		}
		return cmp.Or(cmp.Compare(a.player, b.player), cmp.Compare(a.last, b.last))
	})
	out := p.passes[:0]
	for _, q := range p.passes {
		if k := len(out) - 1; k >= 0 && out[k].edge == q.edge && out[k].player == q.player && out[k].last == q.last {
			out[k].n += q.n
		} else {
			out = append(out, q)
		}
	}
	p.passes = slices.DeleteFunc(out, func(q peerPass) bool { return q.n == 0 })
	p.tidy = len(p.passes)
}

// playerPower is the power of a player's games with one move that they count for
// together, since what one player repeats is one player's habit. With powers of
// 0.6 and 0.8 each of four careers was forecast better than by the plain count,
// with 0.2 and 0.4 three of them (cmd/measure/forecast/FIT.md).
const playerPower = 0.5

// weigh turns the passes, as sum left them, into what is known by which day.
func (p *peerPart) weigh() {
	k := 0.0
	for i, q := range p.passes {
		if i == 0 || q.edge != p.passes[i-1].edge || q.player != p.passes[i-1].player {
			k = 0
		}
		more := math.Pow(k+float64(q.n), playerPower) - math.Pow(k, playerPower)
		p.known = append(p.known, peerKnown{q.edge, q.last, float32(more)})
		k += float64(q.n)
	}
	p.passes = nil
	// Equal days in the order of their weights: rounding must not depend on who
	// counted what.
	slices.SortFunc(p.known, func(a, b peerKnown) int {
		return cmp.Or(cmp.Compare(a.edge, b.edge), cmp.Compare(a.last, b.last), cmp.Compare(a.sum, b.sum))
	})
	out := p.known[:0]
	for _, q := range p.known {
		k := len(out) - 1
		switch {
		case k < 0 || out[k].edge != q.edge:
			out = append(out, q)
		case out[k].last == q.last:
			out[k].sum += q.sum
		default:
			q.sum += out[k].sum
			out = append(out, q)
		}
	}
	p.known = slices.Clip(out)
}

// playerOf numbers players by the 32-bit FNV-1a hash of their name up to a
// comma, since collections differ in how they write first names. Two players of
// one surname count as one, which does little harm.
func playerOf(name string) uint32 {
	surname, _, _ := strings.Cut(name, ",")
	h := fnv.New32a()
	io.WriteString(h, strings.ToLower(strings.TrimSpace(surname)))
	return h.Sum32()
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
	whole.weigh()
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

// count tells how much each move was played at the position in games certainly
// over before the day: the sum over the players of the square root of how often
// each played it.
func (p *Peers) count(key uint64, day Day, hand func(board.Move, float64)) {
	id := p.counts.find(key)
	if id < 0 {
		return
	}
	p.counts.each(id, func(name edgeID, e *countEdge) {
		at, _ := slices.BinarySearchFunc(p.known, peerKnown{name, int32(day), 0}, func(q, wanted peerKnown) int {
			return cmp.Or(cmp.Compare(q.edge, wanted.edge), cmp.Compare(q.last, wanted.last))
		})
		if at > 0 && p.known[at-1].edge == name {
			hand(e.move, float64(p.known[at-1].sum))
		}
	})
}
