package walk

import (
	"cmp"
	"slices"

	"foreply/compare/book"
	"foreply/compare/fact"
	"foreply/profile"
	"foreply/profile/board"
)

// Walk sends mass 1 from the first move through the book: where the user is to
// move the main choice takes all of it, or where the book has none a way back;
// where the opponent is the forecast splits it. Mass is kept per position and ply, so that move orders that meet
// are one; it ends in exits, or in other where it falls under the threshold.
type Walk struct {
	Book   *book.Book
	Look   Forecaster
	Opt    Options
	choice func(*State) (board.Move, bool) // the user's move; false ends the walk there

	level map[uint64]*State // the ply at hand
	next  map[uint64]*State
	Order []*State // every state that was followed, in order of ply and mass
	Ends  map[EndKey]*End
	Other float64
}

// State is a position at a ply.
type State struct {
	Pos board.Position
	Key uint64
	Ply int
	Reach
	Via    *State // the likeliest way here
	Move   board.Move
	best   float64 // mass that came that way
	Orders int
	unseen bool // the likeliest way's last move was never seen from them

	Expected profile.Expected // where the opponent is to move and the walk went on
	Flows    []Flow
}

// Flow is one move out of a state.
type Flow struct {
	Likely  profile.Likely
	To      uint64
	Written bool // the book has this move here
	Meets   bool // the book has the position after it, from another order
	// Back is the way back that this move of the user's is, or that the user has after
	// this move of theirs, which the book does not answer; nil if none.
	Back *Back
}

// Covered reports whether the book has the move or the position after it.
func (f *Flow) Covered() bool { return f.Written || f.Meets }

// GoesOn reports whether the walk goes on with the move: covered, or met by a way
// back.
func (f *Flow) GoesOn() bool { return f.Covered() || f.Back != nil }

// EndKey is what ends are kept by: why and where, at which ply; all moves never seen from
// one position are one end.
type EndKey struct {
	Kind   string
	Key    uint64
	Ply    int
	Unseen bool
}

// End is an exit before it is put into words.
type End struct {
	EndKey
	Reach
	At     *State     // the state the line ends at, before leave: of the likeliest way
	Leave  board.Move // their uncovered move; NoMove unless they leave by a seen one
	Likely profile.Likely
	best   float64
	Orders int
}

// Forecaster tells how likely each move of the opponent is: a profile.Outlook,
// or numbers a test worked out by hand.
type Forecaster interface {
	At(pos *board.Position) profile.Expected
	Shares(pos *board.Position) profile.Expected // the same without the intervals
}

// Options limit a walk.
type Options struct {
	MaxPly    int     // how deep lines are followed, in plies
	Threshold float64 // smallest reach that is followed, 0..1
	Ways      *Ways   // finds the ways back; nil looks for none
	BackFrom  float64 // reach from which a way back is looked for, 0..1
}

// New prepares the walk of a book by a forecast.
func New(book *book.Book, look Forecaster, opt Options) *Walk {
	w := &Walk{Book: book, Look: look, Opt: opt, Ends: map[EndKey]*End{}}
	w.choice = w.mainChoice
	return w
}

// From walks the same book from another position at a ply.
func (w *Walk) From(pos board.Position, ply int) *Walk {
	other := New(w.Book, w.Look, w.Opt)
	other.Run(pos, ply)
	return other
}

func (w *Walk) mainChoice(s *State) (board.Move, bool) {
	answers := w.Book.Answers(s.Key)
	if len(answers) == 0 {
		return board.NoMove, false
	}
	return answers[0], true
}

// Run walks from a position at a ply to the end. Afterwards the ends' mass and
// other sum to 1.
func (w *Walk) Run(from board.Position, ply int) {
	w.level = map[uint64]*State{from.Key(): {
		Pos: from, Key: from.Key(), Ply: ply, Reach: Reach{Mass: 1, Square: 1}, best: 1, Orders: 1,
	}}
	for len(w.level) > 0 {
		w.next = map[uint64]*State{}
		for _, s := range byMass(w.level) {
			w.step(s)
		}
		w.level = w.next
	}
	for _, e := range w.Sorted() {
		if e.Mass < w.Opt.Threshold {
			w.Other += e.Mass
			delete(w.Ends, e.EndKey)
		}
	}
}

func byMass(level map[uint64]*State) []*State {
	states := make([]*State, 0, len(level))
	for _, s := range level {
		states = append(states, s)
	}
	slices.SortFunc(states, func(a, b *State) int {
		return cmp.Or(cmp.Compare(b.Mass, a.Mass), cmp.Compare(a.Key, b.Key))
	})
	return states
}

func (w *Walk) step(s *State) {
	if s.Mass < w.Opt.Threshold {
		w.Other += s.Mass
		return
	}
	w.Order = append(w.Order, s)
	switch {
	case len(s.Pos.Legal(nil)) == 0:
		w.end(fact.GameOver, s, 1, 1)
	case s.Ply >= w.Opt.MaxPly:
		w.end(fact.LimitInBook, s, 1, 1)
	case s.Pos.Turn() == w.Book.Mine:
		w.mine(s)
	default:
		w.theirs(s)
	}
}

func (w *Walk) mine(s *State) {
	m, ok := w.choice(s)
	f := Flow{Likely: profile.Likely{Move: m}, Written: ok}
	if !ok {
		if f.Back = w.back(&s.Pos, s.Mass); f.Back == nil {
			w.end(fact.BookEnds, s, 1, 1)
			return
		}
		f.Likely.Move = f.Back.Move
	}
	s.Flows = []Flow{f}
	w.goOn(s, &s.Flows[0], 1, 1)
}

// back is the way back from a position of the user's that has no answer, if it is
// reached so often that one is looked for.
func (w *Walk) back(pos *board.Position, mass float64) *Back {
	if w.Opt.Ways == nil || pos.Ply() == 0 { // the first move leads nowhere back
		return nil
	}
	if mass < w.Opt.BackFrom {
		return w.Opt.Ways.Known(pos.Key())
	}
	return w.Opt.Ways.From(pos)
}

func (w *Walk) theirs(s *State) {
	s.Expected = w.Look.At(&s.Pos)
	written, meets := w.covered(s)
	if !meets && !written {
		w.end(fact.BookEnds, s, 1, 1)
		return
	}
	strength := s.Expected.Strength
	unseen, rest := 0.0, 0.0
	for i := range s.Flows {
		f := &s.Flows[i]
		switch {
		case f.GoesOn():
			w.goOn(s, f, f.Likely.P, secondMoment(f.Likely.P, strength))
		case !written:
			rest += f.Likely.P
		case f.Likely.N > 0:
			w.leave(s, f, strength)
		default:
			unseen += f.Likely.P
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
// an answer from another move order; one that is not may be met by a way back.
func (w *Walk) covered(s *State) (written, meets bool) {
	listed := w.Book.Covered(s.Key)
	s.Flows = make([]Flow, len(s.Expected.Moves))
	for i, l := range s.Expected.Moves {
		after := s.Pos
		after.Play(l.Move)
		f := Flow{Likely: l, To: after.Key(), Written: slices.Contains(listed, l.Move)}
		f.Meets = !f.Written && w.Book.HasAnswer(f.To)
		if !w.Book.HasAnswer(f.To) {
			f.Back = w.back(&after, s.Mass*l.P)
		}
		written = written || f.Written
		meets = meets || f.Meets || f.Back != nil
		s.Flows[i] = f
	}
	return written, meets
}

// goOn carries p of the state's mass, with its second moment, over a move to the
// next ply.
func (w *Walk) goOn(s *State, f *Flow, p, square float64) {
	pos := s.Pos
	pos.Play(f.Likely.Move)
	f.To = pos.Key()
	to := w.next[f.To]
	if to == nil {
		to = &State{Pos: pos, Key: f.To, Ply: s.Ply + 1}
		w.next[f.To] = to
	}
	to.add(s, p, square)
	to.Orders += s.Orders
	if mass := s.Mass * p; mass > to.best {
		to.best, to.Via, to.Move = mass, s, f.Likely.Move
		to.unseen = s.Pos.Turn() != w.Book.Mine && f.Likely.N == 0
	}
}

func (w *Walk) leave(s *State, f *Flow, strength float64) {
	p := f.Likely.P
	e := w.into(EndKey{Kind: fact.TheyLeave, Key: f.To, Ply: s.Ply + 1}, s, p, secondMoment(p, strength))
	if e.At == s { // the likeliest way so far
		e.Leave, e.Likely = f.Likely.Move, f.Likely
	}
}

func (w *Walk) leaveUnseen(s *State, p, strength float64) {
	w.into(EndKey{Kind: fact.TheyLeave, Key: s.Key, Ply: s.Ply, Unseen: true}, s, p, secondMoment(p, strength))
}

// end ends p of the state's mass, with its second moment, where it stands.
func (w *Walk) end(kind string, s *State, p, square float64) {
	w.into(EndKey{Kind: kind, Key: s.Key, Ply: s.Ply}, s, p, square)
}

// into adds p of the state's mass to an end, whose line is that of the likeliest
// way there, of equal ways the first.
func (w *Walk) into(k EndKey, s *State, p, square float64) *End {
	e := w.Ends[k]
	if e == nil {
		e = &End{EndKey: k}
		w.Ends[k] = e
	}
	if mass := s.Mass * p; e.At == nil || mass > e.best {
		e.At, e.best = s, mass
	}
	e.add(s, p, square)
	e.Orders += s.Orders
	return e
}

// Sorted returns the ends, likeliest first.
func (w *Walk) Sorted() []*End {
	ends := make([]*End, 0, len(w.Ends))
	for _, e := range w.Ends {
		ends = append(ends, e)
	}
	slices.SortFunc(ends, func(a, b *End) int {
		return cmp.Or(
			cmp.Compare(b.Mass, a.Mass), cmp.Compare(a.Ply, b.Ply),
			cmp.Compare(a.Key, b.Key), cmp.Compare(a.Kind, b.Kind),
		)
	})
	return ends
}

// Path returns the moves of the likeliest way to s.
func (s *State) Path() []board.Move {
	moves := make([]board.Move, s.Ply)
	for ; s.Via != nil; s = s.Via {
		moves[s.Ply-1] = s.Move
	}
	return moves
}

// AfterTheirs is the last state on the likeliest way to s that a move of theirs led to; the
// first of the walk if there was none.
func AfterTheirs(s *State, mine board.Color) *State {
	for s.Via != nil && s.Pos.Turn() != mine {
		s = s.Via
	}
	return s
}

// ByPlace indexes the states that were followed.
func (w *Walk) ByPlace() map[Key]*State {
	at := make(map[Key]*State, len(w.Order))
	for _, s := range w.Order {
		at[Key{s.Key, s.Ply}] = s
	}
	return at
}

// ByPosition sums the reach of each position over the plies it comes at, with
// the first state that has it.
func (w *Walk) ByPosition() (reach map[uint64]float64, at map[uint64]*State) {
	reach, at = map[uint64]float64{}, map[uint64]*State{}
	for _, s := range w.Order {
		reach[s.Key] += s.Mass
		if at[s.Key] == nil {
			at[s.Key] = s
		}
	}
	return reach, at
}

// Key is what a walk keeps mass by.
type Key struct {
	Position uint64
	Ply      int
}
