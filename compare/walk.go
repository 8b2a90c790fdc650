package compare

import (
	"cmp"
	"slices"

	"foreply/compare/fact"
	"foreply/profile"
	"foreply/profile/board"
)

// walk sends mass 1 from the first move through the book: where the user is to
// move the main choice takes all of it, where the opponent is the forecast
// splits it. Mass is kept per position and ply, so that move orders that meet
// are one; it ends in exits, or in other where it falls under the threshold.
type walk struct {
	book   *Book
	look   forecaster
	opt    walkOptions
	choice func(*state) (board.Move, bool) // the user's move; false ends the walk there

	level map[uint64]*state // the ply at hand
	next  map[uint64]*state
	order []*state // every state that was followed, in order of ply and mass
	ends  map[endKey]*end
	other float64
}

// state is a position at a ply.
type state struct {
	pos board.Position
	key uint64
	ply int
	reach
	via    *state // the likeliest way here
	move   board.Move
	best   float64 // mass that came that way
	orders int
	unseen bool // the likeliest way's last move was never seen from them

	expected profile.Expected // where the opponent is to move and the walk went on
	flows    []flow
}

// flow is one move out of a state.
type flow struct {
	likely  profile.Likely
	to      uint64
	written bool // the book has this move here
	meets   bool // the book has the position after it, from another order
}

func (f *flow) covered() bool { return f.written || f.meets }

type endKey struct {
	kind   string
	key    uint64
	ply    int
	unseen bool
}

// end is an exit before it is put into words.
type end struct {
	endKey
	reach
	at     *state     // the state the line ends at, before leave: of the likeliest way
	leave  board.Move // their uncovered move; NoMove unless they leave by a seen one
	likely profile.Likely
	best   float64
	orders int
}

// forecaster tells how likely each move of the opponent is: a profile.Outlook,
// or numbers a test worked out by hand.
type forecaster interface {
	At(pos *board.Position) profile.Expected
}

// walkOptions limit a walk.
type walkOptions struct {
	MaxPly    int     // how deep lines are followed, in plies
	Threshold float64 // smallest reach that is followed, 0..1
}

func newWalk(book *Book, look forecaster, opt walkOptions) *walk {
	w := &walk{book: book, look: look, opt: opt, ends: map[endKey]*end{}}
	w.choice = w.mainChoice
	return w
}

func (w *walk) mainChoice(s *state) (board.Move, bool) {
	answers := w.book.Answers(s.key)
	if len(answers) == 0 {
		return board.NoMove, false
	}
	return answers[0], true
}

// run walks from a position at a ply to the end. Afterwards the ends' mass and
// other sum to 1.
func (w *walk) run(from board.Position, ply int) {
	w.level = map[uint64]*state{from.Key(): {
		pos: from, key: from.Key(), ply: ply, reach: reach{mass: 1, square: 1}, best: 1, orders: 1,
	}}
	for len(w.level) > 0 {
		w.next = map[uint64]*state{}
		for _, s := range byMass(w.level) {
			w.step(s)
		}
		w.level = w.next
	}
	for _, e := range w.sorted() {
		if e.mass < w.opt.Threshold {
			w.other += e.mass
			delete(w.ends, e.endKey)
		}
	}
}

func byMass(level map[uint64]*state) []*state {
	states := make([]*state, 0, len(level))
	for _, s := range level {
		states = append(states, s)
	}
	slices.SortFunc(states, func(a, b *state) int {
		return cmp.Or(cmp.Compare(b.mass, a.mass), cmp.Compare(a.key, b.key))
	})
	return states
}

func (w *walk) step(s *state) {
	if s.mass < w.opt.Threshold {
		w.other += s.mass
		return
	}
	w.order = append(w.order, s)
	switch {
	case len(s.pos.Legal(nil)) == 0:
		w.end(fact.GameOver, s, 1, 1)
	case s.ply >= w.opt.MaxPly:
		w.end(fact.LimitInBook, s, 1, 1)
	case s.pos.Turn() == w.book.Mine:
		w.mine(s)
	default:
		w.theirs(s)
	}
}

func (w *walk) mine(s *state) {
	m, ok := w.choice(s)
	if !ok {
		w.end(fact.BookEnds, s, 1, 1)
		return
	}
	s.flows = []flow{{likely: profile.Likely{Move: m}, written: true}}
	w.goOn(s, &s.flows[0], 1, 1)
}

func (w *walk) theirs(s *state) {
	s.expected = w.look.At(&s.pos)
	written, meets := w.covered(s)
	if !meets && !written {
		w.end(fact.BookEnds, s, 1, 1)
		return
	}
	strength := s.expected.Strength
	unseen, rest := 0.0, 0.0
	for i := range s.flows {
		f := &s.flows[i]
		switch {
		case f.covered():
			w.goOn(s, f, f.likely.P, secondMoment(f.likely.P, strength))
		case !written:
			rest += f.likely.P
		case f.likely.N > 0:
			w.leave(s, f, strength)
		default:
			unseen += f.likely.P
		}
	}
	if rest > 0 {
		w.end(fact.BookEnds, s, rest, secondMoment(rest, strength))
	}
	if unseen > 0 {
		w.leaveUnseen(s, unseen, strength)
	}
}

// covered fills the state's flows and tells what the book has here. A move is
// covered if it is written at this position, or if the position after it has
// an answer from another move order.
func (w *walk) covered(s *state) (written, meets bool) {
	listed := w.book.Covered(s.key)
	s.flows = make([]flow, len(s.expected.Moves))
	for i, l := range s.expected.Moves {
		after := s.pos
		after.Play(l.Move)
		f := flow{likely: l, to: after.Key(), written: slices.Contains(listed, l.Move)}
		f.meets = !f.written && w.book.answers(f.to)
		written = written || f.written
		meets = meets || f.meets
		s.flows[i] = f
	}
	return written, meets
}

// goOn carries p of the state's mass, with its second moment, over a move to the
// next ply.
func (w *walk) goOn(s *state, f *flow, p, square float64) {
	pos := s.pos
	pos.Play(f.likely.Move)
	f.to = pos.Key()
	to := w.next[f.to]
	if to == nil {
		to = &state{pos: pos, key: f.to, ply: s.ply + 1}
		w.next[f.to] = to
	}
	to.add(s, p, square)
	to.orders += s.orders
	if mass := s.mass * p; mass > to.best {
		to.best, to.via, to.move = mass, s, f.likely.Move
		to.unseen = s.pos.Turn() != w.book.Mine && f.likely.N == 0
	}
}

func (w *walk) leave(s *state, f *flow, strength float64) {
	p := f.likely.P
	e := w.into(endKey{kind: fact.TheyLeave, key: f.to, ply: s.ply + 1}, s, p, secondMoment(p, strength))
	if e.at == s { // the likeliest way so far
		e.leave, e.likely = f.likely.Move, f.likely
	}
}

func (w *walk) leaveUnseen(s *state, p, strength float64) {
	w.into(endKey{kind: fact.TheyLeave, key: s.key, ply: s.ply, unseen: true}, s, p, secondMoment(p, strength))
}

// end ends p of the state's mass, with its second moment, where it stands.
func (w *walk) end(kind string, s *state, p, square float64) {
	w.into(endKey{kind: kind, key: s.key, ply: s.ply}, s, p, square)
}

// into adds p of the state's mass to an end, whose line is that of the likeliest
// way there, of equal ways the first.
func (w *walk) into(k endKey, s *state, p, square float64) *end {
	e := w.ends[k]
	if e == nil {
		e = &end{endKey: k}
		w.ends[k] = e
	}
	if mass := s.mass * p; e.at == nil || mass > e.best {
		e.at, e.best = s, mass
	}
	e.add(s, p, square)
	e.orders += s.orders
	return e
}

// sorted returns the ends, likeliest first.
func (w *walk) sorted() []*end {
	ends := make([]*end, 0, len(w.ends))
	for _, e := range w.ends {
		ends = append(ends, e)
	}
	slices.SortFunc(ends, func(a, b *end) int {
		return cmp.Or(
			cmp.Compare(b.mass, a.mass), cmp.Compare(a.ply, b.ply),
			cmp.Compare(a.key, b.key), cmp.Compare(a.kind, b.kind),
		)
	})
	return ends
}

// path returns the moves of the likeliest way to s.
func (s *state) path() []board.Move {
	moves := make([]board.Move, s.ply)
	for ; s.via != nil; s = s.via {
		moves[s.ply-1] = s.move
	}
	return moves
}

// byPlace indexes the states that were followed.
func (w *walk) byPlace() map[stateKey]*state {
	at := make(map[stateKey]*state, len(w.order))
	for _, s := range w.order {
		at[stateKey{s.key, s.ply}] = s
	}
	return at
}

// byPosition sums the reach of each position over the plies it comes at, with
// the first state that has it.
func (w *walk) byPosition() (reach map[uint64]float64, at map[uint64]*state) {
	reach, at = map[uint64]float64{}, map[uint64]*state{}
	for _, s := range w.order {
		reach[s.key] += s.mass
		if at[s.key] == nil {
			at[s.key] = s
		}
	}
	return reach, at
}

// stateKey is what a walk keeps mass by.
type stateKey struct {
	key uint64
	ply int
}
