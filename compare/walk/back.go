package walk

import (
	"cmp"
	"math"
	"slices"

	"foreply/compare/book"
	"foreply/profile"
	"foreply/profile/board"
)

const (
	backDeep   = 2    // of the user's moves a way back may take
	backShare  = 0.5  // least probability that a way back comes back
	backFrom   = 0.05 // probability from which a move of theirs that doesn't come back at once is looked behind
	backHangs  = 2    // points of material that a way back must not leave
	backTenths = 10   // ways back are equals if they come back in as many tenths
)

// Back is a way back: a move of the user's that the book doesn't have at its place,
// after which their likely moves lead into the book again, by transposition.
type Back struct {
	Move          board.Move
	profile.Range              // probability that it comes back, within two moves of the user's
	Into          []board.Move // the likeliest way to an answer of the book: your move, their move, and so on
	uses          int          // places where the book makes such a move
}

// Ways finds the ways back into a book. It keeps what it found, so that one Ways
// serves all walks of a book under one forecast.
type Ways struct {
	book  *book.Book
	look  Forecaster
	home  map[uint64]int                  // positions with an answer, by the least ply they come at
	homes []*board.Position               // the same
	close [2 * backDeep][]*board.Position // working space of near, by the moves on the way
	own   map[uint64]bool                 // the user's men, as they stand somewhere in the book
	stand [2][7][64]bool                  // by colour and kind, where a man stands somewhere in the book
	uses  map[step]int                    // how often the book makes a move of a kind of man
	told  map[asked]bool                  // what mayBe gave, under any forecast
	found [backDeep + 1]cache             // by how many moves of the user's it may take
}

type cache map[uint64]*Back

// asked is whether a move of the user's may be a way back.
type asked struct {
	key       uint64
	move      board.Move
	ply, deep int
}

// step is a move of a kind of man, wherever the other men stand.
type step struct {
	kind board.Kind
	to   board.Square
}

// NewWays prepares the search for ways back.
func NewWays(b *book.Book, look Forecaster) *Ways {
	w := (&Ways{book: b, home: map[uint64]int{}, own: map[uint64]bool{}, uses: map[step]int{}, told: map[asked]bool{}}).For(look)
	b.Each(func(pos *board.Position) {
		w.own[pos.OwnKey(b.Mine)] = true
		for s := range board.NoSquare {
			pc := pos.At(s)
			w.stand[pc.Color()][pc.Kind()][s] = true
		}
		for i, m := range b.Answers(pos.Key()) {
			if i == 0 {
				home := *pos
				w.home[pos.Key()] = pos.Ply()
				w.homes = append(w.homes, &home)
			}
			w.uses[stepOf(pos, m)]++
		}
	})
	return w
}

// For is the search in the same book under another forecast; what hangs on no forecast is
// found once for both.
func (w *Ways) For(look Forecaster) *Ways {
	other := *w
	other.look, other.close = look, [len(w.close)][]*board.Position{}
	for i := range other.found {
		other.found[i] = cache{}
	}
	return &other
}

// comesHome reports whether the book has an answer to what a move of theirs leads
// to. What the book has at an earlier move is no way back: men would have gone to and
// fro.
func (w *Ways) comesHome(pos *board.Position) bool {
	ply, ok := w.home[pos.Key()]
	return ok && ply >= pos.Ply()
}

// stands reports whether a move puts its man where such a one stands somewhere in
// the book.
func (w *Ways) stands(pos *board.Position, m board.Move) bool {
	return w.stand[pos.Turn()][pos.At(m.From()).Kind()][m.To()]
}

func stepOf(pos *board.Position, m board.Move) step { return step{pos.At(m.From()).Kind(), m.To()} }

// From is the best way back from a position where the user is to move and the book
// has no answer; nil if there is none. Of those that come back equally often one of
// the user's own usual kind of move is the best. A move that leaves material to be
// taken, or takes none that is, is no way back.
func (w *Ways) From(pos *board.Position) *Back { return w.from(pos, backDeep) }

// Known is what From found before, nil where it was not asked.
func (w *Ways) Known(key uint64) *Back {
	if w == nil {
		return nil
	}
	return w.found[backDeep][key]
}

func (w *Ways) from(pos *board.Position, deep int) *Back {
	key := pos.Key()
	if b, asked := w.found[deep][key]; asked {
		return b
	}
	var best *Back
	for _, m := range pos.Legal(nil) {
		if !w.stands(pos, m) {
			continue
		}
		if b := w.by(pos, m, deep); b != nil && (best == nil || better(b, best)) {
			best = b
		}
	}
	w.found[deep][key] = best
	return best
}

func better(a, b *Back) bool {
	tenths := func(b *Back) float64 { return math.Round(b.P * backTenths) }
	return cmp.Or(cmp.Compare(tenths(a), tenths(b)), cmp.Compare(a.uses, b.uses), cmp.Compare(a.P, b.P), cmp.Compare(b.Move, a.Move)) > 0
}

// by is the way back by a move of the user's, if it is one: their likeliest move
// must come back, and all that do in half of the games.
func (w *Ways) by(pos *board.Position, m board.Move, deep int) *Back {
	met := Played(*pos, m)
	if !w.mayBe(pos, m, &met, deep) {
		return nil
	}
	expected := w.look.Shares(&met)
	b := &Back{Move: m, uses: w.uses[stepOf(pos, m)]}
	likeliest := 0.0
	for i, r := range expected.Moves {
		p, into := w.after(&met, r, deep)
		if i == 0 && p < backShare {
			return nil
		}
		b.P += r.P * p
		if r.P*p > likeliest {
			likeliest, b.Into = r.P*p, slices.Concat([]board.Move{m, r.Move}, into)
		}
	}
	if b.P < backShare {
		return nil
	}
	b.Range = profile.Between(min(b.P, 1), expected.Strength)
	return b
}

// mayBe reports whether a move of the user's at pos, which leads to met, is a way back
// under some forecast.
func (w *Ways) mayBe(pos *board.Position, m board.Move, met *board.Position, deep int) bool {
	question := asked{pos.Key(), m, pos.Ply(), deep}
	may, known := w.told[question]
	if !known {
		may = w.mayComeBack(met, deep) && sound(pos, m, met)
		w.told[question] = may
	}
	return may
}

// after is the probability that a move of theirs comes back, with the way from
// there.
func (w *Ways) after(met *board.Position, r profile.Likely, deep int) (float64, []board.Move) {
	next := Played(*met, r.Move)
	switch {
	case w.comesHome(&next):
		return 1, nil
	case deep == 1 || r.P < backFrom:
		return 0, nil
	}
	if b := w.from(&next, deep-1); b != nil {
		return b.P, b.Into
	}
	return 0, nil
}

// mayComeBack reports whether any move of theirs, likely or not, comes back: what
// needs no forecast is tried first.
func (w *Ways) mayComeBack(met *board.Position, deep int) bool {
	var later []*board.Position
	if deep > 1 {
		later = w.near(met, w.homes, deep-1, deep)
	}
	for _, r := range met.Legal(nil) {
		next := Played(*met, r)
		if w.comesHome(&next) {
			return true
		}
		if len(later) > 0 && w.stands(met, r) && w.lastMayComeBack(&next, later) {
			return true
		}
	}
	return false
}

// lastMayComeBack is mayComeBack before the last move of the user's, to one of some
// homes: the user's men must then stand as somewhere in the book, or be taken back.
func (w *Ways) lastMayComeBack(pos *board.Position, homes []*board.Position) bool {
	if homes = w.near(pos, homes, 1, 1); len(homes) == 0 {
		return false
	}
	for _, m := range pos.Legal(nil) {
		takes := pos.At(m.To()).Kind() != board.NoKind
		if !w.stands(pos, m) {
			continue
		}
		then := Played(*pos, m)
		on := m.To()
		switch set := w.own[then.OwnKey(w.book.Mine)]; {
		case set:
			on = board.NoSquare
		case !takes:
			continue
		}
		if w.comesHomeNext(&then, homes, on) {
			return true
		}
	}
	return false
}

// comesHomeNext reports whether a move of theirs comes back to one of some homes; it must
// go to a square, unless that is NoSquare.
func (w *Ways) comesHomeNext(met *board.Position, homes []*board.Position, on board.Square) bool {
	if len(w.near(met, homes, 0, 1)) == 0 {
		return false
	}
	for _, r := range met.Legal(nil) {
		if on != board.NoSquare && r.To() != on {
			continue
		}
		if next := Played(*met, r); w.comesHome(&next) {
			return true
		}
	}
	return false
}

// near lists those of some homes that so many moves of the user's and of theirs may lead
// to, by how many squares the men of each side stand apart.
func (w *Ways) near(pos *board.Position, homes []*board.Position, mine, theirs int) []*board.Position {
	buffer := &w.close[mine+theirs]
	out := (*buffer)[:0]
	yours := w.book.Mine
	for _, h := range homes {
		if h.Ply() >= pos.Ply()+mine+theirs && reachable(pos, h, yours, mine, theirs) && reachable(pos, h, yours.Other(), theirs, mine) {
			out = append(out, h)
		}
	}
	*buffer = out
	return out
}

// reachable reports whether the men of a side may come to stand as at to by so many moves,
// and so many of the other side's, each of which may take one of them.
func reachable(pos, to *board.Position, side board.Color, moves, others int) bool {
	apart, lost, castled := pos.Apart(to, side)
	if lost < 0 || lost > others {
		return false
	}
	most := 2*moves + lost
	if moves > 0 && castled {
		most += 2
	}
	return apart <= most
}

// sound reports whether a move of the user's at pos, which leads to met, neither
// leaves men to be taken or mated nor leaves men of theirs that hang.
func sound(pos *board.Position, m board.Move, met *board.Position) bool {
	if most(pos)-gain(pos, m) >= backHangs || most(met) >= backHangs {
		return false
	}
	for _, r := range met.Legal(nil) {
		if next := Played(*met, r); next.InCheck() && len(next.Legal(nil)) == 0 {
			return false
		}
	}
	return true
}

// most is the most material that the side to move wins by a capture, in points.
func most(pos *board.Position) int {
	best := 0
	for _, m := range pos.Legal(nil) {
		best = max(best, gain(pos, m))
	}
	return best
}

// points is the usual value of a kind of man.
var points = [...]int{board.NoKind: 0, board.Pawn: 1, board.Knight: 3, board.Bishop: 3, board.Rook: 5, board.Queen: 9, board.King: 0}

// gain is the material that a capture wins: what it takes, less what takes it if it
// can be taken back.
func gain(pos *board.Position, m board.Move) int {
	taken := points[pos.At(m.To()).Kind()]
	if taken == 0 {
		return 0
	}
	taker := points[pos.At(m.From()).Kind()]
	next := Played(*pos, m)
	for _, r := range next.Legal(nil) {
		if r.To() == m.To() {
			return taken - taker
		}
	}
	return taken
}
