package peerbook

import (
	"slices"
	"unsafe"

	"foreply/profile/board"
)

// visitSorter sorts visits in runs, one while the next is gathered.
type visitSorter struct {
	b      *Builder
	room   []visit
	most   int
	sorted chan []visit // rooms that may be filled again
	count  int64
}

func newVisitSorter(b *Builder) *visitSorter {
	s := &visitSorter{b: b, most: int(b.opt.Memory) / 4 / int(unsafe.Sizeof(visit{})), sorted: make(chan []visit, 1)}
	s.sorted <- nil
	return s
}

func (s *visitSorter) add(v visit) {
	if cap(s.room) == len(s.room) {
		more := max(cap(s.room), 1<<12)
		if more >= s.most/4 {
			more = s.most - len(s.room)
		}
		s.room = slices.Grow(s.room, more)
	}
	if s.room = append(s.room, v); len(s.room) == s.most {
		s.spill()
	}
}

func (s *visitSorter) spill() {
	room := s.room
	s.count += int64(len(room))
	s.room = (<-s.sorted)[:0]
	if s.b.visits == nil {
		visits, err := newRuns(s.b.opt.Folder, visitBytes)
		if err != nil {
			s.b.fail(err)
			s.sorted <- room
			return
		}
		s.b.visits = visits
	}
	go func() {
		slices.SortFunc(room, compareVisits)
		var rec [visitBytes]byte
		err := s.b.visits.add(len(room), func(put func([]byte)) {
			for _, v := range room {
				put(v.append(rec[:0]))
			}
		})
		if err != nil {
			s.b.fail(err)
		}
		s.sorted <- room
	}()
}

func (s *visitSorter) failed() error { return s.b.Err() }

// finish waits for what is being sorted, and sorts the rest.
func (s *visitSorter) finish() error {
	<-s.sorted // the other room is sorted, and goes
	slices.SortFunc(s.room, compareVisits)
	s.count += int64(len(s.room))
	return s.failed()
}

func (s *visitSorter) sources() []source {
	var rec [visitBytes]byte
	out := []source{&memorySource{n: len(s.room), each: func(i int) []byte { return s.room[i].append(rec[:0]) }}}
	if s.b.visits != nil {
		out = append(out, s.b.visits.sources()...)
	}
	return out
}

// way is the positions of the newest game.
type way struct {
	before record
	pos    [Depth + 1]board.Position
	keys   [Depth + 1]uint64
}

func newWay() *way {
	w := &way{}
	w.pos[0] = board.Start()
	w.keys[0] = w.pos[0].Key()
	return w
}

// visits hands the moves of a game on with its block; it is replayed from where it
// leaves the one before it.
func (w *way) visits(r record, block uint32, to *visitSorter) {
	n, shared := r.kept(), 0
	if len(w.before) > 0 {
		shared = min(sharedMoves(w.before, r), w.before.kept()-1) // behind the last move it wasn't played
	}
	for i := shared; i < n-1; i++ {
		w.pos[i+1] = w.pos[i]
		w.pos[i+1].Play(r.move(i))
		w.keys[i+1] = w.pos[i+1].Key()
	}
	for i := range n {
		c := board.Color(i & 1)
		v := newVisit(w.keys[i], r.move(i), r.player(c).Surname(), r.day(), r.band(c), r.classResult())
		v.block = block
		to.add(v)
	}
	w.before = append(w.before[:0], r...)
}
