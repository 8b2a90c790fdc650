package profile

import (
	"cmp"
	"iter"
	"slices"
	"sort"

	"foreply/fetch/pgn"
	"foreply/profile/board"
)

// Peers counts what players like the opponent played, with either colour, by
// position, together with the days from which it is known.
type Peers struct {
	Games   int  // counted
	Own     int  // left out: the opponent's own games
	Undated int  // left out: without a date none is certainly earlier
	Twice   int  // left out: the same moves stand in another of the games
	Unfit   int  // left out: another starting position, a null move or under 6 plies
	Span    Span // of the counted games, from the earliest to the latest possible day
	passes  []peerPass
	lasts   []Day // latest possible day of each counted game, sorted
}

// Before counts the peers' games that are certainly over before a game within
// when: those that its forecast rests on.
func (p *Peers) Before(when Span) int {
	n, _ := slices.BinarySearch(p.lasts, when.First)
	return n
}

// peerPass is one move played by a peer.
type peerPass struct {
	key  uint64
	last Day // latest possible day
	move board.Move
}

const (
	peerPlies    = 40 // how deep peers are counted, in plies
	shortestGame = 6  // plies; a shorter game tells nothing
	signedPlies  = 50 // plies by which a game is recognised even if its end differs
	alikePlies   = 20 // plies from which two games of the same moves are one game
)

// NewPeers counts games, leaving out the opponent's own: those that own
// recognises by its names, and those with the same moves as one of p's, whatever
// the names in them. own may be nil.
func NewPeers(games iter.Seq[*pgn.Game], p *Profile, own func(*pgn.Game) bool) *Peers {
	out := &Peers{}
	theirs := signatures(p.Games)
	seen := map[uint64]bool{}
	for g := range games {
		if own != nil && own(g) {
			out.Own++
			continue
		}
		moves, ok := peerMoves(g)
		if !ok {
			out.Unfit++
			continue
		}
		out.add(g, moves, theirs, seen)
	}
	out.sort()
	return out
}

func peerMoves(g *pgn.Game) ([]board.Move, bool) {
	if !FromStart(g.Tags) {
		return nil, false
	}
	moves, _ := MainLine(g, board.Start(), make([]board.Move, 0, len(g.Moves)))
	return moves, len(moves) >= shortestGame && !slices.Contains(moves, board.NullMove)
}

func (p *Peers) add(g *pgn.Game, moves []board.Move, theirs, seen map[uint64]bool) {
	whole, start := signature(moves), signature(moves[:min(len(moves), signedPlies)])
	span, dated := ParseDate(g.Tags.Get("Date"))
	switch {
	case theirs[whole] || len(moves) >= signedPlies && theirs[start]:
		p.Own++
		return
	case !dated:
		p.Undated++
		return
	case len(moves) >= alikePlies && seen[whole]:
		p.Twice++
		return
	}
	seen[whole] = true
	if p.Games == 0 {
		p.Span = span
	}
	p.Span = Span{min(p.Span.First, span.First), max(p.Span.Last, span.Last)}
	p.Games++
	p.lasts = append(p.lasts, span.Last)
	pos := board.Start()
	for _, m := range moves[:min(len(moves), peerPlies)] {
		p.passes = append(p.passes, peerPass{key: pos.Key(), last: span.Last, move: m})
		pos.Play(m)
	}
}

func (p *Peers) sort() {
	slices.Sort(p.lasts)
	slices.SortFunc(p.passes, func(a, b peerPass) int {
		return cmp.Or(cmp.Compare(a.key, b.key), cmp.Compare(a.move, b.move), cmp.Compare(a.last, b.last))
	})
}

// signatures are those of whole games, and of the first signedPlies of longer
// ones.
func signatures(games []Game) map[uint64]bool {
	out := make(map[uint64]bool, 2*len(games))
	for i := range games {
		moves := games[i].Moves
		out[signature(moves)] = true
		out[signature(moves[:min(len(moves), signedPlies)])] = true
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
func (p *Peers) count(key uint64, day Day, each func(board.Move, int)) {
	at := sort.Search(len(p.passes), func(i int) bool { return p.passes[i].key >= key })
	for at < len(p.passes) && p.passes[at].key == key {
		move := p.passes[at].move
		rest := p.passes[at:]
		known := sort.Search(len(rest), func(i int) bool {
			return rest[i].key != key || rest[i].move != move || rest[i].last >= day
		})
		if known > 0 {
			each(move, known)
		}
		at += sort.Search(len(rest), func(i int) bool { return rest[i].key != key || rest[i].move != move })
	}
}
